import { type Cells, heldTo } from './report';
import { median, ratio } from './timing';
import { NOT_MEASURED, workbench } from './workbench';

const OWN = 'Nitbook';

/** @param vsix the package to install */
export function activationTable(vsix: string): Cells {
  const head = ['', 'median', 'least', 'most', 'against nitbook', 'target'];
  const rounds = workbench<readonly Readonly<Record<string, number>>[]>('activate.mjs', vsix, '9');
  if (!rounds) return [head, [`${OWN}: ${NOT_MEASURED}`, '', '', '', '', '']];
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
