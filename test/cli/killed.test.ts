import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { commandLine } from './commandLine';

const { folder, bundle, work, given } = commandLine();

const rows = (lead: string, count: number): string => `nitbook 1\n\npatches p\n    patch   Y\n${`${lead}white   120\n`.repeat(count)}`;
const written = (): string => readFileSync(join(work, 'a.nitbook'), 'utf8');
const beside = (): string[] => readdirSync(work).filter((name) => name !== 'a.nitbook' && name !== '.git');

/** What lies beside the session: at most the new text, under a name that nothing takes for a session. */
function expectNothingButATemporaryFile(): void {
  expect(beside().length).toBeLessThanOrEqual(1);
  for (const name of beside()) expect(name).toMatch(/^\.nitbook-[0-9a-f]+\.tmp$/);
}

describe('a session that is being written', () => {
  it('is old or new as a whole, wherever the process is killed, and is written the next time', () => {
    const [old, laid] = [rows(' ', 3), rows('    ', 3)];
    const found: string[] = [];
    for (let at = 1; ; at++) {
      given({ 'a.nitbook': old });
      const args = ['--import', resolve(import.meta.dirname, 'killAt.mjs'), bundle, 'format', 'a.nitbook'];
      const { signal, status } = spawnSync(process.execPath, args, { cwd: work, env: { ...process.env, KILL_AT: String(at) } });
      const is = written() === old ? 'old' : written() === laid ? 'new' : 'broken';
      found.push(is);
      expectNothingButATemporaryFile();
      if (signal !== 'SIGKILL') {
        expect([status, is]).toEqual([0, 'new']);
        break;
      }
      if (beside().length === 0) continue;
      expect(spawnSync(process.execPath, [bundle, 'format', 'a.nitbook'], { cwd: work }).status).toBe(0);
      expect(written()).toBe(laid);
    }
    expect(found.length, 'steps').toBeGreaterThan(12);
    expect(found.join(' ')).toMatch(/^(?:old )+new(?: new)*$/);
  });

  it('is as it was when the disk is full, with nothing left beside it', (test) => {
    given();
    // A small disk of one's own, in a name space where one may mount it (mount_namespaces(7)).
    const small = `mount -t tmpfs -o size=64k none "$0" && cd "$0"`;
    const isolated = (script: string, ...args: string[]) =>
      spawnSync('unshare', ['--user', '--map-root-user', '--mount', 'sh', '-c', `${small} && ${script}`, work, ...args], {
        encoding: 'utf8',
      });
    if (isolated('true').status !== 0) test.skip('no disk can be mounted here');
    const session = join(folder, 'long.nitbook');
    writeFileSync(session, rows(' ', 3000));
    const { stdout, stderr } = isolated(
      'cp "$1" a.nitbook && "$2" "$3" format a.nitbook; echo ended with $?; cmp "$1" a.nitbook && ls -A',
      session,
      process.execPath,
      bundle,
    );
    expect(stderr).toBe('nitbook: a.nitbook: it cannot be written (no space is left on the disk); it is as it was\n');
    expect(stdout).toBe('ended with 2\na.nitbook\n');
  });
});
