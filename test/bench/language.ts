import { NO_CONFIG } from '../../src/config/config';
import { completions } from '../../src/language/complete';
import { foldings } from '../../src/language/folding';
import { nextOpen, rowLayoutAbove } from '../../src/language/gestures';
import { hints } from '../../src/language/hints';
import { hoverAt } from '../../src/language/hover';
import { definitionAt, referencesAt, renameRange } from '../../src/language/ids';
import { semanticMarks, struckSpans } from '../../src/language/marks';
import { outline } from '../../src/language/outline';
import { selectionAt } from '../../src/language/selection';
import { standing } from '../../src/language/standing';
import { type Analysis, analyse } from '../../src/project/analysis';
import { summarise } from '../../src/report/summary';
import { SessionText } from '../../src/session/sessionText';
import { session, stream } from './data';
import { recordedEdits } from './edits';
import { type Cells, heldTo } from './report';
import { median, milliseconds, nextTask, percentile } from './timing';

/** What an editor asks for at a place, or of the whole text. Each answer is counted, so that none is left out as unused. */
const QUESTIONS: Readonly<Record<string, (analysis: Analysis, offset: number, line: number) => number>> = {
  'hover, anywhere': (analysis, offset) => hoverAt(analysis, offset)?.parts.length ?? 0,
  'hints, 60 lines': (analysis, _, line) => hints(analysis, line, line + 60).length,
  'completion, anywhere': (analysis, offset) => completions(analysis, offset).length,
  outline: (analysis) => outline(analysis).length,
  folding: ({ source }) => foldings(source).length,
  definition: ({ source }, offset) => (definitionAt(source, offset) ? 1 : 0),
  references: ({ source }, offset) => referencesAt(source, offset).length,
  'place of a rename': ({ source }, offset) => ('span' in renameRange(source, offset) ? 1 : 0),
  'selection ranges': ({ source }, offset) => selectionAt(source, offset).length,
  'semantic colours': ({ source }) => semanticMarks(source).length,
  'struck-out rows': ({ source }) => struckSpans(source).length,
  'layout of a line left': ({ source }, offset) => rowLayoutAbove(source, offset).length,
  'next reading to take': ({ source }, offset) => (nextOpen(source, offset) ? 1 : 0),
  'status bar': (analysis) => standing(analysis).toTake,
  'summary as data': (analysis) => summarise(analysis).runs.length,
};

/** Every question asked right after a keystroke, as an editor does: nothing has been asked of that version yet. */
export async function languageTable(rows: number): Promise<Cells> {
  const text = session(rows);
  const lines: string[][] = [];
  for (const [name, ask] of Object.entries(QUESTIONS)) {
    const random = stream(5);
    let source = SessionText.read(text);
    analyse(source, NO_CONFIG);
    const times: number[] = [];
    let answers = 0;
    for (const edit of recordedEdits(text).slice(0, 80)) {
      await nextTask();
      source = source.change([edit]);
      const analysis = analyse(source, NO_CONFIG);
      const offset = Math.floor(random() * source.text.length);
      const line = source.lineAt(offset);
      const start = performance.now();
      answers += ask(analysis, offset, line);
      times.push(performance.now() - start);
    }
    if (!Number.isFinite(answers)) throw new Error(`${name} answered ${answers}`);
    const p95 = percentile(times, 0.95);
    lines.push([name, milliseconds(median(times)), milliseconds(p95), heldTo(p95, name.startsWith('hints') ? 5 : 20, 'ms', 'p95 ')]);
  }
  return [['', 'median', 'p95', 'target'], ...lines];
}
