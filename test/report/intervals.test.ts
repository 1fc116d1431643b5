import { describe, expect, it } from 'vitest';
import { knownInterval, withInterval } from '../../src/measure/intervals';
import { MEASURES } from '../../src/measure/specs';
import { settled } from '../../src/project/analysis';
import { changesOf } from '../../src/report/changes';
import { summaryCsv } from '../../src/report/csv';
import { explanation } from '../../src/report/explained';
import { measuredText } from '../../src/report/format';
import { summaryJson } from '../../src/report/json';
import { summaryMarkdown } from '../../src/report/markdown';
import { measuresJson } from '../../src/report/measures';
import { figureOf } from '../../src/report/summary';
import { figureLine, lensText, summaryText } from '../../src/report/text';
import { analysed, small } from './sessions';

const stating = small.replace('  floor: 0.003 cd/m2\n', '  floor: 0.003 cd/m2\n  spread: 0.0004 xy, 0.5 %\n  accuracy: 0.002 xy, 2 %\n');
const before = analysed(stating);
const known = settled(analysed(stating));

const figure = (of: typeof known, run: string, id: string, key: readonly string[] = []) => {
  const result = of.results.find((one) => one.run.id === run)!;
  return { figure: figureOf(of, result, id, key, withInterval(result, id, key, result.value(id, key))), result };
};

describe('a figure with its interval', () => {
  const shown = (v: number, ci: readonly [number, number], unit = '', decimals = 2) =>
    measuredText({
      value: { ok: true, v, ci },
      spec: { title: '', unit, decimals, direction: 'report', scope: 'run', about: '' },
      judgement: { verdict: 'no-number', aim: 'no-number', centre: 0 },
    });

  it('is ± where it is even, and between two ends where it is not, or ends at 0', () => {
    expect(shown(120, [117.4, 122.6], 'cd/m²', 1)).toBe('120.0 ± 2.6 cd/m²');
    expect(shown(1.53, [0.46, 2.82])).toBe('1.53 (0.46 … 2.82)');
    expect(shown(1.4, [0, 2.8])).toBe('1.40 ± 1.40');
    expect(shown(1.4, [0, 2.83])).toBe('1.40 (0.00 … 2.83)');
  });

  it('has a unit that stands close at its number', () => {
    expect(shown(1043, [1010, 1080], ':1', 0)).toBe('1043:1 (1010 … 1080)');
    expect(shown(60, [58, 62], '°', 1)).toBe('60.0° ± 2.0');
  });

  it('leaves out what is lost in the last digit', () => {
    expect(shown(85, [84.98, 85.01], '%', 1)).toBe('85.0 %');
  });

  it('has the end of a bound that can be claimed', () => {
    const { figure: sequential } = figure(known, 'pair', 'sequential');
    expect(measuredText(sequential)).toBe('at least 39100:1');
    expect(measuredText(figure(before, 'pair', 'sequential').figure)).toBe('at least 40000:1');
  });
});

describe('a verdict is explained', () => {
  it('where the interval holds the limit', () => {
    const { figure: largest, result } = figure(known, 'grey', 'de.max');
    expect(largest.judgement.verdict).toBe('undecided');
    expect(explanation(largest, result)).toBe("0.64 lies within the meter's uncertainty of the limit 1 (session).");
    expect(figureLine(largest, result)).toMatch(
      /^ΔE 2000 maximum 0\.64 \(0\.00 … \d\.\d\d\) — undecided ≈; limit 1 \(session\), aim 0\.5; against .*\. 0\.64 lies/,
    );
  });

  it('where it rests on the number, with what the meter does not state', () => {
    const silent = settled(analysed(small));
    const { figure: largest, result } = figure(silent, 'grey', 'de.max');
    expect(largest.judgement.verdict).toBe('within');
    expect(explanation(largest, result)).toBe('Judged by the number alone: the meter probe states no spread.');
  });

  it('where a bound leaves it open', () => {
    const text = small.replace('limits\n', 'limits\n  contrast.sequential: limit 50000\n');
    const { figure: sequential, result } = figure(settled(analysed(text)), 'pair', 'sequential');
    expect(explanation(sequential, result)).toBe('On which side of the limit 50000:1 (session) it lies was not seen: at least 40000:1.');
  });

  it('not at all where there is no limit, or nothing left to say, or while intervals are under way', () => {
    for (const [of, run, id] of [
      [known, 'peaks', 'full'],
      [known, 'grey', 'de.avg'],
      [before, 'grey', 'de.max'],
    ] as const) {
      const { figure: one, result } = figure(of, run, id);
      expect(explanation(one, result), id).toBe('');
    }
  });
});

describe('the summary', () => {
  it('has intervals behind its figures, says once what they are, and how a meter that states nothing is judged', () => {
    const text = summaryText(known, 'aurora.nitbook');
    expect(text).toMatch(/ {4}Full field +600 ± 13 cd\/m²\n/);
    expect(text).toContain('\nBehind ± and in brackets: where the true figure lies in 95 of 100 cases');
    expect(text).not.toContain('states no spread');
    const silent = summaryText(settled(analysed(small)), 'aurora.nitbook');
    expect(silent).toContain('\nThe meter probe states no spread: what is read with it is judged by the number alone\n');
    expect(silent).not.toContain('±  ');
    expect(silent).not.toContain('95 of 100');
    const markdown = summaryMarkdown(known, 'aurora.nitbook');
    expect(markdown).toContain('| Full field | 600\u00a0±\u00a013\u00a0cd/m² |  |  |  |\n');
    expect(markdown).toContain('\n\nBehind ± and in brackets');
  });

  it('has them above a run only where they leave a verdict open', () => {
    expect(lensText(known, 'grey')).toMatch(/^ΔE 2000 average 0\.32 within ·; ΔE 2000 maximum 0\.64 \(0\.00 … \d\.\d\d\) undecided ≈; /);
    expect(lensText(known, 'peaks')).toBe('Peak @10 %: 800 cd/m² within ·; Full field 600 cd/m²');
  });
});

describe('for programs', () => {
  const json = summaryJson(known, 'aurora.nitbook');
  const grey = json.runs[0]!;

  it('an interval is two numbers, open ends are null, and where there is none it is said why', () => {
    const { interval, noInterval } = grey.measures['white.luminance']!;
    expect(interval![1]! - 120).toBeCloseTo(1.959964 * Math.hypot(0.6, 1.2), 2);
    expect(noInterval).toBeNull();
    const [low, high] = json.runs[1]!.measures.sequential!.interval!;
    expect([Math.round(low! / 100), high]).toEqual([391, null]);
    expect(grey.measures['chain.written']!.interval).toBeNull();
    const silent = summaryJson(settled(analysed(small)), 'a').runs[0]!.measures['de.max']!;
    expect([silent.interval, silent.noInterval]).toEqual([null, 'the meter probe states no spread']);
  });

  it('rows have theirs when they are asked for', () => {
    expect(grey.rows[0]).not.toHaveProperty('intervals');
    const row = summaryJson(known, 'a', { rowIntervals: true }).runs[0]!.rows[0]!;
    expect(row.key).toBe('30');
    expect(Object.keys(row.intervals!)).toEqual(Object.keys(row.values));
    for (const id of ['de', 'de.itp', 'balance.r', 'curve']) {
      const [low, high] = row.intervals![id]!;
      expect(low! <= row.values[id]! && row.values[id]! <= high!, id).toBe(true);
    }
  });

  it('they are the last columns of a table', () => {
    const line = summaryCsv(known, 'a')
      .split('\r\n')
      .find((one) => one.startsWith('a,peaks,window,full,'))!;
    expect(line.split(',').slice(-2).map(Number)).toEqual([expect.closeTo(586.85, 2), expect.closeTo(613.15, 2)]);
  });
});

describe('before and after', () => {
  const text = stating.replace(
    'contrast pair\n',
    `greyscale grey-tuned like grey
  mode: cinema-tuned
    level   Y         x        y
        30  6.70      0.3100   0.3280
       100  126       0.3127   0.3290

contrast pair
`,
  );
  const changed = settled(analysed(text));

  it('is a table of measures, with what is shown to have changed and which limit was crossed', () => {
    const [change] = changesOf(changed);
    expect([change!.before.run.id, change!.after.run.id]).toEqual(['grey', 'grey-tuned']);
    expect(summaryText(changed, 'a')).toContain('\nchange grey → grey-tuned\n  mode cinema → cinema-tuned\n');
    expect(summaryText(changed, 'a')).toMatch(/ {4}White luminance +120\.0 → 126\.0 +\+6\.0 ± 1\.\d cd\/m² +changed\n/);
    expect(summaryMarkdown(changed, 'a')).toMatch(/\| White luminance \| 120\.0 \| 126\.0 \| \+6\.0 ± 1\.\d cd\/m² \| changed \|/);
    expect(summaryMarkdown(changed, 'a')).toMatch(
      /\| ΔE 2000 maximum \| 0\.64 \| 1\.\d\d \| .* \| change not shown, limit met no longer \|/,
    );
    const { measures } = summaryJson(changed, 'a').changes[0]!;
    expect(measures['white.luminance']).toMatchObject({ from: 120, to: 126, unit: 'cd/m²', changed: true, crossed: null });
    expect(measures['de.max']).toMatchObject({ changed: false, crossed: 'limit', met: false });
  });

  it('is not there while intervals are under way', () => {
    expect(changesOf(analysed(text))).toEqual([]);
  });
});

it('the summary of a session is the same whether its second phase was run at once or in slices', () => {
  const sliced = analysed(stating);
  for (const result of sliced.results) expect(knownInterval(result, 'de.max', [])).toBeUndefined();
  expect(summaryJson(settled(sliced), 'a', { rowIntervals: true })).toEqual(summaryJson(known, 'a', { rowIntervals: true }));
});

describe('the table of measures', () => {
  it('says how an interval is told, or why there is none', () => {
    const told = (kind: string, id: string) => {
      const { interval, noInterval } = measuresJson([kind]).find((measure) => measure.id === `${kind}.${id}`)!;
      return interval ?? noInterval;
    };
    expect(told('greyscale', 'de.avg')).toBe('average');
    expect(told('window', 'peak@10')).toBe('readings');
    expect(told('repeats', 'n')).toBe('it is a count or a place, and no reading');
    for (const { interval, noInterval } of measuresJson(Object.keys(MEASURES))) expect(interval === null).toBe(noInterval !== null);
  });
});
