// Writes the reference pages from the program's own tables: `npm run docs`.
import { writeFileSync } from 'node:fs';
import { build } from 'esbuild';

const { outputFiles } = await build({
  stdin: { contents: "export { PAGES } from './src/report/manual'; export { REVIEW_PAGES } from './src/review/manual';", resolveDir: '.' },
  bundle: true,
  format: 'esm',
  platform: 'neutral',
  write: false,
});
const { PAGES, REVIEW_PAGES } = await import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
for (const [file, page] of Object.entries({ ...PAGES, ...REVIEW_PAGES })) {
  writeFileSync(file, page());
  console.log(file);
}
