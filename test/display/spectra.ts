import { observerAt } from '../../src/colour/observer';
import { d65, inverse, type Matrix, map, rgbToXyz, type Triple, times, xyzOf } from './light';
import type { Panel } from './panels';
import type { Light } from './screen';

/** Power over wavelength: a Gaussian of this centre and full width at half maximum, nm. */
export interface Emission {
  readonly centre: number;
  readonly width: number;
}
export type Emissions = readonly [Emission, Emission, Emission];

/** How a filter misses the function of the observer that it is meant to be: stretched about 555 nm, then moved towards the red by nm. */
export interface Filter {
  readonly stretch: number;
  readonly shift: number;
}
export type Filters = readonly [Filter, Filter, Filter];

/** Spectral radiance in W/(sr·m²·nm). */
export type Spectrum = (nm: number) => number;
/** What three sensors make of each wavelength. */
type Sight = (nm: number) => Triple;

const NANOMETRES: readonly number[] = Array.from({ length: 401 }, (_, i) => 380 + i);

/** The sum over the samples (CIE 15). */
const seen = (spectrum: Spectrum, sight: Sight): Triple =>
  NANOMETRES.reduce<Triple>(
    (sum, nm) => {
      const here = sight(nm);
      return map(sum, (n, i) => n + 683 * spectrum(nm) * here[i]);
    },
    [0, 0, 0],
  );

const columns = (r: Triple, g: Triple, b: Triple): Matrix => [
  [r[0], g[0], b[0]],
  [r[1], g[1], b[1]],
  [r[2], g[2], b[2]],
];

/** The spectrum of a light of this XYZ, mixed from three emissions. The observer's table is a published one. */
function mixed(emissions: Emissions, xyz: Triple): Spectrum {
  const shapes = emissions.map(
    ({ centre, width }): Spectrum =>
      (nm) =>
        Math.exp(-4 * Math.LN2 * ((nm - centre) / width) ** 2),
  );
  const [r, g, b] = shapes.map((shape) => seen(shape, observerAt)) as [Triple, Triple, Triple];
  const amounts = times(inverse(columns(r, g, b)), xyz);
  if (Math.min(...amounts) < 0) throw new Error(`no light is less than nothing: ${amounts.join(', ')}`);
  return (nm) => shapes.reduce((sum, shape, i) => sum + amounts[i]! * shape(nm), 0);
}

/**
 * The lights of a panel, of which all that it shows is a sum: red, green and blue, each with a little of the other two, and the white
 * emitter. Their amounts in a light are linear RGB and the luminance that the emitter gives.
 */
function lightsOf({ primaries, emissions }: Panel): { spectra: readonly Spectrum[]; amounts: (light: Light) => readonly number[] } {
  const toXyz = rgbToXyz(primaries);
  const toRgb = inverse(toXyz);
  const channels = ([0, 1, 2] as const).map((i) => mixed(emissions.rgb, [toXyz[0][i], toXyz[1][i], toXyz[2][i]]));
  const emitter = emissions.white && mixed(emissions.white, xyzOf(d65));
  return {
    spectra: emitter ? [...channels, emitter] : channels,
    amounts: ({ xyz, emitted }) => {
      const white = xyzOf(d65, emitted);
      const rgb = times(
        toRgb,
        map(xyz, (n, i) => n - white[i]),
      );
      return emitter ? [...rgb, emitted] : rgb;
    },
  };
}

const sum = (amounts: readonly number[], of: (i: number) => number): number =>
  amounts.reduce((total, amount, i) => total + amount * of(i), 0);

/** The spectrum of what a panel shows. */
export function spectrumOf(panel: Panel, light: Light): Spectrum {
  const { spectra, amounts } = lightsOf(panel);
  const parts = amounts(light);
  return (nm) => sum(parts, (i) => spectra[i]!(nm));
}

/** Relative spectral power of CIE illuminant A (ISO/CIE 11664-2). */
const lamp: Spectrum = (nm) => (560 / nm) ** 5 * (Math.expm1(1.435e7 / (2848 * 560)) / Math.expm1(1.435e7 / (2848 * nm)));

/**
 * XYZ of what a panel shows as a meter behind three filters has it. The meter was set right on the light of illuminant A; on another
 * spectrum its filters let it err.
 */
export function throughFilters(panel: Panel, filters: Filters): (light: Light) => Triple {
  const sight: Sight = (nm) => map([0, 0, 0], (_, i) => observerAt(555 + (nm - 555) / filters[i].stretch - filters[i].shift)[i]);
  const [right, wrong] = [seen(lamp, observerAt), seen(lamp, sight)];
  const { spectra, amounts } = lightsOf(panel);
  const readings = spectra.map((spectrum) => map(seen(spectrum, sight), (n, i) => (n * right[i]) / wrong[i]));
  return (light) => {
    const parts = amounts(light);
    return map([0, 0, 0], (_, k) => sum(parts, (i) => readings[i]![k]));
  };
}

/** Wavelengths of the spectroradiometer, nm. */
const SAMPLED: readonly number[] = Array.from({ length: 73 }, (_, i) => 400 + 5 * i);

/** `nm` and a column for each light, in mW/(sr·m²·nm). */
export function spectraRows(panel: Panel, lights: readonly Light[]): readonly (readonly string[])[] {
  const spectra = lights.map((light) => spectrumOf(panel, light));
  return SAMPLED.map((nm) => [`${nm}`, ...spectra.map((power) => (1000 * power(nm)).toFixed(3))]);
}
