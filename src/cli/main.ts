import { complain, stopSaying } from './io';
import { run } from './program';

// A reader that has seen enough (`| head`) is no failure, and no reason to leave files half done.
let isLost = false;
process.stdout.on('error', ({ code, message }: NodeJS.ErrnoException) => {
  stopSaying();
  if (isLost || code === 'EPIPE' || code === 'ERR_STREAM_DESTROYED') return;
  isLost = true;
  complain(message);
  process.exitCode = 2;
});
// Nobody is left to be told.
process.stderr.on('error', () => {});

const code = await run(process.argv.slice(2));
process.exitCode = isLost ? 2 : code;
