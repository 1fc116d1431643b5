import { spawnSync } from 'node:child_process';

/** What the bench, started again in a process of its own with `--alone TASK`, says of a task. */
export function alone<T>(task: string): T {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['--expose-gc', process.argv[1]!, '--alone', task], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${task} was not measured:\n${stderr}`);
  return JSON.parse(stdout) as T;
}
