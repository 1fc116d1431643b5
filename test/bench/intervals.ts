import { NO_CONFIG } from '../../src/config/config';
import { analyse, intervals, isSettled } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { session } from './data';
import { type Cells, heldTo } from './report';
import { median, milliseconds } from './timing';

const ROUNDS = 24;
const WARM_UP = 3;

/** The second phase, with everything that a meter can state. */
export function intervalsTable(rows: number): Cells {
  const texts = [21, 22, 23].map((seed) => accurate(session(rows, seed)));
  const work: number[] = [];
  const shortest = new Map<string, number[]>();
  for (let round = -WARM_UP; round < ROUNDS; round++) {
    const text = texts[(round + WARM_UP) % texts.length]!;
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
    shortest.set(text, shortest.get(text)?.map((ms, piece) => Math.min(ms, took[piece]!)) ?? took);
  }
  const pieces = [...shortest.values()];
  const longest = Math.max(...pieces.flat());
  return [
    ['', 'time', 'target'],
    ['work, median', milliseconds(median(work)), heldTo(median(work), 150)],
    [`longest of ${pieces[0]!.length.toLocaleString('en')} pieces between two pauses`, milliseconds(longest), heldTo(longest, 8)],
  ];
}

/** The session with a meter that states its accuracy too. */
export const accurate = (text: string): string => text.replace('0.5 %\n', '0.5 %\n  accuracy: 0.002 xy, 2 %\n');
