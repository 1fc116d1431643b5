import { CODES } from '../text/codes';
import { type Finding, mendTitle, type Problem, problem } from '../text/finding';
import { nearest } from '../text/neighbour';
import { shifted, shiftedEdits } from '../text/span';
import { type BlockProblem, blockProblems } from './blockProblems';
import type { Block } from './block';
import { blockLabels, nodeIn } from './nodes';
import { MAX_GENERATIONS, propertyType, type RunReference, type Session, sessionOf } from './session';
import type { SessionText } from './sessionText';
import { KEYWORDS, type Keyword } from './vocabulary';

/** A problem and its place in a version of a session. */
export interface Placed extends BlockProblem {
  readonly block: Block;
}

/** The findings that the text alone gives: reading, names, values, cells, ids and references. In the order of the text. */
export function textFindings(source: SessionText): Finding[] {
  const placed: Placed[] = [];
  for (const block of source.blocks) {
    for (const line of block.problemLines) for (const p of block.lines[line]!.problems) placed.push({ block, line, problem: p });
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
        mends: p.mends.map((mend) => ({ title: mendTitle(p.code, { ...p.args, ...mend.args }), edits: shiftedEdits(mend.edits, start) })),
      } satisfies Finding;
    })
    .sort((a, b) => a.span[0] - b.span[0] || a.span[1] - b.span[1] || (a.code < b.code ? -1 : 1));
}

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

/** Ids that clash, references that lead nowhere, runs that do not say which of several they mean. */
function referenceProblems(session: Session): Placed[] {
  const found: Placed[] = [];
  const say = (block: Block, line: number, p: Problem) => found.push({ block, line, problem: p });
  const lineOf = (block: Block) => session.source.blockStarts[session.source.blocks.indexOf(block)]! + 1;
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
      const p = referenceProblem(session, line.value.text, line.value.span, [type.of]);
      if (p) say(block, i, p);
    }
    for (const reference of REFERRED[block.keyword!] ?? []) {
      const resolution = session.resolve(block, reference);
      if (resolution.is !== 'several') continue;
      const candidates = resolution.candidates.map((candidate) => candidate.name);
      const end = block.lines[0]!.text.length;
      const mends = candidates.slice(0, 6).map((mended) => ({
        args: { mended },
        edits: [{ span: [end, end] as const, text: `${block.lines[0]!.eol || '\n'}  ${reference}: ${mended}` }],
      }));
      say(block, 0, problem('reference-unsaid', header.keyword.span, { property: reference, candidates: candidates.join(', ') }, mends));
    }
  }
  return found;
}

function linkProblem(session: Session, block: Block): Problem | undefined {
  const link = block.header!.link;
  if (!link || link.word !== block.spec?.link) return undefined;
  const kinds = link.word === 'from' ? [block.keyword!] : KEYWORDS.filter((keyword) => session.live.some((b) => b.isRun && b.keyword === keyword));
  const p = referenceProblem(session, link.id.text, link.id.span, kinds, link.word === 'like' ? 'run' : undefined);
  if (p) return p;
  if (session.lineage(block).length > 1) return undefined;
  return problem('reference-circle', link.id.span, { id: block.name, most: MAX_GENERATIONS });
}

function referenceProblem(session: Session, id: string, span: readonly [number, number], kinds: readonly string[], called?: string): Problem | undefined {
  const keyword = called ?? kinds[0] ?? 'run';
  const block = session.byName.get(id);
  if (block && kinds.includes(block.keyword!)) return undefined;
  if (block) return problem('reference-kind', span, { id, found: block.keyword!, keyword });
  const near = nearest(id, [...session.byName].filter(([, b]) => kinds.includes(b.keyword!)).map(([name]) => name));
  const mends = near ? [{ args: { mended: near }, edits: [{ span, text: near }] }] : [];
  return problem('reference-missing', span, { keyword, id, neighbour: near ? ` Perhaps ${near}?` : '' }, mends);
}
