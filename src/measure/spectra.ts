import type { Refused } from '../algorithms/result';
import { checkSpectrum } from '../algorithms/spectrum';
import type { Run } from '../session/session';

/** One column of a spectrum run. */
export interface Spectrum {
  readonly name: string;
  readonly wavelengths: readonly number[];
  readonly values: readonly number[];
  /** Why it is no spectrum. */
  readonly wrong: Refused | undefined;
}

/** The spectra of a run, column by column. Rows that are struck out take no part. */
export function readSpectra({ table }: Pick<Run, 'table'>): readonly Spectrum[] {
  const nm = table.columns.get('nm');
  if (!nm) return [];
  const rows = table.rows.filter(({ struck }) => !struck);
  const wavelengths = rows.map((row) => row.values[nm.cell] ?? Number.NaN);
  return [...table.columns.values()]
    .filter((column) => column !== nm)
    .map(({ name, cell }) => {
      const values = rows.map((row) => row.values[cell] ?? Number.NaN);
      return { name, wavelengths, values, wrong: checkSpectrum(wavelengths, values) };
    });
}
