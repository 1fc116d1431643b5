import type { TextEdit } from '../../src/text/span';

/**
 * 200 single edits as a reviewer makes them while typing: a digit of a reading in the middle of the run, a digit of the white row, letters
 * of the run's id, a digit of the target's luminance, in turn. The first three are undone four edits later, so that the text stays
 * plausible; the luminance is one that it has not been for nine such edits, so that no figure against it is known.
 */
export function recordedEdits(text: string): TextEdit[] {
  const placeBehind = (mark: string, from = 0): number => text.indexOf(mark, from) + mark.length;
  const middle = text.lastIndexOf('.', text.length >> 1) + 2;
  const white = placeBehind('120.');
  const head = placeBehind('patches colours');
  const target = placeBehind('luminance: 12');
  const edits: TextEdit[] = [];
  for (let i = 0; i < 50; i++) {
    const shift = i % 2 === 0 ? 0 : 2;
    const digit = i % 2 === 0 ? '7' : '2';
    edits.push({ span: [middle + shift, middle + shift + 1], text: digit });
    edits.push({ span: [white + shift, white + shift + 1], text: i % 2 === 0 ? '3' : '1' });
    edits.push(i % 2 === 0 ? { span: [head, head], text: 'XX' } : { span: [head, head + 2], text: '' });
    edits.push({ span: [target, target + 1], text: String((i + 1) % 10) });
  }
  return edits;
}
