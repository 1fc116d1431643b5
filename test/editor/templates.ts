import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { MORE_PLACES } from '../../src/judge/outOfPlace';
import { LANGUAGE_REFUSALS } from '../../src/language/answers';
import { REPEAT_REASONS } from '../../src/language/newSession';
import { PASTE_REASONS } from '../../src/language/paste';
import { BUILT_IN_PLANS } from '../../src/language/plans';
import { SAYINGS } from '../../src/measure/sayings';
import { REASONS, ROWS_NEEDED } from '../../src/measure/value';
import { READINGS } from '../../src/session/blockProblems';
import { REFUSALS } from '../../src/session/plan';
import { CODES } from '../../src/text/codes';
import { PLAIN_MEND } from '../../src/text/finding';

/** Where the templates of all that the editor says are kept for translation. */
export const BUNDLE = 'l10n/bundle.l10n.json';

/** What `BUNDLE` has to hold: each template of the core that the editor says, and each text of the editor itself, under its own words. */
export function bundleText(): string {
  const sentences = Object.values(CODES).flatMap(({ sentence, mend }) => [sentence, ...(mend === undefined ? [] : [mend])]);
  const tables = [REFUSALS, LANGUAGE_REFUSALS, PASTE_REASONS, REPEAT_REASONS, REASONS, SAYINGS].flatMap((table) => Object.values(table));
  const forms = [READINGS, ROWS_NEEDED, MORE_PLACES].flat();
  const plans = [...BUILT_IN_PLANS.values()].map(({ about }) => about);
  const all = [...sentences, PLAIN_MEND, ...tables, ...forms, ...plans, ...phrases(), ...editorTexts()];
  const sorted = [...new Set(all)].sort((a, b) => (a < b ? -1 : 1));
  return `${JSON.stringify(Object.fromEntries(sorted.map((text) => [text, text])), null, 2)}\n`;
}

const sources = (folder: string): { readonly path: string; readonly text: string }[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => ({ path: join(folder, name), text: readFileSync(join(folder, name), 'utf8') }));

/** The templates in calls of `phrase`. */
const phrases = (): string[] => sources('src').flatMap(({ path, text }) => textsOf(path, text, /(?<!const )\bphrase\(/g));

/** The texts in calls of `vscode.l10n.t`; the templates of the core are said in one place, by name. */
const editorTexts = (): string[] =>
  sources('src/editor').flatMap(({ path, text }) => (path.endsWith('l10n.ts') ? [] : textsOf(path, text, /\bl10n\.t\(/g)));

/** @throws Error for a call with anything else than one text in quotation marks: it could not be translated */
function textsOf(path: string, source: string, call: RegExp): string[] {
  return [...source.matchAll(call)].map((found) => {
    const rest = source.slice(found.index + found[0].length);
    const text = /^\s*(?:'((?:[^'\\\n]|\\.)*)'|("(?:[^"\\\n]|\\.)*"))\s*[,)]/.exec(rest);
    if (text?.[1] !== undefined) return text[1].replace(/\\(.)/g, '$1');
    if (text?.[2] !== undefined) return JSON.parse(text[2]) as string;
    throw new Error(`${path}: ${found[0]}${rest.slice(0, 60)}… is not called with a text`);
  });
}
