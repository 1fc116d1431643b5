import type { RunResult } from '../../measure/result';
import { describeAgainst } from '../../measure/scaling';
import type { Analysis } from '../../project/analysis';
import type { Block } from '../../session/block';
import type { Session } from '../../session/session';
import type { Say } from '../../text/message';
import { runsOf, sessionTitles, titleOf, written } from './blocks';
import { type Facts, type LedGroup, type Making, type Manner, made } from './parts';

/** How it was measured: of all runs of a session, or of some. */
export function method(leds: LedGroup, manner: Manner): readonly Making[] {
  const titles = sessionTitles(leds);
  const sessions = new Map<string, { readonly analysis: Analysis; readonly runs: Set<RunResult> }>();
  for (const [at, led] of leds.entries()) {
    const found = runsOf(led, at, 'method');
    if (!found.ok) return [found];
    const known = sessions.get(led.path) ?? { analysis: led.analysis, runs: new Set() };
    sessions.set(led.path, known);
    for (const result of found.runs) known.runs.add(result);
  }
  return [...sessions].map(([path, { analysis, runs }]) => made(methodOf(titles.get(path)!, analysis.session, [...runs], manner)));
}

/** How the runs of a session were measured. @param title what the session is called */
export function methodOf(title: string, session: Session, results: readonly RunResult[], { say }: Manner): Facts {
  const display = session.first('display');
  const day = session.first('session');
  const hours = written(session, display, 'hours');
  const facts: readonly (readonly [label: string, texts: readonly (string | undefined)[]])[] = [
    [say('Display'), [joined(display && titleOf(display), ...values(session, display, 'size', 'panel', 'resolution'))]],
    [say('Unit'), [joined(written(session, display, 'unit'), hours && say('{time} of use before', { time: hours }))]],
    [say('Firmware'), firmwares(session, display, results, say)],
    [say('Measured'), datesOf(session, results)],
    [say('Room'), [written(session, day, 'room')]],
    [say('Warm-up'), [written(session, day, 'warm-up')]],
    [say('Meter'), used(session, results, ({ run }) => run.meter).map((block) => described(session, block))],
    [
      say('Correction'),
      used(session, results, (result) => correctionOf(session, result)).map((block) => correctionText(session, block, say)),
    ],
    [say('Signal'), used(session, results, ({ run }) => run.signal).map((block) => described(session, block))],
    [say('Mode'), used(session, results, ({ run }) => run.mode).map((block) => modeText(session, block, say))],
    [say('Target'), targetsOf(session, results, say)],
  ];
  const noted = facts.map(([label, texts]) => ({ label, texts: texts.filter((text) => text !== undefined && text !== '') as string[] }));
  return { is: 'facts', title, facts: noted.filter(({ texts }) => texts.length > 0) };
}

/** The blocks that runs were taken with, in the order of the file. */
function used(session: Session, results: readonly RunResult[], of: (result: RunResult) => Block | undefined): readonly Block[] {
  const blocks = new Set(results.map(of));
  return session.live.filter((block) => blocks.has(block));
}

const joined = (...parts: readonly (string | undefined)[]): string => parts.filter((part) => part).join(', ');

const values = (session: Session, block: Block | undefined, ...names: readonly string[]): readonly (string | undefined)[] =>
  names.map((name) => written(session, block, name));

/** A block with all its properties, those whose value does not say what it is behind their name; remarks and serial numbers stay at home. */
function described(session: Session, block: Block): string {
  const parts = [...session.properties(block).keys()].map((name) => {
    const text = HIDDEN.has(name) || name.startsWith('x-') ? undefined : written(session, block, name);
    return text === undefined || PLAIN.has(name) ? text : `${name.replaceAll('-', ' ')} ${text}`;
  });
  return [titleOf(block), joined(...parts)].filter((part) => part !== '').join(': ');
}

const PLAIN: ReadonlySet<string> = new Set(['kind', 'range', 'depth', 'chroma', 'container', 'refresh', 'contact']);
const HIDDEN: ReadonlySet<string> = new Set(['note', 'serial']);

function firmwares(session: Session, display: Block | undefined, results: readonly RunResult[], say: Say): readonly (string | undefined)[] {
  const common = written(session, display, 'firmware');
  const others = new Map<string, string[]>();
  for (const { run } of results) {
    const own = written(session, run.block, 'firmware');
    if (own !== undefined && own !== common) others.set(own, [...(others.get(own) ?? []), run.id]);
  }
  return [common, ...[...others].map(([version, runs]) => say('{version} for {runs}', { version, runs }))];
}

/** The days on which readings were taken, the first and the last. */
function datesOf(session: Session, results: readonly RunResult[]): readonly string[] {
  const days = results.map(({ run }) => written(session, run.block, 'taken')?.slice(0, 10) ?? session.date?.text);
  const sorted = [...new Set(days.filter((day) => day !== undefined))].sort();
  return sorted.length < 2 ? sorted : [`${sorted[0]!} – ${sorted.at(-1)!}`];
}

/** The correction that the readings of a run went through. */
function correctionOf(session: Session, { against: { corrected } }: RunResult): Block | undefined {
  const id = corrected?.args.id;
  return typeof id === 'string' ? session.byName.get(id) : undefined;
}

function correctionText(session: Session, block: Block, say: Say): string {
  const titled = (name: string): string | undefined => {
    const named = session.byName.get(written(session, block, name) ?? '');
    return named && titleOf(named);
  };
  const meter = session.resolve(block, 'meter');
  const [reference, mode] = [titled('reference'), titled('mode')];
  const text = say('{meter} by {reference}', {
    meter: meter.is === 'found' ? titleOf(meter.block) : block.name,
    reference: reference ?? written(session, block, 'spectra') ?? '—',
  });
  return mode === undefined ? text : say('{correction}, for {mode}', { correction: text, mode });
}

function modeText(session: Session, block: Block, say: Say): string {
  const switches = session.value(block, '.automatic');
  const named = (on: boolean): readonly string[] =>
    switches?.is === 'switches' ? switches.list.filter((each) => each.on === on).map(({ name }) => name) : [];
  const [on, off] = [named(true), named(false)];
  const parts = [
    joined(...values(session, block, '.input', '.scope', '.preset')),
    on.length === 0 ? '' : say('on: {functions}', { functions: on }),
    off.length === 0 ? '' : say('off: {functions}', { functions: off }),
  ];
  return [titleOf(block), parts.filter((part) => part !== '').join('; ')].filter((part) => part !== '').join(': ');
}

function targetsOf(session: Session, results: readonly RunResult[], say: Say): readonly string[] {
  const texts = results.flatMap(({ against: { target, space, curve, white }, run }) => {
    if (target === undefined) return [];
    const what = { target, ...(space && { space }), ...(curve !== undefined && { curve }), ...(white && { white }) };
    return [joined(describeAgainst(what, say), written(session, run.target, 'luminance'))];
  });
  return [...new Set(texts)];
}
