// Paints media/icon.png from media/icon.svg: run after a change of the drawing.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { launch } from './browser.mjs';
import { root } from './setup.mjs';

const browser = await launch();
const page = await browser.newPage({ viewport: { width: 256, height: 256 } });
await page.setContent(`<style>body{margin:0}svg{display:block}</style>${readFileSync(join(root, 'media/icon.svg'), 'utf8')}`);
await page.screenshot({ path: join(root, 'media/icon.png'), omitBackground: true });
await browser.close();
