import { CODES, type Code } from '../text/codes';
import { type Finding, mendTitle, type Problem, problem } from '../text/finding';
import { phrase } from '../text/message';
import { nearest, neighbour } from '../text/neighbour';
import { type Span, shifted, type TextEdit } from '../text/span';
import type { Block } from './block';
import { type BlockProblem, blockProblems } from './blockProblems';
import { blockLabels, nodeIn } from './nodes';
import { MAX_GENERATIONS, propertyType, type RunReference, type Session, sessionOf } from './session';
import type { SessionText } from './sessionText';
import type { Keyword } from './vocabulary';

/** A problem and its place in a version of a session. */
export interface Placed extends BlockProblem {
  readonly block: Block;
}

/** What bears on the lines around it, and so is said of struck lines and void blocks too: of these all else is only kept for the record. */
const OF_STRUCTURE: ReadonlySet<Code> = new Set<Code>([
  'version-missing',
  'merge-conflict',
  'header-indented',
  'not-indented',
  'line-unread',
]);

/** The findings that the text alone gives: reading, names, values, cells, ids and references. In the order of the text. */
export function textFindings(source: SessionText): Finding[] {
  const placed: Placed[] = [];
  for (const block of source.blocks) {
    for (const line of block.problemLines) {
      const { problems, struck } = block.lines[line]!;
      for (const p of problems) if (!(struck || block.void) || OF_STRUCTURE.has(p.code)) placed.push({ block, line, problem: p });
    }
    for (const p of blockProblems(block)) placed.push({ block, ...p });
  }
  return located(source, [...placed, ...referenceProblems(sessionOf(source))]);
}

/** Problems with their place in the whole text, in its order. */
export function located(source: SessionText, placed: readonly Placed[]): Finding[] {
  if (placed.length === 0) return [];
  const labels = blockLabels(source);
  const indexes = new Map(source.blocks.map((block, i) => [block, i]));
  return placed
    .map(({ block, line, problem: p }) => {
      const index = indexes.get(block)!;
      const start = source.lineStart(source.blockStarts[index]! + line);
      return {
        code: p.code,
        severity: CODES[p.code].severity,
        args: p.args,
        at: nodeIn(source, labels[index]!, index, line, p.span),
        span: shifted(p.span, start),
        mends: p.mends.map((mend) => {
          const args = { ...p.args, ...mend.args };
          return { title: mendTitle(p.code, args), args, edits: placedEdits(mend.edits, start, source.eol) };
        }),
      } satisfies Finding;
    })
    .sort((a, b) => a.span[0] - b.span[0] || a.span[1] - b.span[1] || (a.code < b.code ? -1 : 1));
}

/** Edits of a line as edits of the text; the lines they add end as those of the text do. */
const placedEdits = (edits: readonly TextEdit[], by: number, eol: string): TextEdit[] =>
  edits.map((edit) => ({ span: shifted(edit.span, by), text: edit.text.replaceAll('\n', eol) }));

const REFERRED: Readonly<Partial<Record<Keyword, readonly RunReference[]>>> = {
  greyscale: ['mode', 'target', 'meter', 'signal'],
  saturation: ['mode', 'target', 'meter', 'signal'],
  patches: ['mode', 'target', 'meter', 'signal'],
  tracking: ['mode', 'target', 'meter', 'signal'],
  volume: ['mode', 'target', 'meter', 'signal'],
  gamut: ['mode', 'meter', 'signal'],
  window: ['mode', 'meter', 'signal'],
  contrast: ['mode', 'meter'],
  uniformity: ['mode', 'meter'],
  endurance: ['mode', 'meter'],
  angles: ['mode', 'meter'],
  tuning: ['mode', 'target', 'meter'],
};

/** How many blocks a finding names of those that may be meant. */
const NAMED_CANDIDATES = 6;

/** Ids that clash, references that lead nowhere, runs that do not say which of several they mean. */
function referenceProblems(session: Session): Placed[] {
  const found: Placed[] = [];
  const say = (block: Block, line: number, p: Problem) => found.push({ block, line, problem: p });
  const lines = new Map(session.source.blocks.map((block, i) => [block, session.source.blockStarts[i]! + 1]));
  const lineOf = (block: Block) => lines.get(block)!;
  let display: Block | undefined;
  for (const block of session.live) {
    const header = block.header!;
    const first = session.byName.get(block.name)!;
    if (block.keyword === 'display' && display) say(block, 0, problem('display-second', header.keyword.span, { line: lineOf(display) }));
    else if (first !== block) {
      const at = header.id ?? header.keyword;
      say(block, 0, problem('id-repeated', at.span, { id: block.name, line: lineOf(first) }));
    }
    if (block.keyword === 'display') display ??= block;
    const link = linkProblem(session, block);
    if (link) say(block, 0, link);
    for (const i of block.propertyLines) {
      const line = block.property(i);
      const type = line.struck ? undefined : propertyType(block, line.name.text);
      if (type?.is !== 'id' || (line.value.is !== 'text' && line.value.is !== 'string')) continue;
      const p = referenceProblem(session, line.value, type.of);
      if (p) say(block, i, p);
    }
    for (const reference of REFERRED[block.keyword!] ?? []) {
      const resolution = session.resolve(block, reference);
      if (resolution.is !== 'several') continue;
      const named = resolution.candidates.slice(0, NAMED_CANDIDATES).map((candidate) => candidate.name);
      const end = block.lines[0]!.text.length;
      const mends = named.map((mended) => ({
        args: { mended },
        edits: [{ span: [end, end] as const, text: `\n  ${reference}: ${mended}` }],
      }));
      const candidates = named.join(', ') + (resolution.candidates.length > named.length ? ', …' : '');
      say(block, 0, problem('reference-unsaid', header.keyword.span, { property: reference, candidates }, mends));
    }
  }
  return found;
}

function linkProblem(session: Session, block: Block): Problem | undefined {
  const link = block.header!.link;
  if (!link || link.word !== block.spec?.link) return undefined;
  const p = referenceProblem(session, link.id, link.word === 'from' ? block.keyword! : 'run');
  if (p) return p;
  if (session.lineage(block).length > 1) return undefined;
  return problem('reference-circle', link.id.span, { id: block.name, most: MAX_GENERATIONS });
}

/** A file with more blocks of a kind than this gets no proposals: looking through all of them for each wrong id would take too long. */
const MOST_COMPARED = 256;

function referenceProblem(session: Session, { text: id, span }: { text: string; span: Span }, kind: Keyword | 'run'): Problem | undefined {
  const block = session.byName.get(id);
  const keyword = kind === 'run' ? phrase('run') : kind;
  if (block && (kind === 'run' ? block.isRun : block.keyword === kind)) return undefined;
  if (block) return problem('reference-kind', span, { id, found: block.keyword!, keyword });
  const alike = kind === 'run' ? session.runs.map((run) => run.block) : session.all(kind);
  const near = alike.length > MOST_COMPARED ? undefined : nearest(id, new Set(alike.map((b) => b.name)));
  const mends = near ? [{ args: { mended: near }, edits: [{ span, text: near }] }] : [];
  return problem('reference-missing', span, { keyword, id, neighbour: near ? neighbour(near) : '' }, mends);
}
