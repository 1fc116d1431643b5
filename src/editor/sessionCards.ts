import type { Verdict } from '../judge/limits';
import { standing } from '../language/standing';
import type { Analysis } from '../project/analysis';
import type { Block } from '../session/block';
import type { Code } from '../text/codes';

/** What a list of sessions shows, as data without the session: many of them are kept. */
export interface Part {
  readonly label: string;
  readonly title: string;
  /** Where a click leads. */
  readonly line: number;
  readonly verdict: Verdict;
  readonly toTake: number;
  readonly findings: readonly { readonly code: Code; readonly line: number }[];
}

export interface ModeCard extends Part {
  readonly runs: readonly Part[];
}

export interface SessionCard extends Part {
  readonly date: string;
  readonly modes: readonly ModeCard[];
}

/** What sessions can be filtered by: what is found in them, or how their runs stand. */
export type Filter = Code | 'beyond' | 'undecided' | 'to-take';

export const STANDINGS = ['beyond', 'undecided', 'to-take'] as const satisfies readonly Filter[];

const GRAVITY: readonly Verdict[] = ['no-number', 'within', 'undecided', 'beyond'];

const gravest = (parts: readonly Part[]): Verdict =>
  GRAVITY[Math.max(0, ...parts.map(({ verdict }) => GRAVITY.indexOf(verdict)))] ?? 'no-number';

const toTakeIn = (parts: readonly Part[]): number => parts.reduce((sum, { toTake }) => sum + toTake, 0);

/** A session with its modes in the order of the text, each with its runs; runs that say no mode come last, under an empty label. */
export function cardOf(analysis: Analysis): SessionCard {
  const { source, session, results, findings } = analysis;
  const { runs: stands } = standing(analysis);
  const lines = new Map(source.blocks.map((block, i) => [block, source.blockStarts[i]!]));
  const found = new Map<Block, { code: Code; line: number }[]>();
  for (const { code, span } of findings) {
    const line = source.lineAt(span[0]);
    const block = source.blocks[source.blockAt(line)]!;
    found.set(block, [...(found.get(block) ?? []), { code, line }]);
  }
  const part = (block: Block): Pick<Part, 'title' | 'line' | 'findings'> => ({
    title: block.header?.title?.text ?? '',
    line: lines.get(block)!,
    findings: found.get(block) ?? [],
  });

  const groups = new Map<Block | undefined, Part[]>(session.all('mode').map((mode) => [mode, []]));
  for (const { run } of results) {
    const stand = stands.get(run.block);
    const card = {
      label: run.id === run.kind ? run.kind : `${run.kind} ${run.id}`,
      ...part(run.block),
      verdict: stand?.verdict ?? 'no-number',
      toTake: stand?.toTake ?? 0,
    };
    groups.set(run.mode, [...(groups.get(run.mode) ?? []), card]);
  }
  const modes = [...groups].map(([mode, runs]): ModeCard => {
    const own = mode ? { label: mode.name, ...part(mode) } : { label: '', title: '', line: runs[0]!.line, findings: [] };
    return { ...own, verdict: gravest(runs), toTake: toTakeIn(runs), runs };
  });
  const display = session.first('display');
  const listed = new Set<Block | undefined>([...session.all('mode'), ...results.map(({ run }) => run.block)]);
  return {
    label: display?.header?.title?.text || (display?.header?.id?.text ?? ''),
    title: session.text(session.first('session'), 'title') ?? '',
    line: display ? lines.get(display)! : 0,
    date: session.date?.text ?? '',
    verdict: gravest(modes),
    toTake: toTakeIn(modes),
    findings: [...found].flatMap(([block, list]) => (listed.has(block) ? [] : list)),
    modes,
  };
}

/** Of a session what a filter lets through, each part leading to what it was found by; undefined when nothing is left. */
export function filtered(card: SessionCard, filter: Filter): SessionCard | undefined {
  const modes = card.modes.flatMap((mode) => {
    const runs = mode.runs.flatMap((run) => matched(run, filter, true) ?? []);
    const own = matched(mode, filter, false);
    return own || runs.length > 0 ? [{ ...mode, ...own, runs }] : [];
  });
  const own = matched(card, filter, false);
  return own || modes.length > 0 ? { ...card, ...own, modes } : undefined;
}

function matched(part: Part, filter: Filter, isRun: boolean): Part | undefined {
  if (filter === 'to-take') return isRun && part.toTake > 0 ? part : undefined;
  if (filter === 'beyond' || filter === 'undecided') return isRun && part.verdict === filter ? part : undefined;
  const finding = part.findings.find(({ code }) => code === filter);
  return finding && { ...part, line: finding.line };
}

/** In how many sessions there is what can be filtered by: how runs stand first, then findings by their code. */
export function filtersIn(cards: readonly SessionCard[]): readonly (readonly [Filter, number])[] {
  const codes = new Set(
    cards
      .flatMap((card) => [card, ...card.modes, ...card.modes.flatMap(({ runs }) => runs)].flatMap(({ findings }) => findings))
      .map(({ code }) => code),
  );
  const filters: readonly Filter[] = [...STANDINGS, ...[...codes].sort()];
  return filters.map((filter) => [filter, cards.filter((card) => filtered(card, filter)).length] as const).filter(([, count]) => count > 0);
}
