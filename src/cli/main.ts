import { complain } from './io';
import { run } from './program';

// A reader that has seen enough (`| head`) is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') complain(error.message);
  process.exit(error.code === 'EPIPE' ? (process.exitCode ?? 0) : 2);
});

process.exitCode = await run(process.argv.slice(2));
