import { type Peak, spectrumPeaks } from '../algorithms/spectrum';
import { xyzToXy } from '../colour/chromaticity';
import { integrate } from '../colour/spectrum';
import { cctDuv } from '../colour/temperature';
import type { Run, Session } from '../session/session';
import { type Arg, phrase } from '../text/message';
import type { Context, Kernel } from './kernel';
import { type Patches, Seen } from './readings';
import { readSpectra, type Spectrum } from './spectra';
import { without } from './value';

/** Spectra stand in columns: what other runs have by row, this one has by spectrum and peak. */
export interface Spectral extends Context {
  /** By patch: its spectrum and one of its peaks, if it has any. */
  readonly spectra: readonly Spectrum[];
  readonly peaks: readonly (Peak | undefined)[];
  readonly counts: readonly number[];
}

function prepare(session: Session, run: Run): Spectral {
  const all = readSpectra(run).flatMap((spectrum) => {
    const found = spectrumPeaks(spectrum.wavelengths, spectrum.values);
    const peaks: readonly (Peak | undefined)[] = found.ok && found.v.length > 0 ? found.v : [undefined];
    return peaks.map((peak, at) => ({ spectrum, peak, at, count: found.ok ? found.v.length : Number.NaN }));
  });
  const count = all.length;
  const xyz = all.map(({ spectrum }) => (spectrum.wrong ? undefined : integrate(spectrum.wavelengths, spectrum.values)));
  const part = (k: 0 | 1 | 2) => Float64Array.from(xyz, (v) => v?.[k] ?? Number.NaN);
  const patches: Patches = {
    count,
    first: new Int32Array(count),
    X: part(0),
    Y: part(1),
    Z: part(2),
    seen: Uint8Array.from(xyz, (v) => (v ? Seen.Measured : Seen.None)),
    times: new Int32Array(count).fill(1),
    revisit: new Uint8Array(count),
    firstOfKey: Int32Array.from(all, (_, i) => i),
    ofRow: new Int32Array(run.table.rows.length).fill(-1),
  };
  return {
    session,
    run,
    patches,
    keys: ['spectrum', 'peak'],
    names: all.map(({ spectrum, at }) => ({ spectrum: spectrum.name, peak: String(at + 1) })),
    spectra: all.map(({ spectrum }) => spectrum),
    peaks: all.map(({ peak }) => peak),
    counts: all.map((one) => one.count),
  };
}

const bySpectrum = (c: Spectral, of: (xyz: readonly [number, number, number]) => number): Float64Array =>
  Float64Array.from(c.spectra, (_, i) => of([c.patches.X[i]!, c.patches.Y[i]!, c.patches.Z[i]!]));

const temperature = (xyz: readonly [number, number, number], which: 'cct' | 'duv'): number => {
  const found = cctDuv(xyzToXy(xyz));
  return 'cct' in found ? found[which] : Number.NaN;
};

export const spectrum: Kernel<'spectrum', Spectral> = {
  prepare,
  rows: {
    x: (c) => bySpectrum(c, (xyz) => xyzToXy(xyz)[0]),
    y: (c) => bySpectrum(c, (xyz) => xyzToXy(xyz)[1]),
    X: (c) => c.patches.X.slice(),
    Y: (c) => c.patches.Y.slice(),
    Z: (c) => c.patches.Z.slice(),
    cct: (c) => bySpectrum(c, (xyz) => temperature(xyz, 'cct')),
    duv: (c) => bySpectrum(c, (xyz) => temperature(xyz, 'duv')),
    peaks: (c) => Float64Array.from(c.counts),
    peak: (c) => Float64Array.from(c.peaks, (peak) => peak?.wavelength ?? Number.NaN),
    width: (c) => Float64Array.from(c.peaks, (peak) => (peak?.width.ok ? peak.width.v : Number.NaN)),
  },
  run: {},
  why: (c, id, patch) => {
    const { wrong } = c.spectra[patch]!;
    if (wrong) return wrong;
    if (id === 'cct' || id === 'duv') return without('far-from-planckian');
    const peak = c.peaks[patch];
    if (!peak) return without('no-peak');
    return peak.width.ok ? undefined : peak.width;
  },
  says: (c) => {
    const said = new Map<string, Arg[]>();
    c.peaks.forEach((peak, i) => {
      if (!peak) return;
      const { name } = c.spectra[i]!;
      const nm = peak.wavelength.toFixed(0);
      const at = peak.width.ok ? phrase('{nm} nm ({width} nm wide)', { nm, width: peak.width.v.toFixed(0) }) : `${nm} nm`;
      said.set(name, [...(said.get(name) ?? []), at]);
    });
    return [...said].map(([patch, peaks]) => ({ code: 'spectrum-peaks', args: { patch, peaks } }));
  },
};
