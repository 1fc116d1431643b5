// Loaded before the command line (`node --import`): kills the process at its n-th step on files, n being KILL_AT; in the middle of a write
// and between any two steps. Without KILL_AT nothing happens.

import promises from 'node:fs/promises';
import { syncBuiltinESMExports } from 'node:module';

const at = Number(process.env.KILL_AT);
let steps = 0;

async function step() {
  if (++steps !== at) return;
  process.kill(process.pid, 'SIGKILL');
  await new Promise(() => {});
}

const HANDLE = ['read', 'chown', 'chmod', 'sync', 'datasync', 'close'];

function watched(handle) {
  for (const name of HANDLE) {
    const original = handle[name].bind(handle);
    handle[name] = async (...args) => {
      await step();
      return original(...args);
    };
  }
  const write = handle.write.bind(handle);
  const writeFile = handle.writeFile.bind(handle);
  handle.writeFile = async (data, ...args) => {
    await step();
    if (steps + 1 === at) await write(Buffer.from(data).subarray(0, data.length >> 1), 0, undefined, 0);
    await step();
    return writeFile(data, ...args);
  };
  return handle;
}

for (const name of ['open', 'rename', 'unlink', 'stat', 'realpath', 'writeFile', 'copyFile', 'rm']) {
  const original = promises[name];
  promises[name] = async (...args) => {
    await step();
    const result = await original(...args);
    return name === 'open' ? watched(result) : result;
  };
}
syncBuiltinESMExports();
