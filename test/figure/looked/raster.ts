import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { initWasm } from '@resvg/resvg-wasm';
import { rasterised } from '../../../src/cli/png';

/** Draws pictures with the renderer and the fonts of the command line, as the packages bring them. */
export async function rasteriser(packages: string): Promise<(svg: string) => Uint8Array> {
  await initWasm(readFileSync(`${packages}/@resvg/resvg-wasm/index_bg.wasm`));
  const fonts = ['DejaVuSans', 'DejaVuSans-Bold'].map((name) => readFileSync(`${packages}/dejavu-fonts-ttf/ttf/${name}.ttf`));
  return (svg) => rasterised(svg, 1, fonts);
}

export const hashOf = (png: Uint8Array): string => createHash('sha256').update(png).digest('hex');
