import assert from 'node:assert/strict';
import fc from 'fast-check';
import { readLevels } from '../../src/config/levels';
import { readConfig } from '../../src/config/readConfig';
import { newSession } from '../../src/language/newSession';
import { MEASURE_IDS } from '../../src/measure/specs';
import { analyse } from '../../src/project/analysis';
import { mistakeText, resolveReference } from '../../src/project/resolve';
import { readReference, referenceSentence, writeReference } from '../../src/session/reference';
import { SessionText } from '../../src/session/sessionText';
import { sentence } from '../../src/text/finding';
import { applyEdits } from '../../src/text/span';
import { CANONICAL } from '../session/sessions';
import { checkCommandLine } from './commandLine';
import { commandLine, hostileConfig, hostileName, hostileReference, hostileReview, hostileSession, messages, typing } from './inputs';
import { checkMessages } from './messages';
import { checkReviewed } from './review';
import { checkChanges, checkEditor, checkReading, checkReported, checkReports, checkSettled } from './session';

/** Runs a step of a check, which whoever runs the check may measure. */
export type Step = <T>(name: string, step: () => T) => T;

/** A case, to be run with its steps. */
export type Case = (step: Step) => Promise<void>;

/** Something that takes what others wrote: which inputs it is tried with, and what has to hold for each. */
export interface Target {
  /** Of all cases. */
  readonly share: number;
  readonly property: (each: (run: Case, input: unknown) => Promise<void>) => fc.IAsyncProperty<unknown>;
}

const target = <T>(share: number, inputs: fc.Arbitrary<T>, check: (input: T, step: Step) => void | Promise<void>): Target => ({
  share,
  property: (each) => fc.asyncProperty(inputs, (input) => each(async (step) => check(input, step), input)),
});

/** A name that a file can have: the report repeats it in every line. */
const fileName = hostileName.map((name) => name.slice(0, 255));

const places = fc.array(fc.integer({ min: -2, max: 2000 }), { minLength: 1, maxLength: 3 });

/** All that takes what others wrote. What comes to take a text or a message from outside gets its line here. */
export const TARGETS: Readonly<Record<string, Target>> = {
  'sessions, read and laid out': target(0.15, hostileSession, checkReading),
  'sessions, reported': target(0.13, fc.record({ text: hostileSession, name: fileName }), checkReported),
  'sessions, reported with intervals': target(0.02, fc.record({ text: hostileSession, name: fileName }), checkSettled),
  'sessions, shown and edited': target(0.15, fc.record({ text: hostileSession, places, name: hostileName }), checkEditor),
  'sessions, changed': target(0.2, fc.record({ text: hostileSession, typed: typing }), checkChanges),
  configurations: target(0.1, hostileConfig, checkConfig),
  references: target(0.1, hostileReference, checkReference),
  reviews: target(0.08, fc.record({ text: hostileReview, session: fc.option(hostileSession, { freq: 9, nil: undefined }) }), checkReviewed),
  'messages of a page': target(0.02, fc.record({ text: hostileSession, messages }), checkMessages),
  'command lines': target(0.05, commandLine, checkCommandLine),
};

const MEASURES: ReadonlySet<string> = new Set(MEASURE_IDS);
const SESSION = SessionText.read(CANONICAL);

function checkConfig(text: string, step: Step): void {
  const { config, findings } = step('read a configuration', () => readConfig(text, { measures: MEASURES }));
  let last = 0;
  for (const finding of findings) {
    assert.ok(last <= finding.span[0] && finding.span[0] <= finding.span[1] && finding.span[1] <= text.length);
    last = finding.span[0];
    assert.doesNotMatch(sentence(finding), /undefined|NaN|\[object/);
    for (const mend of finding.mends) applyEdits(text, mend.edits);
  }
  for (const plan of config.plans.values()) {
    const made = step('new session', () => newSession({ date: '2026-03-14', display: text.slice(0, 40), plan }));
    if (!('code' in made)) SessionText.read(made.text);
  }
  step('levels', () => readLevels(text));
  if (config.limits.size > 0 || config.severities.size > 0) checkReports(analyse(SESSION, config), 'a', step);
}

function checkReference(text: string, step: Step): void {
  const reading = step('read a reference', () => readReference(text));
  if (!reading.ok) {
    for (const mistake of reading.mistakes) {
      assert.ok(0 <= mistake.span[0] && mistake.span[0] <= mistake.span[1] && mistake.span[1] <= text.length);
      assert.doesNotMatch(referenceSentence(mistake), /undefined|NaN|\[object/);
    }
    return;
  }
  const again = readReference(writeReference(reading.reference));
  assert.ok(again.ok);
  assert.deepEqual(again.reference, reading.reference);
  const resolution = step('resolve a reference', () => resolveReference(ANALYSIS, reading.reference));
  if (!resolution.ok) assert.doesNotMatch(mistakeText(resolution.mistake), /undefined|NaN|\[object/);
}

const ANALYSIS = analyse(SESSION, readConfig('', { measures: MEASURES }).config);
