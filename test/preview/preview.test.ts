import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { figureFor } from '../../src/figure/figures';
import { svgOf } from '../../src/figure/svg';
import { markedRow, rowSpan, runAt } from '../../src/preview/places';
import { readFromHost, readFromPage, readPlace } from '../../src/preview/protocol';
import { figureNames, viewOf } from '../../src/preview/view';
import { pageWords } from '../../src/preview/words';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { fill } from '../../src/text/message';

const text = readFileSync('examples/aurora-55.nitbook', 'utf8');
const analysis = analyse(SessionText.read(text), NO_CONFIG);
const view = (run: string | undefined, beside: readonly string[] = [], zoom = 100) =>
  viewOf(analysis, { ...(run === undefined ? {} : { run }), beside, zoom }, 700, 'aurora-55.nitbook', fill);

describe('What a preview shows', () => {
  it('is the figures of a run as they are drawn everywhere, at the width of the page', () => {
    const reading = figureFor(analysis, { ids: ['grey'], measure: 'balance', keys: [] });
    expect(reading.ok && svgOf(reading.figure, { width: 700 })).toBe(view('grey').figures[0]!.svg);
    expect(view('grey', [], 150).figures[0]!.svg).toContain('width="1050"');
  });

  it('is the measures of the run with their verdicts', () => {
    const { rows } = view('grey').measures;
    const average = rows.find(({ cells }) => cells[0] === 'ΔE 2000 average')!;
    expect(average.cells[3]).toBe('limit 3, aim 1');
    expect(rows.map(({ verdict }) => verdict)).toContain('within');
  });

  it('lays runs of the kind over it, and leaves figures of one run alone', () => {
    const names = figureNames(analysis, ['grey', 'grey-tuned']);
    expect(names.find(({ name }) => name === 'balance')?.of).toEqual(['grey', 'grey-tuned']);
    expect(view('grey', ['grey-tuned', 'sat', 'gone']).figures[0]!.svg).toContain('grey-tuned');
    expect(view('grey').others.map(({ id }) => id)).toContain('grey-tuned');
    expect(view('grey').others.map(({ id }) => id)).not.toContain('grey');
  });

  it('is a list of runs where none is meant, or the one meant is gone', () => {
    for (const none of [view(undefined), view('gone')]) {
      expect(none.run).toBeUndefined();
      expect(none.figures).toEqual([]);
      expect(none.runs.length).toBeGreaterThan(10);
    }
  });

  it('has figures for every run of the examples that is computed', () => {
    for (const { run, absent } of analysis.results) if (!absent) expect([run.id, view(run.id).figures.length > 0]).toEqual([run.id, true]);
  });
});

describe('Rows and marks', () => {
  const at = text.indexOf('greyscale grey ');
  const row = text.indexOf('\n        50 ', at) + 1;

  it('belong to the run of their block', () => {
    expect(runAt(analysis.source, row)).toBe('grey');
    expect(runAt(analysis.source, text.indexOf('target dark'))).toBeUndefined();
    expect(runAt(SessionText.read('nitbook 1\n~ greyscale grey\n'), 15)).toBeUndefined();
  });

  it('find each other', () => {
    const name = markedRow(analysis, row + 3)!;
    expect(name).toMatch(/^grey\/row\/\d+$/);
    const [start, end] = rowSpan(analysis.source, name)!;
    expect([start, text.slice(start, end)]).toEqual([row, text.slice(row, text.indexOf('\n', row))]);
    expect(view('grey').figures[0]!.svg).toContain(`data-row="${name}"`);
  });

  it('of repeats have one mark', () => {
    const repeated = 'nitbook 1\nsession 2026-03-14\ngreyscale g\n  level Y x y\n  50 20 .31 .33\n  50 20.1 .31 .33\n  100 100 .31 .33\n';
    const twice = analyse(SessionText.read(repeated), NO_CONFIG);
    expect(markedRow(twice, repeated.indexOf('20.1'))).toBe(markedRow(twice, repeated.indexOf('20 .31')));
  });

  it('have no place when they are gone', () => {
    expect(rowSpan(analysis.source, 'grey/row/999')).toBeUndefined();
    expect(rowSpan(analysis.source, 'gone/row/0')).toBeUndefined();
    expect(rowSpan(analysis.source, 'grey/property/mode')).toBeUndefined();
    expect(markedRow(analysis, text.indexOf('target dark'))).toBeUndefined();
  });
});

describe('What the page and the host say', () => {
  const place = { v: 1, uri: 'file:///a.nitbook', pinned: false, beside: [], zoom: 100 };

  it('is read when it is whole', () => {
    expect(readFromPage({ kind: 'ready', proto: 1, width: 640 })).toBeDefined();
    expect(readFromPage({ kind: 'point' })).toBeDefined();
    expect(readFromHost({ kind: 'show', words: pageWords(fill), place, view: view('grey') })).toBeDefined();
    expect(readPlace({ ...place, run: 'grey' })).toBeDefined();
  });

  it.each([
    undefined,
    null,
    'ready',
    {},
    { kind: 'ready', proto: 1, width: -1 },
    { kind: 'ready', proto: 1, width: '640' },
    { kind: 'go' },
    { kind: 'point', row: 7 },
    { kind: 'save', figure: ['de'] },
    { kind: 'eval', text: '1' },
    { kind: 'choose', beside: 'grey' },
  ])('is refused when it is not: %j', (message) => {
    expect(readFromPage(message)).toBeUndefined();
  });

  it.each([undefined, {}, { ...place, v: 2 }, { ...place, zoom: 'all' }, { ...place, run: 1 }, { ...place, uri: undefined }])(
    'of a place is refused when it is of another version or none: %j',
    (kept) => {
      expect(readPlace(kept)).toBeUndefined();
    },
  );
});
