import { limitsFor } from '../judge/limits';
import type { RunResult } from '../measure/result';
import type { MeasureSpec } from '../measure/specs';
import type { Bound } from '../text/limitText';
import { phrase, plainNumber } from '../text/message';
import type { Band, Rule } from './figure';
import { type Subject, words } from './subject';

/** What an aim or limit lets through, in the unit of the measure; open to one side unless it is a range. */
export interface Room {
  readonly low?: number;
  readonly high?: number;
}

export interface Rooms {
  readonly aim?: Room;
  readonly limit?: Room;
}

/** The aim and limit of a measure of a run. `centre` is what a `nearer` measure is nearer to; 0 for one that is shown as a deviation. */
export function roomsOf({ analysis: { config } }: Subject, result: RunResult, id: string, centre = 0, key: readonly string[] = []): Rooms {
  const spec = result.specs[id];
  const found = spec && limitsFor(result.session, config, result, id, key);
  const room = (bound: Bound | undefined): Room | undefined => bound && spec && roomOf(bound, spec, centre);
  const [aim, limit] = [room(found?.aim), room(found?.limit)];
  return { ...(aim && { aim }), ...(limit && { limit }) };
}

function roomOf({ low, high }: Bound, { direction, centre: own = 0 }: MeasureSpec, centre: number): Room {
  if (low !== undefined) return { low: low - own + centre, high: high - own + centre };
  if (direction === 'larger') return { low: high };
  return direction === 'nearer' ? { low: centre - high, high: centre + high } : { high };
}

/** The ends of aim and limit, for the domain of an axis. */
export const roomEnds = ({ aim, limit }: Rooms): readonly number[] =>
  [aim?.low, aim?.high, limit?.low, limit?.high].filter((v) => v !== undefined);

/** How far from 0 is still near enough: by the aim, else the limit. */
export const roomSize = ({ aim, limit }: Rooms): number | undefined => {
  const room = aim ?? limit;
  return room && Math.max(Math.abs(room.low ?? 0), Math.abs(room.high ?? 0));
};

/** Lines, and the band between them, for aim and limit along y. */
export function roomMarks(subject: Subject, { aim, limit }: Rooms, unit: string, extent?: readonly [number, number]): (Rule | Band)[] {
  const some = extent ? { extent } : {};
  const marks = (role: 'aim' | 'limit', room: Room | undefined): (Rule | Band)[] => {
    if (!room) return [];
    const { low, high } = room;
    const band: Band[] =
      role === 'aim' && low !== undefined && high !== undefined ? [{ is: 'band', along: 'y', between: [low, high], role, ...some }] : [];
    const rules = [high, low].flatMap((at, i): Rule[] =>
      at === undefined
        ? []
        : [
            {
              is: 'rule',
              along: 'y',
              at,
              role,
              ...some,
              ...((i === 0 || high === undefined) && { label: roomText(subject, role, room, unit) }),
              ...(i === 0 && low !== undefined && { pair: low }),
            },
          ],
    );
    return [...band, ...rules];
  };
  return [...marks('aim', aim), ...marks('limit', limit)];
}

/** `aim ±2 %`, `limit 3`; the size alone without a role. */
export function roomText(subject: Subject, role: 'aim' | 'limit' | undefined, { low, high }: Room, unit: string): string {
  const isAlike = low !== undefined && high !== undefined && Math.abs(low + high) < 1e-9;
  const size = isAlike
    ? `±${plainNumber(high)}`
    : low !== undefined && high !== undefined
      ? `${plainNumber(low)}..${plainNumber(high)}`
      : plainNumber(high ?? low!);
  const text = unit === '' ? size : `${size} ${unit}`;
  if (!role) return text;
  return words(subject, role === 'aim' ? phrase('aim {size}', { size: text }) : phrase('limit {size}', { size: text }));
}
