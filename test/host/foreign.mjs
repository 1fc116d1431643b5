// A workbench that speaks a language that nobody speaks: what is still in English there comes from no text that can be translated.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { root } from './setup.mjs';

export const LOCALE = 'qps-ploc';

/** `test/editor/pseudo.ts` and `schema.ts`, as they are. */
export async function pseudoLanguage() {
  const { outputFiles } = await build({
    stdin: { contents: "export * from './pseudo'; export * from './schema';", resolveDir: join(root, 'test/editor'), loader: 'ts' },
    bundle: true,
    format: 'esm',
    platform: 'node',
    mainFields: ['module', 'main'],
    write: false,
  });
  return import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
}

/** Puts the language into an unpacked extension, just as a translation would be put there. */
export function translate(extension, { pseudo, schemaIn }) {
  const put = (from, to, said) => {
    const texts = Object.entries(JSON.parse(readFileSync(join(extension, from), 'utf8')));
    writeFileSync(join(extension, to), JSON.stringify(Object.fromEntries(texts.map(([key, text]) => [key, said(text)]))));
  };
  put('l10n/bundle.l10n.json', `l10n/bundle.l10n.${LOCALE}.json`, pseudo);
  const schema = readFileSync(join(extension, 'syntaxes/nitbook.schema.json'), 'utf8');
  writeFileSync(join(extension, `syntaxes/nitbook.schema.${LOCALE}.json`), schemaIn(schema, pseudo));
  // What a link of the walkthrough runs, names in code and paths stay.
  const parts = /(\(command:[^)]*\)|`[^`]*`|^\.\/.*)/;
  put('package.nls.json', `package.nls.${LOCALE}.json`, (text) =>
    text
      .split(parts)
      .map((part) => (parts.test(part) ? part.replace(/(schema)(?=\.json$)/, `$1.${LOCALE}`) : pseudo(part)))
      .join(''),
  );
}

/** For `Workbench.open`: the page and its hosts then take the language for that of the display. Its own texts stay as they are. */
export const inLanguage = (language) => (page) =>
  page.addInitScript((locale) => {
    globalThis._VSCODE_NLS_LANGUAGE = locale;
  }, language);
