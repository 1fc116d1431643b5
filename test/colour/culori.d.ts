// culori comes without types; only what these tests use.
declare module 'culori' {
  export interface CuloriColor {
    readonly mode: string;
    readonly [channel: string]: number | string;
  }
  export function converter(mode: string): (color: CuloriColor) => Record<string, number>;
  export function differenceCiede2000(kL?: number, kC?: number, kH?: number): (a: CuloriColor, b: CuloriColor) => number;
  export function differenceCie94(kL?: number, K1?: number, K2?: number): (a: CuloriColor, b: CuloriColor) => number;
  export function differenceItp(): (a: CuloriColor, b: CuloriColor) => number;
}
