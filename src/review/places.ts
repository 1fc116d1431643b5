import type { Reference } from '../session/reference';
import { writeReference } from '../session/reference';
import type { Span } from '../text/span';

/** Where the parts of a reference stand in it. */
export interface TargetPlaces {
  readonly path: Span;
  readonly ids: Span;
  /** Empty, at its end, where there is none; so are the keys. */
  readonly measure: Span;
  readonly keys: Span;
}

/** A text with a `#` as the format divides it, whatever is wrong in its parts. */
export function targetPlaces(target: string): TargetPlaces {
  const end = target.length;
  const hash = firstOf('#', target, 0, end);
  const at = firstOf('@', target, hash, end);
  const dot = firstOf('.', target, hash, at);
  return { path: [0, hash], ids: [Math.min(hash + 1, end), dot], measure: [Math.min(dot + 1, at), at], keys: [Math.min(at + 1, end), end] };
}

function firstOf(mark: string, text: string, from: number, end: number): number {
  const at = text.indexOf(mark, from);
  return at < 0 || at > end ? end : at;
}

/** `#grey.de.max`. */
export const fragmentText = (fragment: Pick<Reference, 'ids' | 'measure' | 'keys'>): string => writeReference({ path: '', ...fragment });

/** A path as a reference writes it. */
export const pathText = (path: string): string => writeReference({ path, ids: [''], measure: '', keys: [] }).slice(0, -1);

export const nameOf = (path: string): string => path.slice(path.lastIndexOf('/') + 1);

/** The path of a file as it is written in a text of a folder. */
export function relativePath(folder: string, path: string): string {
  const from = folder.split('/');
  const to = path.split('/');
  let same = 0;
  while (same < from.length && same < to.length - 1 && from[same] === to[same]) same++;
  return [...from.slice(same).map(() => '..'), ...to.slice(same)].join('/');
}
