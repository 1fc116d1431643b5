import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { type Cells, heldTo } from './report';
import { median, ratio } from './timing';

const OWN = 'Nitbook';

/** @param vsix the package to install */
export function activationTable(vsix: string): Cells {
  const head = ['', 'median', 'least', 'most', 'against nitbook', 'target'];
  if (!existsSync('.cache/workbench/installed'))
    return [head, [`${OWN}: not measured, as the workbench is not set up (npm run test:host)`, '', '', '', '', '']];
  const { status, stdout, stderr } = spawnSync(process.execPath, ['test/bench/activate.mjs', vsix, '5'], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`The workbench did not say how long its extensions took:\n${stderr}`);
  const rounds = JSON.parse(stdout) as readonly Readonly<Record<string, number>>[];
  // Those that were there in every round; hardly anything can be said of a millisecond or two.
  const names = Object.keys(rounds[0]!).filter((name) => rounds.every((round) => (round[name] ?? 0) > 2));
  const times = new Map(names.map((name) => [name, rounds.map((round) => round[name]!)]));
  const own = median(times.get(OWN) ?? []);
  const others = names.filter((name) => name !== OWN).sort((a, b) => median(times.get(b)!) - median(times.get(a)!));
  return [
    head,
    ...[OWN, ...others].map((name) => {
      const list = times.get(name)!;
      const ms = [median(list), Math.min(...list), Math.max(...list)].map((v) => `${v} ms`);
      return [name, ...ms, ratio(median(list), own), name === OWN ? heldTo(own, 50) : ''];
    }),
  ];
}
