import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { cardOf, type Filter, filtered, filtersIn, type SessionCard } from '../../src/editor/sessionCards';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';

const card = (text: string): SessionCard => cardOf(analyse(SessionText.read(text), NO_CONFIG));
const text = `nitbook 1
session 2026-03-14
  title: A day
display aurora "Halden Aurora 55"
  firmware: 2.14
mode cinema "As shipped"
  Gain: ?
mode game
contrast deep
  mode: cinema
    patch   Y
    white   120
    black   0.5
contrast late
  mode: cinema
    patch   Y
    white   ?
    black   ?
lag delay
    place   lag[ms]
    middle  −3
`;

/** `cinema: deep late`, one for each mode. */
const shape = (of: SessionCard | undefined) => of?.modes.map(({ label, runs }) => [label, ...runs.map((run) => run.label)].join(': '));
const through = (filter: Filter) => shape(filtered(card(text), filter));

describe('The card of a session', () => {
  it('has its display, its modes in their order, and runs without a mode at the end', () => {
    const found = card(text);
    expect([found.label, found.title, found.date, found.line]).toEqual(['Halden Aurora 55', 'A day', '2026-03-14', 3]);
    expect(shape(found)).toEqual(['cinema: contrast deep: contrast late', 'game', ': lag delay']);
    expect(found.modes[0]!.line).toBe(5);
    expect(found.modes[0]!.runs[1]!.line).toBe(13);
  });

  it('says the gravest verdict below, and counts what is to take', () => {
    const found = card(text);
    const [deep, late] = found.modes[0]!.runs;
    // 240:1, below the default limit of 500:1.
    expect([deep!.verdict, late!.verdict, found.modes[0]!.verdict, found.verdict]).toEqual(['beyond', 'no-number', 'beyond', 'beyond']);
    expect([deep!.toTake, late!.toTake, found.toTake]).toEqual([0, 2, 2]);
  });

  it('is filtered by how runs stand', () => {
    expect(through('beyond')).toEqual(['cinema: contrast deep']);
    expect(through('to-take')).toEqual(['cinema: contrast late']);
    expect(through('undecided')).toBeUndefined();
  });

  it('is filtered by a finding, and leads to it', () => {
    const found = filtered(card(text), 'minus-sign');
    expect(shape(found)).toEqual([': lag delay']);
    expect(found!.modes[0]!.runs[0]!.line).toBe(text.split('\n').findIndex((line) => line.includes('−3')));
    expect(through('property-to-note')).toEqual(['cinema']);
    expect(filtered(card(text), 'property-to-note')!.modes[0]!.line).toBe(6);
    expect(through('decimal-slip')).toBeUndefined();
  });

  it('of a session without a head or a display is there all the same', () => {
    const found = card('contrast\n    patch Y\n    white ?\n');
    expect([found.label, found.date, found.line, found.toTake]).toEqual(['', '', 0, 1]);
    expect(filtered(found, 'version-missing')!.modes).toHaveLength(1);
  });

  it('tells what can be filtered by, in how many sessions', () => {
    const cards = [card(text), card(readFileSync('examples/bench-mistakes.nitbook', 'utf8'))];
    const filters = new Map(filtersIn(cards));
    expect([...filters.keys()].slice(0, 2)).toEqual(['beyond', 'to-take']);
    expect(filters.get('beyond')).toBe(2);
    expect(filters.get('decimal-slip')).toBe(1);
    expect([...filters.values()].every((count) => count > 0)).toBe(true);
  });
});
