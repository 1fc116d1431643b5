import { escaped } from '../report/markdown';
import type { Say } from '../text/message';

/** Longer texts of the user's are cut where they are shown: a hover is no page. */
const LONGEST = 160;

/** A text of the user's as Markdown that shows just that text, for use within a line. */
export const shown = (text: string): string => escaped(text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);

/** A table of cells that are Markdown already. Editors set the cells of a hover without a gap: so each but the last brings its own. */
export const table = (heads: readonly string[], rows: readonly (readonly string[])[]): string =>
  [heads, heads.map(() => '---'), ...rows.map((cells) => cells.map((cell, i) => (i < cells.length - 1 ? `${cell}${GAP}` : cell)))]
    .map((cells) => `| ${cells.join(' | ')} |`)
    .join('\n');

const GAP = '&emsp;';

/** A word of the format. */
export const code = (word: string): string => `\`${word}\``;

/** What something is, by a template of a table. */
export const defined = (head: string, about: string, say: Say): string => say('{head} — {about}.', { head, about: shown(say(about)) });
