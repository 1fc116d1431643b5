// Writes the bundle of templates to translate from the program's own tables; puts what is there in other languages into its order, without
// what it no longer has, and says what they lack: `npm run l10n`.
import { readFileSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';

const { outputFiles } = await build({
  stdin: { contents: "export * from './templates'; export * from './schema';", resolveDir: 'test/editor', loader: 'ts' },
  bundle: true,
  format: 'esm',
  platform: 'node',
  mainFields: ['module', 'main'],
  write: false,
});
const { BUNDLE, SCHEMA, bundleIn, bundleText, languages, schemaIn, schemaPathIn } = await import(
  `data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`
);

function write(path, text) {
  writeFileSync(path, text);
  console.log(path);
}

const bundle = bundleText();
write(BUNDLE, bundle);
const templates = Object.keys(JSON.parse(bundle));
for (const language of languages()) {
  const said = JSON.parse(readFileSync(bundleIn(language), 'utf8'));
  const [there, missing] = [true, false].map((is) => templates.filter((template) => Object.hasOwn(said, template) === is));
  write(bundleIn(language), `${JSON.stringify(Object.fromEntries(there.map((template) => [template, said[template]])), null, 2)}\n`);
  write(
    schemaPathIn(language),
    schemaIn(readFileSync(SCHEMA, 'utf8'), (template) => said[template] ?? template),
  );
  if (missing.length > 0) console.log(`${language} lacks:`, ...missing.map((template) => `\n  ${JSON.stringify(template)}`));
}
