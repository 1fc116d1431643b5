import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import type { PlantedFault } from '../display/mistakes';

const root = new URL('../../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), 'utf8');

/** `code line:column "what is underlined"` of all findings, in the order of the text. */
function foundIn(text: string): string[] {
  const source = SessionText.read(text);
  return analyse(source, NO_CONFIG).findings.map(({ code, span }) => {
    const line = source.lineAt(span[0]);
    return `${code} ${line + 1}:${span[0] - source.lineStart(line) + 1} "${text.slice(...span)}"`;
  });
}

describe.each(['bench-mistakes', 'hdr-mistakes'])('the session %s with planted faults', (name) => {
  const planted: { session: string; faults: PlantedFault[] } = JSON.parse(read(`test/examples/${name}.json`));
  const found = foundIn(read(planted.session));

  test.each(planted.faults.map((fault) => [fault.what, fault] as const))('shows that %s', (_, { code, line, column, underlined }) => {
    expect(found).toContain(`${code} ${line}:${column} "${underlined}"`);
  });

  test('shows nothing else', () => {
    expect(found).toEqual(planted.faults.map(({ code, line, column, underlined }) => `${code} ${line}:${column} "${underlined}"`));
  });
});

test.each(['aurora-55', 'meadow-65'])('the example %s has no findings', (name) => {
  expect(foundIn(read(`examples/${name}.nitbook`))).toEqual([]);
});
