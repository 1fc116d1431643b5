import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

export const NOT_MEASURED = 'not measured, as the workbench is not set up (npm run test:host)';

/** What a script of this folder measures in the real workbench; undefined where that is not set up. */
export function workbench<T>(script: string, ...args: readonly string[]): T | undefined {
  if (!existsSync('.cache/workbench/installed')) return undefined;
  const { status, stdout, stderr } = spawnSync(process.execPath, [`test/bench/${script}`, ...args], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`Nothing could be measured in the workbench:\n${stderr}`);
  return JSON.parse(stdout) as T;
}
