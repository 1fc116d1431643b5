/**
 * About how wide a text is, in px, with no font to ask: a figure has to be the same wherever it is made. The widths are those of a wide
 * sans-serif (DejaVu Sans), so that a text in any other has room.
 */
export function textWidth(text: string, size: number, bold = false): number {
  let ems = 0;
  for (const mark of text) ems += widthOf(mark);
  return ems * size * (bold ? 1.1 : 1);
}

function widthOf(mark: string): number {
  if (/[ijl|!.,:;'′’·I ]/.test(mark)) return 0.32;
  if (/[ftr()[\]/\\"-]/.test(mark)) return 0.4;
  if (/[mwMW%@—]/.test(mark)) return 0.95;
  if (/[A-ZΔ&×≈±+−=<>▲]/.test(mark)) return 0.72;
  // East Asian marks are as wide as high.
  if (/[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\u{1f300}-\u{1faff}]/u.test(mark)) return 1.05;
  if (/\p{M}/u.test(mark)) return 0;
  return 0.62;
}

/** A unit stays with its number. */
const BREAK = / (?!(?:%|cd\/m²|stops?|K|nm|ms|min|lx|W|s|in)(?:[ ,;:.)]|$))/;

/** Words in as few lines as they need; a word longer than a line stands alone, and past `most` lines an ellipsis ends the text. */
export function wrapped(text: string, size: number, width: number, { most = 3, bold = false } = {}): string[] {
  const lines: string[] = [];
  for (const word of text.split(BREAK)) {
    const last = lines.at(-1);
    if (last !== undefined && textWidth(`${last} ${word}`, size, bold) <= width) lines[lines.length - 1] = `${last} ${word}`;
    else if (lines.length === most) return [...lines.slice(0, -1), shortened(`${last} ${word}`, size, width, bold)];
    else lines.push(word);
  }
  return lines.map((line) => shortened(line, size, width, bold));
}

/** A text that ends in an ellipsis where it does not fit. */
export function shortened(text: string, size: number, width: number, bold = false): string {
  if (textWidth(text, size, bold) <= width) return text;
  let left = width - textWidth('…', size, bold);
  let kept = '';
  for (const mark of text) {
    left -= textWidth(mark, size, bold);
    if (left < 0) break;
    kept += mark;
  }
  return `${kept.trimEnd()}…`;
}
