/** Pictures that pages show, by the ending of their name. */
const TYPES: Readonly<Record<string, string>> = {
  png: 'image/png',
  jpg: 'image/jpeg',
  jpeg: 'image/jpeg',
  gif: 'image/gif',
  webp: 'image/webp',
  avif: 'image/avif',
  svg: 'image/svg+xml',
};

/** Larger pictures are not taken along. */
export const MOST_PICTURE_BYTES = 20_000_000;

export function mediaTypeOf(path: string): string | undefined {
  const ending = path.slice(path.lastIndexOf('.') + 1).toLowerCase();
  return Object.hasOwn(TYPES, ending) ? TYPES[ending] : undefined;
}

/** The name of a file without its folder and ending. */
export const baseOf = (path: string): string => path.replace(/^.*\//, '').replace(/\.[^.]*$/, '');
