import { Bench, p3InBt2020, type Setup, steps } from './bench';
import { type Block, sessionText } from './layout';
import type { Triple } from './light';
import { filterMeter, spectroMeter } from './meter';
import { cell, type Plant, replace, type Spoilt, shifted, spoilt } from './mistakes';
import { meadow } from './panels';
import { pictureOf, shippedPicture } from './screen';
import { automaticOff, ten } from './sessions';
import { spectraRows } from './spectra';

/** What goes wrong at the bench beyond levels and colours, one fault a run. */
const plants: readonly Plant[] = [
  {
    code: 'limit-row',
    what: 'a limit for a 10 % window, and none was read',
    under: /window\.peak@10/,
    block: 'limits',
    at: 'window.peak@10',
    builtIn: true,
  },
  {
    code: 'not-computed',
    what: 'levels of an HDR run held against a power curve',
    under: /tracking power-curve/,
    block: 'power-curve',
    at: 'tracking',
    builtIn: true,
  },
  { code: 'decimal-slip', what: 'luminance ten times too low', under: /\d+\.\d+/, block: 'slip', at: '70', mistype: cell(1, shifted(-1)) },
  {
    code: 'luminance-falls',
    what: 'darker than the level below it, and the next is brighter again',
    under: /\d+\.\d+/,
    block: 'falling',
    at: '60',
    mistype: cell(1, (Y) => (0.4 * Number(Y)).toPrecision(4)),
  },
  {
    code: 'gamut-driven-narrow',
    what: 'coverage of BT.2020 asked for of patches driven in P3',
    under: /gamut gamut-p3/,
    block: 'gamut-p3',
    at: 'gamut',
    builtIn: true,
  },
  {
    code: 'grid-hole',
    what: 'a place of the grid without a row',
    under: /uniformity holed/,
    block: 'holed',
    at: 'uniformity',
    drop: '2  3',
  },
  {
    code: 'decimal-slip',
    what: 'a cell ten times too bright',
    under: /\b\d{3}(?= )/,
    block: 'field',
    at: '3  1',
    mistype: cell(2, shifted(1)),
  },
  { code: 'time-backwards', what: 'a nought forgotten in a time', under: /60/, block: 'hold', at: '600', mistype: replace('600', ' 60') },
  { code: 'quantity-range', what: 'an angle behind the screen', under: /160/, block: 'side', at: '60', mistype: replace(' 60', '160') },
  { code: 'not-computed', what: 'angles without one on the axis', under: /angles no-axis/, block: 'no-axis', at: 'angles', drop: '0' },
  {
    code: 'wavelength-order',
    what: 'two digits of a wavelength changed about',
    under: /505/,
    block: 'disordered',
    at: '550',
    mistype: replace('550', '505'),
  },
  {
    code: 'wavelength-range',
    what: 'a wavelength that no eye sees',
    under: /300/,
    block: 'outside',
    at: '400',
    mistype: replace('400', '300'),
  },
  {
    code: 'power-negative',
    what: 'a spectrum below nothing',
    under: /-\d+\.\d+/,
    block: 'negative',
    at: '455',
    mistype: cell(1, (power) => `-${power}`),
  },
  { code: 'not-computed', what: 'a deviation of one reading', under: /lag once/, block: 'once', at: 'lag', builtIn: true },
  {
    code: 'quantity-range',
    what: 'light before the signal',
    under: /-\d+\.\d+/,
    block: 'delay',
    at: 'top',
    mistype: cell(1, (lag) => `-${lag}`),
  },
  { code: 'not-computed', what: 'a deviation of one reading', under: /repeats single/, block: 'single', at: 'repeats', builtIn: true },
  {
    code: 'not-computed',
    what: 'drift to correct, by one white',
    under: /greyscale drift-one/,
    block: 'drift-one',
    at: 'greyscale',
    builtIn: true,
  },
  {
    code: 'correction-refused',
    what: 'a correction of three colours',
    under: /correction three/,
    block: 'three',
    at: 'correction',
    drop: 'blue',
  },
  {
    code: 'correction-refused',
    what: 'white outside the triangle of red, green and blue',
    under: /correction outside-white/,
    block: 'outside-white',
    at: 'correction',
    builtIn: true,
  },
];

/** The session without its faults, but for those that it is made with. */
export function cleanHdrMistakes(): string {
  const bench = new Bench({ panel: meadow, seed: 'hdr-mistakes 2026-05-06', minutesOn: 90, meter: filterMeter });
  const sdr: Setup = { picture: pictureOf(meadow, {}), link: ten, exponent: 2.2 };
  const hdr: Setup = { picture: { ...shippedPicture(meadow, 'hdr'), mastering: 4000 }, link: ten };
  const reading = ['Y', 'x', 'y'];
  const inHdr = { mode: 'film-hdr', target: 'hdr', meter: 'probe', signal: 'hdr-4000' };
  const inSdr = { mode: 'film', target: 'dim', meter: 'probe', signal: 'sdr' };
  const other = { ...inSdr, meter: 'clock' };
  const tens = steps(10, 100, 10);
  const run = (header: string, properties: Block['properties'], columns: readonly string[], rows: Block['rows']): Block => ({
    header,
    ...(properties && { properties }),
    columns,
    ...(rows && { rows }),
    apart: true,
  });
  const columns = ['level', ...reading];
  const grey = (Y: number): Triple => [Y, Y, Y];
  const colours: Readonly<Record<string, Triple>> = { white: grey(0.5), red: [0.5, 0, 0], green: [0, 0.5, 0], blue: [0, 0, 0.5] };
  const pairs = (id: string) => bench.run(id).pairs(hdr, { ...colours, sand: [0.5, 0.46, 0.4] }, spectroMeter);
  const pairColumns = ['patch', 'ref.Y', 'ref.x', 'ref.y', ...reading];
  const spectra = spectraRows(meadow, [bench.shown(hdr, grey(0.5))]);
  const outsideWhite = pairs('outside-white').map((row) =>
    row[0] === 'white' ? [row[0], row[1]!, '0.6400', '0.1200', ...row.slice(4)] : row,
  );
  const angles = (id: string) => bench.run(id).angles(sdr, 80, [0, 15, 30, 45, 60]);

  return sessionText([
    { header: 'session 2026-05-06', properties: { title: 'Halden Meadow 65, another bad day', room: '0.02 lx at the screen, 22 °C' } },
    { header: 'display meadow "Halden Meadow 65"', properties: { maker: 'Halden', panel: 'backlit, zone dimming', firmware: '1.08.3' } },
    ...(['probe', 'stray-probe', 'odd-probe'] as const).map((id) => ({
      header: `meter ${id}`,
      properties: { kind: 'colorimeter', checked: '2025-11-02', floor: '0.003 cd/m2', spread: '0.0004 xy, 0.5 %' },
    })),
    { header: 'meter spectro', properties: { kind: 'spectroradiometer', checked: '2025-09-18' } },
    { header: 'meter clock', properties: { kind: 'light sensor' } },
    { header: 'signal sdr', properties: { range: 'limited', depth: '10', container: 'bt709', window: '10 %' }, apart: true },
    {
      header: 'signal hdr-4000',
      properties: { range: 'limited', depth: '10', container: 'bt2020', window: '10 %', 'mastering-peak': '4000 cd/m2' },
    },
    { header: 'mode film', properties: { '.scope': 'HDMI 1, SDR', '.automatic': automaticOff }, apart: true },
    { header: 'mode film-hdr', properties: { '.scope': 'HDMI 1, HDR', '.automatic': automaticOff } },
    { header: 'target dim', properties: { space: 'bt709', curve: 'power 2.2', white: 'd65', luminance: '150 cd/m2' }, apart: true },
    { header: 'target p3', properties: { space: 'p3-d65', curve: 'pq', white: 'd65' } },
    { header: 'target hdr', properties: { space: 'bt2020', curve: 'pq', white: 'd65' } },
    { header: 'limits', properties: { 'window.peak@10': 'limit 500', 'gamut.coverage.bt2020.uv': 'limit 60' } },
    run('tracking right "Nothing wrong here"', inHdr, columns, bench.run('right').greyscale(hdr, tens)),
    run('tracking power-curve', inSdr, columns, bench.run('power-curve').greyscale(sdr, tens)),
    run('tracking slip', inHdr, columns, bench.run('slip').greyscale(hdr, tens)),
    run('tracking falling', inHdr, columns, bench.run('falling').greyscale(hdr, tens)),
    run('window peak', inHdr, ['window', 'Y'], bench.run('peak').windows(hdr, [1, 2, 5, 25, 50, 100])),
    run('gamut gamut-p3', { ...inHdr, target: 'p3' }, ['patch', ...reading], bench.run('gamut-p3').gamut(hdr, p3InBt2020)),
    run('uniformity holed', inSdr, ['row', 'col', ...reading], bench.run('holed').uniformity(sdr, 50, 3, 3)),
    run('uniformity field', inSdr, ['row', 'col', ...reading], bench.run('field').uniformity(sdr, 50, 3, 3)),
    run('endurance hold', inHdr, ['t[s]', 'Y'], bench.run('hold').endurance(hdr, [0, 120, 300, 600, 900])),
    run('angles side', inSdr, ['angle', ...reading], angles('side')),
    run('angles no-axis', inSdr, ['angle', ...reading], angles('no-axis')),
    ...['disordered', 'outside', 'negative'].map((id) => run(`spectrum ${id}`, { ...inHdr, meter: 'spectro' }, ['nm', 'white'], spectra)),
    run('lag once', other, ['place', 'lag[ms]'], bench.run('once').lag(1).slice(1, 2)),
    run('lag delay', other, ['place', 'lag[ms]'], bench.run('delay').lag(3).slice(2)),
    run('repeats single', inSdr, ['patch', ...reading], bench.run('single').repeats(sdr, 'grey-50', 50, 1)),
    run('greyscale drift-one', { ...inSdr, drift: 'correct' }, columns, bench.run('drift-one').greyscale(sdr, [50, 100])),
    run('correction three', { meter: 'stray-probe', reference: 'spectro' }, pairColumns, pairs('three')),
    run('correction outside-white', { meter: 'odd-probe', reference: 'spectro' }, pairColumns, outsideWhite),
  ]);
}

export const hdrMistakes = (): Spoilt => spoilt(cleanHdrMistakes(), plants);
