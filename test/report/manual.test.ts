import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { MEASURES } from '../../src/measure/specs';
import { PAGES } from '../../src/report/manual';
import { BLOCKS } from '../../src/session/vocabulary';
import { CODES } from '../../src/text/codes';

describe('the reference pages', () => {
  for (const [file, page] of Object.entries(PAGES)) {
    it(`${file} is what the tables say (npm run docs writes it)`, () => {
      expect(readFileSync(file, 'utf8')).toBe(page());
    });
  }

  it('name every block, every code and every measure', () => {
    const [blocks, findings, measures] = ['syntaxes/blocks.md', 'syntaxes/findings.md', 'syntaxes/measures.md'].map((file) =>
      readFileSync(file, 'utf8'),
    );
    for (const keyword of Object.keys(BLOCKS)) expect(blocks).toMatch(new RegExp(`^## \`${keyword}[ \`]`, 'm'));
    for (const code of Object.keys(CODES)) expect(findings).toContain(`| \`${code}\` |`);
    for (const [kind, specs] of Object.entries(MEASURES))
      for (const id of Object.keys(specs)) expect(measures).toContain(`| \`${kind}.${id}\``);
  });
});
