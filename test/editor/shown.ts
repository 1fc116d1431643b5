import { NO_CONFIG } from '../../src/config/config';
import { figureFor, figureMistakeText, figuresOf } from '../../src/figure/figures';
import { refusalText } from '../../src/language/answers';
import { completions } from '../../src/language/complete';
import { folderUse } from '../../src/language/folderUse';
import { addLevels, duplicateRun, insertTime, strikeAndTakeAgain, toggleStrike } from '../../src/language/gestures';
import { hints } from '../../src/language/hints';
import { hoverAt } from '../../src/language/hover';
import { rename, renameRange } from '../../src/language/ids';
import { repeatReasonText, runsToRepeat } from '../../src/language/newSession';
import { type OutlineEntry, outline } from '../../src/language/outline';
import { pasteReasonText, previewPaste } from '../../src/language/paste';
import { plansOf } from '../../src/language/plans';
import { pairsOf } from '../../src/measure/comparison';
import { viewOf } from '../../src/preview/view';
import { pageWords as previewWords } from '../../src/preview/words';
import { type Analysis, analyse, settled } from '../../src/project/analysis';
import { summaryMarkdown } from '../../src/report/markdown';
import { lensTextOf } from '../../src/report/text';
import { SessionText } from '../../src/session/sessionText';
import { noticedIn, resultsOf, standingsOf } from '../../src/sheet/results';
import { pageWords as sheetWords } from '../../src/sheet/words';
import { mendTitle, sentence } from '../../src/text/finding';
import type { Message, Say } from '../../src/text/message';

/** Something that a reader of the editor sees. */
export interface Shown {
  readonly where: string;
  readonly text: string;
}

/** All that the core has an editor show of a session: each provider, asked at each word of the text. */
export function* shownOf(text: string, say: Say): Generator<Shown> {
  const analysis = settled(analyse(SessionText.read(text), NO_CONFIG));
  const { source, findings, results } = analysis;
  for (const finding of findings) {
    yield { where: finding.code, text: sentence(finding, say) };
    for (const { args } of finding.mends) yield { where: `mend of ${finding.code}`, text: mendTitle(finding.code, args, say) };
  }
  for (const result of results) yield { where: `lens of ${result.run.id}`, text: lensTextOf(analysis, result, say) };
  for (const hint of hints(analysis, 0, source.lines.length, say)) {
    yield { where: 'hint', text: hint.text };
    yield { where: 'tooltip of a hint', text: hint.tooltip };
  }
  yield* outlined(outline(analysis, say));
  yield { where: 'summary', text: summaryMarkdown(analysis, 'q.nitbook', say) };
  for (const { why } of runsToRepeat(source)) yield { where: 'reason of a repeat', text: repeatReasonText(why, say) };
  yield* drawn(analysis, say);
  yield* onPages(analysis, say);
  yield* atPlaces(analysis, say);
  yield* refused(analysis, say);
  yield* pasted(source, say);
}

/** The figures of each run, and what changed from one to another. */
function* drawn(analysis: Analysis, say: Say): Generator<Shown> {
  const ids = analysis.results.map(({ run }) => run.id);
  const pairs = pairsOf(analysis.results).map(([before, after]) => [before.run.id, after.run.id]);
  for (const runs of [...ids.map((id) => [id]), ...pairs]) {
    for (const measure of figuresOf(analysis, runs)) {
      const reading = figureFor(analysis, { ids: runs, measure, keys: [] }, say);
      const where = `figure ${measure} of ${runs.join('+')}`;
      for (const text of reading.ok ? textsIn(reading.figure) : [figureMistakeText(reading.mistake, say)]) yield { where, text };
    }
  }
}

/** What the pages of the preview and of the sheet show of each run, beside drawn figures. */
function* onPages(analysis: Analysis, say: Say): Generator<Shown> {
  const translated = (template: string) => say(template);
  for (const [code, text] of Object.entries({ ...previewWords(translated), ...sheetWords(translated) })) {
    yield { where: `word ${code}`, text: text.replace(/\{\w+\}/g, '') };
  }
  for (const { run } of analysis.results) {
    const { run: shown, measures } = viewOf(analysis, { run: run.id, beside: [], zoom: 100 }, 0, 'q.nitbook', say);
    for (const text of [shown!.against, ...shown!.about, ...shown!.says]) yield { where: `preview of ${run.id}`, text };
    for (const { cells } of [{ cells: measures.head }, ...measures.rows]) yield { where: `preview of ${run.id}`, text: cells.join('\n') };
  }
  for (let at = 0; at < analysis.source.lines.length; at += 40) {
    const view = { at, from: at, to: at + 40 };
    for (const told of [resultsOf(analysis, view, say), noticedIn(analysis, view, say), standingsOf(analysis, say)]) {
      for (const text of textsIn(told)) yield { where: `sheet at line ${at + 1}`, text };
    }
  }
}

/** What tells a program how a figure or a row is drawn, and what leads to its rows. */
const NO_WORDS =
  /^(?:id|runs|mark|node|row|is|ink|dash|shape|scale|flow|equal|role|along|labelled|bound|verdict|severity|code|hex|adjusted)$/;

function* textsIn(figure: unknown): Generator<string> {
  if (typeof figure === 'string') yield figure;
  else if (typeof figure === 'object' && figure !== null) {
    for (const [key, value] of Object.entries(figure)) if (!NO_WORDS.test(key)) yield* textsIn(value);
  }
}

function* outlined(entries: readonly OutlineEntry[]): Generator<Shown> {
  for (const { name, detail, children } of entries) {
    yield { where: 'outline', text: `${name} ${detail}` };
    yield* outlined(children);
  }
}

/** The starts of the words of a text, and the ends of its lines: of lines alike (numbers aside) within a block one is enough. */
function* places({ source }: Analysis): Generator<number> {
  const seen = new Set<string>();
  for (let line = 0; line < source.lines.length; line++) {
    const { text, kind } = source.lines[line]!;
    const like = `${source.blocks[source.blockAt(line)]!.keyword} ${kind} ${kind === 'row' ? text.replace(/[\d.]+/g, '0') : text}`;
    if (seen.has(like)) continue;
    seen.add(like);
    const start = source.lineStart(line);
    for (const { index } of text.matchAll(/[^\s:]+/g)) yield start + index;
    yield start + text.length;
  }
}

function* atPlaces(analysis: Analysis, say: Say): Generator<Shown> {
  const use = folderUse([analysis.session]);
  for (const offset of places(analysis)) {
    const where = (what: string) =>
      `${what} at ${analysis.source.lineAt(offset) + 1}:${offset - analysis.source.lineStart(analysis.source.lineAt(offset)) + 1}`;
    for (const part of hoverAt(analysis, offset, say)?.parts ?? []) yield { where: where('hover'), text: part };
    for (const { label, detail, documentation, insert, kind } of completions(analysis, offset, use, say)) {
      yield { where: where(`completion ${label}`), text: [label, detail, documentation, kind === 'block' ? insert : ''].join('\n') };
    }
  }
}

/** What gestures refuse, asked with what cannot be. */
function* refused(analysis: Analysis, say: Say): Generator<Shown> {
  const { source } = analysis;
  for (const offset of places(analysis)) {
    const answers: readonly (object | Message)[] = [
      renameRange(source, offset),
      rename(source, offset, 'q q'),
      rename(source, offset, analysis.session.live[0]?.name ?? 'q'),
      toggleStrike(source, [offset, offset]),
      strikeAndTakeAgain(source, [offset, offset]),
      addLevels(source, offset, 'q'),
      addLevels(source, offset, '21 steps'),
      duplicateRun(source, offset, 'q'),
      duplicateRun(source, offset, analysis.session.all('mode')[0]?.name ?? 'q', 'q q'),
      insertTime(source, offset, '2026-03-14 15:30'),
      insertTime(source, offset, 'q'),
    ];
    for (const answer of answers) {
      if ('code' in answer && 'args' in answer) yield { where: `refusal ${answer.code}`, text: refusalText(answer, say) };
    }
  }
}

const PASTED = ['level\tY\tqq\n40\t6,7\t1', '40\t6.7', 'a\tb\n\n', '40\t12\t0.3\t0.3\t5\t6', 'level;Y[fL];Y;x\n40;1.234.5;2;q', ''];

/** Why pasted columns, rows and cells are left out. */
function* pasted(source: SessionText, say: Say): Generator<Shown> {
  for (const start of source.blockStarts) {
    for (const text of PASTED) {
      for (const decimalComma of [undefined, true, false]) {
        const preview = previewPaste(source, source.lineStart(start), text, decimalComma === undefined ? {} : { decimalComma });
        if ('code' in preview) {
          yield { where: `refusal ${preview.code}`, text: refusalText(preview, say) };
          continue;
        }
        for (const { why } of [...preview.columns, ...preview.rows, ...preview.left]) {
          if (why) yield { where: `paste ${why.code}`, text: pasteReasonText(why, say) };
        }
      }
    }
  }
}

/** What is shown before there is a session. */
export function* shownOfPlans(say: Say): Generator<Shown> {
  for (const { title, about, blocks, runs } of plansOf(NO_CONFIG, say).values()) {
    yield { where: 'plan', text: `${title}\n${about}` };
    for (const { title: named = '', properties } of [...blocks, ...runs]) {
      yield { where: 'plan', text: `${named}\n${properties.note ?? ''}` };
    }
  }
}
