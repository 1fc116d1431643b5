import { xyzToXy } from '../colour/chromaticity';
import type { Vec3 } from '../colour/vector';
import { WHITES } from '../colour/whites';
import type { Config } from '../config/config';
import { figureFor, figuresOf } from '../figure/figures';
import { svgOf } from '../figure/svg';
import { type Judgement, judgeValue } from '../judge/limits';
import { errorParts } from '../language/direction';
import { luminanceText, partsText, wayText } from '../language/hints';
import { findingsIn, resultOf, rowAt } from '../language/lookup';
import { colouredOf, rowFigure } from '../language/rowFigures';
import { standing } from '../language/standing';
import { USUAL_CURVES, USUAL_VALUES } from '../language/usual';
import { withRowInterval } from '../measure/intervals';
import { Seen } from '../measure/readings';
import { RunResult } from '../measure/result';
import { type MeasureSpec, measureSpec } from '../measure/specs';
import { isHdr } from '../measure/target';
import type { Analysis } from '../project/analysis';
import { figureText, judgementText, limitLine, measuredText, verdictText, whyText } from '../report/format';
import { figureTitle, headline } from '../report/summary';
import type { Block } from '../session/block';
import { type Run, sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import type { ValueType } from '../session/valueTypes';
import { RATINGS } from '../session/vocabulary';
import { mendTitle, sentence } from '../text/finding';
import type { Say } from '../text/message';
import { adjustedMode } from './ops';
import { Patches } from './patches';
import type { FieldView, FigureView, FindingView, FromHost, HeadlineView, Noticed, Results, RowResult } from './protocol';
import { worded } from './words';

type Told<T extends FromHost> = Omit<T, 'kind' | 'epoch' | 'version'>;
export type Looked = Told<Results>;

/** What a page looks at: a line, and the lines in view, `to` exclusive. */
export interface View {
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

/** More lines than this are not looked at in one go, whatever a page asks for. */
const MOST_LINES = 400;

/** What is computed of the rows in view, and of the run that they are in. */
export function resultsOf(analysis: Analysis, view: View, say: Say): Looked {
  const looked = inView(analysis.source, view);
  const result = resultOf(analysis, looked.block);
  return { ...shown(analysis, looked, result, say), quick: false, headline: result ? headlineOf(analysis, result, say) : [] };
}

/**
 * The same of the rows alone, from the session and not from all that is known of it: what one reading gives can be seen before the whole
 * session has been judged anew. Undefined where the line is in no run.
 */
export function quickResultsOf(source: SessionText, config: Config, view: View, say: Say): Looked | undefined {
  const looked = inView(source, view);
  const session = sessionOf(source);
  const run = session.runs.find(({ block }) => block === looked.block);
  if (!run) return undefined;
  const told = shown({ session, config }, looked, new RunResult(session, run), say);
  const rows = told.rows.map((row) => ({ ...row, figures: row.figures.map((figure) => figure && { ...figure, ...UNJUDGED }) }));
  return { ...told, rows, quick: true, headline: [] };
}

const UNJUDGED = { verdict: 'no-number', word: '', judged: '' } as const;

interface InView {
  readonly block: Block;
  readonly head: number;
  readonly from: number;
  readonly to: number;
}

function inView(source: SessionText, { at, from, to }: View): InView {
  const index = source.blockAt(Math.min(at, source.lines.length - 1));
  const block = source.blocks[index]!;
  const head = source.blockStarts[index]!;
  const end = head + block.lines.length;
  const first = Math.min(Math.max(from, head), end);
  return { block, head, from: first, to: Math.min(Math.max(to, first), end, first + MOST_LINES) };
}

/** What figures are judged with. */
type Judged = Pick<Analysis, 'session' | 'config'>;

function shown(judged: Judged, { head, from, to }: InView, result: RunResult | undefined, say: Say): Pick<Looked, 'head' | 'rows' | 'run'> {
  const lines = Array.from({ length: to - from }, (_, i) => from + i);
  return { head, rows: result ? rowResults(judged, result, head, lines, say) : [], ...(result ? { run: runView(result, say) } : {}) };
}

/** What was noticed in the lines in view, and what the block that they are in can have. */
export function noticedIn(analysis: Analysis, view: View, say: Say): Told<Noticed> {
  const { block, head, from, to } = inView(analysis.source, view);
  // What stands above the rows is always seen.
  const above = block.columnsLine === undefined ? 0 : Math.min(block.columnsLine + 1, MOST_LINES);
  const lines = [...Array.from({ length: above }, (_, i) => head + i), ...Array.from({ length: to - from }, (_, i) => from + i)];
  return {
    head,
    findings: [...new Set(lines)].flatMap((line) => findingsAt(analysis, line, say)),
    fields: fieldsOf(analysis, block, say),
    ...(block.isRun ? copies(analysis, block) : {}),
  };
}

function copies({ source, session }: Analysis, block: Block): Pick<Noticed, 'modes' | 'adjusted'> {
  const modes = session.all('mode').map(({ name, header }) => ({ id: name, title: header?.title?.text ?? '' }));
  const adjusted = adjustedMode(source, block);
  return { modes, ...(adjusted ? { adjusted: adjusted.id } : {}) };
}

function findingsAt(analysis: Analysis, line: number, say: Say): FindingView[] {
  const start = analysis.source.lineStart(line);
  return findingsIn(analysis, line).map((finding) => ({
    line,
    start: finding.span[0] - start,
    end: finding.span[1] - start,
    severity: finding.severity,
    code: finding.code,
    text: sentence(finding, say),
    mends: finding.mends.map(({ args }) => mendTitle(finding.code, args, say)),
  }));
}

/** The figures of a row that a hand at the bench looks at, by kind of run: one or two. */
function headIds({ run, context }: RunResult): readonly string[] {
  const hdr = isHdr(context?.judged?.target.curve);
  switch (run.kind) {
    case 'greyscale':
      return hdr ? ['de.itp', 'curve.stops'] : ['de', 'curve'];
    case 'saturation':
    case 'patches':
      return [hdr ? 'de.itp' : 'de'];
    case 'gamut':
      return ['delta.uv'];
    case 'tracking':
      return ['stops', 'de.itp'];
    case 'uniformity':
      return ['share', 'duv'];
    case 'endurance':
      return ['after'];
    case 'angles':
      return ['kept', 'shift'];
    case 'correction':
      return ['check'];
    default:
      return [];
  }
}

function rowResults(judged: Judged, result: RunResult, head: number, lines: readonly number[], say: Say): RowResult[] {
  const { run } = result;
  const patches = new Patches(judged.session, run);
  const ids = headIds(result);
  return lines.flatMap((line) => {
    const row = rowAt(run.block, line - head);
    if (row === undefined) return [];
    const on = run.table.rows[row]!;
    const patch = on.struck ? -1 : (result.context?.patches.ofRow[row] ?? -1);
    const isFirst = patch >= 0 && result.context!.patches.first[patch] === row;
    return [
      {
        line,
        figures: ids.map((id) => (isFirst ? figureView(judged, result, id, patch, say) : null)),
        ...shownPatch(judged, result, patches, row, patch, say),
        ...(isFirst ? offView(result, patch, say) : {}),
        ...roleView(result, row, patch, say),
      },
    ];
  });
}

/** The colour that should be on screen, how it is sent, and what should be read. */
function shownPatch(
  { session }: Judged,
  result: RunResult,
  patches: Patches,
  row: number,
  patch: number,
  say: Say,
): Pick<RowResult, 'field' | 'drive' | 'target'> {
  const { run } = result;
  const on = run.table.rows[row]!;
  const judged = targetXyz(result, patch);
  const planned = judged ? undefined : patches.of(on);
  const xyz = judged ?? planned?.xyz;
  const field = xyz && patches.field(xyz, judged && result.context?.judged?.scale.Lw);
  const codes = patches.codes(on);
  const format = { depth: session.number(run.signal, 'depth') ?? 0, range: session.text(run.signal, 'range') ?? '' };
  return {
    ...(field ? { field } : {}),
    ...(codes.length > 0 ? { drive: worded(say, 'as-sent', { codes: codes.join(' '), ...format }) } : {}),
    ...(xyz && isAimed(run) && patches.isJudged ? { target: targetView(run, xyz, planned?.isShare ?? false, say) } : {}),
  };
}

/** Whether the rows of a run are held against colours. */
const isAimed = ({ kind }: Run): boolean => AIMED.has(kind);
const AIMED: ReadonlySet<string> = new Set(['greyscale', 'saturation', 'patches', 'tracking', 'gamut', 'volume']);

function targetXyz(result: RunResult, patch: number): Vec3 | undefined {
  const c = colouredOf(result);
  if (!c || patch < 0) return undefined;
  const xyz: Vec3 = [c.targetX[patch]!, c.targetY[patch]!, c.targetZ[patch]!];
  return xyz.every(Number.isFinite) ? xyz : undefined;
}

function targetView({ kind }: Run, xyz: Vec3, isShare: boolean, say: Say): { readonly Y: string; readonly xy: string } {
  const xy = xyz[1] > 0 ? xyzToXy(xyz) : undefined;
  // The luminance of the primaries plays no part in a gamut.
  const Y = kind === 'gamut' ? '' : isShare ? worded(say, 'share-of-white', { share: luminanceText(xyz[1]) }) : luminanceText(xyz[1]);
  return { Y, xy: xy ? xy.map((v) => v.toFixed(4)).join(' ') : '' };
}

function figureView({ session, config }: Judged, result: RunResult, id: string, patch: number, say: Say): FigureView | null {
  const spec = measureSpec(result.run.kind, id);
  const read = spec && rowFigure(result, id, patch);
  if (!spec || !read) return null;
  const value = withRowInterval(result, id, patch, read);
  const own = judgeValue(session, config, result, id, result.keyOf(patch), value);
  // What the largest of the rows is held to, each row is held to.
  const largest = measureSpec(result.run.kind, `${id}.max`);
  const judgement = own.limits || !largest ? own : judgeValue(session, config, result, `${id}.max`, [], value);
  const figure = { value, spec: { ...spec, unit: '' }, judgement };
  const text = figureText(figure, say);
  // Behind the figure, as it is written: ± 0.3, or from and to.
  const interval = measuredText(figure, say).slice(text.length).trim();
  return {
    value: text,
    ...(interval === '' ? {} : { interval }),
    verdict: judgement.verdict,
    word: verdictText(judgement.verdict, say),
    judged: judgementText(judgement, say),
    ...limitOf(judgement, largest ?? spec, say),
  };
}

const limitOf = (judgement: Judgement, spec: MeasureSpec, say: Say): { readonly limit?: string } => {
  const limit = limitLine(spec, judgement, say);
  return limit === '' ? {} : { limit };
};

/** Which way a reading is off, in words. */
function offView(result: RunResult, patch: number, say: Say): Pick<RowResult, 'way' | 'off'> {
  const c = colouredOf(result);
  if (!c || c.patches.seen[patch] !== Seen.Measured) return {};
  const parts = errorParts(c, patch);
  const [way, off] = [wayText(parts, say), partsText(parts, say)];
  return { ...(way === '' ? {} : { way }), ...(off === '' ? {} : { off }) };
}

function roleView({ context, run }: RunResult, row: number, patch: number, say: Say): Pick<RowResult, 'role'> {
  if (!context || patch < 0) return {};
  const { patches } = context;
  if (patches.revisit[patch]) return { role: worded(say, 'revisit') };
  const times = patches.times[patch]!;
  if (patches.first[patch] !== row) return run.table.rows[row] ? { role: worded(say, 'repeat') } : {};
  return times > 1 ? { role: worded(say, 'mean-of', { count: times }) } : {};
}

function runView(result: RunResult, say: Say): NonNullable<Looked['run']> {
  const heads = headIds(result).map((id) => {
    const { title, unit, about } = measureSpec(result.run.kind, id)!;
    return { title: unit === '' ? say(title) : `${say(title)}, ${say(unit)}`, about: say(about) };
  });
  return { against: result.againstText(say), heads, ...(result.absent ? { why: whyText(result.absent.why, say) } : {}) };
}

const headlineOf = (analysis: Analysis, result: RunResult, say: Say): HeadlineView[] =>
  headline(analysis, result).map((figure) => {
    const { value, spec, judgement } = figure;
    return {
      title: figureTitle(figure, say),
      value: value.ok ? measuredText(figure, say) : whyText(value.why, say),
      verdict: value.ok ? judgement.verdict : 'no-number',
      judged: value.ok ? judgementText(judgement, say) : '',
      ...limitOf(judgement, spec, say),
    };
  });

/** The properties that a block can have in the format's own words, and what they are usually given. */
function fieldsOf({ session }: Analysis, block: Block, say: Say): FieldView[] {
  const { spec, keyword } = block;
  if (!spec) return [];
  const own = Object.entries(spec.properties).map(([name, { type, about, many }]): FieldView => {
    const usual = USUAL_VALUES[`${keyword}.${name}`] ?? (block.isRun ? USUAL_VALUES[`run.${name}`] : undefined) ?? [];
    return { name, about: say(about), choices: [...choicesOf(session, type), ...usual], many: many ?? false };
  });
  return spec.userNames ? [...own, { name: '', about: '', choices: [...choicesOf(session, spec.userNames)], many: false }] : own;
}

function choicesOf(session: Analysis['session'], type: ValueType): readonly string[] {
  switch (type.is) {
    case 'choice':
      return type.of;
    case 'id':
      return session.all(type.of).map(({ name }) => name);
    case 'curve':
      return USUAL_CURVES;
    case 'white':
      return Object.keys(WHITES);
    case 'rating':
      return RATINGS;
    default:
      return [];
  }
}

/** So many pictures stand beside a run: the one that its kind is looked at by first, and the next. */
const PICTURES = 2;

/** The pictures of the run that a line is in, of a width in px; none where there is nothing to draw. */
export function picturesOf(
  analysis: Analysis,
  at: number,
  width: number,
  say: Say,
): { readonly head: number; readonly svgs: readonly string[] } {
  const { source } = analysis;
  const index = source.blockAt(Math.min(at, source.lines.length - 1));
  const result = resultOf(analysis, source.blocks[index]!);
  const head = source.blockStarts[index]!;
  if (!result || width === 0) return { head, svgs: [] };
  const { id } = result.run;
  const svgs = figuresOf(analysis, [id])
    .slice(0, PICTURES)
    .flatMap((name) => {
      const reading = figureFor(analysis, { ids: [id], measure: name, keys: [] }, say);
      return reading.ok ? [svgOf(reading.figure, { width })] : [];
    });
  return { head, svgs };
}

/** How each block stands, in the order of the file. */
export function standingsOf(analysis: Analysis, say: Say): Told<Extract<FromHost, { kind: 'standings' }>> {
  const { source } = analysis;
  const { runs } = standing(analysis);
  const counts = new Map<number, number>();
  for (const { span, severity } of analysis.findings) {
    if (severity === 'info') continue;
    const index = source.blockAt(source.lineAt(span[0]));
    counts.set(index, (counts.get(index) ?? 0) + 1);
  }
  return {
    blocks: source.blocks.map((block, i) => {
      const verdict = runs.get(block)?.verdict ?? 'no-number';
      return { verdict, words: verdictText(verdict, say), findings: counts.get(i) ?? 0 };
    }),
    toTake: analysis.toTake,
  };
}
