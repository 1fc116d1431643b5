import { describe, expect, it } from 'vitest';
import { Dependencies } from '../../src/project/dependencies';
import { type Session, sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';

const TEXT = `nitbook 1
target dark
  curve: power 2.4
mode a
mode b
greyscale grey
  mode: a
    level Y
    30    5
window peaks
  mode: a
    window Y
    10     800
window others like peaks
    window Y
    10     900
tracking low
    level Y
    30    5
tracking high
    level Y
    30    6
`;

const source = SessionText.read(TEXT);
const of = (session: Session, id: string) => new Dependencies(session).of(session.runs.find((run) => run.id === id)!);

/** The runs whose figures can hang on what an edit changed. */
function changed(from: string, to: string): string[] {
  const at = TEXT.indexOf(from);
  const before = sessionOf(source);
  const after = sessionOf(source.change([{ span: [at, at + from.length], text: to }]));
  const dependencies = new Dependencies(after);
  return after.runs.filter((run) => !dependencies.areAs(of(before, run.id), dependencies.of(run))).map(({ id }) => id);
}

describe('what the figures of runs hang on', () => {
  it('is gathered once for all runs but those of HDR levels, which hang on each other', () => {
    const session = sessionOf(source);
    const dependencies = new Dependencies(session);
    const shared = session.runs.map((run) => dependencies.of(run).shared);
    expect(new Set(shared).size).toBe(2);
    expect(shared[3]).toBe(shared[4]);
    expect(shared[0]).toBe(shared[1]);
  });

  it.each([
    ['the run alone', '10     800', '10     810', ['peaks', 'others']],
    ['the run that is like another', '10     900', '10     910', ['others']],
    [
      'a greyscale, whose white and black the others take',
      '30    5\nwindow',
      '30    6\nwindow',
      ['grey', 'peaks', 'others', 'low', 'high'],
    ],
    ['an HDR level', '30    6', '30    7', ['low', 'high']],
    ['a target', 'power 2.4', 'power 2.2', ['grey', 'peaks', 'others', 'low', 'high']],
    ['what the run means by its mode', 'peaks\n  mode: a', 'peaks\n  mode: b', ['peaks', 'others']],
    ['a remark before all blocks', 'nitbook 1\n', 'nitbook 1\n# remark\n', []],
  ])('changes with %s', (_, from, to, runs) => {
    expect(changed(from, to)).toEqual(runs);
  });
});
