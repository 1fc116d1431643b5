import type { Analysis } from '../project/analysis';
import { typeInWords } from '../report/manual';
import { capital } from '../report/said';
import type { Block } from '../session/block';
import { type ColumnName, type ColumnsLine, cellCount, cellSpan, type HeaderLine, type PropertyLine } from '../session/line';
import { propertyType, RUN_REFERENCES, type RunReference } from '../session/session';
import { columnSpec } from '../session/table';
import { UNITS } from '../session/valueTypes';
import type { ColumnSpec } from '../session/vocabulary';
import { type Arg, fill, phrase, type Say, tabled, worded } from '../text/message';
import { type Span, shifted } from '../text/span';
import { blockCard, writtenValue } from './blockCard';
import { code, defined, shown, table } from './markdown';
import { measureCard } from './measureCard';
import { holds, type Place, placeAt } from './places';
import { rowCard } from './rowCard';
import { COLUMN_TYPES, COLUMN_WORDS, DEFAULTS, LINKS } from './words';

/** What is known of the place under a pointer. */
export interface Hover {
  readonly span: Span;
  /** Markdown, part by part, without HTML; texts of the file are escaped. Images are `data:` addresses of the program's own making. */
  readonly parts: readonly string[];
}

/** What there is to say about an offset. Total: any number is an offset, and there may be nothing to say. */
export function hoverAt(analysis: Analysis, offset: number, say: Say = fill): Hover | undefined {
  const { source } = analysis;
  const place = placeAt(source, offset);
  const found = localHover(analysis, place, say);
  if (!found || found.parts.length === 0) return undefined;
  return { span: shifted(found.span, source.lineStart(place.first + place.line)), parts: found.parts };
}

function localHover(analysis: Analysis, place: Place, say: Say): Hover | undefined {
  const { on, at, block, line, first } = place;
  switch (on.kind) {
    case 'header':
      return headerHover(analysis, block, on, at, say);
    case 'property':
      return propertyHover(analysis, block, on, at, say);
    case 'columns':
      return columnHover(block, on, at, say);
    case 'row': {
      const span: Span = [cellSpan(on, 0)[0], cellSpan(on, cellCount(on) - 1)[1]];
      return holds(span, at) ? { span, parts: rowCard(analysis, block, line, first + line, say) } : undefined;
    }
    default:
      return undefined;
  }
}

function headerHover(analysis: Analysis, block: Block, header: HeaderLine, at: number, say: Say): Hover | undefined {
  const { keyword, id, date, title, link } = header;
  if (link && holds(link.at, at)) return { span: link.at, parts: [say(LINKS[link.word])] };
  if (link && holds(link.id.span, at)) {
    const parent = analysis.session.byName.get(link.id.text);
    return parent && { span: link.id.span, parts: blockCard(analysis, parent, say) };
  }
  const span = [keyword, id, date, title].find((word) => word && holds(word.span, at))?.span;
  return span && { span, parts: blockCard(analysis, block, say) };
}

function propertyHover(analysis: Analysis, block: Block, line: PropertyLine, at: number, say: Say): Hover | undefined {
  const inValue = line.value.is !== 'absent' && holds(line.value.span, at);
  const span = inValue ? line.value.span : holds(line.name.span, at) ? line.name.span : undefined;
  if (!span || !block.spec) return undefined;
  const name = line.name.text;
  if (block.keyword === 'limits') {
    const parts = measureCard(analysis, name, say);
    return { span, parts: parts.length > 0 ? parts : [say('Takes {type}.', { type: typeInWords({ is: 'limit' }) })] };
  }
  const type = propertyType(block, name);
  if (inValue && type?.is === 'id' && (line.value.is === 'text' || line.value.is === 'string')) {
    const named = analysis.session.byName.get(line.value.text);
    if (named) return { span, parts: blockCard(analysis, named, say) };
  }
  return { span, parts: propertyParts(analysis, block, name, say) };
}

/** What a property means, what it takes, and what holds when it is left out. */
export function propertyParts(analysis: Analysis, block: Block, name: string, say: Say): readonly string[] {
  const spec = block.spec;
  if (!spec) return [];
  const type = propertyType(block, name);
  const own = Object.hasOwn(spec.properties, name) ? spec.properties[name] : undefined;
  if (!own) {
    if (name.startsWith('x-')) return [`**${shown(name)}** — ${say('A name of your own: it is kept and not read.')}`];
    if (!type) return [];
    const isSetting = block.keyword === 'mode';
    return [
      `**${shown(name)}**${isSetting ? ` — ${say("A name of the display's own.")}` : ''}`,
      say('Takes {type}.', { type: typeInWords(type) }),
      ...(isSetting ? settingTable(analysis, name, say) : []),
    ];
  }
  const taken = analysis.session.properties(block).get(name);
  const left = defaultOf(analysis, block, name);
  return [
    defined(`**${shown(name)}**`, own.about, say),
    [say('Takes {type}.', { type: typeInWords(own.type) }), ...(own.many ? [say('May be repeated.')] : [])].join(' '),
    ...(left === undefined ? [] : [say('When it is left out: {default}.', { default: shown(worded(left, say)) })]),
    ...(taken && taken.block !== block
      ? [say('Taken over from {id}: {value}.', { id: code(taken.block.name), value: writtenValue(taken.line, say) })]
      : []),
  ];
}

/** What holds when a property is not written; undefined where nothing does, or its own description says it. */
export function defaultOf({ session }: Analysis, block: Block, name: string): Arg | undefined {
  if (block.isRun && RUN_REFERENCES.includes(name as RunReference)) {
    const candidates = session.all(name as RunReference);
    if (candidates.length === 0) return undefined;
    const ids = candidates.slice(0, 6).map((candidate) => candidate.name);
    return candidates.length === 1
      ? phrase('there is just {id}, which is meant', { id: ids[0]! })
      : phrase('several are there ({ids}), so it has to be said', { ids: ids.join(', ') + (candidates.length > 6 ? ', …' : '') });
  }
  const key = `${block.isRun ? 'run' : block.keyword}.${name}`;
  return Object.hasOwn(DEFAULTS, key) ? DEFAULTS[key] : undefined;
}

const MOST_MODES = 12;

/** A setting in all modes that have it. */
function settingTable({ session }: Analysis, name: string, say: Say): string[] {
  const rows = session.all('mode').flatMap((mode) => {
    const property = session.properties(mode).get(name);
    return property
      ? [[code(mode.name), writtenValue(property.line, say), property.block === mode ? say('here') : code(property.block.name)]]
      : [];
  });
  return rows.length < 2 ? [] : [table([say('mode'), say('value'), say('from')].map(capital), rows.slice(0, MOST_MODES))];
}

function columnHover(block: Block, { columns }: ColumnsLine, at: number, say: Say): Hover | undefined {
  const column = columns.find(({ span }) => holds(span, at));
  const spec = column && columnSpec(block, column);
  return spec && { span: column.span, parts: columnParts(block, column, spec, say) };
}

function columnParts(block: Block, column: ColumnName, spec: ColumnSpec, say: Say): readonly string[] {
  const run = block.spec!.table!;
  const isOwn = Object.hasOwn(run.columns, column.name) && !column.quoted;
  const about = isOwn && Object.hasOwn(COLUMN_WORDS, column.name) ? ` — ${shown(say(COLUMN_WORDS[column.name]!))}` : '';
  return [
    `**${shown(column.name)}**${about}`,
    columnTypeText(spec, say),
    ...(isOwn && run.keys.includes(column.name)
      ? [say('Says which patch a row is: rows with the same key are readings of the same patch.')]
      : []),
    ...(isOwn || run.free === undefined ? [] : [say('Here: {free}.', { free: tabled(run.free) })]),
  ];
}

/** What the cells of a column take. */
export function columnTypeText(spec: ColumnSpec, say: Say): string {
  if (spec.holds !== 'quantity') return say(COLUMN_TYPES[spec.holds]);
  const others = Object.keys(UNITS[spec.dimension]).filter((unit) => unit !== spec.unit);
  return others.length === 0
    ? say('In {unit}.', { unit: spec.unit })
    : say('In {unit}; other units in brackets: {units}.', { unit: spec.unit, units: others.map((unit) => code(`[${unit}]`)).join(', ') });
}
