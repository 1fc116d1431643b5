// Coverage of the intervals by simulation, 2,000 sessions a line: `npm run check:coverage`. The number of sessions may follow as an argument.
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const at = (path) => fileURLToPath(new URL(path, import.meta.url));
const outfile = at('../../dist/coverage.mjs');
await build({
  entryPoints: [at('coverageReport.ts')],
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  mainFields: ['module', 'main'],
  outfile,
});
await import(outfile);
