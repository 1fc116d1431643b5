import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { session } from './data';
import { recordedEdits } from './edits';
import { type Cells, heldTo } from './report';
import { milliseconds, nextTask, percentile } from './timing';

export async function typingTable(): Promise<Cells> {
  const rows: string[][] = [];
  for (const count of [1_000, 10_000, 50_000]) {
    const times = await typed(count);
    const [p50, p95, p99] = [0.5, 0.95, 0.99].map((share) => percentile(times, share)) as [number, number, number];
    const target = count === 1_000 ? heldTo(p99, 5, 'ms', 'p99 ') : count === 10_000 ? heldTo(p95, 5, 'ms', 'p95 ') : '';
    rows.push([count.toLocaleString('en'), milliseconds(p50), milliseconds(p95), milliseconds(p99), target]);
  }
  return [['readings', 'p50', 'p95', 'p99', 'target'], ...rows];
}

/** The times of all edits, from the change to figures and findings. */
async function typed(count: number): Promise<number[]> {
  const text = session(count);
  const edits = recordedEdits(text);
  const round = async (): Promise<number[]> => {
    let source = SessionText.read(text);
    analyse(source, NO_CONFIG);
    const times: number[] = [];
    for (const edit of edits) {
      await nextTask();
      const start = performance.now();
      source = source.change([edit]);
      const analysis = analyse(source, NO_CONFIG);
      const value = analysis.results[0]?.value('de.avg');
      times.push(performance.now() - start);
      if (value?.ok && !Number.isFinite(analysis.findings.length + value.v)) throw new Error('no number came of an edit');
    }
    return times;
  };
  await round();
  return [await round(), await round(), await round()].flat();
}
