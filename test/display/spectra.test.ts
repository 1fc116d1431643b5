import { describe, expect, it } from 'vitest';
import { type Corners, checkCorrection, fourColourCorrection } from '../../src/algorithms/correction';
import { observerAt } from '../../src/colour/observer';
import { resultOf } from '../algorithms/expectations';
import { type Triple, xyOf } from './light';
import { filterMeter } from './meter';
import { aurora, meadow, type Panel } from './panels';
import { lightAt, type Picture, shippedPicture } from './screen';
import { type Filters, spectrumOf, throughFilters } from './spectra';

const native = (panel: Panel): Picture => ({ ...shippedPicture(panel), gamut: 0 });
const shown = (panel: Panel, rgb: Triple) => lightAt(panel, native(panel), { rgb });
const colours: Readonly<Record<string, Triple>> = {
  white: [1, 1, 1],
  red: [1, 0, 0],
  green: [0, 1, 0],
  blue: [0, 0, 1],
  yellow: [1, 1, 0],
  cyan: [0, 1, 1],
  magenta: [1, 0, 1],
  grey: [0.5, 0.5, 0.5],
  pink: [1, 0.7, 0.7],
  sand: [1, 0.8, 0.6],
};
const { white, red, green, blue, ...further } = colours;
const apart = (a: Triple, b: Triple): number => Math.hypot(xyOf(a)[0] - xyOf(b)[0], xyOf(a)[1] - xyOf(b)[1]);

describe.each([aurora, meadow])('the spectra of $name', (panel) => {
  it('have the XYZ of what is shown, summed in steps of 0.25 nm', () => {
    for (const [name, rgb] of Object.entries(colours)) {
      const { xyz } = shown(panel, rgb);
      const spectrum = spectrumOf(panel, shown(panel, rgb));
      const sum = [0, 0, 0];
      for (let nm = 380; nm <= 780; nm += 0.25)
        observerAt(nm).forEach((eye, i) => {
          sum[i]! += 683 * 0.25 * eye * spectrum(nm);
        });
      // Between nanometres the table of the observer is straight, which adds a little to a sum over whole ones.
      for (const i of [0, 1, 2] as const) expect(Math.abs(sum[i]! - xyz[i]) / (xyz[0] + xyz[1] + xyz[2]), name).toBeLessThan(1e-4);
    }
  });
  it('hold no light below nothing', () => {
    for (const rgb of Object.values(colours)) {
      const spectrum = spectrumOf(panel, shown(panel, rgb));
      for (let nm = 380; nm <= 780; nm++) expect(spectrum(nm)).toBeGreaterThanOrEqual(0);
    }
  });
});

it('the white emitter gives two fifths of the light of white, and a colour has of it what its weakest channel has', () => {
  const share = (rgb: Triple) => shown(aurora, rgb).emitted / shown(aurora, rgb).xyz[1];
  // Additivity 0.60; the gains of red and blue are a little off 1.
  expect(share([1, 1, 1])).toBeCloseTo(0.4, 2);
  expect(shown(aurora, [1, 1, 0]).emitted).toBe(0);
  expect(shown(aurora, [1, 0.5, 1]).emitted).toBeCloseTo(shown(aurora, [0.5, 0.5, 0.5]).emitted, 9);
  expect(shown(meadow, [1, 1, 1]).emitted).toBe(0);
});

describe('a meter behind filters', () => {
  const exact: Filters = [
    { stretch: 1, shift: 0 },
    { stretch: 1, shift: 0 },
    { stretch: 1, shift: 0 },
  ];
  const { filters } = filterMeter;

  it('of the shape of the observer sees what the observer sees', () => {
    for (const panel of [aurora, meadow]) {
      const sees = throughFilters(panel, exact);
      for (const rgb of Object.values(colours)) {
        const light = shown(panel, rgb);
        for (const i of [0, 1, 2] as const) expect(Math.abs(sees(light)[i] / light.xyz[i] - 1)).toBeLessThan(1e-9);
      }
    }
  });

  it('errs with the spectrum: on white within what it states, 0.002 in x and y, on saturated colours by more, and on each panel otherwise', () => {
    const error = (panel: Panel, rgb: Triple): Triple => {
      const light = shown(panel, rgb);
      const [there, here] = [xyOf(light.xyz), xyOf(throughFilters(panel, filters!)(light))];
      return [here[0] - there[0], here[1] - there[1], Math.hypot(here[0] - there[0], here[1] - there[1])];
    };
    for (const panel of [aurora, meadow]) {
      for (const n of error(panel, white!).slice(0, 2)) expect(Math.abs(n)).toBeLessThan(0.002);
      expect(Math.max(...[red, green, blue].map((rgb) => error(panel, rgb!)[2]))).toBeGreaterThan(0.004);
    }
    const [here, there] = [error(aurora, white!), error(meadow, white!)];
    expect(Math.hypot(here[0] - there[0], here[1] - there[1])).toBeGreaterThan(0.0005);
  });
});

describe('the correction of that meter (constructed: no scatter, only the filters)', () => {
  const of = (panel: Panel) => {
    const sees = throughFilters(panel, filterMeter.filters!);
    const pair = (rgb: Triple) => {
      const light = shown(panel, rgb);
      return { reference: light.xyz, instrument: sees(light) };
    };
    const corners: Corners = { white: pair(white!), red: pair(red!), green: pair(green!), blue: pair(blue!) };
    const pairs = Object.entries(further).map(([name, rgb]) => ({ name, ...pair(rgb) }));
    const { further: residuals, midSaturation } = resultOf(checkCorrection(resultOf(fourColourCorrection(corners)), corners, pairs));
    expect(midSaturation).toBe(true);
    return residuals.map((residual, i) => ({ ...residual, before: apart(pairs[i]!.reference, pairs[i]!.instrument) }));
  };

  it('of a panel that mixes from three lights leaves nothing: any meter is a matrix there', () => {
    for (const { before, xy, luminance } of of(meadow)) {
      expect(before).toBeGreaterThan(0.0009);
      expect(xy).toBeLessThan(1e-12);
      expect(luminance).toBeCloseTo(1, 12);
    }
  });

  it('of a panel with a white emitter brings every further colour down, but leaves a residual where colours and the emitter are mixed', () => {
    const found = of(aurora);
    for (const { before, xy, name } of found) expect(xy, name).toBeLessThan(before / 2);
    const named = (name: string) => found.find((one) => one.name === name)!;
    // Grey is a white: met by construction, so it says nothing.
    expect(named('grey').xy).toBeLessThan(1e-5);
    for (const name of ['pink', 'sand']) expect(named(name).xy).toBeGreaterThan(0.0003);
  });
});
