import { readFile } from 'node:fs/promises';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { CannotRun } from './io';

/** Beside the program: the renderer, and the fonts that it writes with, so that a picture is the same on every system. */
const FILES = { wasm: './png/resvg.wasm', fonts: ['./png/DejaVuSans.ttf', './png/DejaVuSans-Bold.ttf'] };

let fonts: Promise<readonly Uint8Array[]> | undefined;

/** An SVG text as PNG, `scale` pixels for each of its own. */
export async function pngOf(svg: string, scale: number): Promise<Uint8Array> {
  fonts ??= prepared();
  return rasterised(svg, scale, await fonts);
}

/** The same, once the renderer is there. */
export function rasterised(svg: string, scale: number, fonts: readonly Uint8Array[]): Uint8Array {
  const picture = new Resvg(svg, {
    fitTo: { mode: 'zoom', value: scale },
    font: { fontBuffers: [...fonts], defaultFontFamily: 'DejaVu Sans', sansSerifFamily: 'DejaVu Sans' },
  }).render();
  const png = picture.asPng();
  picture.free();
  return png;
}

async function prepared(): Promise<readonly Uint8Array[]> {
  const read = (file: string) => readFile(new URL(file, import.meta.url));
  try {
    const [wasm, ...found] = await Promise.all([FILES.wasm, ...FILES.fonts].map(read));
    await initWasm(wasm!);
    return found;
  } catch {
    throw new CannotRun(
      'PNG cannot be written, as files that belong to this program are missing beside it (png/): write SVG, or build it anew',
    );
  }
}
