import type { Vec3 } from '../colour/vector';
import type { Block } from '../session/block';
import type { Session } from '../session/session';
import { type MeterErrors, type Sym3, spreadOf } from '../uncertainty/covariance';

/** What a meter says of its errors. */
export interface StatedErrors {
  /** With 0 for what it does not say. */
  readonly meter: MeterErrors;
  /** Of what it says no spread: figures that hang on it have no interval. */
  readonly unsaid: readonly ('xy' | 'Y')[];
  /** Names of what all of its readings share. */
  readonly names: readonly [x: string, y: string, Y: string];
}

/** Undefined for a meter that states no spread at all. */
export function statedErrors(session: Session, meter: Block | undefined): StatedErrors | undefined {
  if (!meter) return undefined;
  const of = (property: 'spread' | 'accuracy') => ({
    xy: session.quantityOf(meter, property, 'chromaticity')?.value,
    Y: session.quantityOf(meter, property, 'percent')?.value,
  });
  const [spread, accuracy] = [of('spread'), of('accuracy')];
  if (spread.xy === undefined && spread.Y === undefined) return undefined;
  const stated = ({ xy = 0, Y = 0 }: typeof spread) => ({ xy, Y: Y / 100 });
  return {
    meter: { spread: stated(spread), accuracy: stated(accuracy), floor: session.number(meter, 'floor') ?? 0 },
    unsaid: (['xy', 'Y'] as const).filter((what) => spread[what] === undefined),
    names: [`x ${meter.name}`, `y ${meter.name}`, `Y ${meter.name}`],
  };
}

/**
 * A square root of the covariance of the spread of one reading, by columns: three independent errors of one standard deviation each, Y in
 * the first alone. A reading without a colour has one.
 */
export function spreadColumns(meter: MeterErrors, xyz: Vec3, repeats: number): readonly Vec3[] {
  if (Number.isNaN(xyz[0] + xyz[2])) {
    const grey = spreadOf(meter, [xyz[1], xyz[1], xyz[1]], repeats);
    return [[0, Math.sqrt(grey[3]), 0]];
  }
  const [xx, xy, xz, yy, yz, zz]: Sym3 = spreadOf(meter, xyz, repeats);
  const y = Math.sqrt(yy) || 1;
  const [a, b] = [xy / y, yz / y];
  const x = Math.sqrt(Math.max(0, xx - a * a)) || 1;
  const c = (xz - a * b) / x;
  return [
    [a, Math.sqrt(yy), b],
    [Math.sqrt(Math.max(0, xx - a * a)), 0, c],
    [0, 0, Math.sqrt(Math.max(0, zz - b * b - c * c))],
  ];
}
