import { spaceOf } from '../colour/spaces';
import { canShow } from '../measure/gamut';
import { driftOf } from '../measure/readPatches';
import type { RunResult } from '../measure/result';
import { MEASURE_IDS, measureSpec, ROW_LIMITS } from '../measure/specs';
import { curveName, isHdr } from '../measure/target';
import { REASONS, type Reason } from '../measure/value';
import type { Block } from '../session/block';
import { readingsToTake } from '../session/blockProblems';
import type { Placed } from '../session/findings';
import { leadingNumber } from '../session/number';
import type { Run, Session } from '../session/session';
import { readDate } from '../session/values';
import { AUTOMATIC } from '../session/vocabulary';
import { type Problem, problem, sentence } from '../text/finding';
import { readLimits } from '../text/limitText';
import { type Phrase, phrase, phraseOf } from '../text/message';
import { nearest, neighbour } from '../text/neighbour';
import type { Span } from '../text/span';
import { centreOf, contradiction } from './limits';
import { headSpan } from './suspicions';

/** What a session does not say though its results hang on it, and what it says in two ways. */
export function unsaid(session: Session, results: readonly RunResult[]): Placed[] {
  return [
    ...dates(session),
    ...firmware(session),
    ...meterChecks(session),
    ...automatic(session),
    ...results.flatMap((result) => [...mismatches(session, result), ...uncomputed(session, result)]),
    ...limitNames(session, results),
  ];
}

const atHead = (block: Block, p: (span: Span) => Problem): Placed => ({ block, line: 0, problem: p(headSpan(block.header!)) });

function dates(session: Session): Placed[] {
  if (session.date || session.runs.length === 0) return [];
  const block = session.first('session');
  if (block) return [atHead(block, (span) => problem('date-missing', block.header!.date?.span ?? span))];
  const first = session.source.blocks[0]!;
  return [{ block: first, line: 0, problem: problem('date-missing', [0, first.lines[0]!.text.length]) }];
}

function firmware(session: Session): Placed[] {
  const display = session.first('display');
  const stated = session.text(display, 'firmware');
  const noted = display && session.properties(display).get('firmware');
  const found: Placed[] = [];
  const runs = session.runs.map((run) => ({
    run,
    property: session.properties(run.block).get('firmware'),
    version: session.text(run.block, 'firmware'),
  }));
  if (display && !noted && runs.some(({ property }) => !property)) {
    const line = display.header!;
    const end = line.text.length;
    const mends = [{ args: {}, edits: [{ span: [end, end] as const, text: `${line.eol || '\n'}  firmware: ?` }] }];
    found.push(atHead(display, (span) => problem('firmware-missing', span, {}, mends)));
  }
  const first = stated === undefined ? runs.find(({ version }) => version !== undefined) : undefined;
  const expected = stated ?? first?.version;
  for (const { run, property, version } of runs) {
    if (version === undefined || version === expected || !property || property.block !== run.block) continue;
    const other = stated === undefined ? first!.run.id : phrase('the display');
    const args = { run: run.id, found: version, other, expected: expected ?? '' };
    found.push({
      block: run.block,
      line: run.block.lines.indexOf(property.line),
      problem: problem('firmware-changed', property.line.value.span, args),
    });
  }
  return found;
}

const YEAR = 366;

function meterChecks(session: Session): Placed[] {
  const { date } = session;
  if (!date) return [];
  return session.all('meter').flatMap((block) => {
    const line = block.find('checked');
    const checked = line && (line.value.is === 'text' || line.value.is === 'string') ? readDate(line.value.text) : undefined;
    const days = checked ? date.day - checked.day : 0;
    if (!line || days <= YEAR) return [];
    return [{ block, line: block.lines.indexOf(line), problem: problem('meter-check-old', line.value.span, { meter: block.name, days }) }];
  });
}

/** Modes that were measured, and what they say of the functions that change the picture by themselves. */
function automatic(session: Session): Placed[] {
  const measured = new Set(session.runs.flatMap((run) => run.mode ?? []));
  const found: Placed[] = [];
  for (const mode of measured) {
    const property = session.properties(mode).get('.automatic');
    const value = session.value(mode, '.automatic');
    const switches = value?.is === 'switches' ? value.list : [];
    for (const { name, on } of switches) {
      if (!on || !property || property.block !== mode) continue;
      const at = property.line.text.indexOf(name, property.line.value.span[0]);
      const p = problem('automatic-on', [at, at + name.length], { feature: name, mode: mode.name });
      found.push({ block: mode, line: mode.lines.indexOf(property.line), problem: p });
    }
    const missing = AUTOMATIC.filter((name) => !switches.some((s) => s.name === name));
    if (missing.length === 0 || (property && !value)) continue;
    // What a parent does not say is said once, there.
    const parent = session.lineage(mode)[1];
    if (parent && measured.has(parent) && session.properties(parent).get('.automatic') === property) continue;
    const end = mode.header!.text.length;
    const all = AUTOMATIC.map((name) => `${name} off`).join(', ');
    const mends = property
      ? []
      : [{ args: {}, edits: [{ span: [end, end] as const, text: `${mode.header!.eol || '\n'}  .automatic: ${all}` }] }];
    found.push(atHead(mode, (span) => problem('automatic-unsaid', span, { mode: mode.name, features: missing.join(', ') }, mends)));
  }
  return found;
}

function mismatches(session: Session, { run }: RunResult): Placed[] {
  const found: Placed[] = [];
  const say = (reason: Phrase) => found.push(atHead(run.block, (span) => problem('target-mismatch', span, { reason })));
  const curve = session.value(run.target, 'curve');
  const space = spaceOf(session.text(run.target, 'space') ?? '');
  const container = spaceOf(session.text(run.signal, 'container') ?? '');
  if (curve?.is === 'curve' && run.target) {
    const hdr = isHdr(curve.curve);
    const [mode, signal] = [run.mode?.name ?? '', run.signal?.name ?? ''];
    const target = { target: run.target.name, curve: curveName(curve.curve) };
    const peak = session.number(run.signal, 'mastering-peak');
    if (peak !== undefined && !hdr)
      say(
        phrase('The signal {signal} has a mastering peak, and the target {target} is {curve}: expected PQ or HLG', { signal, ...target }),
      );
    const scope = session.value(run.mode, '.scope');
    const scopes = scope?.is === 'list' ? scope.list : [];
    if (hdr && scopes.includes('SDR')) say(phrase('The mode {mode} is for SDR, and the target {target} is {curve}', { mode, ...target }));
    if (!hdr && scopes.some((s) => s.startsWith('HDR')))
      say(phrase('The mode {mode} is for HDR, and the target {target} is {curve}', { mode, ...target }));
    const setting = curve.curve.kind === 'power' ? gammaSetting(session, run.mode) : undefined;
    if (curve.curve.kind === 'power' && setting && Math.abs(setting.value - curve.curve.exponent) > 0.05) {
      const args = { setting: setting.name, mode, value: setting.value, ...target };
      say(phrase('The setting "{setting}" of {mode} is {value}, and the target {target} is {curve}', args));
    }
  }
  if (space && container && !canShow(container, space)) {
    const args = { signal: run.signal!.name, container: container.title, target: run.target!.name, space: space.title };
    say(phrase('The signal {signal} holds {container}, which cannot carry the target {target} ({space})', args));
  }
  return found;
}

/** A setting of the display that is called gamma and holds a number: the names are the display's own, this one is the trade's. */
function gammaSetting(session: Session, mode: Block | undefined): { readonly name: string; readonly value: number } | undefined {
  if (!mode) return undefined;
  for (const [name, { line }] of session.properties(mode)) {
    const last = name.slice(name.lastIndexOf('/') + 1).replace(/^\s+/, '');
    if (last.toLowerCase() !== 'gamma' || (line.value.is !== 'text' && line.value.is !== 'string')) continue;
    const number = leadingNumber(line.value.text);
    if (number && number.end === line.value.text.length && number.value >= 1 && number.value <= 4) return { name, value: number.value };
  }
  return undefined;
}

/** Said by findings of the table itself, or not worth saying of every run. */
const UNSAID_ELSEWHERE = new Set(['later', 'no-table', 'no-columns']);
const MAIN_MEASURE: Readonly<Record<string, Phrase>> = {
  greyscale: phrase('ΔE'),
  saturation: phrase('ΔE'),
  patches: phrase('ΔE'),
  tracking: phrase('Tracking'),
};

/** Figures that a run of a kind is taken for, and for which reasons it is worth saying that they cannot be had. */
const TAKEN_FOR: Readonly<Record<string, { readonly id: string; readonly measure: Phrase; readonly why: readonly Reason[] }>> = {
  tracking: { id: 'bias', measure: phrase('The luminance error'), why: ['no-mid-tones'] },
  angles: { id: 'half', measure: phrase('What is left at an angle'), why: ['no-axis', 'too-few-rows'] },
  volume: { id: 'ictcp', measure: phrase('The volume'), why: ['levels-few', 'volume-hole', 'volume-flat'] },
  reflectance: { id: 'reflectance', measure: phrase('The reflectance'), why: ['no-illuminance', 'light-lowers'] },
  lag: { id: 'sd', measure: phrase('The deviation'), why: ['one-reading'] },
  repeats: { id: 'sd', measure: phrase('The deviation'), why: ['one-reading'] },
};

/** A main figure that is refused, as a finding at the head of its run; while readings are still to take it may come yet. */
function refusal(result: RunResult): Placed[] {
  const { run, context } = result;
  const spectra = run.kind === 'spectrum' && context?.names ? [...new Set(context.names.map(({ spectrum }) => spectrum!))] : [];
  const asked = TAKEN_FOR[run.kind];
  const refusals = [
    ...(asked ? [{ measure: asked.measure, value: result.value(asked.id), why: asked.why }] : []),
    ...spectra.map((name) => ({
      measure: phrase('The spectrum "{name}"', { name }),
      value: result.value('x', [name]),
      why: SPECTRUM_GAPS,
    })),
  ];
  const found = refusals.find(({ value, why }) => !value.ok && why.includes(value.why.code as Reason));
  if (!found || found.value.ok || readingsToTake(run.block).count > 0) return [];
  const reason = phraseOf(REASONS, found.value.why);
  return [atHead(run.block, (span) => problem('not-computed', span, { measure: found.measure, run: run.id, reason }))];
}

const SPECTRUM_GAPS: readonly Reason[] = ['too-few-rows', 'not-finite', 'spectrum-dark'];

/** A run whose main figures cannot be had, and why; not where another finding says so already. */
function uncomputed(session: Session, result: RunResult): Placed[] {
  const { run, absent } = result;
  const drift = absent ? undefined : driftOf(session, run);
  if (drift && !drift.factorOf) {
    const args = { measure: phrase('The correction of drift'), run: run.id, reason: phraseOf(REASONS, { code: 'drift-alone', args: {} }) };
    return [atHead(run.block, (span) => problem('not-computed', span, args))];
  }
  if (!absent) return refusal(result);
  if (UNSAID_ELSEWHERE.has(absent.why.code)) return [];
  const target = session.resolve(run.block, 'target');
  if (absent.why.code === 'no-target' && target.is !== 'none') return [];
  if (isOpenYet(session, run, absent.why.code)) return [];
  const reason = phraseOf(REASONS, absent.why);
  return [
    atHead(run.block, (span) =>
      problem('not-computed', span, { measure: MAIN_MEASURE[run.kind] ?? phrase('The table'), run: run.id, reason }),
    ),
  ];
}

/** Whether the white or black that is missing may be among the readings still to take: those are told of already. */
function isOpenYet(session: Session, run: Run, why: string): boolean {
  if (why !== 'no-white' && why !== 'no-black') return false;
  const lenders = session.runs.filter(({ kind, mode }) => kind === 'greyscale' && mode === run.mode);
  return [run, ...lenders].some(({ block }) => readingsToTake(block).count > 0);
}

/** Limits of a line that contradict their aim; two plain numbers have most likely changed places. */
function contraryAim(block: Block, line: number, kind: string, measure: string, result: RunResult | undefined): Problem | undefined {
  const { value } = block.property(line);
  const spec = measureSpec(kind, measure);
  const limits = value.is === 'text' && spec ? readLimits(value.text) : undefined;
  if (value.is !== 'text' || !spec || !limits) return undefined;
  const centre = result ? centreOf(result, measure, spec) : (spec.centre ?? (measure === 'cct' ? Number.NaN : 0));
  const expected = contradiction(limits, spec, centre);
  if (!expected) return undefined;
  // A measure without a better side may have been meant the other way round, which takes a range.
  const isPlain = spec.direction !== 'report' && limits.aim?.low === undefined && limits.limit?.low === undefined;
  const mended = value.text.replace(/\b(?:aim|limit)\b/g, (word) => (word === 'aim' ? 'limit' : 'aim'));
  const mends = isPlain ? [{ args: { mended }, edits: [{ span: value.span, text: mended }] }] : [];
  return problem('limit-aim', value.span, { name: block.property(line).name.text, found: value.text, expected }, mends);
}

/** Names in `limits`: unknown ones, limits that contradict their aim, and coverages that no patch of the session can show. */
function limitNames(session: Session, results: readonly RunResult[]): Placed[] {
  const found: Placed[] = [];
  for (const block of session.all('limits')) {
    for (const i of block.propertyLines) {
      const { name, struck } = block.property(i);
      if (struck || name.text.startsWith('x-')) continue;
      const [id, key] = name.text.split('@') as [string, string?];
      const isKnown = MEASURE_IDS.includes(id);
      const [kind, measure] = [id.slice(0, id.indexOf('.')), id.slice(id.indexOf('.') + 1)];
      if (!isKnown || (key !== undefined && measureSpec(kind, measure)?.scope === 'run')) {
        const near = isKnown ? id : nearest(id, [...MEASURE_IDS, ...Object.keys(ROW_LIMITS)]);
        const mends = near ? [{ args: { mended: near }, edits: [{ span: name.span, text: near }] }] : [];
        found.push({
          block,
          line: i,
          problem: problem('limit-measure', name.span, { name: name.text, neighbour: near ? neighbour(near) : '' }, mends),
        });
        continue;
      }
      const ofKind = results.filter(({ run, context }) => run.kind === kind && context);
      const contrary = contraryAim(block, i, kind, measure, ofKind[0]);
      if (contrary) found.push({ block, line: i, problem: contrary });
      if (key !== undefined && ofKind.length > 0) {
        const values = ofKind.map((result) => result.value(measure, key.split(',')));
        const [first] = values;
        if (first?.ok === false && values.every((value) => !value.ok && value.why.code === 'no-row')) {
          const args = { name: name.text, reason: phraseOf(REASONS, first.why) };
          found.push({ block, line: i, problem: problem('limit-row', name.span, args) });
        }
      }
      for (const result of results) {
        if (kind !== result.run.kind) continue;
        const value = result.value(measure);
        if (value.ok || value.why.code !== 'driven-narrower') continue;
        const p = atHead(result.run.block, (span) => problem('gamut-driven-narrow', span, value.why.args));
        // Coverage in xy and in u'v' is one thing to say.
        if (!found.some((other) => other.block === p.block && sentence(other.problem) === sentence(p.problem))) found.push(p);
      }
    }
  }
  return found;
}
