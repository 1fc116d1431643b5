import { NO_CONFIG } from '../../src/config/config';
import { analyse, intervals, isSettled } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { session } from './data';
import { type Cells, heldTo } from './report';
import { median, milliseconds } from './timing';

const ROUNDS = 15;
const WARM_UP = 3;

/** The second phase, with everything that a meter can state. */
export function intervalsTable(rows: number): Cells {
  const text = accurate(session(rows, 21));
  const work: number[] = [];
  let shortest: number[] | undefined;
  for (let round = -WARM_UP; round < ROUNDS; round++) {
    const analysis = analyse(SessionText.read(text), NO_CONFIG);
    // Point values are there before.
    for (const id of Object.keys(analysis.results[0]!.specs)) analysis.results[0]!.value(id);
    const slices = intervals(analysis);
    const took: number[] = [];
    for (let isDone = false; !isDone; ) {
      const start = performance.now();
      isDone = slices.next().done === true;
      took.push(performance.now() - start);
    }
    if (!isSettled(analysis)) throw new Error('the bench computed no intervals');
    if (round < 0) continue;
    work.push(took.reduce((total, ms) => total + ms, 0));
    shortest = shortest?.map((ms, piece) => Math.min(ms, took[piece]!)) ?? took;
  }
  const longest = Math.max(...shortest!);
  return [
    ['', 'time', 'target'],
    ['work, median', milliseconds(median(work)), heldTo(median(work), 150)],
    [`longest of ${shortest!.length.toLocaleString('en')} pieces between two pauses`, milliseconds(longest), heldTo(longest, 8)],
  ];
}

/** The session with a meter that states its accuracy too. */
export const accurate = (text: string): string => text.replace('0.5 %\n', '0.5 %\n  accuracy: 0.002 xy, 2 %\n');
