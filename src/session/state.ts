import { BLOCKS, KEYWORDS, type Keyword } from './vocabulary';

/**
 * What a line must know of the lines above it, as one number, so that reading can stop after an edit as soon as the state is again what it
 * was before it: which kind of block it is in, whether its column line has been met or missed, whether a merge conflict is open, whether the version
 * line is still to come.
 */
export type State = number & { readonly _?: 'state' };

const KIND = 0b111111;
const COLUMNS = 1 << 6;
const CONFLICT = 1 << 7;
const STARTED = 1 << 8;
const NOT_FIRST = 1 << 9;
const COLUMNS_MISSED = 1 << 10;

const UNKNOWN = KEYWORDS.length + 1;

// By kind, as this is asked for every line.
const WITH_TABLE = [false, ...KEYWORDS.map((keyword) => 'table' in BLOCKS[keyword]), false];

export const START: State = 0;

/** The keyword of the block a line is in; undefined before the first block and in a block that the format does not know. */
export const keywordOf = (state: State): Keyword | undefined => KEYWORDS[(state & KIND) - 1];
export const beforeAnyBlock = (state: State): boolean => (state & KIND) === 0;
export const hasTable = (state: State): boolean => WITH_TABLE[state & KIND]!;
export const columnsMet = (state: State): boolean => (state & COLUMNS) !== 0;
export const columnsMissed = (state: State): boolean => (state & COLUMNS_MISSED) !== 0;
export const inConflict = (state: State): boolean => (state & CONFLICT) !== 0;
export const isStarted = (state: State): boolean => (state & STARTED) !== 0;
export const isFirstLine = (state: State): boolean => (state & NOT_FIRST) === 0;

export const afterFirstLine = (state: State): State => state | NOT_FIRST;
export const started = (state: State): State => state | STARTED;
export const withColumns = (state: State): State => (state | COLUMNS) & ~COLUMNS_MISSED;
export const withColumnsMissed = (state: State): State => state | COLUMNS_MISSED;
export const withConflict = (state: State, open: boolean): State => (open ? state | CONFLICT : state & ~CONFLICT);
export const inBlock = (state: State, keyword: string): State => {
  const index = KEYWORDS.indexOf(keyword as Keyword);
  return (state & ~(KIND | COLUMNS | COLUMNS_MISSED)) | (index < 0 ? UNKNOWN : index + 1);
};
