import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG, readConfig } from '../../src/config/config';
import { refusalText } from '../../src/language/answers';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { mendTitle, sentence } from '../../src/text/finding';
import { fill, type Say } from '../../src/text/message';
import { BUNDLE, bundleText } from './templates';

const read = (path: string) => readFileSync(path, 'utf8');
const bundle: Readonly<Record<string, string>> = JSON.parse(read(BUNDLE));

describe('The templates to translate', () => {
  it('are all in the bundle (after a change: npm run l10n)', () => {
    expect(read(BUNDLE)).toBe(bundleText());
  });

  it('are found by the editor for whatever a session gives', () => {
    const missing: string[] = [];
    const say: Say = (template, args) => {
      if (!Object.hasOwn(bundle, template)) missing.push(template);
      return fill(template, args);
    };
    const { findings } = analyse(SessionText.read(read('examples/bench-mistakes.nitbook')), NO_CONFIG);
    expect(findings.length).toBeGreaterThan(10);
    for (const finding of findings) {
      expect(sentence(finding, say)).toBe(sentence(finding));
      for (const mend of finding.mends) expect(mendTitle(finding.code, mend.args, say)).toBe(mend.title);
    }
    refusalText({ code: 'no-run', args: {} }, say);
    refusalText({ code: 'version-newer', args: { version: 2 } }, say);
    expect(missing).toEqual([]);
  });

  it('carry a translation, arguments filled in', () => {
    const german: Say = (template, args) =>
      fill(template.replace('There is no mode {mode} in this file.', 'Modus {mode} gibt es hier nicht.'), args);
    expect(refusalText({ code: 'no-mode', args: { mode: 'kino' } }, german)).toBe('Modus kino gibt es hier nicht.');
    const config = readConfig('{ "limit": {} }', { measures: new Set() }).findings[0]!;
    expect(mendTitle(config.code, config.mends[0]!.args, (template) => template)).toBe('Write {mended}');
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
