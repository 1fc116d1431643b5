import { xyzToXy } from '../colour/chromaticity';
import type { Vec3 } from '../colour/vector';
import { withRowInterval } from '../measure/intervals';
import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { isHdr } from '../measure/target';
import type { Analysis } from '../project/analysis';
import { explanation } from '../report/explained';
import { judgementText, limitLine, measuredText, whyText } from '../report/format';
import { figureOf } from '../report/summary';
import type { Block } from '../session/block';
import { keyLabel } from '../session/blockProblems';
import { CellKind } from '../session/line';
import { kindAt, tableOf } from '../session/table';
import { sentence } from '../text/finding';
import type { Say } from '../text/message';
import { errorParts } from './direction';
import { luminanceText, partsText } from './hints';
import { findingsIn, resultOf, rowAt } from './lookup';
import { shown, table } from './markdown';
import { fieldsUri, type ShownColour, shownColour } from './patch';
import { colouredOf, rowFigure } from './rowFigures';
import { FIELDS, SEVERITIES } from './words';

/**
 * What is known of a row, as Markdown: which patch, its colour as sent and as read, the numbers, what they are against, and what was
 * noticed in it.
 * @param line within the block; `fileLine` the same line in the file
 */
export function rowCard(analysis: Analysis, block: Block, line: number, fileLine: number, say: Say): readonly string[] {
  const row = block.row(line);
  const key = keyLabel(block, row);
  const names = { kind: block.keyword ?? '', run: shown(block.name) };
  const title = key === '' ? say('A row of {kind} {run}', names) : say('Row {key} of {kind} {run}', { ...names, key: shown(key) });
  const noticed = findingsIn(analysis, fileLine).map(
    (finding) => `*${say(SEVERITIES[finding.severity])}*: ${shown(sentence(finding, say))}`,
  );
  return [`**${title}**`, ...readingParts(analysis, block, line, say), ...noticed];
}

function readingParts(analysis: Analysis, block: Block, line: number, say: Say): string[] {
  if (block.void) return [say('In a block that is struck out: kept for the record, left out of every computation.')];
  if (block.row(line).struck) return [say('Struck out: kept for the record, left out of every computation.')];
  const result = resultOf(analysis, block);
  if (!result) return [];
  const { context } = result;
  if (!context) return [say('Not computed: {why}.', { why: shown(whyText(result.absent!.why, say)) })];
  const row = rowAt(block, line);
  const patch = row === undefined ? -1 : context.patches.ofRow[row]!;
  if (patch < 0) return [];
  const against = result.againstText(say);
  return [
    ...standing(result, block, line, patch, say),
    ...fields(result, patch, say),
    ...numbers(result, patch, say),
    ...figures(analysis, result, patch, say),
    ...(against === '' ? [] : [say('Against {against}.', { against: shown(against) })]),
  ];
}

/** How a row takes part, where that is not plain. */
function standing({ context, run }: RunResult, block: Block, line: number, patch: number, say: Say): string[] {
  const { patches } = context!;
  const said: string[] = [];
  if ([...tableOf(block).columns.values()].some((column) => kindAt(block.row(line), column) === CellKind.ToTake))
    said.push(say('Still to take.'));
  if (patches.revisit[patch]) said.push(say('Read before, further up: this reading serves the drift only.'));
  let count = 0;
  for (let i = 0; i < run.table.rows.length; i++) if (patches.ofRow[i] === patch) count++;
  if (count > 1) said.push(say('One of {count} readings of this patch; the numbers are of their mean.', { count }));
  return said.length === 0 ? [] : [said.join(' ')];
}

const xyzOf = (X: number, Y: number, Z: number): Vec3 | undefined => (Number.isFinite(X + Y + Z) ? [X, Y, Z] : undefined);

const targetOf = (result: RunResult, patch: number): Vec3 | undefined => {
  const c = colouredOf(result);
  return c && xyzOf(c.targetX[patch]!, c.targetY[patch]!, c.targetZ[patch]!);
};

/** A luminance that could not be seen has no colour to show. */
const readingOf = ({ context }: RunResult, patch: number): Vec3 | undefined => {
  const { X, Y, Z, seen } = context!.patches;
  return seen[patch] === Seen.Measured ? xyzOf(X[patch]!, Y[patch]!, Z[patch]!) : undefined;
};

/** Reference white of HDR, cd/m². Source: ITU-R BT.2408. */
const HDR_WHITE = 203;

/** The patch as sent and as read, side by side, so that an eye can tell them apart where they differ. */
function fields(result: RunResult, patch: number, say: Say): string[] {
  const c = colouredOf(result);
  if (!c) return [];
  const { target, scale } = c.judged;
  const hdr = isHdr(target.curve);
  const [sent, read] = [targetOf(result, patch), readingOf(result, patch)];
  // On an absolute scale the brighter field is white at most, so that neither loses its colour.
  const luminance = hdr ? Math.max(HDR_WHITE, sent?.[1] ?? 0, read?.[1] ?? 0) : scale.Lw;
  const colours = [sent, read].map((xyz) => xyz && shownColour(xyz, target.white, luminance));
  const there = colours.filter((colour): colour is ShownColour => colour !== undefined);
  if (there.length === 0) return [];
  const which = there.length === 2 ? 'both' : colours[0] ? 'sent' : 'read';
  const what = say(FIELDS[hdr ? 'hdr' : 'sdr'][which], { luminance: luminanceText(luminance) });
  const alt = there.some(({ clipped }) => clipped) ? say('{fields}; this screen cannot show all of it', { fields: what }) : what;
  return [`![${shown(alt)}](${fieldsUri(there.map(({ hex }) => hex))})`];
}

/** Luminance and chromaticity, as sent and as read. */
function numbers(result: RunResult, patch: number, say: Say): string[] {
  const { Y, seen, raw } = result.context!.patches;
  const cells = (luminance: string, xyz: Vec3 | undefined): string[] => {
    const xy = xyz && xyzToXy(xyz);
    return [luminance, ...(xy && xyz[1] > 0 ? xy.map((v) => v.toFixed(4)) : ['', ''])];
  };
  const sent = targetOf(result, patch);
  const mark = seen[patch] === Seen.Below ? '<' : seen[patch] === Seen.Above ? '\\>' : '';
  const rows = [
    ...(sent ? [[say('as sent'), ...cells(luminanceText(sent[1]), sent)]] : []),
    ...(seen[patch] === Seen.None || !result.run.table.columns.has('Y')
      ? []
      : [[say('as read'), ...cells(mark.replace('<', '\\<') + luminanceText(Y[patch]!), readingOf(result, patch))]]),
  ];
  // A corrected reading stands beside what the meter showed.
  if (raw && seen[patch] === Seen.Measured)
    rows.push([say('as shown by the meter'), ...cells(luminanceText(raw.Y[patch]!), xyzOf(raw.X[patch]!, raw.Y[patch]!, raw.Z[patch]!))]);
  return rows.length === 0 ? [] : [table(['', 'Y, cd/m²', 'x', 'y'], rows)];
}

/** The figures of a row that a reader looks at first, by kind of run. */
function figureIds(result: RunResult, patch: number): readonly string[] {
  const hdr = isHdr(colouredOf(result)?.judged.target.curve);
  switch (result.run.kind) {
    case 'greyscale': {
      const signals = (result.context as { readonly signals?: Float64Array } | undefined)?.signals;
      const nearBlack = (signals?.[patch] ?? 1) <= 0.2 ? ['dc.adapted'] : [];
      const first = hdr ? ['de.itp', 'curve.stops'] : ['de', ...nearBlack, 'curve'];
      return [...first, 'balance.r', 'balance.g', 'balance.b', 'delta.uv'];
    }
    case 'saturation':
    case 'patches':
      return hdr ? ['de.itp', 'delta.uv'] : ['de', 'delta.l', 'delta.c', 'delta.h', 'delta.uv'];
    case 'gamut':
      return ['delta.uv'];
    case 'tracking':
      return ['stops', 'de.itp', 'delta.uv'];
    case 'uniformity':
      return ['share', 'duv'];
    case 'endurance':
      return ['after'];
    case 'angles':
      return ['kept', 'shift'];
    case 'lag':
    case 'power':
    case 'repeats':
      return ['mean', 'sd', 'n'];
    case 'correction':
      return ['check', 'luminance'];
    default:
      return [];
  }
}

function figures(analysis: Analysis, result: RunResult, patch: number, say: Say): string[] {
  const key = result.keyOf(patch);
  const isRead = result.context!.patches.seen[patch] !== Seen.None;
  const reasons = new Set<string>();
  const lines = figureIds(result, patch).flatMap((id, i) => {
    const value = rowFigure(result, id, patch) ?? (i === 0 && isRead ? result.value(id, key) : undefined);
    if (!value) return [];
    // Of what is lacking the first figure alone is worth a line.
    if (!value.ok) return [`- ${say('Not computed: {why}.', { why: shown(whyText(value.why, say)) })}`];
    const figure = figureOf(analysis, result, id, key, withRowInterval(result, id, patch, value));
    const { spec, judgement } = figure;
    const judged = [judgementText(judgement, say), limitLine(spec, judgement, say)].filter((part) => part !== '').join('; ');
    reasons.add(shown(explanation(figure, result, say)));
    return [`- ${shown(say(spec.title))} **${shown(measuredText(figure, say))}**${judged && ` — ${shown(judged)}`}`];
  });
  const c = colouredOf(result);
  const parts = c && c.patches.seen[patch] === Seen.Measured ? partsText(errorParts(c, patch), say) : '';
  reasons.delete('');
  return [...(lines.length === 0 ? [] : [lines.join('\n')]), ...reasons, ...(parts === '' ? [] : [say('{parts}.', { parts })])];
}
