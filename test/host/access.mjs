// What a checker for access finds in a page.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** The violations in a frame or page, each with the elements it is about. */
export async function violationsIn(frame) {
  await frame.evaluate(axe);
  const { violations } = await frame.evaluate(() => globalThis.axe.run(document, { resultTypes: ['violations'] }));
  return violations.map(({ id, impact, nodes }) => ({ id, impact, at: nodes.slice(0, 3).map(({ html }) => html.slice(0, 200)) }));
}
