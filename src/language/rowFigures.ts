import { patches, saturation } from '../measure/coloured';
import type { Coloured } from '../measure/colours';
import { greyscale } from '../measure/greyscale';
import type { AnyKernel, Context } from '../measure/kernel';
import type { RunResult } from '../measure/result';
import { between, figure, type Value } from '../measure/value';

/** The kernels whose row figures hang on nothing but the patch of the row. */
const KERNELS: Readonly<Record<string, AnyKernel>> = { greyscale, saturation, patches };

/** The context of a run whose patches have targets. */
export const colouredOf = ({ context }: RunResult): Coloured | undefined =>
  context && 'targetX' in context ? (context as Coloured) : undefined;

type List = Float64Array | Int32Array | Uint8Array;

/** The context of one patch alone: it costs the same in a run of any length. */
function alone<C extends Context>(c: C, patch: number): C {
  const cut = (list: List): List => list.subarray(patch, patch + 1);
  const lists = (from: object): object =>
    Object.fromEntries(
      Object.entries(from).map(([name, value]) => [name, ArrayBuffer.isView(value) && name !== 'ofRow' ? cut(value as List) : value]),
    );
  return { ...lists(c), patches: { ...lists(c.patches), count: 1 } } as C;
}

/**
 * A figure of one patch; `id` is a measure of rows, not one of a group of rows. Of runs of greys and colours it is computed without those
 * of the other patches. Undefined where the patch has none: `RunResult.value` says why.
 */
export function rowFigure(result: RunResult, id: string, patch: number): Extract<Value, { ok: true }> | undefined {
  const { context } = result;
  if (!context) return undefined;
  const kernel = KERNELS[result.run.kind];
  const compute = (c: Context): number => {
    if (!kernel) return result.rows(id)?.[patch] ?? Number.NaN;
    const one = alone(c, patch);
    const rows = (other: string): Float64Array => kernel.rows[other]!(one, rows);
    return Object.hasOwn(kernel.rows, id) ? rows(id)[0]! : Number.NaN;
  };
  const v = compute(context);
  if (!Number.isFinite(v)) return undefined;
  const other = context.atFloor ? compute(context.atFloor) : v;
  const value = Number.isFinite(other) ? between(figure(v), figure(other)) : figure(v);
  return value.ok ? value : undefined;
}
