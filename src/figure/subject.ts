import { isComparable } from '../measure/comparison';
import type { RunResult } from '../measure/result';
import { type Against, describeAgainst } from '../measure/scaling';
import type { MeasuredKind } from '../measure/specs';
import type { Value } from '../measure/value';
import type { Analysis } from '../project/analysis';
import { blockLabels } from '../session/nodes';
import type { NodeId } from '../text/finding';
import { type Arg, allOf, type Phrase, phrase, type Say, worded } from '../text/message';
import type { Figure, Ink, Series } from './figure';

/** What a figure is made of. */
export interface Subject {
  readonly analysis: Analysis;
  /** At least one, of one kind, in the order of the reference; all of them computed. */
  readonly results: readonly RunResult[];
  readonly say: Say;
}

/** How one figure is made. */
export interface Builder {
  /** What a reference names it by; unique among those of a kind. */
  readonly id: string;
  readonly kinds: readonly MeasuredKind[];
  /** Of how many runs, from and to; of any number when left out. */
  readonly runs?: readonly [least: number, most: number];
  /** Whether it is another view of a figure: there for who asks for it. */
  readonly variant?: boolean;
  /** The figure, or why there is nothing to be shown. */
  readonly build: (subject: Subject) => Figure | Extract<Value, { ok: false }>;
}

/** A phrase in the words of the figure. */
export const words = ({ say }: Subject, of: Arg): string => worded(of, say);

/** What a run is called beside others: its title where it has one of its own. */
export function runLabel({ results }: Subject, { run }: RunResult): string {
  const isOwn = run.title !== '' && !results.some((other) => other.run !== run && other.run.title === run.title);
  return isOwn ? run.title : run.id;
}

/** The same at the end of a line: without the words that all of them begin with. */
export function endLabel(subject: Subject, result: RunResult): string {
  const labels = subject.results.map((one) => runLabel(subject, one).split(' '));
  const own = runLabel(subject, result).split(' ');
  let common = 0;
  while (labels.every((words) => words.length > common + 1 && words[common] === own[common])) common++;
  return own.slice(common).join(' ');
}

/** Which runs are shown, and what they are against: what they have in common, where their whites were read apart. */
export function againstOf(subject: Subject): string {
  const { results, say } = subject;
  const runs = allOf(results.map(({ run }) => (run.title === '' ? run.id : `${run.id} (${run.title})`)));
  const texts = (of: (against: Against) => Against) =>
    [...new Set(results.map((result) => describeAgainst(of(result.against), say)))].filter((text) => text !== '');
  const whole = texts((against) => against);
  const apart = texts(({ target, space, curve, white, corrected }) => ({
    ...(target !== undefined && { target }),
    ...(space !== undefined && { space }),
    ...(curve !== undefined && { curve }),
    ...(white !== undefined && { white }),
    ...(corrected !== undefined && { corrected }),
  }));
  if (whole.length === 0) return words(subject, runs);
  if (whole.length === 1) return words(subject, phrase('{runs}, against {against}', { runs, against: whole[0]! }));
  if (apart.length === 1) return words(subject, phrase('{runs}, against {against}, each with its own white', { runs, against: apart[0]! }));
  return words(subject, phrase('{runs}, against {against}', { runs, against: apart.join('; ') }));
}

/** So many answers are read one after the other, and so many characters of them. */
const MOST_ANSWERS = 2;
const MOST_READ = 90;

/** How bad each of several runs is, as a number and in words. */
export interface Badness {
  /** `Worst ΔE 2000` */
  readonly what: Phrase;
  /** NaN of a run of which nothing is judged. */
  readonly of: readonly number[];
  readonly text: (v: number) => string;
  /** What is said of the last of them, where how bad it is has been said; its answer when left out. */
  readonly last?: Phrase | undefined;
}

/**
 * The answer of each run, behind what the run is called where there are several; of many that of the worst alone, and of two whose
 * answers are long how bad each is.
 */
export function titleOf(subject: Subject, answers: readonly Phrase[], badness?: Badness): string {
  const said = answers.map((answer) => words(subject, answer));
  const [first, ...others] = said;
  if (others.length === 0) return first!;
  if (others.every((one) => one === first))
    return words(
      subject,
      others.length === 1
        ? phrase('Both: {answer}', { answer: first! })
        : phrase('All {count}: {answer}', { count: said.length, answer: first! }),
    );
  const named = said.map((answer, i) => words(subject, phrase('{run}: {answer}', { run: runLabel(subject, subject.results[i]!), answer })));
  const all = named.join('; ');
  if (!badness || (said.length <= MOST_ANSWERS && all.length <= MOST_READ)) return all;
  if (said.length <= MOST_ANSWERS) return badness.of.some(Number.isNaN) ? all : titleOfTwo(subject, badness, said[1]!);
  const worst = badness.of.reduce((most, v, i) => (v > badness.of[most]! || Number.isNaN(badness.of[most]!) ? i : most), 0);
  return words(subject, phrase('The worst of {count} is {answer}', { count: said.length, answer: named[worst]! }));
}

function titleOfTwo(subject: Subject, { what, of, text, last }: Badness, answer: string): string {
  const [before, after] = subject.results as readonly [RunResult, RunResult];
  const [from, to] = of.map(text) as [string, string];
  return words(
    subject,
    isComparable(before, after)
      ? phrase('{what} from {from} to {to}: {answer}', { what, from, to, answer: last ?? answer })
      : phrase('{what}: {before} {from}, {after} {to}', {
          what,
          from,
          to,
          before: runLabel(subject, before),
          after: runLabel(subject, after),
        }),
  );
}

/** The head of a table column that says the run, where there are several. */
export const runHead = (subject: Subject): readonly string[] => (subject.results.length > 1 ? [words(subject, phrase('run'))] : []);

export const runCell = (subject: Subject, result: RunResult): readonly string[] =>
  subject.results.length > 1 ? [runLabel(subject, result)] : [];

/** The node of a row of a run's table. */
export function rowNode({ analysis: { source } }: Subject, { run }: RunResult): (row: number) => NodeId {
  const label = blockLabels(source)[source.blocks.indexOf(run.block)] ?? run.id;
  return (row) => `${label}/row/${row}`;
}

/** The node of the row that a patch begins with. */
export function rowsOfBlock(subject: Subject, result: RunResult): (patch: number) => NodeId {
  const nodeOf = rowNode(subject, result);
  return (patch) => nodeOf(result.context!.patches.first[patch]!);
}

/** The ink of each run of an overlay: of two, the earlier is grey and the later dark; more have inks of their own. */
export function inkOf({ results }: Subject, i: number): Pick<Series, 'ink' | 'dash'> {
  if (results.length === 1) return { ink: 'text', dash: 'solid' };
  if (results.length === 2) return i === 0 ? { ink: 'muted', dash: 'long' } : { ink: 'text', dash: 'solid' };
  const inks: readonly Ink[] = ['text', 'a', 'b', 'c', 'd'];
  const dashes = ['solid', 'long', 'dot', 'dash-dot'] as const;
  return { ink: inks[i % inks.length]!, dash: dashes[i % dashes.length]! };
}

/** How the line of a run is drawn among those of others, with what it is called at its end. */
export const runLook = (subject: Subject, result: RunResult) => {
  const r = subject.results.indexOf(result);
  const isOne = subject.results.length === 1;
  return {
    ...inkOf(subject, r),
    ...(!isOne && { label: endLabel(subject, result), labelled: 'end' as const }),
    joined: true,
    shape: subject.results.length === 2 && r === 0 ? ('hollow' as const) : ('dot' as const),
  };
};
