import type { Code } from '../../text/codes';
import { type Args, phrase, tabled } from '../../text/message';
import { nearest, neighbour } from '../../text/neighbour';
import type { Span } from '../../text/span';

/** What a line of a fenced block ` ```nitbook ` can ask for. */
export interface InstructionSpec {
  readonly about: string;
  /** What its reference names; undefined where it takes none. */
  readonly takes?: string;
  readonly example: string;
}

/** This table is what the reference page of reviews is tested against. */
export const INSTRUCTIONS = {
  settings: {
    about: 'The settings of a mode, each with what it changes of the mode it is from; of several modes beside each other.',
    takes: 'one or more modes',
    example: 'settings aurora-55.nitbook#cinema-tuned',
  },
  summary: {
    about: 'The main figures of a bench day, or of some of its runs, with their verdicts.',
    takes: 'the session, or one or more runs',
    example: 'summary aurora-55.nitbook#session',
  },
  compare: {
    about:
      'Runs of a kind beside each other, measure by measure; or displays beside each other, by the figures named or by the main ones of the runs that they share.',
    takes: 'runs, a figure of a run, or the session',
    example: 'compare aurora-55.nitbook#grey+grey-tuned',
  },
  figure: {
    about: 'A drawn figure; several lines lay runs of several sessions over each other.',
    takes: 'a figure of one or more runs',
    example: 'figure aurora-55.nitbook#grey.balance',
  },
  method: {
    about: 'How it was measured: display, firmware, room, meters, corrections, signals, modes, targets and dates.',
    takes: 'the session, or one or more runs',
    example: 'method aurora-55.nitbook#session',
  },
  cautions: {
    about: 'What can hurt people or displays when such measurements are repeated. Shown once in a document.',
    example: 'cautions',
  },
} as const satisfies Readonly<Record<string, InstructionSpec>>;

export type Instruction = keyof typeof INSTRUCTIONS;

const NAMES = Object.keys(INSTRUCTIONS) as readonly Instruction[];
const specOf = (instruction: Instruction): InstructionSpec => INSTRUCTIONS[instruction];

export const isInstruction = (word: string): word is Instruction => Object.hasOwn(INSTRUCTIONS, word);

/** One line: what it asks for, and of what. */
export interface FenceLine {
  /** Its number in the block, from 0. */
  readonly line: number;
  readonly instruction: Instruction;
  /** As it is written; undefined for an instruction that takes none. */
  readonly target: { readonly text: string; readonly span: Span } | undefined;
  /** Of the words of the line, in it. */
  readonly span: Span;
}

/** Something mistaken in a line of a block. */
export interface FenceProblem {
  readonly line: number;
  /** In the line. */
  readonly span: Span;
  readonly code: Code;
  readonly args: Args;
  /** What the span should say. */
  readonly mended?: string;
}

/** Lines that make one table or figure: those of one instruction that follow each other. */
export type FenceGroup = readonly [FenceLine, ...FenceLine[]];

export interface FenceReading {
  readonly groups: readonly FenceGroup[];
  readonly problems: readonly FenceProblem[];
}

/**
 * Whether a fenced block asks for something of this program: it says `nitbook`, and refers to a session or starts with an instruction. Any
 * other is a text of a session that is shown as it is.
 */
export const isFence = (info: string, content: string): boolean =>
  info.trim().split(/\s/)[0] === 'nitbook' && (content.includes('.nitbook#') || isInstruction(firstWord(content)));

const firstWord = (content: string): string =>
  content
    .split('\n')
    .filter((line) => !isComment(line))
    .flatMap(wordsIn)[0]?.[0] ?? '';

/** Reads a block: one instruction and one reference a line; blank lines part what would go together, `#` starts a comment. */
export function readFence(content: string): FenceReading {
  const groups: [FenceLine, ...FenceLine[]][] = [];
  const problems: FenceProblem[] = [];
  let open: [FenceLine, ...FenceLine[]] | undefined;
  for (const [line, text] of content.split('\n').entries()) {
    if (isComment(text)) continue;
    const read = readLine(line, text);
    if (read === undefined || 'code' in read) {
      if (read) problems.push(read);
      open = undefined;
    } else if (open && open[0].instruction === read.instruction) open.push(read);
    else {
      open = [read];
      groups.push(open);
    }
  }
  return { groups, problems };
}

function readLine(line: number, text: string): FenceLine | FenceProblem | undefined {
  const words = wordsIn(text);
  const [first, second] = words;
  if (!first) return undefined;
  const span: Span = [first[1][0], words.at(-1)![1][1]];
  const [word] = first;
  if (!isInstruction(word)) {
    const meant = nearest(word, NAMES);
    const args = { found: word, instructions: NAMES, neighbour: meant === undefined ? '' : neighbour(meant) };
    return { line, span: first[1], code: 'fence-instruction', args, ...(meant !== undefined && { mended: meant }) };
  }
  const { takes, example } = specOf(word);
  const wanted = takes === undefined ? 0 : 1;
  if (second && words.length - 1 === wanted && !second[0].includes('.nitbook#')) return noReference(line, second);
  if (words.length - 1 === wanted) return { line, instruction: word, target: second && { text: second[0], span: second[1] }, span };
  const isLacking = words.length === 1;
  const reason = isLacking
    ? phrase('{instruction} needs a reference to {what}, such as {example}', { instruction: word, what: tabled(takes ?? ''), example })
    : takes === undefined
      ? phrase('{instruction} takes no reference', { instruction: word })
      : phrase('One reference a line: the next goes on a line of its own');
  return { line, span: isLacking ? first[1] : [words[wanted + 1]![1][0], span[1]], code: 'fence-reference', args: { reason } };
}

/** A file alone is no reference: its session is meant. */
function noReference(line: number, [word, span]: readonly [word: string, span: Span]): FenceProblem {
  const mended = word.endsWith('.nitbook') ? `${word}#session` : undefined;
  const reason =
    mended === undefined
      ? phrase('"{found}" is no reference to a session', { found: word })
      : phrase('"{found}" names a file and nothing in it: for the whole session write {mended}', { found: word, mended });
  return { line, span, code: 'fence-reference', args: { reason }, ...(mended !== undefined && { mended }) };
}

const isComment = (text: string): boolean => /^\s*#/.test(text);

const wordsIn = (text: string): readonly (readonly [word: string, span: Span])[] =>
  [...text.matchAll(/\S+/g)].map(({ 0: word, index }) => [word, [index, index + word.length]] as const);
