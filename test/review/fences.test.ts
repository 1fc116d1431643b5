import { readFileSync } from 'node:fs';
import Markdown from 'markdown-it';
import { describe, expect, it } from 'vitest';
import { readConfig } from '../../src/config/readConfig';
import { settled } from '../../src/project/analysis';
import { partHtml } from '../../src/review/fences/htmlForm';
import { INSTRUCTIONS, type InstructionSpec, isFence, readFence } from '../../src/review/fences/language';
import { partMarkdown } from '../../src/review/fences/markdownForm';
import type { Part } from '../../src/review/fences/parts';
import { REVIEW_PAGES } from '../../src/review/manual';
import { type Shown, shownOf } from '../../src/review/shown';
import { mendsOf, reviewed, saidOf } from './reviews';
import { HOSTILE, showing } from './showings';

const shown = (content: string, given: Parameters<typeof showing>[0] = {}, isCautioned = false): readonly Shown[] =>
  shownOf(content, showing(given), isCautioned);

const partsOf = (content: string, given: Parameters<typeof showing>[0] = {}): readonly Part[] =>
  shown(content, given).map((each) => {
    if (each.is !== 'part') throw new Error(JSON.stringify(each));
    return each.part;
  });

const markdownOf = (content: string, given: Parameters<typeof showing>[0] = {}): string =>
  `${partsOf(content, given)
    .map((part) => partMarkdown(part, ({ figure }) => `${figure.id}.svg`))
    .join('\n\n')}\n`;

/** What is said of mistaken lines, with the line. */
const problems = (content: string): readonly string[] =>
  shown(content).flatMap((each) => (each.is === 'problem' ? [`${each.line}: ${each.sentence}`] : []));

describe('A fenced block', () => {
  it('is one of this program where it refers to a session, or starts with an instruction', () => {
    expect(isFence('nitbook', 'settings a.nitbook#cinema\n')).toBe(true);
    expect(isFence('nitbook wide', '\n# so\n  cautions\n')).toBe(true);
    expect(isFence('nitbook', 'show a.nitbook#grey\n')).toBe(true);
    // A text of a session, as other documents show it.
    expect(isFence('nitbook', 'session 2026-03-14\ndisplay aurora\n')).toBe(false);
    expect(isFence('', 'cautions\n')).toBe(false);
    expect(isFence('nitbooks', 'cautions\n')).toBe(false);
  });

  it('has one instruction and one reference a line; those that follow each other go together', () => {
    const { groups, problems: none } = readFence(
      'compare a.nitbook#x\n# a comment\n  compare b.nitbook#x\n\ncompare c.nitbook#x\nfigure c.nitbook#x.balance\ncautions',
    );
    expect(none).toEqual([]);
    expect(groups.map((group) => group.map(({ line, instruction, target }) => [line, instruction, target?.text]))).toEqual([
      [
        [0, 'compare', 'a.nitbook#x'],
        [2, 'compare', 'b.nitbook#x'],
      ],
      [[4, 'compare', 'c.nitbook#x']],
      [[5, 'figure', 'c.nitbook#x.balance']],
      [[6, 'cautions', undefined]],
    ]);
  });

  it('tells in place of a line what is mistaken in it, and shows the others', () => {
    expect(
      problems(
        [
          'setings aurora.nitbook#cinema',
          'method',
          'cautions aurora.nitbook#session',
          'figure aurora.nitbook#grey.balance aurora.nitbook#grey.curve',
          'settings aurora.nitbook#grey',
          'summary aurora.nitbook#cinema',
          'summary aurora.nitbook#grey.de.max',
          'compare aurora.nitbook#cinema',
          'compare aurora.nitbook#grey.de',
          '',
          'compare aurora.nitbook#grey',
          'compare aurora.nitbook#hdr-window',
          '',
          'compare aurora.nitbook#session',
          'compare aurora.nitbook#grey',
          '',
          'figure aurora.nitbook#grey.balanc',
          '',
          'figure aurora.nitbook#grey.change',
          '',
          'figure aurora.nitbook#grey.balance',
          'figure meadow.nitbook#grey.curve',
          '',
          'figure aurora.nitbook#spd.spectrum',
          '',
          'settings aurora.nitbook#cinma',
          'settings gone.nitbook#cinema',
          'settings aurora.nitbook',
          'settings cinema',
        ].join('\n'),
      ),
    ).toEqual([
      'setings aurora.nitbook#cinema: "setings" is no instruction: there is settings, summary, compare, figure, method, cautions. Perhaps settings?',
      'method: method needs a reference to the session, or one or more runs, such as method aurora-55.nitbook#session.',
      'cautions aurora.nitbook#session: cautions takes no reference.',
      'figure aurora.nitbook#grey.balance aurora.nitbook#grey.curve: One reference a line: the next goes on a line of its own.',
      'settings aurora.nitbook#grey: settings does not show the greyscale "grey": it takes one or more modes.',
      'summary aurora.nitbook#cinema: summary does not show the mode "cinema": it takes the session, or one or more runs.',
      'compare aurora.nitbook#grey.de: "de" of "grey": it belongs to a row: write de@ and the key of the row.',
      'compare aurora.nitbook#hdr-window: Runs of one kind stand beside each other: "grey" is a greyscale run, "hdr-window" a window run: a blank line parts them.',
      'compare aurora.nitbook#grey: Runs stand beside runs, and figures or sessions beside figures or sessions: a blank line parts them.',
      'figure aurora.nitbook#grey.balanc: A greyscale run has no figure "balanc". Perhaps balance?',
      'figure aurora.nitbook#grey.change: The figure "change" is of two runs, the earlier first.',
      'figure meadow.nitbook#grey.curve: Lines that make one figure all name the same: a blank line parts them.',
      'figure aurora.nitbook#spd.spectrum: The figure "spectrum" of "spd" is not computed: there is no complete row for it.',
      'settings aurora.nitbook#cinma: There is no "cinma" in this session. Perhaps cinema?',
      'settings gone.nitbook#cinema: gone.nitbook: there is no such file.',
      'settings aurora.nitbook: "aurora.nitbook" names a file and nothing in it: for the whole session write aurora.nitbook#session.',
      'settings cinema: "cinema" is no reference to a session.',
    ]);
  });

  it('says so while a session is still to be read', () => {
    expect(
      shown('summary meadow.nitbook#session\n\nmethod aurora.nitbook#session', { unread: ['/w/meadow.nitbook'] }).map(({ is }) => is),
    ).toEqual(['pending', 'part']);
  });

  it('shows the cautions once in a document', () => {
    expect(shown('cautions').map(({ is }) => is)).toEqual(['part']);
    expect(shown('cautions', {}, true)).toEqual([]);
  });
});

// What each instruction comes to stands in shown/, to be read.
describe('An instruction shows', () => {
  it.each([
    ['settings', 'settings aurora.nitbook#cinema-tuned'],
    ['settings-beside', 'settings aurora.nitbook#cinema+cinema-tuned\nsettings meadow.nitbook#cinema'],
    ['summary', 'summary aurora.nitbook#session'],
    ['summary-runs', 'summary aurora.nitbook#grey-tuned\nsummary meadow.nitbook#hdr-window'],
    ['compare-runs', 'compare aurora.nitbook#grey+grey-tuned'],
    ['compare-runs-of-displays', 'compare aurora.nitbook#grey+grey-tuned\ncompare meadow.nitbook#grey'],
    ['compare-displays', 'compare aurora.nitbook#session\ncompare meadow.nitbook#session'],
    [
      'compare-figures',
      [
        'compare aurora.nitbook#grey.de.avg',
        'compare aurora.nitbook#grey-tuned.de.avg',
        'compare aurora.nitbook#hdr-window.peak@10',
        'compare aurora.nitbook#aurora.price',
        'compare meadow.nitbook#session',
      ].join('\n'),
    ],
    ['method', 'method aurora.nitbook#session'],
    ['method-runs', 'method aurora.nitbook#grey\nmethod meadow.nitbook#grey'],
    ['cautions', 'cautions'],
  ])('%s', async (name, content) => {
    await expect(markdownOf(content)).toMatchFileSnapshot(`shown/${name}.md`);
  });

  it('figures of one session, and of several over each other', () => {
    const [one, both] = partsOf('figure aurora.nitbook#grey.balance\n\nfigure aurora.nitbook#grey.curve\nfigure meadow.nitbook#grey.curve');
    expect([one, both].map((part) => part?.is === 'drawing' && [part.figure.id, part.figure.runs])).toEqual([
      ['balance', ['grey']],
      ['curve', ['aurora/grey', 'meadow/grey']],
    ]);
  });

  it('what changed between two runs of a display, once that is known', () => {
    const given = showing();
    const compared = () =>
      shownOf('compare aurora.nitbook#grey+grey-tuned', given, false).flatMap((each) => (each.is === 'part' ? [each.part] : []));
    const heads = () => compared().map((part) => part.is === 'table' && part.head);
    expect(heads()).toEqual([['Measure', 'As shipped', 'As adjusted']]);
    const session = given.sessions.session('/w/aurora.nitbook');
    if (session?.ok) settled(session.analysis);
    expect(heads()).toEqual([['Measure', 'As shipped', 'As adjusted', 'Change']]);
    const [table] = compared();
    const row = table?.is === 'table' ? table.groups[0]!.rows.find(({ name }) => name === 'ΔE 2000 average') : undefined;
    expect(row?.cells.map(({ text }) => text).slice(0, 2)).toEqual(['2.69', '0.03']);
    expect(row?.cells[2]?.text).toMatch(/^−2\.6\d/);
    // The other way round nothing is before and after.
    expect(
      shownOf('compare aurora.nitbook#grey-tuned+grey', given, false).flatMap((each) =>
        each.is === 'part' && each.part.is === 'table' ? each.part.head : [],
      ),
    ).toHaveLength(3);
  });

  it('what its example asks for', () => {
    for (const { example } of Object.values<InstructionSpec>(INSTRUCTIONS))
      expect(
        shown(example.replace('aurora-55', 'aurora')).map(({ is }) => is),
        example,
      ).toEqual(['part']);
  });

  it('numbers as the folder writes them', () => {
    const { config } = readConfig('{ "language": "de" }', { measures: new Set() });
    expect(markdownOf('compare aurora.nitbook#grey.de.avg', { config })).toMatch(/\| ΔE 2000 average \| \d,\d\d/);
    expect(markdownOf('settings aurora.nitbook#cinema', { config })).toContain('| Picture / Gamma | 2.4 |');
  });
});

describe('The page on fenced blocks', () => {
  it('is what the table says (npm run docs writes it), and its example has no findings', async () => {
    for (const [file, page] of Object.entries(REVIEW_PAGES)) expect(readFileSync(file, 'utf8')).toBe(page());
    const [, example] = /````markdown\n([\s\S]*?)````/.exec(Object.values(REVIEW_PAGES)[0]!())!;
    const review = example!.replaceAll('aurora-55', 'aurora').replaceAll('meadow-65', 'meadow');
    expect(shown(/```nitbook\n([\s\S]*?)```/.exec(review)![1]!).map(({ is }) => is)).toEqual(['part', 'part', 'part']);
  });
});

describe('As HTML', () => {
  it('a table has heads for its rows, columns and groups, and says in words what does not keep its limit', () => {
    const [part] = partsOf('compare aurora.nitbook#session\ncompare meadow.nitbook#session');
    const page = partHtml(part!);
    expect(page).toContain('<th scope="col">Halden Aurora 55</th>');
    expect(page).toContain('<tr class="nitbook-group"><th scope="rowgroup" colspan="3">Greyscale: As shipped');
    expect(page).toMatch(/<td class="nitbook-beyond">[\d.]+ <span class="nitbook-mark">beyond ▲<\/span><\/td>/);
    expect(page).toMatch(/^<div class="nitbook-scroll" role="group" tabindex="0" aria-label="Halden Aurora 55 \/ Halden Meadow 65">/);
  });

  it('whatever a session says is text', () => {
    const files = { '/w/aurora.nitbook': HOSTILE };
    for (const content of [
      'settings aurora.nitbook#evil-mode',
      'summary aurora.nitbook#session',
      'compare aurora.nitbook#session',
      'method aurora.nitbook#session',
    ]) {
      const page = partsOf(content, { files })
        .map((part) => partHtml(part))
        .join('');
      expect(page.match(/<(?!\/?(?:div|table|caption|thead|tbody|tr|th|td|span|strong|p|dl|dt|dd)\b)/g), content).toBeNull();
      expect(page).not.toMatch(/\son\w+=(?!&)[^&]*>/);
      expect(page).not.toContain('\u202e');
    }
  });

  it('whatever a session says is text in Markdown too', async () => {
    const files = { '/w/aurora.nitbook': HOSTILE };
    const page = new Markdown({ html: true }).render(
      markdownOf('settings aurora.nitbook#evil-mode\n\nmethod aurora.nitbook#session', { files }),
    );
    expect(page.match(/<(?!\/?(?:p|strong|table|thead|tbody|tr|th|td|ul|li|br)\b)/g)).toBeNull();
  });
});

describe('What is mistaken in a block', () => {
  const fence = (content: string) =>
    `Text [505 nits](aurora.nitbook#hdr-window.peak).\n\n> - \`\`\`nitbook\n${content.replace(/^/gm, '>   ')}\n>   \`\`\`\n`;

  it('is found in its document, with mends', async () => {
    const review = await reviewed(
      fence('setings aurora.nitbook#cinema\nsummary aurora.nitbook\nsettings aurora.nitbook#cinma\ncautions\ncautions'),
    );
    expect(saidOf(review).map((said) => said.split(':')[0])).toEqual([
      'fence-instruction "setings"',
      'fence-reference "aurora.nitbook"',
      'link-unknown "cinma"',
      'fence-again "cautions"',
    ]);
    const mended = Object.values(mendsOf(review)).map((text) =>
      text
        .split('\n')
        .slice(3, 6)
        .map((line) => line.replace('>   ', '')),
    );
    expect(mended).toEqual([
      ['settings aurora.nitbook#cinema', 'summary aurora.nitbook', 'settings aurora.nitbook#cinma'],
      ['setings aurora.nitbook#cinema', 'summary aurora.nitbook#session', 'settings aurora.nitbook#cinma'],
      ['setings aurora.nitbook#cinema', 'summary aurora.nitbook', 'settings aurora.nitbook#cinema'],
    ]);
  });

  it('is told of a block that the instruction is not about', async () => {
    const { review, findings } = await reviewed(fence('settings aurora.nitbook#grey'));
    expect(findings.map(({ code, span }) => [code, review.text.slice(...span)])).toEqual([['fence-block', 'settings aurora.nitbook#grey']]);
  });

  it('is told of the line that does not go with those before it', async () => {
    const { review, findings } = await reviewed(fence('compare aurora.nitbook#grey\ncompare aurora.nitbook#hdr-window'));
    expect(findings.map(({ code, span }) => [code, review.text.slice(...span)])).toEqual([
      ['fence-together', 'compare aurora.nitbook#hdr-window'],
    ]);
  });
});
