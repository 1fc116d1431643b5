import { type Limits, type MeasureSpec, measureSpec, ROW_LIMITS } from '../measure/specs';
import type { Analysis } from '../project/analysis';
import { judgementText, limitLine, NONE, valueText } from '../report/format';
import { figureOf } from '../report/summary';
import { blockSpec } from '../session/vocabulary';
import { plainNumber } from '../text/message';
import { capital, code, shown, table } from './markdown';
import { say } from './words';

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
export function measureCard(analysis: Analysis, name: string): readonly string[] {
  const measure = measureOf(name);
  if (!measure) return [];
  const { spec, kind, id } = measure;
  const keys = spec.by === undefined ? (blockSpec(kind)?.table?.keys ?? []) : [spec.by];
  const better = say(`better-${spec.direction}`, { centre: plainNumber(spec.centre ?? 0) });
  return [
    `**${shown(spec.title)}**${spec.unit && ` (${shown(spec.unit)})`} ${code(`${kind}.${id}`)} — ${shown(spec.about)}.`,
    [better, ...(spec.scope === 'run' ? [] : [say('of-row', { name: id, keys: keys.join(', ') })])].join(' '),
    defaultsText(measure, name),
    ...runTable(analysis, measure),
  ];
}

/** The limits that hold when nobody says others, with their source. */
export function defaultsText({ spec, kind, id, key }: NamedMeasure, name: string): string {
  const own = key.length > 0 && Object.hasOwn(ROW_LIMITS, name) ? ROW_LIMITS[name] : undefined;
  const { sdr, hdr, source } = own ?? spec;
  // A colour temperature is near that of its target's white, whatever that is.
  const centre = kind === 'greyscale' && id === 'cct' ? 0 : (spec.centre ?? 0);
  const written = (limits: Limits | undefined): string =>
    limits ? limitLine(spec, { verdict: 'no-number', aim: 'no-number', centre, limits: { ...bounds(limits), from: 'default' } }) : '';
  const [s, h] = [written(sdr), written(hdr)];
  const from = shown(source ?? '');
  if (s === '' && h === '') return say('no-default');
  if (s === h) return say('defaults-same', { limits: shown(s), source: from });
  return [s && say('defaults-sdr', { limits: shown(s), source: from }), h && say('defaults-hdr', { limits: shown(h), source: from })]
    .filter((part) => part !== '')
    .join(' ');
}

const bounds = ({ aim, limit }: Limits) => ({
  ...(aim === undefined ? {} : { aim: { high: aim } }),
  ...(limit === undefined ? {} : { limit: { high: limit } }),
});

function runTable(analysis: Analysis, { kind, id, key, spec }: NamedMeasure): string[] {
  if (spec.scope === 'row' && key.length === 0) return [];
  const rows = analysis.results
    .filter(({ run }) => run.kind === kind)
    .slice(0, MOST_RUNS)
    .map((result) => {
      const { value, judgement } = figureOf(analysis, result, id, key);
      return [
        shown(result.run.id),
        value.ok ? shown(valueText(value, spec)) : NONE,
        shown(judgementText(judgement)),
        shown(limitLine(spec, judgement)),
      ];
    });
  return rows.length === 0 ? [] : [table([say('run'), capital(say('value')), say('verdict'), say('limits')].map(capital), rows)];
}
