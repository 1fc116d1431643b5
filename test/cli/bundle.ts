import { resolve } from 'node:path';
import { build } from 'esbuild';

export const project = resolve(import.meta.dirname, '../..');

/** The command line in one file, as it ships but for its version. */
export async function bundleCommandLine(outfile: string): Promise<void> {
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
