import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG, readConfig } from '../../src/config/config';
import { refusalText } from '../../src/language/answers';
import { REASONS } from '../../src/measure/value';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { sentence } from '../../src/text/finding';
import { anyOf, counted, fill, phrase, phraseOf, sayIn, worded } from '../../src/text/message';
import { BUNDLE, bundleText } from './templates';

const read = (path: string) => readFileSync(path, 'utf8');
const bundle: Readonly<Record<string, string>> = JSON.parse(read(BUNDLE));

const placesOf = (template: string): string[] => (template.match(/\{\w+\}/g) ?? []).sort();

describe('The templates to translate', () => {
  it('are all in the bundle (after a change: npm run l10n)', () => {
    expect(read(BUNDLE)).toBe(bundleText());
  });

  it('are those of the files that are there for other languages', () => {
    for (const name of readdirSync('l10n').filter((each) => each !== basename(BUNDLE))) {
      const templates = Object.entries<string>(JSON.parse(read(`l10n/${name}`)));
      expect(templates.map(([template]) => template).filter((template) => !Object.hasOwn(bundle, template))).toEqual([]);
      for (const [template, translated] of templates) expect(placesOf(translated), template).toEqual(placesOf(template));
    }
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

describe('The walkthrough', () => {
  const { steps } = JSON.parse(read('package.json')).contributes.walkthroughs[0] as {
    steps: readonly { media: { markdown: string }; description: string }[];
  };

  it('has four steps, whose pages show nothing that has findings, and no picture that is not there', () => {
    expect(steps).toHaveLength(4);
    for (const { media } of steps) {
      const page = read(media.markdown);
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
