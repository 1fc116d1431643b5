import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import type { Plan } from '../../src/config/plans';
import { isRefusal, refusalText } from '../../src/language/answers';
import { openPlaces } from '../../src/language/gestures';
import { continueSession, type NewSession, newSession, repeatReasonText, runsToRepeat } from '../../src/language/newSession';
import { BUILT_IN_PLANS } from '../../src/language/plans';
import { formatEdits } from '../../src/session/layout';
import { sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { tableOf } from '../../src/session/table';
import { type Finding, sentence } from '../../src/text/finding';
import { analysed, configured, small } from '../report/sessions';
import { CANONICAL, examples, sessionLike } from '../session/sessions';

const done = (answer: NewSession | { code: string; args: object }): NewSession => {
  if ('code' in answer) throw new Error(refusalText(answer as never));
  return answer;
};
const planned = (plan: Plan, display = 'Halden Aurora 55') => newSession({ date: '2026-03-14', display, plan });
const refused = (answer: ReturnType<typeof newSession>): string => (isRefusal(answer) ? refusalText(answer) : 'not refused');

const OPEN: ReadonlySet<string> = new Set(['readings-to-take', 'property-to-note', 'automatic-unsaid']);

/** A written session is in its layout and says nothing but what is still open. */
function expectOpen({ text, cursor }: NewSession): void {
  const analysis = analysed(text);
  expect(formatEdits(analysis.source)).toEqual([]);
  const said = analysis.findings
    .filter(({ severity }) => severity !== 'info')
    .map((f) => `${f.code} ${text.slice(...f.span)}: ${sentence(f)}`);
  expect(said).toEqual([]);
  // Without its white a run has no figures yet: that, too, is only still to take.
  const open = (f: Finding) => OPEN.has(f.code);
  expect(analysis.findings.filter((f) => !open(f)).map((finding) => sentence(finding))).toEqual([]);
  expect(cursor).toBe(openPlaces(analysis.source)[0]!.span[0]);
}

describe('a new session', () => {
  it.each([...BUILT_IN_PLANS])('of the plan %s is in its layout, with all rows to take', (_name, plan) => {
    const made = done(planned(plan));
    expectOpen(made);
    expect(analysed(made.text).toTake).toBe(plan.runs.reduce((sum, { rows }) => sum + rows.length, 0));
    expect(sessionOf(SessionText.read(made.text)).runs.map(({ id, mode, meter, signal }) => [id, !!mode, !!meter, !!signal])).toEqual(
      plan.runs.map(({ id }) => [id, true, true, true]),
    );
  });

  it('is written like this', () => {
    const { plans } = configured(`{"plans": {"P": {
      "blocks": [{"kind": "mode", "id": "shipped", "title": "As shipped", "properties": {".automatic": "?", "Screen: Overscan": "off"}}],
      "runs": [
        {"kind": "window", "id": "peak", "windows": "1, 10, 100", "properties": {"mode": "shipped"}},
        {"kind": "saturation", "id": "sat", "title": "Two", "like": "peak", "hues": ["red"], "saturations": "50, 100"}
      ]}}}`);
    const made = done(planned(plans.get('P')!));
    expect(made.text).toBe(`nitbook 1

session 2026-03-14
  title: ?
  by: ?
  room: ?
  warm-up: ?
display halden-aurora-55 "Halden Aurora 55"
  maker: ?
  size: ?
  panel: ?
  firmware: ?
  unit: ?
mode shipped "As shipped"
  .automatic: ?
  "Screen: Overscan": off

window peak
  mode: shipped
    window  Y
         1  ?
        10  ?
       100  ?

saturation sat "Two" like peak
    hue     sat     Y         x        y
    red     50      ?         ?        ?
    red     100     ?         ?        ?
`);
    expect(made.text.slice(made.cursor - 7, made.cursor + 1)).toBe('title: ?');
  });

  it('calls the display by its letters and digits, unless the plan does', () => {
    const head = (display: string, plan = BUILT_IN_PLANS.get('HDR')!) =>
      done(planned(plan, display))
        .text.split('\n')
        .find((line) => line.startsWith('display'));
    expect(head('Halden "Größe" 55"')).toBe('display halden-groe-55 "Halden \\"Größe\\" 55\\""');
    expect(head('HDR')).toBe('display hdr-2 "HDR"');
    expect(head('')).toBe('display');
    expect(head('画面 55')).toBe('display "画面 55"');
  });

  it('is refused for what would not be read', () => {
    const plan = BUILT_IN_PLANS.get('SDR short')!;
    expect(refused(newSession({ date: '2026-02-30', display: 'a', plan }))).toBe('Expected a date such as 2026-03-14, found "2026-02-30".');
    expect(refused(planned(plan, 'a # b'))).toBe(
      'The title "a # b" would not be read in a head: write it in one line, and without a # between blanks.',
    );
    expect(refused(planned(plan, 'a\nb'))).toMatch(/^The title "a\nb" would not be read/);
    const { plans } = configured('{"plans": {"P": {"runs": [{"kind": "window", "id": "w", "windows": "1", "columns": "size Y"}]}}}');
    expect(refused(planned(plans.get('P')!))).toBe('The plan\'s run w has columns that do not hold its rows: "size Y".');
    const { plans: other } = configured(
      '{"plans": {"P": {"runs": [{"kind": "window", "id": "w", "windows": "1", "properties": {"": "1"}}]}}}',
    );
    expect(refused(planned(other.get('P')!))).toBe('"" would not be read as a name.');
  });

  test('takes whatever title the display has, or says that it does not', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('a', '1', '"', '\\', '#', ' ', '\n', '~', ':', 'é', '\u2028', '\ufeff', '😀') }),
        (display) => {
          const made = planned(BUILT_IN_PLANS.get('SDR short')!, display);
          if (isRefusal(made)) return;
          expect(sessionOf(SessionText.read(made.text)).first('display')!.header!.title?.text ?? '').toBe(display);
          expect(formatEdits(SessionText.read(made.text))).toEqual([]);
        },
      ),
      { seed: 20260314, numRuns: 150 },
    );
  });
});

describe('a session that goes on from another', () => {
  const LATER = { date: '2026-05-01', path: 'aurora-55.nitbook' };

  it('takes along display, meters, modes, signals, targets, limits, and all runs to take again', () => {
    const made = done(continueSession(SessionText.read(small), LATER));
    expect(made.text).toBe(`nitbook 1

session 2026-05-01
  title: ?
  by: ?
  room: ?
  warm-up: ?
  continues: aurora-55.nitbook
display aurora "Halden Aurora 55"
  firmware: ?
meter probe "Tripod colorimeter"
  kind: colorimeter
  checked: 2025-11-02
  floor: 0.003 cd/m2
signal sdr
  range: limited
  depth: 10
signal hdr from sdr
  mastering-peak: 4000 cd/m2
mode cinema "Cinema, as shipped"
  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off
  Picture / Gamma: 2.4
  White / Gain red: ?
mode cinema-tuned from cinema
  White / Gain red: -3
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2
limits
  greyscale.de.max: aim 0.5, limit 1
  greyscale.de@30: limit 0.6

greyscale grey "As shipped"
  mode: cinema
  target: dark
  signal: sdr
    level   Y         x        y
        30  ?         ?        ?
        40  ?         ?        ?
       100  ?         ?        ?

contrast pair
  mode: cinema-tuned
  signal: sdr
    patch   Y
    white   ?
    black   ?

window peaks "Peak by area"
  mode: cinema
  signal: hdr
    window  Y
        10  ?
       100  ?

tuning lamp
  mode: cinema
  signal: sdr
    "Gain red"  Y         x        y
             0  ?         ?        ?
`);
    expect(formatEdits(SessionText.read(made.text))).toEqual([]);
  });

  it('under another firmware repeats what that can change, the most telling first', () => {
    const earlier = SessionText.read(CANONICAL);
    expect(runsToRepeat(earlier).map(({ id, kind, why }) => `${kind} ${id}: ${repeatReasonText(why)}`)).toEqual([
      'greyscale grey: the curve and the balance of grey are what an update changes first',
      'tracking hdr-1k: tone mapping may roll off elsewhere',
      'tracking hdr-4k: tone mapping may roll off elsewhere',
      'saturation sat: colour management may have changed',
    ]);
    const made = done(continueSession(earlier, { ...LATER, firmware: '2.15.0' }));
    expectOpen(made);
    const session = sessionOf(SessionText.read(made.text));
    expect(session.text(session.first('display'), 'firmware')).toBe('2.15.0');
    expect(session.runs.map(({ id }) => id)).toEqual(['grey', 'hdr-1k', 'hdr-4k', 'sat']);
    expect(made.text).toContain(
      'tracking hdr-4k\n  mode: cinema\n  target: hdr\n  meter: probe\n  signal: hdr-4000\n    level   Y\n        75  ?\n       100  ?\n',
    );
    expect(made.text).toContain('correction probe-fix\n  meter: probe');
    expect(made.text).not.toContain('observations');
  });
  it('under the same firmware repeats all, in the order they had', () => {
    const made = done(continueSession(SessionText.read(small), { ...LATER, firmware: '2.14.8' }));
    expect(sessionOf(SessionText.read(made.text)).runs.map(({ id }) => id)).toEqual(['grey', 'pair', 'peaks', 'lamp']);
  });
  it('leaves behind what is struck out, and keeps notes and the ends of lines', () => {
    const text = `nitbook 1
session 2026-01-01
  by: M.
display d
  hours: 5  # as found
  | Left panel foot is loose.
mode m
  Gamma: 2.4
  ~ Gamma: 2.2
~ mode old
greyscale g
  mode: m
  taken: 2026-01-02
  firmware: 1
  x-own:   7  # c
    level   Y         x        y
        50  1         0.3      0.3
  ~     50  9         0.3      0.3
        50  2         0.3      0.3
tuning t like g
  control: "Gain red" -5..5 step 1
  control: "Gain blue" -5..5 step 1
    "Gain red"  "Gain blue"  Y         x        y
    1           0            5         0.3      0.3
~ greyscale h
`.replaceAll('\n', '\r\n');
    const { text: made } = done(continueSession(SessionText.read(text), LATER));
    expect(made).not.toMatch(/[^\r]\n/);
    expect(made.replaceAll('\r\n', '\n')).toBe(`nitbook 1

session 2026-05-01
  title: ?
  by: M.
  room: ?
  warm-up: ?
  continues: aurora-55.nitbook
display d
  hours: ?  # as found
  firmware: ?
  | Left panel foot is loose.
mode m
  Gamma: 2.4

greyscale g
  mode: m
  x-own: 7
    level   Y         x        y
        50  ?         ?        ?
        50  ?         ?        ?

tuning t
  mode: m
  x-own: 7
  control: "Gain red" -5..5 step 1
  control: "Gain blue" -5..5 step 1
    "Gain red"  "Gain blue"  Y         x        y
             1  0            ?         ?        ?
`);
  });
  it('is refused without a path or a day, and for later versions', () => {
    const source = SessionText.read(small);
    expect(refused(continueSession(source, { date: '2026-05-01', path: '' }))).toBe(
      'Expected the path of the earlier session, with /, found "".',
    );
    expect(refused(continueSession(source, { date: '2026-05-01', path: 'a\\b' }))).toMatch(/^Expected the path/);
    expect(refused(continueSession(source, { date: 'today', path: 'a' }))).toMatch(/^Expected a date/);
    expect(continueSession(SessionText.read('nitbook 2\n'), LATER)).toEqual({ code: 'version-newer', args: { version: 2 } });
  });
  it('goes on from each example with nothing to say but what is open', () => {
    for (const text of examples.filter((example) => !analysed(example).findings.some(({ severity }) => severity !== 'info'))) {
      expectOpen(done(continueSession(SessionText.read(text), LATER)));
    }
  });

  test('is read with the rows of the earlier one, whatever that was', () => {
    fc.assert(
      fc.property(fc.oneof({ weight: 9, arbitrary: sessionLike }, { weight: 1, arbitrary: fc.constantFrom(...examples) }), (text) => {
        const earlier = SessionText.read(text);
        const made = continueSession(earlier, LATER);
        if (isRefusal(made)) {
          expect(refusalText(made)).not.toMatch(/\{[a-z]+\}/);
          return;
        }
        const after = SessionText.read(made.text);
        expect(formatEdits(after)).toEqual([]);
        const live = (source: SessionText) =>
          sessionOf(source)
            .runs.filter(({ block }) => sessionOf(source).byName.get(block.name) === block)
            .map(({ block }) => `${block.name} ${tableOf(block).rows.filter(({ struck }) => !struck).length}`);
        expect(live(after)).toEqual(live(earlier));
      }),
      { seed: 20260314, numRuns: 200 },
    );
  });
});
