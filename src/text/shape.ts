/** Whether data from elsewhere is what it should be; the types of a protocol are made from these, so that they cannot part ways. */
export type Shape<T> = (data: unknown) => data is T;

// biome-ignore lint/suspicious/noExplicitAny: what a shape is of is inferred from it
export type Of<S extends Shape<any>> = S extends Shape<infer T> ? T : never;

export const text: Shape<string> = (data) => typeof data === 'string';
export const flag: Shape<boolean> = (data) => typeof data === 'boolean';
/** A count, an index, a version: 0, 1, 2, … */
export const whole: Shape<number> = (data): data is number => Number.isSafeInteger(data) && (data as number) >= 0;

export const word =
  <W extends string | number>(...of: readonly W[]): Shape<W> =>
  (data): data is W =>
    of.includes(data as W);

export const list =
  <T>(of: Shape<T>): Shape<readonly T[]> =>
  (data): data is readonly T[] =>
    Array.isArray(data) && data.every(of);

export const record =
  <T>(of: Shape<T>): Shape<Readonly<Record<string, T>>> =>
  (data): data is Readonly<Record<string, T>> =>
    isObject(data) && Object.values(data).every(of);

export const either =
  // biome-ignore lint/suspicious/noExplicitAny: as above
    <S extends readonly Shape<any>[]>(...of: S): Shape<Of<S[number]>> =>
    (data): data is Of<S[number]> =>
      of.some((shape) => shape(data));

// biome-ignore lint/suspicious/noExplicitAny: as above
type Fields = Readonly<Record<string, Shape<any>>>;
type Object_<F extends Fields, P extends Fields> = { readonly [K in keyof F]: Of<F[K]> } & { readonly [K in keyof P]?: Of<P[K]> };

/** An object with these fields, and perhaps with others; `optional` ones are left out, never undefined. Further fields do not matter. */
export const object =
  <F extends Fields, P extends Fields = Record<never, never>>(fields: F, optional?: P): Shape<Object_<F, P>> =>
  (data): data is Object_<F, P> =>
    isObject(data) &&
    Object.entries(fields).every(([name, shape]) => Object.hasOwn(data, name) && shape(data[name])) &&
    Object.entries(optional ?? {}).every(([name, shape]) => !Object.hasOwn(data, name) || shape(data[name]));

const isObject = (data: unknown): data is Readonly<Record<string, unknown>> =>
  typeof data === 'object' && data !== null && !Array.isArray(data);
