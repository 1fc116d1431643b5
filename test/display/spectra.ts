import { observerAt } from '../../src/colour/observer';
import { inverse, type Matrix, type Triple, times } from './light';

/** Wavelengths of the spectroradiometer, nm. */
const WAVELENGTHS: readonly number[] = Array.from({ length: 73 }, (_, i) => 400 + 5 * i);
const STEP = 5;

/** The lights that a panel is thought to mix its colours from: Gaussians of these centres and full widths at half maximum, nm. */
const EMITTERS = [
  { centre: 634, width: 24 },
  { centre: 527, width: 28 },
  { centre: 455, width: 20 },
] as const;

const emitted = ({ centre, width }: (typeof EMITTERS)[number], nm: number): number =>
  Math.exp(-4 * Math.LN2 * ((nm - centre) / width) ** 2);

/** XYZ of a spectrum in W/(sr·m²·nm), by the sum over the samples (CIE 15). The table of the observer is a published one. */
const xyzOfSpectrum = (power: (nm: number) => number): Triple => {
  const xyz: [number, number, number] = [0, 0, 0];
  for (const nm of WAVELENGTHS)
    observerAt(nm).forEach((eye, i) => {
      xyz[i as 0] += 683 * STEP * power(nm) * eye;
    });
  return xyz;
};

/** The spectrum, by wavelength, of a light of this XYZ made of the emitters; what they cannot mix is as near as no light of one comes. */
function spectrumOf(xyz: Triple): (nm: number) => number {
  const [r, g, b] = EMITTERS.map((emitter) => xyzOfSpectrum((nm) => emitted(emitter, nm))) as [Triple, Triple, Triple];
  const mix: Matrix = [
    [r[0], g[0], b[0]],
    [r[1], g[1], b[1]],
    [r[2], g[2], b[2]],
  ];
  const amounts = times(inverse(mix), xyz).map((n) => Math.max(0, n));
  return (nm) => EMITTERS.reduce((sum, emitter, i) => sum + amounts[i]! * emitted(emitter, nm), 0);
}

/** `nm` and a column for each light, in mW/(sr·m²·nm). */
export function spectraRows(lights: readonly Triple[]): readonly (readonly string[])[] {
  const spectra = lights.map(spectrumOf);
  return WAVELENGTHS.map((nm) => [`${nm}`, ...spectra.map((power) => (1000 * power(nm)).toFixed(3))]);
}
