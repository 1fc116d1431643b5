import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { sayIn } from '../../src/text/message';
import { anonymous, PSEUDO, pseudo, unsaid } from './pseudo';
import { shownOf, shownOfPlans } from './shown';
import { BUNDLE, bundleIn, languages } from './templates';

const read = (path: string) => readFileSync(path, 'utf8');
const bundle: Readonly<Record<string, string>> = JSON.parse(read(BUNDLE));
/** As the editor says it: a template that the bundle does not have stays as it is. */
const say = sayIn((template) => (Object.hasOwn(bundle, template) ? pseudo(bundle[template]!) : template));

const examples = readdirSync('examples').filter((name) => name.endsWith('.nitbook'));

describe('In a language that nobody speaks no word of English is left', () => {
  it.each(examples)(
    'of all that %s shows',
    (name) => {
      const { text, names } = anonymous(read(`examples/${name}`));
      const left = new Map<string, string>();
      let count = 0;
      for (const { where, text: shown } of shownOf(text, say)) {
        count++;
        for (const line of shown.split('\n')) {
          for (const word of unsaid(line, names)) if (!/^q+$/i.test(word)) left.set(word, `${where}: ${line}`);
        }
      }
      expect([...left]).toEqual([]);
      expect(count).toBeGreaterThan(1000);
    },
    60_000,
  );

  it('of the plans', () => {
    for (const { text } of shownOfPlans(say)) expect(unsaid(text)).toEqual([]);
  });
});

/** Words that stand in most sentences of English, and that neither the format nor another language has. */
const ENGLISH = /(?<![\w.-])(?:the|of|and|is|are|with|this|that|which|than|has|have|its?|to|be|cannot)(?![\w-])/gi;

describe.each(languages())('In the language %s no sentence is English', (language) => {
  const said: Readonly<Record<string, string>> = JSON.parse(read(bundleIn(language)));

  it.each(examples)(
    'of all that %s shows',
    (name) => {
      const { text, names } = anonymous(read(`examples/${name}`));
      const lacking = new Set<string>();
      const left = new Map<string, string>();
      const spoken = sayIn((template) => {
        if (!Object.hasOwn(said, template)) lacking.add(template);
        return said[template] ?? template;
      });
      for (const { where, text: shown } of shownOf(text, spoken)) {
        for (const line of shown.replace(/data:[^)]*/g, '').split('\n')) {
          for (const word of line.match(ENGLISH) ?? []) if (!names.has(word)) left.set(word, `${where}: ${line}`);
        }
      }
      expect([...left]).toEqual([]);
      expect([...lacking]).toEqual([]);
    },
    60_000,
  );
});

describe('A word that no template says', () => {
  it('is seen', () => {
    expect(unsaid(PSEUDO('Not computed: {why}.', { why: 'it rains' }))).toEqual(['it', 'rains']);
    expect(pseudo('A {keyword} run')).toBe('Á {keyword} řúń');
    expect(unsaid('greyscale 12 cd/m2')).toEqual([]);
  });
});
