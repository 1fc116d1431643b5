// culori comes without types; only what tests and the bench use.
declare module 'culori' {
  export interface CuloriColor {
    readonly mode: string;
    readonly [channel: string]: number | string;
  }
  type Xyz = Record<'x' | 'y' | 'z', number>;
  export function converter(mode: string): (color: CuloriColor) => Record<string, number>;
  export function differenceCiede2000(kL?: number, kC?: number, kH?: number): (a: CuloriColor, b: CuloriColor) => number;
  export function differenceCie94(kL?: number, K1?: number, K2?: number): (a: CuloriColor, b: CuloriColor) => number;
  export function convertXyz65ToLab65(color: Xyz): Record<'l' | 'a' | 'b', number>;
  export function convertLab65ToXyz65(color: Record<'l' | 'a' | 'b', number>): Xyz;
  export function convertXyz50ToLuv(color: Xyz): Record<'l' | 'u' | 'v', number>;
  export function convertXyz65ToItp(color: Xyz): Record<'i' | 't' | 'p', number>;
  export function differenceItp(): (a: CuloriColor, b: CuloriColor) => number;
}
