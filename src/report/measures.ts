import { methodOf, NO_METHOD } from '../measure/methods';
import { type Limits, MEASURES, type MeasuredKind, type MeasureSpec, ROW_LIMITS } from '../measure/specs';
import { blockSpec } from '../session/vocabulary';
import { plainNumber } from '../text/message';
import { escaped } from './markdown';

/** The table of measures, for readers and programs. */

/** This shape is stable: keys are only ever added. Limits of measures that are `nearer` are distances from `centre`. */
export interface JsonMeasure {
  /** As limits name it: `greyscale.de.max`, `window.peak@10`. */
  readonly id: string;
  readonly kind: string;
  readonly title: string;
  readonly unit: string;
  readonly direction: string;
  /** What `nearer` is nearer to; null where that hangs on the target. */
  readonly centre: number | null;
  readonly scope: 'run' | 'row' | 'both';
  /** The columns whose cells make the key behind the @; empty for a figure of the run. */
  readonly keys: readonly string[];
  readonly sdr: { readonly aim: number | null; readonly limit: number | null };
  readonly hdr: { readonly aim: number | null; readonly limit: number | null };
  readonly source: string | null;
  readonly about: string;
  /** How the interval is told, by its name in the manual; null where `noInterval` says why there is none. */
  readonly interval: string | null;
  readonly noInterval: string | null;
}

export const measuresJson = (kinds: readonly string[]): readonly JsonMeasure[] =>
  kinds.flatMap((kind) =>
    Object.entries<MeasureSpec>(MEASURES[kind as MeasuredKind]).flatMap(([id, spec]) => [
      jsonMeasure(kind, id, spec),
      ...Object.entries(ROW_LIMITS)
        .filter(([name]) => name.startsWith(`${kind}.${id}@`))
        .map(([name, { sdr, hdr, source }]) => ({
          ...jsonMeasure(kind, name.slice(kind.length + 1), spec),
          ...intervalOf(kind, id, 'row'),
          scope: 'row' as const,
          sdr: limitsOf(sdr),
          hdr: limitsOf(hdr),
          source: source ?? null,
        })),
    ]),
  );

const jsonMeasure = (kind: string, id: string, spec: MeasureSpec): JsonMeasure => ({
  id: `${kind}.${id}`,
  kind,
  title: spec.title,
  unit: spec.unit,
  direction: spec.direction,
  centre: spec.direction !== 'nearer' || id === 'cct' ? null : (spec.centre ?? 0),
  scope: spec.scope,
  keys: spec.scope === 'run' || id.includes('@') ? [] : spec.by === undefined ? (blockSpec(kind)?.table?.keys ?? []) : [spec.by],
  sdr: limitsOf(spec.sdr),
  hdr: limitsOf(spec.hdr),
  source: spec.source ?? null,
  about: spec.about,
  ...intervalOf(kind, id, spec.scope === 'row' ? 'row' : 'run'),
});

function intervalOf(kind: string, id: string, scope: 'run' | 'row'): Pick<JsonMeasure, 'interval' | 'noInterval'> {
  const method = methodOf(kind, id, scope);
  return method.by === 'none' ? { interval: null, noInterval: NO_METHOD[method.why] } : { interval: method.by, noInterval: null };
}

const limitsOf = (limits: Limits | undefined) => ({ aim: limits?.aim ?? null, limit: limits?.limit ?? null });

/** `de@hue,sat`, `peak[@window]`. */
function form({ id, kind, scope, keys }: JsonMeasure): string {
  const name = id.slice(kind.length + 1);
  if (keys.length === 0) return name;
  return scope === 'both' ? `${name}[@${keys.join(',')}]` : `${name}@${keys.join(',')}`;
}

/** `limit 3, aim 1`; the two kinds of signal apart where they differ. */
function limitsText(measure: JsonMeasure): string {
  const text = ({ aim, limit }: JsonMeasure['sdr']): string => {
    const written = (v: number): string => `${measure.direction === 'nearer' ? '±' : ''}${plainNumber(v)}`;
    return [limit !== null && `limit ${written(limit)}`, aim !== null && `aim ${written(aim)}`].filter((part) => part).join(', ');
  };
  const [sdr, hdr] = [text(measure.sdr), text(measure.hdr)];
  if (sdr === hdr) return sdr;
  return [sdr && `SDR: ${sdr}`, hdr && `HDR: ${hdr}`].filter((part) => part).join('; ');
}

/** What each line of the text and of the document says, in the order of its columns. */
const COLUMNS: readonly (readonly [title: string, cell: (measure: JsonMeasure) => string])[] = [
  ['Measure', form],
  ['Title', ({ title }) => title],
  ['Unit', ({ unit }) => unit],
  ['Better', ({ direction, centre }) => (direction === 'report' ? '' : centre ? `nearer ${centre}` : direction)],
  ['Limits', limitsText],
  ['What it is', ({ about }) => about],
];

export function measuresText(kinds: readonly string[]): string {
  const shown = kinds.map((kind) => ({ kind, rows: measuresJson([kind]).map((measure) => COLUMNS.map(([, cell]) => cell(measure))) }));
  const widths = COLUMNS.map((_, i) => Math.max(...shown.flatMap(({ rows }) => rows.map((row) => row[i]!.length))));
  const line = (row: readonly string[]): string => `  ${row.map((cell, i) => cell.padEnd(widths[i]!)).join('  ')}`.trimEnd();
  return `${shown.map(({ kind, rows }) => [kind, ...rows.map(line)].join('\n')).join('\n\n')}\n`;
}

export function measuresMarkdown(kinds: readonly string[]): string {
  const columns = [...COLUMNS, ['Source of the limits', ({ source }: JsonMeasure) => source ?? ''] as const];
  const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return kinds
    .map((kind) => {
      const rows = measuresJson([kind]).map((measure) =>
        row(columns.map(([, cell], i) => (i === 0 ? `\`${cell(measure)}\`` : escaped(cell(measure))))),
      );
      return [`## ${kind}`, '', row(columns.map(([title]) => title)), row(columns.map(() => '---')), ...rows, ''].join('\n');
    })
    .join('\n');
}
