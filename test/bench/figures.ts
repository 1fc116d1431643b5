import * as Plot from '@observablehq/plot';
import * as echarts from 'echarts';
import { parseHTML } from 'linkedom';
import * as vega from 'vega';
import { compile } from 'vega-lite';
import { NO_CONFIG } from '../../src/config/config';
import { figureFor } from '../../src/figure/figures';
import { svgOf } from '../../src/figure/svg';
import { LIGHT } from '../../src/figure/theme';
import { type Analysis, analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { greys } from './data';
import { type Cells, heldTo } from './report';
import { median, milliseconds, ratio, timed } from './timing';

const SIZE = { width: 720, height: 430 };

/** Three lines over as many levels as there are rows. */
interface Lines {
  readonly levels: readonly number[];
  readonly channels: Readonly<Record<'red' | 'green' | 'blue', readonly number[]>>;
}

/**
 * A figure from readings that are judged already, beside the plotting libraries that make an SVG text without a browser from the same
 * numbers. Each draws as its makers' first example of a line chart does; none but ours also words an answer, or draws limits and labels.
 */
export async function figureTable(rows: number, most: number): Promise<Cells> {
  const texts = [1, 2, 3].map((seed) => greys(rows, seed));
  const judged = texts.map(analysed);
  const lines = judged.map(linesOf);
  const own = timed({
    nitbook: (round) => svgLength(judged[round % judged.length]!),
    // Before anything of the run has been computed.
    afresh: (round) => svgLength(analysed(texts[round % texts.length]!)),
  });
  const times: Record<string, number> = { nitbook: median(own.nitbook!), 'nitbook, from the text': median(own.afresh!) };
  const rivals = timed(
    { 'Observable Plot, linkedom': (round) => withPlot(lines[round % 3]!), 'ECharts, SSR': (round) => withEcharts(lines[round % 3]!) },
    { rounds: 5, warmUp: 1 },
  );
  for (const [name, list] of Object.entries(rivals)) times[name] = median(list);
  times['Vega-Lite'] = await medianOf(5, (round) => withVegaLite(lines[round % 3]!));
  return [
    ['', 'median', 'against nitbook', 'target'],
    ...Object.entries(times).map(([name, time]) => [
      name,
      milliseconds(time),
      ratio(time, times.nitbook!),
      name === 'nitbook' ? heldTo(time, most) : '',
    ]),
  ];
}

const analysed = (text: string): Analysis => analyse(SessionText.read(text), NO_CONFIG);

function svgLength(analysis: Analysis): number {
  const reading = figureFor(analysis, { ids: ['grey'], measure: 'balance', keys: [] });
  if (!reading.ok) throw new Error(reading.mistake.code);
  return svgOf(reading.figure, { ...SIZE, theme: LIGHT }).length;
}

function linesOf({ results }: Analysis): Lines {
  const result = results[0]!;
  const list = (id: string) => Array.from(result.rows(id)!, (v) => v - 100);
  return {
    levels: Array.from({ length: result.context!.patches.count }, (_, i) => Number(result.keyOf(i)[0])),
    channels: { red: list('balance.r'), green: list('balance.g'), blue: list('balance.b') },
  };
}

const long = ({ levels, channels }: Lines) =>
  Object.entries(channels).flatMap(([channel, list]) => list.map((v, i) => ({ level: levels[i]!, v, channel })));

function withPlot(lines: Lines): number {
  const { document } = parseHTML('<html><body></body></html>');
  const svg = Plot.plot({
    ...SIZE,
    document,
    marks: [Plot.ruleY([0]), Plot.lineY(long(lines), { x: 'level', y: 'v', stroke: 'channel' })],
  });
  return svg.outerHTML.length;
}

function withEcharts({ levels, channels }: Lines): number {
  const chart = echarts.init(null, null, { renderer: 'svg', ssr: true, ...SIZE });
  chart.setOption({
    animation: false,
    xAxis: { type: 'value' },
    yAxis: { type: 'value' },
    series: Object.entries(channels).map(([name, list]) => ({
      name,
      type: 'line',
      showSymbol: false,
      data: list.map((v, i) => [levels[i]!, v]),
    })),
  });
  const svg = chart.renderToSVGString();
  chart.dispose();
  return svg.length;
}

async function withVegaLite(lines: Lines): Promise<number> {
  const { spec } = compile({
    ...SIZE,
    data: { values: long(lines) },
    mark: 'line',
    encoding: {
      x: { field: 'level', type: 'quantitative' },
      y: { field: 'v', type: 'quantitative' },
      color: { field: 'channel', type: 'nominal' },
    },
  });
  return (await new vega.View(vega.parse(spec), { renderer: 'none' }).toSVG()).length;
}

async function medianOf(rounds: number, task: (round: number) => Promise<number>): Promise<number> {
  const times: number[] = [];
  for (let round = -1; round < rounds; round++) {
    const start = performance.now();
    if (!Number.isFinite(await task(round + 1))) throw new Error('no picture');
    if (round >= 0) times.push(performance.now() - start);
  }
  return median(times);
}
