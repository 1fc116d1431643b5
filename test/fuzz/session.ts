import assert from 'node:assert/strict';
import { isDeepStrictEqual } from 'node:util';
import { NO_CONFIG } from '../../src/config/config';
import { completions } from '../../src/language/complete';
import { folderUse } from '../../src/language/folderUse';
import { foldings } from '../../src/language/folding';
import {
  addLevels,
  addRepeats,
  duplicateRun,
  insertTime,
  nextOpen,
  openPlaces,
  rowLayoutAbove,
  strikeAndTakeAgain,
  toggleStrike,
} from '../../src/language/gestures';
import { hints } from '../../src/language/hints';
import { hoverAt } from '../../src/language/hover';
import { definitionAt, referencesAt, rename } from '../../src/language/ids';
import { semanticMarks, struckSpans } from '../../src/language/marks';
import { continueSession, runsToRepeat } from '../../src/language/newSession';
import { type OutlineEntry, outline } from '../../src/language/outline';
import { previewPaste } from '../../src/language/paste';
import { selectionAt } from '../../src/language/selection';
import { standing } from '../../src/language/standing';
import { type Analysis, analyse, intervals } from '../../src/project/analysis';
import { CSV_COLUMNS, summaryCsv } from '../../src/report/csv';
import { summaryJson } from '../../src/report/json';
import { summaryMarkdown } from '../../src/report/markdown';
import { lensText, summaryText } from '../../src/report/text';
import { formatEdits } from '../../src/session/layout';
import { blockLabels } from '../../src/session/nodes';
import { type Intent, plan } from '../../src/session/plan';
import { sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { splitLines } from '../../src/session/splitLines';
import { isBlank } from '../../src/text/blanks';
import { sentence } from '../../src/text/finding';
import type { Message } from '../../src/text/message';
import { applyEdits, type Span, type TextEdit } from '../../src/text/span';
import { SECOND_PHASE } from './clock';
import { checkHoverMarkdown, checkScreen, checkSummaryMarkdown, isFormula, isRange, readCsv } from './forms';
import type { Typed } from './inputs';
import type { Step } from './targets';

export interface Asked {
  readonly text: string;
  /** Where the editor is asked: anywhere, outside of the text too. */
  readonly places: readonly number[];
  readonly name: string;
}

export function checkReading(text: string, step: Step): void {
  const source = step('read', () => SessionText.read(text));
  same('texts', joined(source), text);
  checkFindings(step('analyse', () => analyse(source, NO_CONFIG)));
  checkLayout(source, step);
}

export function checkReported({ text, name }: { readonly text: string; readonly name: string }, step: Step): void {
  checkReports(analyse(SessionText.read(text), NO_CONFIG), name, step);
}

/**
 * The second phase may take its time, in small pieces of work (see `clock.ts`). The reports behind it ask for the intervals of all rows,
 * which nobody waits for while typing: they are not measured.
 */
export function checkSettled({ text, name }: { readonly text: string; readonly name: string }, step: Step): void {
  const analysis = analyse(SessionText.read(text), NO_CONFIG);
  const phase = intervals(analysis);
  while (!step(SECOND_PHASE, () => phase.next()).done);
  checkReports(analysis, name, (_, report) => report());
}

const joined = (source: SessionText): string => source.lines.map((line) => line.text + line.eol).join('');

function checkSpan([start, end]: Span, text: string): void {
  assert.ok(0 <= start && start <= end && end <= text.length, `[${start}, ${end}] is outside of the text`);
}

function checkFindings({ source: { text }, findings }: Analysis): void {
  let last = 0;
  for (const finding of findings) {
    checkSpan(finding.span, text);
    assert.ok(finding.span[0] >= last, 'findings are in order');
    last = finding.span[0];
    assert.doesNotMatch(sentence(finding), /undefined|NaN|\[object/);
    for (const mend of finding.mends) applyEdits(text, mend.edits);
  }
}

const withoutBlanks = (text: string): string => [...text].filter((c) => !isBlank(c.charCodeAt(0))).join('');

function checkLayout(source: SessionText, step: Step): void {
  const laid = applyEdits(
    source.text,
    step('lay out', () => formatEdits(source)),
  );
  same('texts without blanks', withoutBlanks(laid), withoutBlanks(source.text));
  const ends = (text: string) => splitLines(text).map(({ eol }) => eol);
  same('line ends', ends(laid), ends(source.text));
  assert.equal(formatEdits(SessionText.read(laid)).length, 0);
}

export function checkReports(analysis: Analysis, name: string, step: Step): void {
  const json = step('summary as JSON', () => summaryJson(analysis, name));
  assert.ok(isJson(json), 'the summary holds what JSON cannot');

  const csv = step('summary as CSV', () => summaryCsv(analysis, name));
  const [head, ...lines] = readCsv(csv);
  const ids = new Set(json.runs.map(({ id }) => id));
  assert.deepEqual(head, [...CSV_COLUMNS]);
  for (const line of lines) {
    assert.equal(line.length, CSV_COLUMNS.length);
    assert.equal(line[0], isFormula(name) ? `'${name}` : name);
    assert.ok(!line.some((cell) => isFormula(cell) && !isRange(cell)), `a formula in ${line}`);
    assert.ok(ids.has(line[1]!), `no run is called ${line[1]}`);
  }

  const text = step('summary as text', () => summaryText(analysis, name));
  checkScreen(text);
  for (const { id } of json.runs) checkScreen(lensText(analysis, id) ?? '');

  const markdown = step('summary as Markdown', () => summaryMarkdown(analysis, name));
  checkScreen(markdown);
  checkSummaryMarkdown(markdown, json.title === '' ? name : json.title, json.runs);
}

/** Whether a value comes back from JSON as it went in: there is no NaN in it, nor anything undefined. */
const isJson = (value: unknown): boolean =>
  typeof value === 'object' && value
    ? Object.values(value).every(isJson)
    : value === null || typeof value === 'string' || typeof value === 'boolean' || Number.isFinite(value);

/** All that an editor asks for. */
export function checkEditor({ text, places, name }: Asked, step: Step): void {
  const source = SessionText.read(text);
  const analysis = analyse(source, NO_CONFIG);
  for (const { from, to } of step('folding', () => foldings(source))) assert.ok(0 <= from && from < to && to < source.lines.length);
  for (const span of step('struck out', () => struckSpans(source))) checkSpan(span, text);
  for (const { span } of step('semantic colours', () => semanticMarks(source))) checkSpan(span, text);
  for (const entry of step('outline', () => outline(analysis))) checkOutline(entry, text);
  for (const hint of step('hints', () => hints(analysis, 0, source.lines.length))) {
    checkSpan([hint.offset, hint.offset], text);
    checkScreen(hint.text);
  }
  for (const { span } of step('open places', () => openPlaces(source))) checkSpan(span, text);
  step('standing', () => standing(analysis));
  step('runs to repeat', () => runsToRepeat(source));
  const use = step('use in the folder', () => folderUse([analysis.session]));
  checkAnswer(
    step('continued session', () => continueSession(source, { date: '2026-03-14', path: name, firmware: name })),
    ({ text: made }) => SessionText.read(made),
  );

  for (const place of places) {
    const hover = step('hover', () => hoverAt(analysis, place));
    if (hover) {
      checkSpan(hover.span, text);
      checkHoverMarkdown(hover.parts.join('\n\n'));
    }
    for (const { replace, documentation } of step('completion', () => completions(analysis, place, use))) {
      checkSpan(replace, text);
      checkHoverMarkdown(documentation);
    }
    let inner: Span | undefined;
    for (const span of step('selection', () => selectionAt(source, place))) {
      checkSpan(span, text);
      assert.ok(!inner || (span[0] <= inner[0] && span[1] >= inner[1] && (span[0] < inner[0] || span[1] > inner[1])), 'selections grow');
      inner = span;
    }
    const definition = step('definition', () => definitionAt(source, place));
    if (definition) for (const span of [definition.span, definition.head, definition.from]) checkSpan(span, text);
    for (const span of step('references', () => referencesAt(source, place))) checkSpan(span, text);
    const open = step('next open place', () => nextOpen(source, place));
    if (open) checkSpan(open.span, text);
    checkGestures(source, place, name, step);
  }
}

function checkOutline({ span, selection, children, name }: OutlineEntry, text: string): void {
  checkSpan(span, text);
  assert.ok(name !== '' && span[0] <= selection[0] && selection[1] <= span[1]);
  checkScreen(name);
  for (const child of children) {
    assert.ok(span[0] <= child.span[0] && child.span[1] <= span[1]);
    checkOutline(child, text);
  }
}

function checkAnswer<T extends object>(answer: T | Message, check: (answer: T) => unknown): void {
  if (!('code' in answer && 'args' in answer)) check(answer as T);
}

/** Whatever a gesture does can be applied, to a text that can be read again. */
function checkGestures(source: SessionText, place: number, name: string, step: Step): void {
  const applied = (edits: readonly TextEdit[]) => source.change(edits);
  const selection: Span = [place, place + (name.length % 200)];
  const edits: Readonly<Record<string, () => readonly TextEdit[] | Message>> = {
    'layout of a line left': () => rowLayoutAbove(source, place),
    'strike out': () => toggleStrike(source, selection),
    'take again': () => strikeAndTakeAgain(source, selection),
    'add a repeat': () => addRepeats(source, selection),
    'add levels': () => addLevels(source, place, '0..100 step 10'),
    'add hostile levels': () => addLevels(source, place, name),
    'insert time': () => insertTime(source, place, '2026-03-14 15:30'),
    rename: () => rename(source, place, 'renamed'),
    'rename to a hostile name': () => rename(source, place, name),
  };
  for (const [what, make] of Object.entries(edits)) checkAnswer(step(what, make), applied);
  const mode = sessionOf(source).first('mode')?.name ?? name;
  checkAnswer(
    step('duplicate a run', () => duplicateRun(source, place, mode)),
    ({ edits: made }) => applied(made),
  );
  const rows = `level\tY\tx\ty\n30\t${name}\t0,3127\t0.3290\n${name}`;
  checkAnswer(
    step('paste', () => previewPaste(source, place, rows, { decimalComma: true })),
    ({ edits: made }) => applied(made),
  );
  const at = source.lineAt(Math.max(0, place));
  const index = source.blockAt(at);
  const block = blockLabels(source)[index]!;
  const line = at - source.blockStarts[index]!;
  const intents: readonly Intent[] = [
    { do: 'setCell', block, line, column: 'Y', text: name },
    { do: 'setCell', block, line, column: 'Y', text: '6.70' },
    { do: 'strike', block, line, on: true },
    { do: 'strikeAndTakeAgain', block, line },
    { do: 'addRepeat', block, line },
    { do: 'addRow', block, cells: { level: '50', Y: name } },
    { do: 'setProperty', block, name: 'target', value: name },
    { do: 'setProperty', block, name, value: '1' },
    { do: 'removeProperty', block, name: 'target' },
  ];
  for (const intent of intents)
    checkAnswer(
      step(intent.do, () => plan(source, intent)),
      applied,
    );
}

/** Without the comparison that a failed assertion prints, which takes minutes for a long session. */
function same(what: string, a: unknown, b: unknown): void {
  if (!isDeepStrictEqual(a, b)) throw new Error(`${what} differ: ${firstDifference(a, b)}`);
}

function firstDifference(a: unknown, b: unknown, path = ''): string {
  if (typeof a === 'object' && typeof b === 'object' && a && b) {
    for (const key of Object.keys({ ...a, ...b })) {
      const [x, y] = [Reflect.get(a, key), Reflect.get(b, key)];
      if (!isDeepStrictEqual(x, y)) return firstDifference(x, y, `${path}/${key}`);
    }
  }
  return `${path}: ${JSON.stringify(a)} and ${JSON.stringify(b)}`;
}

/** The version that took over from the ones before says what reading it anew would. */
export function checkChanges({ text, typed }: { readonly text: string; readonly typed: readonly Typed[] }, step: Step): void {
  let at = SessionText.read(text);
  step('analyse', () => analyse(at, NO_CONFIG));
  let changed: Analysis | undefined;
  for (const { at: place, removed, put } of typed) {
    const start = place % (at.text.length + 1);
    const edits = [{ span: [start, Math.min(at.text.length, start + removed)] as const, text: put }];
    const before = at;
    at = step('change', () => before.change(edits));
    changed = step('analyse a change', () => analyse(at, NO_CONFIG));
    // What an editor asks for meanwhile may be remembered.
    const current = changed;
    step('hints after a change', () => hints(current, 0, 60));
  }
  const fresh = SessionText.read(at.text);
  const anew = analyse(fresh, NO_CONFIG);
  same('lines', at.lines, fresh.lines);
  same('starts of blocks', at.blockStarts, fresh.blockStarts);
  same('findings', changed!.findings, anew.findings);
  same('summaries', summaryJson(changed!, 'a'), summaryJson(anew, 'a'));
  same('outlines', outline(changed!), outline(anew));
}
