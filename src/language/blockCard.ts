import type { Analysis } from '../project/analysis';
import { explanation } from '../report/explained';
import { judgementText, limitLine, measuredText, whyText } from '../report/format';
import { capital, stillToTake, takenWith } from '../report/said';
import { figureTitle, headline } from '../report/summary';
import type { Block } from '../session/block';
import { readingsToTake } from '../session/blockProblems';
import type { PropertyLine } from '../session/line';
import type { Say } from '../text/message';
import { resultOf } from './lookup';
import { code, defined, shown, table } from './markdown';

/** Longer lists are cut: a hover is no page. */
const MOST_LISTED = 40;

/** What holds for a block, as Markdown: its properties, own and taken over told apart; of a run, its main figures too. */
export function blockCard(analysis: Analysis, block: Block, say: Say): readonly string[] {
  const { header, keyword, spec } = block;
  if (!header || !spec) return [];
  const title = header.title?.text ?? '';
  const name = header.date?.text ?? (block.name === keyword ? '' : block.name);
  const head = `**${keyword}${name && ` ${shown(name)}`}**${title && ` ${say('“{title}”', { title: shown(title) })}`}`;
  return [
    defined(head, spec.about, say),
    ...(block.void ? [say('Struck out: it stays for the record and takes part in nothing.')] : []),
    ...runParts(analysis, block, say),
    ...propertyPart(analysis, block, say),
  ];
}

function runParts(analysis: Analysis, block: Block, say: Say): string[] {
  const result = resultOf(analysis, block);
  if (!result) return [];
  const { mode, signal, meter } = result.run;
  const named = (of: Block | undefined) => of && { id: of.name, title: of.header?.title?.text ?? '' };
  const [m, s, t] = [named(mode), named(signal), named(meter)];
  const taken = takenWith(
    // Firmware and date stand among the properties.
    { ...(m ? { mode: m } : {}), ...(s ? { signal: s } : {}), ...(t ? { meter: t } : {}) },
    shown,
    say,
  );
  const reasons = new Set<string>();
  const figures = headline(analysis, result).map((figure) => {
    const { spec, value, judgement } = figure;
    const title = shown(figureTitle(figure, say));
    if (!value.ok) return `- ${title}: ${shown(whyText(value.why, say))}`;
    const judged = [judgementText(judgement, say), limitLine(spec, judgement, say)].filter((part) => part !== '').join('; ');
    reasons.add(shown(explanation(figure, result, say)));
    return `- ${title} **${shown(measuredText(figure, say))}**${judged && ` — ${shown(judged)}`}`;
  });
  reasons.delete('');
  const toTake = stillToTake({ toTake: readingsToTake(block).count }, shown, say);
  const against = result.againstText(say);
  return [
    ...(taken === '' ? [] : [`${capital(taken)}.`]),
    ...(against === '' ? [] : [say('Against {against}.', { against: shown(against) })]),
    ...(result.absent ? [say('Not computed: {why}.', { why: shown(whyText(result.absent.why, say)) })] : []),
    ...(figures.length === 0 ? [] : [figures.join('\n')]),
    ...reasons,
    ...(toTake === '' ? [] : [`${capital(toTake)}.`]),
  ];
}

/** A value as it is written; `?` says what it means. */
export function writtenValue({ value }: PropertyLine, say: Say): string {
  switch (value.is) {
    case 'text':
    case 'string':
      return shown(value.text);
    case 'to-note':
      return say('? (still to be noted)');
    case 'removed':
      return '~';
    case 'absent':
      return '';
  }
}

/** The properties that hold, own ones in the order of the text, and what was taken out of those taken over. */
function propertyPart({ session }: Analysis, block: Block, say: Say): string[] {
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
    ...own.map(([name, { line }]) => [shown(name), writtenValue(line, say), say('here')]),
    ...others.map(([name, { line, block: from }]) => [shown(name), writtenValue(line, say), code(from.name)]),
    ...[...removed].map((name) => [shown(name), '~', say('taken out here')]),
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
  return [rest > 0 ? `${listed}\n\n${say('and {count} more', { count: rest })}` : listed];
}
