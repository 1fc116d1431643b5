import { parseTree } from 'jsonc-parser';
import { parseDocument } from 'yaml';
import { NO_CONFIG } from '../../src/config/config';
import { RunResult } from '../../src/measure/result';
import { analyse } from '../../src/project/analysis';
import { sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { asJson, asYaml, session } from './data';
import { type Cells, heldTo } from './report';
import { growth, median, milliseconds, ratio, timed } from './timing';

export function parsingTable(rows: number): Cells {
  const text = session(rows);
  const json = asJson(rows);
  const yaml = asYaml(rows);
  const times = timed({
    nitbook: () => SessionText.read(text).lines.length,
    'jsonc-parser': () => parseTree(json)!.children!.length,
  });
  // yaml takes so long that three rounds say enough.
  const slow = timed({ yaml: () => parseDocument(yaml).errors.length }, { rounds: 3, warmUp: 1 });
  const own = median(times.nitbook!);
  return [
    ['', 'median', 'against nitbook'],
    ['nitbook', milliseconds(own), '1'],
    ['jsonc-parser parseTree', milliseconds(median(times['jsonc-parser']!)), ratio(median(times['jsonc-parser']!), own)],
    ['yaml parseDocument', milliseconds(median(slow.yaml!)), ratio(median(slow.yaml!), own)],
  ];
}

export function judgingTable(rows: number): Cells {
  const texts = [11, 12, 13].map((seed) => session(rows, seed));
  const textOf = (round: number) => texts[round % texts.length]!;
  const { figures, findings } = timed({
    figures: (round) => {
      const result = resultOf(textOf(round));
      const [average, most] = [result.value('de.avg'), result.value('de.max')];
      return average.ok && most.ok ? average.v + most.v : Number.NaN;
    },
    findings: (round) => {
      const analysis = analyse(SessionText.read(textOf(round + 1)), NO_CONFIG);
      return analysis.findings.length + (analysis.results[0]!.value('de.avg').ok ? 1 : 0);
    },
  }) as { figures: number[]; findings: number[] };
  return [
    ['', 'median', 'target'],
    ['the text, and ΔE average and maximum', milliseconds(median(figures)), heldTo(median(figures), 15)],
    ['the text, figures and all findings', milliseconds(median(findings)), ''],
  ];
}

/** Figures without the search for findings. */
function resultOf(text: string): RunResult {
  const session = sessionOf(SessionText.read(text));
  return new RunResult(session, session.runs[0]!);
}

export function growthTable(): Cells {
  const rows = [1_250, 5_000, 20_000, 80_000].map((size) => {
    const text = session(size);
    const { read, all } = timed(
      { read: () => SessionText.read(text).lines.length, all: () => analyse(SessionText.read(text), NO_CONFIG).findings.length },
      { rounds: 7, warmUp: 2 },
    ) as { read: number[]; all: number[] };
    return { size, read: median(read), all: median(all) };
  });
  return [
    ['readings', 'the text', 'the text, figures, findings'],
    ...rows.map(({ size, read, all }) => [size.toLocaleString('en'), milliseconds(read), milliseconds(all)]),
    ['power', growth(rows.map(({ size, read }) => [size, read])), growth(rows.map(({ size, all }) => [size, all]))],
  ];
}
