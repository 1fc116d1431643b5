import { withRowInterval } from '../measure/intervals';
import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { isHdr } from '../measure/target';
import type { Value } from '../measure/value';
import type { Analysis } from '../project/analysis';
import { measuredText, numberText } from '../report/format';
import { capital, stillToTake } from '../report/said';
import type { Block } from '../session/block';
import { readingsToTake } from '../session/blockProblems';
import { fill, type Say, worded } from '../text/message';
import { type Direction, type ErrorPart, errorParts } from './direction';
import { resultOf, rowAt } from './lookup';
import { colouredOf, rowFigure } from './rowFigures';
import { DIRECTIONS } from './words';

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
export function hints(analysis: Analysis, fromLine: number, toLine: number, say: Say = fill): readonly Hint[] {
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
        ? result && headHint(block!, say)
        : line.kind === 'row'
          ? result && rowHint(result, n - source.blockStarts[index]!, say)
          : undefined;
    if (said) found.push({ offset: source.lineStart(n) + line.text.length, ...said });
  }
  return found;
}

type Said = Omit<Hint, 'offset'>;

function headHint(block: Block, say: Say): Said | undefined {
  const text = stillToTake({ toTake: readingsToTake(block).count }, (id) => id, say);
  return text === '' ? undefined : { text, tooltip: text };
}

function rowHint(result: RunResult, line: number, say: Say): Said | undefined {
  const c = colouredOf(result);
  const row = c && rowAt(result.run.block, line);
  const patch = row === undefined ? -1 : c!.patches.ofRow[row]!;
  // Of repeats the first speaks for all.
  if (!c || patch < 0 || c.patches.first[patch] !== row || c.patches.seen[patch] !== Seen.Measured) return undefined;
  const against = result.againstText(say);
  const hdr = isHdr(c.judged.target.curve);
  const de = rowFigure(result, hdr ? 'de.itp' : 'de', patch);
  if (de) {
    const parts = errorParts(c, patch);
    const difference = `${hdr ? 'ΔE ITP' : 'ΔE'} ${numberText(de.v, 1)}`;
    const inWords = partsText(parts, say);
    return {
      text: de.v >= WORTH_A_WORD && parts[0] ? directed(difference, parts[0].direction, say) : difference,
      tooltip: [
        intervalTip(result, hdr ? 'de.itp' : 'de', patch, de, say),
        inWords === '' ? say('Against {against}.', { against }) : say('{parts}. Against {against}.', { parts: inWords, against }),
      ].join(''),
    };
  }
  return luminanceHint(result, patch, c.targetY[patch]!, say);
}

/** Where the true difference lies, where that is known. */
function intervalTip(result: RunResult, id: string, patch: number, value: Value, say: Say): string {
  const spec = result.specs[id]!;
  const known = withRowInterval(result, id, patch, value);
  const figure = { value: known, spec, judgement: { verdict: 'no-number', aim: 'no-number', centre: 0 } } as const;
  return known.ok && known.ci ? `${say(spec.title)} ${measuredText(figure, say)}. ` : '';
}

/** `ΔE 2.4 too bright`. */
const directed = (difference: string, direction: Direction, say: Say): string =>
  say('{difference} {direction}', { difference, direction: DIRECTIONS[direction] });

/** What can be said of a reading without a colour. */
function luminanceHint(result: RunResult, patch: number, targetY: number, say: Say): Said | undefined {
  const error = rowFigure(result, 'curve', patch);
  if (!error) return undefined;
  const percent = numberText(error.v, 1);
  const difference = `Y ${error.v > 0 && Number(percent) !== 0 ? `+${percent}` : percent} %`;
  return {
    text: Math.abs(error.v) < WORTH_A_WORD ? difference : directed(difference, error.v > 0 ? 'too-bright' : 'too-dark', say),
    tooltip: say('Luminance less that of the target, {target} cd/m². Against {against}.', {
      target: luminanceText(targetY),
      against: result.againstText(say),
    }),
  };
}

/** A luminance to four digits. */
export const luminanceText = (Y: number): string => String(Number(Y.toPrecision(4)));

/** The largest parts of an error in words alone, at most two; none for one that a reference display may have. */
export function wayText(parts: readonly ErrorPart[], say: Say): string {
  if (Math.hypot(...parts.map(({ size }) => size)) < WORTH_A_WORD) return '';
  const large = parts.filter(({ size }) => size >= 0.5 * parts[0]!.size).slice(0, 2);
  const words = large.map(({ direction }) => DIRECTIONS[direction]);
  return capital(worded(words, say));
}

/** What is less than this share of the largest part makes the whole larger by less than 3 %. */
const SMALL_PART = 0.25;

/** Parts of an error in words, the largest first. Small ones, and those that round to nothing, are left out, so that it may be empty. */
export function partsText(parts: readonly ErrorPart[], say: Say): string {
  const text = parts
    .filter(({ size }) => size >= SMALL_PART * parts[0]!.size && Number(numberText(size, 1)) > 0)
    .map(({ direction, size }, i) => {
      const words = { word: DIRECTIONS[direction], size: numberText(size, 1) };
      return i === 0 ? say('{word} by ΔE {size}', words) : say('{word} by {size}', words);
    })
    .join(', ');
  return capital(text);
}
