import type { Analysis } from '../project/analysis';
import { counted, judgementText, limitLine, valueText, whyText } from '../report/format';
import { takenWith } from '../report/said';
import { figureTitle, headline } from '../report/summary';
import type { Block } from '../session/block';
import type { PropertyLine } from '../session/line';
import { resultOf, toTakeIn } from './lookup';
import { capital, code, shown, table } from './markdown';
import { say } from './words';

/** Longer lists are cut: a hover is no page. */
const MOST_LISTED = 40;

/** What holds for a block, as Markdown: its properties, own and taken over told apart; of a run, its main figures too. */
export function blockCard(analysis: Analysis, block: Block): readonly string[] {
  const { header, keyword, spec } = block;
  if (!header || !spec) return [];
  const title = header.title?.text ?? '';
  const name = header.date?.text ?? (block.name === keyword ? '' : block.name);
  const head = `**${keyword}${name && ` ${shown(name)}`}**${title && ` “${shown(title)}”`} — ${shown(spec.about)}.`;
  return [head, ...(block.void ? [say('void-block')] : []), ...runParts(analysis, block), ...propertyPart(analysis, block)];
}

function runParts(analysis: Analysis, block: Block): string[] {
  const result = resultOf(analysis, block);
  if (!result) return [];
  const { mode, signal, meter } = result.run;
  const named = (of: Block | undefined) => of && { id: of.name, title: of.header?.title?.text ?? '' };
  const [m, s, t] = [named(mode), named(signal), named(meter)];
  const taken = takenWith(
    // Firmware and date stand among the properties.
    { ...(m ? { mode: m } : {}), ...(s ? { signal: s } : {}), ...(t ? { meter: t } : {}) } as Parameters<typeof takenWith>[0],
    shown,
  );
  const figures = headline(analysis, result).map((figure) => {
    const { spec, value, judgement } = figure;
    if (!value.ok) return `- ${shown(figureTitle(figure))}: ${shown(whyText(value.why))}`;
    const judged = [judgementText(judgement), limitLine(spec, judgement)].filter((part) => part !== '').join('; ');
    return `- ${shown(figureTitle(figure))} **${shown(valueText(value, spec))}**${judged && ` — ${shown(judged)}`}`;
  });
  const toTake = toTakeIn(block);
  return [
    ...(taken === '' ? [] : [`${capital(taken)}.`]),
    ...(result.againstText() === '' ? [] : [say('against', { against: shown(result.againstText()) })]),
    ...(result.absent ? [say('not-computed', { why: shown(whyText(result.absent.why)) })] : []),
    ...(figures.length === 0 ? [] : [figures.join('\n')]),
    ...(toTake === 0 ? [] : [`${capital(say('hint-to-take', { readings: counted(toTake, 'reading') }))}.`]),
  ];
}

/** A value as it is written; `?` says what it means. */
export function writtenValue({ value }: PropertyLine): string {
  switch (value.is) {
    case 'text':
    case 'string':
      return shown(value.text);
    case 'to-note':
      return say('to-note');
    case 'removed':
      return '~';
    case 'absent':
      return '';
  }
}

/** The properties that hold, own ones in the order of the text, and what was taken out of those taken over. */
function propertyPart({ session }: Analysis, block: Block): string[] {
  const holding = [...session.properties(block)];
  const own = holding.filter(([, { block: from }]) => from === block);
  const others = holding.filter(([, { block: from }]) => from !== block);
  const removed = new Set(
    block.propertyLines
      .map((line) => block.property(line))
      .filter(({ struck, value, name }) => !struck && value.is === 'removed' && !session.properties(block).has(name.text))
      .map(({ name }) => name.text),
  );
  const rows = [
    ...own.map(([name, { line }]) => [shown(name), writtenValue(line), say('own')]),
    ...others.map(([name, { line, block: from }]) => [shown(name), writtenValue(line), code(from.name)]),
    ...[...removed].map((name) => [shown(name), '~', say('taken-out')]),
  ];
  if (rows.length === 0) return [];
  // Where nothing is taken over there is nothing to tell apart.
  const parted = session.lineage(block).length > 1;
  const heads = parted ? [say('name'), say('value'), say('from')] : [say('name'), say('value')];
  const listed = table(
    heads,
    rows.slice(0, MOST_LISTED).map((cells) => cells.slice(0, heads.length)),
  );
  const rest = rows.length - MOST_LISTED;
  return [rest > 0 ? `${listed}\n\n${say('more', { count: rest })}` : listed];
}
