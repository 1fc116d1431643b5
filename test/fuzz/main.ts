import { parseArgs } from 'node:util';
import fc from 'fast-check';
import { atWork, Clock, isSlower, NONE, type Slowest, slowestOf, wall } from './clock';
import { TARGETS, type Target } from './targets';

/**
 * `npm run fuzz -- --seed N --cases N --only TARGET --path PATH`: hostile input in numbers that a test has no time for. Ends with 1 when
 * something does not hold, or takes longer than it may (see `clock.ts`); the report says what shows it again.
 */

/** What seems slow is measured again, as a busy machine makes everything slow. */
const AGAIN = 3;

const { values: flags } = parseArgs({
  options: {
    seed: { type: 'string' },
    cases: { type: 'string', default: '100000' },
    only: { type: 'string' },
    path: { type: 'string' },
  },
});
const seed = flags.seed === undefined ? Date.now() % 2 ** 31 : Number(flags.seed);
const cases = Number(flags.cases);
if (!Number.isInteger(seed) || !Number.isInteger(cases) || (flags.only !== undefined && !(flags.only in TARGETS))) {
  console.error(`Expected numbers for --seed and --cases, and for --only one of: ${Object.keys(TARGETS).join(', ')}`);
  process.exit(2);
}

interface Report {
  readonly name: string;
  readonly cases: number;
  readonly ms: number;
  readonly slowest: Slowest;
  /** What does not hold, and what took too long. */
  readonly complaints: readonly string[];
}

async function fuzzed(name: string, { share, property }: Target): Promise<Report> {
  let slowest = NONE;
  let ms = 0;
  const slow: string[] = [];
  const details = await fc.check(
    property(async (run, input) => {
      const clock = new Clock(wall);
      await run(clock.step);
      ms += clock.steps.reduce((sum, step) => sum + step.ms, 0);
      const runs = [clock.steps];
      let here = slowestOf(runs);
      while (runs.length <= AGAIN && here.ms > here.most) {
        const again = new Clock(atWork);
        await run(again.step);
        runs.push(again.steps);
        here = slowestOf(runs);
      }
      if (isSlower(here, slowest)) slowest = here;
      // No failure of the property: looking for the shortest input that is slow takes hours.
      if (here.ms > here.most) slow.push(`${here.name} took ${here.ms.toFixed(0)} ms, more than ${here.most}\n${shown(input)}`);
    }),
    {
      seed,
      numRuns: Math.ceil(flags.only === undefined ? cases * share : cases),
      ...(flags.path === undefined ? {} : { path: flags.path }),
    },
  );
  return { name, cases: details.numRuns, ms, slowest, complaints: [...slow, ...(details.failed ? [told(name, details)] : [])] };
}

/** Whole inputs are for files: `--path` brings them back. */
function shown(input: unknown): string {
  const text = JSON.stringify(input, undefined, 2);
  return `with ${text.length > MOST_SHOWN ? `${text.slice(0, MOST_SHOWN)} …` : text}`;
}

const MOST_SHOWN = 4000;

function told(name: string, { counterexample, counterexamplePath, errorInstance }: fc.RunDetails<unknown>): string {
  const again = `npm run fuzz -- --only '${name}' --seed ${seed} --path ${counterexamplePath}`;
  const why = errorInstance instanceof Error ? errorInstance.stack : String(errorInstance);
  return [why, shown(counterexample), again].join('\n');
}

const reports: Report[] = [];
for (const [name, target] of Object.entries(TARGETS)) {
  if (flags.only === undefined || flags.only === name) reports.push(await fuzzed(name, target));
}

console.log(`Hostile input, seed ${seed}`);
for (const { name, cases: done, ms, slowest } of reports) {
  const each = (ms / Math.max(1, done)).toFixed(2);
  console.log(
    `${name}: ${done.toLocaleString('en')} cases, ${each} ms each; the slowest step ${slowest.ms.toFixed(0)} ms (${slowest.name})`,
  );
}
for (const { name, complaints } of reports) for (const complaint of complaints) console.log(`\n${name}: ${complaint}`);
process.exitCode = reports.some(({ complaints }) => complaints.length > 0) ? 1 : 0;
