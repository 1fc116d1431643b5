import { type SpawnSyncOptions, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, expect } from 'vitest';

export const project = resolve(import.meta.dirname, '../..');

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export function ended(command: string, args: readonly string[], options: SpawnSyncOptions): Ended {
  const { status, stdout, stderr } = spawnSync(command, args, { maxBuffer: 1 << 28, ...options, encoding: 'utf8' });
  return { code: status, out: stdout, err: stderr };
}

/** The command line, as it ships but for its version, and a folder to try it in: for the tests of one file, and gone with them. */
export function commandLine() {
  const folder = mkdtempSync(join(tmpdir(), 'nitbook-cli-'));
  // For tests that run as another user.
  chmodSync(folder, 0o755);
  const bundle = join(folder, 'cli.mjs');
  const work = join(folder, 'work');
  beforeAll(() => bundleInto(bundle));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return {
    folder,
    bundle,
    work,
    nitbook(args: readonly string[], cwd = work, options: SpawnSyncOptions = {}): Ended {
      const end = ended(process.execPath, [bundle, ...args], { cwd, ...options });
      expect(end.err, 'never a stack trace').not.toMatch(/^ {4}at |\.mjs:\d/m);
      return end;
    },
    /** A fresh folder with these files; a name may lie in folders. Its own root, so that nothing above it plays a part. */
    given(files: Readonly<Record<string, string | Uint8Array>> = {}): void {
      rmSync(work, { recursive: true, force: true });
      mkdirSync(join(work, '.git'), { recursive: true });
      for (const [name, data] of Object.entries(files)) {
        mkdirSync(dirname(join(work, name)), { recursive: true });
        writeFileSync(join(work, name), data);
      }
    },
  };
}

async function bundleInto(outfile: string): Promise<void> {
  await build({
    entryPoints: [`${project}/src/cli/main.ts`],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    mainFields: ['module', 'main'],
    define: { NITBOOK_VERSION: '"1.2.3"' },
    banner: { js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);" },
    logLevel: 'warning',
  });
}
