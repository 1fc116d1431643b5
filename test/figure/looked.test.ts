import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { BUILDERS } from '../../src/figure/figures';
import { pictures } from './looked/pictures';
import { hashOf, rasteriser } from './looked/raster';

interface Note {
  /** What was checked when someone looked at it. */
  readonly checked: string;
  /** Of its PNG in each theme, 720 px wide. */
  readonly sha256: Readonly<Record<string, string>>;
}

// What a picture looks like is for eyes to judge. That it has been looked at as it is now can be tested.

const root = resolve(import.meta.dirname, '../..');
const notes = JSON.parse(readFileSync(`${root}/test/figure/looked/notes.json`, 'utf8')) as Readonly<Record<string, Note>>;
const all = [...pictures((file) => readFileSync(`${root}/${file}`, 'utf8'))];

it('every picture has been looked at as it is now: if not, npm run figures:look, then note what was checked (see looked/look.mjs)', async () => {
  const draw = await rasteriser(`${root}/node_modules`);
  const changed = all.filter(({ figure, theme, svg }) => notes[figure]?.sha256[theme] !== hashOf(draw(svg)));
  expect(changed.map(({ name }) => name)).toEqual([]);
}, 300_000);

it('the notes are of these pictures alone, and say something', () => {
  expect(Object.keys(notes)).toEqual([...new Set(all.map(({ figure }) => figure))]);
  for (const [figure, { checked }] of Object.entries(notes)) expect(checked.length, figure).toBeGreaterThan(10);
});

it('every figure is among them', () => {
  const shown = new Set(all.map(({ figure }) => figure.replace(/.*#[^.]*\./, '')));
  expect(BUILDERS.map(({ id }) => id).filter((id) => !shown.has(id))).toEqual([]);
});
