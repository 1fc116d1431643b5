import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { isHdr } from '../measure/target';
import type { Analysis } from '../project/analysis';
import { counted, numberText } from '../report/format';
import type { Block } from '../session/block';
import { type ErrorPart, errorParts } from './direction';
import { resultOf, rowAt, toTakeIn } from './lookup';
import { colouredOf, rowFigure } from './rowFigures';
import { say } from './words';

/** A few words behind a line. */
export interface Hint {
  /** The end of the line's text. */
  readonly offset: number;
  readonly text: string;
  readonly tooltip: string;
}

/** From this difference up its direction is worth a word: what a reference display keeps within (common practice, no source). */
const WORTH_A_WORD = 1;

/**
 * What is said behind the lines `from` to `to` (exclusive): behind a run's head its missing readings, behind the first reading of a patch
 * its difference from the target and the direction of that. Costs as much as there are lines, however long the session is.
 */
export function hints(analysis: Analysis, fromLine: number, toLine: number): readonly Hint[] {
  const { source } = analysis;
  const found: Hint[] = [];
  const from = Math.max(0, Math.trunc(fromLine) || 0);
  const to = Math.min(source.lines.length, Math.trunc(toLine) || 0);
  let block: Block | undefined;
  let result: RunResult | undefined;
  for (let n = from; n < to; n++) {
    const index = source.blockAt(n);
    if (source.blocks[index] !== block) {
      block = source.blocks[index]!;
      result = resultOf(analysis, block);
    }
    const line = source.lines[n]!;
    const said =
      line.kind === 'header'
        ? result && headHint(block!)
        : line.kind === 'row'
          ? result && rowHint(result, n - source.blockStarts[index]!)
          : undefined;
    if (said) found.push({ offset: source.lineStart(n) + line.text.length, ...said });
  }
  return found;
}

type Said = Omit<Hint, 'offset'>;

function headHint(block: Block): Said | undefined {
  const count = toTakeIn(block);
  if (count === 0) return undefined;
  const text = say('hint-to-take', { readings: counted(count, 'reading') });
  return { text, tooltip: text };
}

function rowHint(result: RunResult, line: number): Said | undefined {
  const c = colouredOf(result);
  const row = c && rowAt(result.run.block, line);
  const patch = row === undefined ? -1 : c!.patches.ofRow[row]!;
  // Of repeats the first speaks for all.
  if (!c || patch < 0 || c.patches.first[patch] !== row || c.patches.seen[patch] !== Seen.Measured) return undefined;
  const against = result.againstText();
  const hdr = isHdr(c.judged.target.curve);
  const de = rowFigure(result, hdr ? 'de.itp' : 'de', patch);
  if (de) {
    const parts = errorParts(c, patch);
    const word = de.v >= WORTH_A_WORD && parts[0] ? ` ${say(parts[0].direction)}` : '';
    const inWords = partsText(parts);
    return {
      text: say(hdr ? 'hint-itp' : 'hint-de', { de: numberText(de.v, 1) }) + word,
      tooltip: inWords === '' ? say('against', { against }) : say('hint-parts', { parts: inWords, against }),
    };
  }
  return luminanceHint(result, patch, c.targetY[patch]!);
}

/** What can be said of a reading without a colour. */
function luminanceHint(result: RunResult, patch: number, targetY: number): Said | undefined {
  const error = rowFigure(result, 'curve', patch);
  if (!error) return undefined;
  const percent = numberText(error.v, 1);
  const word = Math.abs(error.v) < WORTH_A_WORD ? '' : ` ${say(error.v > 0 ? 'too-bright' : 'too-dark')}`;
  return {
    text: say('hint-luminance', { percent: error.v > 0 && Number(percent) !== 0 ? `+${percent}` : percent }) + word,
    tooltip: say('hint-luminance-tip', { target: luminanceText(targetY), against: result.againstText() }),
  };
}

/** A luminance to four digits. */
export const luminanceText = (Y: number): string => String(Number(Y.toPrecision(4)));

/** Parts of an error in words; those that round to nothing are left out, so that it may be empty. */
export function partsText(parts: readonly ErrorPart[]): string {
  const text = parts
    .filter(({ size }) => Number(numberText(size, 1)) > 0)
    .map(({ direction, size }) => say('hint-part', { word: say(direction), size: numberText(size, 1) }))
    .join(', ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}
