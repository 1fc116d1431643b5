import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { readConfig } from '../../src/config/readConfig';
import { refusalText } from '../../src/language/answers';
import { REASONS } from '../../src/measure/value';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { sentence } from '../../src/text/finding';
import { anyOf, counted, fill, phrase, phraseOf, sayIn, worded } from '../../src/text/message';
import { SCHEMA, schemaIn } from './schema';
import { BUNDLE, bundleIn, bundleText, languages, schemaPathIn } from './templates';

const read = (path: string) => readFileSync(path, 'utf8');
const bundle: Readonly<Record<string, string>> = JSON.parse(read(BUNDLE));

const placesOf = (template: string): string[] => (template.match(/\{\w+\}/g) ?? []).sort();

describe('The templates to translate', () => {
  it('are all in the bundle (after a change: npm run l10n)', () => {
    expect(read(BUNDLE)).toBe(bundleText());
  });

  it('are said from the inside out, what is put into them in its place', () => {
    const german = sayIn(
      (template) =>
        ({
          '{measure} of {run} is not computed: {reason}.': 'In {run} nicht berechnet: {measure}, denn {reason}.',
          'The volume': 'das Volumen',
          '{one} or {other}': '{one} oder {other}',
          'the run has no column {columns}': 'es fehlt {columns}',
        })[template] ?? template,
    );
    const reason = phraseOf(REASONS, { code: 'no-columns', args: { columns: anyOf(['x', 'X', "u'"]) } });
    const finding = { code: 'not-computed', args: { measure: phrase('The volume'), run: 'cube', reason } } as const;
    expect(sentence(finding, german)).toBe("In cube nicht berechnet: das Volumen, denn es fehlt x oder X oder u'.");
    expect(sentence(finding)).toBe("The volume of cube is not computed: the run has no column x or X or u'.");
    expect(refusalText({ code: 'no-mode', args: { mode: '{mode}' } }, german)).toBe('There is no mode {mode} in this file.');
  });

  it('take a count in two forms, and lists', () => {
    const forms = ['1 row', '{count} rows of {run}'] as const;
    expect([1, 0, 12345678].map((count) => worded(counted(count, forms, { run: 'g' }), fill))).toEqual([
      '1 row',
      '0 rows of g',
      '12345678 rows of g',
    ]);
    expect(fill('{list}: {missing}', { list: ['a', 2, phrase('b')] })).toBe('a, 2, b: {missing}');
  });
});

/** Templates with words that read the same in another language: names, units, standards, and words that both languages have. */
const SAME: Readonly<Record<string, readonly string[]>> = {
  de: [
    ...['BT.2020', 'BT.709', 'P3 in BT.2020', 'CIE 15:2018', 'IEC 61966-2-1:1999', 'IEC 61966-2-5:2007', 'ITU-R BT.601-7'],
    ...['SMPTE EG 432-1:2010', 'SMPTE RP 431-2:2011', 'HDR', 'Markdown', 'opRGB', 'sRGB', 'Duv', 'ΔC*ab', 'ΔE ITP', 'ΔE*ab', 'ΔE*uv'],
    'power N, power N over black, bt1886, srgb, pq, hlg',
    ...['cd/m²', 'ms', 'nm', '{patch}: {luminance} cd/m²', '{time} min', '{window} %: {luminance} cd/m²'],
    ...['Banding', 'Container', 'Display', 'Display: {display}', 'Drift', 'Exponent', 'Firmware', 'Firmware: {version}', 'Median', 'Name'],
    ...['Panel', 'Signal', 'Stimulus', 'Tracking', 'warm', 'In {unit}.', 'in {patch}', '{difference} in {column}'],
  ],
};

const hasWords = (template: string): boolean => /\p{Script=Latin}{2}/u.test(template.replace(/\{\w+\}/g, ''));
const endOf = (sentence: string): string => /[.:?…]?$/.exec(sentence)![0];

describe.each(languages())('What is said in the language %s', (language) => {
  const said: Readonly<Record<string, string>> = JSON.parse(read(bundleIn(language)));
  const words: Readonly<Record<string, string>> = JSON.parse(read(`package.nls.${language}.json`));
  const english: Readonly<Record<string, string>> = JSON.parse(read('package.nls.json'));

  it('is every template and no other (npm run l10n says what is missing), with the same places', () => {
    expect(Object.keys(said)).toEqual(Object.keys(bundle));
    for (const [template, translated] of Object.entries(said)) {
      expect([template, placesOf(translated)]).toEqual([template, placesOf(template)]);
    }
  });

  it('fits where the template stood: it ends as that did, and begins with a blank where that did', () => {
    // A mend that ends in what it adds.
    const others = Object.entries(said).filter(([template]) => template !== 'Add firmware: ?');
    for (const [template, translated] of others) {
      expect([template, endOf(translated), translated.startsWith(' ')]).toEqual([template, endOf(template), template.startsWith(' ')]);
    }
  });

  it('is in its own words, but for those that are the same', () => {
    const same = Object.entries(said).flatMap(([template, translated]) =>
      template === translated && hasWords(template) ? [template] : [],
    );
    expect(same.sort()).toEqual([...(SAME[language] ?? [])].sort());
    const alike = Object.keys(english).filter((key) => words[key] === english[key]);
    expect(alike).toEqual(['menu.bench']);
  });

  it('is every word of the manifest, with the same commands behind links', () => {
    expect(Object.keys(words)).toEqual(Object.keys(english));
    const commands = (text: string) => text.match(/\(command:[\w.]+\)/g);
    for (const [key, text] of Object.entries(english)) expect([key, commands(words[key]!)]).toEqual([key, commands(text)]);
  });

  it('is the schema of nitbook.jsonc (after a change: npm run l10n)', () => {
    expect(words.schema).toBe(`./${schemaPathIn(language)}`);
    expect(read(schemaPathIn(language))).toBe(schemaIn(read(SCHEMA), (template) => said[template]!));
  });
});

it('There is German', () => {
  expect(languages()).toContain('de');
});

describe('The walkthrough', () => {
  const { steps } = JSON.parse(read('package.json')).contributes.walkthroughs[0] as {
    steps: readonly { media: { markdown: string }; description: string }[];
  };

  it('has four steps, whose pages show nothing that has findings, and no picture that is not there', () => {
    expect(steps).toHaveLength(4);
    const paths = steps.flatMap(({ media: { markdown } }) => [
      markdown,
      ...languages().map((language) => markdown.replace(/\.md$/, `.nls.${language}.md`)),
    ]);
    for (const path of paths) {
      const page = read(path);
      for (const [, text] of page.matchAll(/```nitbook\n([^`]*)```/g)) {
        const { findings } = analyse(
          SessionText.read(`nitbook 1\n${text!.startsWith('session') ? '' : 'session 2026-03-14\n'}${text}`),
          NO_CONFIG,
        );
        expect(findings.filter(({ severity }) => severity !== 'info').map(({ code }) => code)).toEqual([]);
      }
      for (const [, text] of page.matchAll(/```jsonc\n([^`]*)```/g)) {
        expect(readConfig(text!, { measures: new Set() }).findings).toEqual([]);
      }
      for (const [, picture] of page.matchAll(/!\[[^\]]+\]\(([^)]+)\)/g)) expect(existsSync(`media/walkthrough/${picture}`)).toBe(true);
    }
  });

  it('leads to commands that are there', () => {
    const commands = JSON.parse(read('package.json')).contributes.commands.map(({ command }: { command: string }) => command);
    const words = JSON.parse(read('package.nls.json'));
    const said = steps.map(({ description }) => words[description.slice(1, -1)] as string);
    const named = said.flatMap((text) => [...text.matchAll(/\(command:([\w.]+)\)/g)].map(([, command]) => command!));
    expect(named.length).toBeGreaterThan(3);
    for (const command of named) if (command.startsWith('nitbook.')) expect(commands).toContain(command);
  });
});
