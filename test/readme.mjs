// Runs what README.md tells its readers to run: every ```sh block below a line `<!-- ci: run -->`, in the project's folder, each with an
// empty home folder, so that nothing but the checkout is needed. Needs no installed package itself.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '..');
const readme = readFileSync(join(root, 'README.md'), 'utf8');
const blocks = [...readme.matchAll(/^<!-- ci: run -->\n+```sh\n(.*?)^```$/gms)].map(([, block]) => block);
const marks = readme.match(/^<!-- ci: run -->$/gm)?.length ?? 0;
if (blocks.length === 0 || blocks.length !== marks) {
  console.error(`README.md has ${marks} marks "<!-- ci: run -->", ${blocks.length} of them with a block to run below.`);
  process.exit(1);
}

for (const block of blocks) {
  console.log(`README.md:\n${block.trimEnd().replace(/^/gm, '  $ ')}`);
  const home = mkdtempSync(join(tmpdir(), 'nitbook-home-'));
  const started = Date.now();
  const { status, error } = spawnSync('bash', ['-euo', 'pipefail', '-c', block], {
    cwd: root,
    env: { ...process.env, HOME: home },
    stdio: ['ignore', 'inherit', 'inherit'],
    timeout: 20 * 60_000,
  });
  rmSync(home, { recursive: true, force: true });
  console.log(
    `${status === 0 ? 'done' : `failed (${error?.message ?? `exit code ${status}`})`} in ${Math.round((Date.now() - started) / 1000)} s\n`,
  );
  if (status !== 0) process.exit(1);
}
