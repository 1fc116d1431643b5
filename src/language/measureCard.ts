import { type Limits, type MeasureSpec, measureSpec, ROW_LIMITS } from '../measure/specs';
import type { Analysis } from '../project/analysis';
import { judgementText, limitLine, measuredText, NONE } from '../report/format';
import { capital } from '../report/said';
import { figureOf } from '../report/summary';
import { blockSpec } from '../session/vocabulary';
import { plainNumber, type Say } from '../text/message';
import { code, defined, shown, table } from './markdown';
import { BETTER } from './words';

/** A measure as limits name it. */
export interface NamedMeasure {
  readonly kind: string;
  readonly id: string;
  readonly key: readonly string[];
  readonly spec: MeasureSpec;
}

/** Reads `greyscale.de.max`, `window.peak@10`; undefined for what is no measure. */
export function measureOf(name: string): NamedMeasure | undefined {
  const at = name.indexOf('@');
  const whole = at < 0 ? name : name.slice(0, at);
  const dot = whole.indexOf('.');
  if (dot < 0) return undefined;
  const [kind, id] = [whole.slice(0, dot), whole.slice(dot + 1)];
  const spec = measureSpec(kind, id);
  return spec && { kind, id, key: at < 0 ? [] : name.slice(at + 1).split(','), spec };
}

const MOST_RUNS = 12;

/** What a measure is, as Markdown: definition, source, aim and limit, and its figures in the runs of the session. */
export function measureCard(analysis: Analysis, name: string, say: Say): readonly string[] {
  const measure = measureOf(name);
  if (!measure) return [];
  const { spec, kind, id } = measure;
  const keys = spec.by === undefined ? (blockSpec(kind)?.table?.keys ?? []) : [spec.by];
  const better = say(BETTER[spec.direction], { centre: plainNumber(spec.centre ?? 0) });
  return [
    defined(`**${shown(say(spec.title))}**${spec.unit && ` (${shown(say(spec.unit))})`} ${code(`${kind}.${id}`)}`, spec.about, say),
    [
      better,
      ...(spec.scope === 'run' ? [] : [say('Of a row: {name}@ and the key of the row ({keys}).', { name: id, keys: keys.join(', ') })]),
    ].join(' '),
    defaultsText(measure, name, say),
    ...runTable(analysis, measure, say),
  ];
}

/** The limits that hold when nobody says others, with their source. */
export function defaultsText({ spec, kind, id, key }: NamedMeasure, name: string, say: Say): string {
  const own = key.length > 0 && Object.hasOwn(ROW_LIMITS, name) ? ROW_LIMITS[name] : undefined;
  const { sdr, hdr, source } = own ?? spec;
  // A colour temperature is near that of its target's white, whatever that is.
  const centre = kind === 'greyscale' && id === 'cct' ? 0 : (spec.centre ?? 0);
  const written = (limits: Limits | undefined): string =>
    limits ? limitLine(spec, { verdict: 'no-number', aim: 'no-number', centre, limits: { ...bounds(limits), from: 'default' } }, say) : '';
  const [s, h] = [written(sdr), written(hdr)];
  const from = source === undefined ? '' : shown(say(source));
  if (s === '' && h === '') return say('No limit by default.');
  if (s === h) return say('Default: {limits} ({source}).', { limits: shown(s), source: from });
  return [
    s && say('Default for SDR: {limits} ({source}).', { limits: shown(s), source: from }),
    h && say('Default for HDR: {limits} ({source}).', { limits: shown(h), source: from }),
  ]
    .filter((part) => part !== '')
    .join(' ');
}

const bounds = ({ aim, limit }: Limits) => ({
  ...(aim === undefined ? {} : { aim: { high: aim } }),
  ...(limit === undefined ? {} : { limit: { high: limit } }),
});

function runTable(analysis: Analysis, { kind, id, key, spec }: NamedMeasure, say: Say): string[] {
  if (spec.scope === 'row' && key.length === 0) return [];
  const rows = analysis.results
    .filter(({ run }) => run.kind === kind)
    .slice(0, MOST_RUNS)
    .map((result) => {
      const figure = figureOf(analysis, result, id, key);
      const { value, judgement } = figure;
      return [
        shown(result.run.id),
        value.ok ? shown(measuredText(figure, say)) : NONE,
        shown(judgementText(judgement, say)),
        shown(limitLine(spec, judgement, say)),
      ];
    });
  return rows.length === 0 ? [] : [table([say('run'), say('value'), say('verdict'), say('limits')].map(capital), rows)];
}
