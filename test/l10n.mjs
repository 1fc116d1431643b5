// Writes the bundle of templates to translate from the program's own tables: `npm run l10n`.
import { writeFileSync } from 'node:fs';
import { build } from 'esbuild';

const { outputFiles } = await build({
  entryPoints: ['test/editor/templates.ts'],
  bundle: true,
  format: 'esm',
  platform: 'node',
  mainFields: ['module', 'main'],
  write: false,
});
const { BUNDLE, bundleText } = await import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
writeFileSync(BUNDLE, bundleText());
console.log(BUNDLE);
