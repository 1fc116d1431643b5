import { readFileSync } from 'node:fs';
import { NO_CONFIG } from '../../src/config/config';
import { type Analysis, analyse } from '../../src/project/analysis';
import { checkReview, type KnownSessions } from '../../src/review/check';
import { readReview } from '../../src/review/markdown';
import { SessionText } from '../../src/session/sessionText';
import { stream } from './data';
import { type Cells, heldTo } from './report';
import { growth, median, milliseconds, percentile, timed } from './timing';

const NAMES = ['aurora-55', 'meadow-65'];

const PROSE =
  'the panel holds its colour across the ramp and only loses a little near black where the meter itself begins to struggle so that what is left of the error can be told from noise by nobody who watches a film on it'.split(
    ' ',
  );

/** A review of so many words with so many claims of the examples, in paragraphs of ninety words; some figures have no link. */
function review(words: number, claims: number, unlinked = 0): string {
  const links = NAMES.flatMap((name) => readFileSync(`examples/${name}.md`, 'utf8').match(/(?<!!)\[[^\]]+\]\([^)]*\.nitbook#[^)]*\)/g)!);
  const random = stream(3);
  const parts = Array.from({ length: words }, (_, i) => PROSE[i % PROSE.length]!);
  const put = (text: (i: number) => string, count: number) => {
    for (let i = 0; i < count; i++) parts[Math.floor(((i + random()) / count) * words)] = text(i);
  };
  put((i) => links[i % links.length]!, claims);
  put((i) => `${100 + i} nits`, unlinked);
  const paragraphs: string[] = [];
  for (let i = 0; i < words; i += 90) paragraphs.push(parts.slice(i, i + 90).join(' '));
  return `# A review\n\n${paragraphs.join('.\n\n')}.\n`;
}

function checker(): (text: string) => ReturnType<typeof checkReview> {
  const analyses = new Map<string, Analysis>(
    NAMES.map((name) => [`/w/${name}.nitbook`, analyse(SessionText.read(readFileSync(`examples/${name}.nitbook`, 'utf8')), NO_CONFIG)]),
  );
  const sessions: KnownSessions = { session: (path) => ({ ok: true, analysis: analyses.get(path)! }), paths: [] };
  const place = { path: '/w/review.md', root: '/w', config: NO_CONFIG };
  return (text) => checkReview(readReview(text), place, sessions);
}

export function reviewTable(): Cells {
  const check = checker();
  const text = review(10_000, 200);
  const withOthers = review(10_000, 200, 100);
  const tasks: Readonly<Record<string, () => number>> = {
    '200 claims in 10,000 words': () => check(text).checked.length,
    'the same with 100 figures without a link': () => check(withOthers).checked.length,
    '200 claims, the reading of Markdown alone': () => readReview(text).mentions.length,
  };
  const { findings, checked } = check(text);
  if (findings.length > 0 || checked.length < 190) throw new Error(`a claim does not hold: ${findings[0]?.code}, ${checked.length}`);
  const rows = Object.entries(timed(tasks, { rounds: 25, warmUp: 10 })).map(([name, times], i) => [
    name,
    milliseconds(median(times)),
    milliseconds(percentile(times, 0.95)),
    i === 0 ? heldTo(median(times), 50) : '',
  ]);
  return [['', 'median', 'p95', 'target'], ...rows];
}

export function reviewGrowthTable(): Cells {
  const check = checker();
  const sizes = [2_500, 10_000, 40_000].map((words) => {
    const text = review(words, words / 50);
    return [words, median(timed({ run: () => check(text).checked.length }, { rounds: 9, warmUp: 3 }).run!)] as const;
  });
  return [['words', 'median'], ...sizes.map(([words, time]) => [words.toLocaleString('en'), milliseconds(time)]), ['power', growth(sizes)]];
}
