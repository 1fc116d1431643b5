import { readdirSync, readFileSync } from 'node:fs';
import { LEVELS_EXPECTED } from '../../src/config/levels';
import { LANGUAGE_REFUSALS } from '../../src/language/answers';
import { REPEAT_REASONS } from '../../src/language/newSession';
import { PASTE_REASONS } from '../../src/language/paste';
import { BUILT_IN_PLANS } from '../../src/language/plans';
import { REFUSALS } from '../../src/session/plan';
import { CODES } from '../../src/text/codes';
import { PLAIN_MEND } from '../../src/text/finding';

/** Where the templates of all that the editor says are kept for translation. */
export const BUNDLE = 'l10n/bundle.l10n.json';

/** What `BUNDLE` has to hold: each template of the core that the editor says, and each text of the editor itself, under its own words. */
export function bundleText(): string {
  const sentences = Object.values(CODES).flatMap(({ sentence, mend }) => [sentence, ...(mend === undefined ? [] : [mend])]);
  const tables = [REFUSALS, LANGUAGE_REFUSALS, PASTE_REASONS, REPEAT_REASONS].flatMap((table) => Object.values(table));
  const plans = [...BUILT_IN_PLANS.values()].map(({ about }) => about);
  const all = [...sentences, PLAIN_MEND, ...tables, LEVELS_EXPECTED, ...plans, ...editorTexts()];
  const sorted = [...new Set(all)].sort((a, b) => (a < b ? -1 : 1));
  return `${JSON.stringify(Object.fromEntries(sorted.map((text) => [text, text])), null, 2)}\n`;
}

/**
 * The texts in calls of `vscode.l10n.t`.
 * @throws Error for a call with anything else than one text in single quotation marks: it could not be translated. The templates of the core
 *   are said in one place, by name.
 */
function editorTexts(): string[] {
  return readdirSync('src/editor').flatMap((name) => {
    const source = readFileSync(`src/editor/${name}`, 'utf8');
    return [...source.matchAll(/\bl10n\.t\(\s*(?:'((?:[^'\\\n]|\\.)*)'|("[^"\n]*"))?/g)].flatMap(([call, single, double]) => {
      if (single !== undefined) return [single.replace(/\\(.)/g, '$1')];
      if (double !== undefined) return [JSON.parse(double) as string];
      if (name === 'l10n.ts') return [];
      throw new Error(`src/editor/${name}: ${call}… is not called with a text`);
    });
  });
}
