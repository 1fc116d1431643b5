import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { MOST_PLANNED } from '../../src/config/plans';
import { readConfig } from '../../src/config/readConfig';
import { sentence } from '../../src/text/finding';
import { applyEdits } from '../../src/text/span';
import { ownWords, PSEUDO, unsaid } from '../editor/pseudo';

const read = (text: string) => readConfig(text, { measures: new Set() });
/** Findings of a file with one plan, as `where: what is underlined: sentence`. */
const said = (plan: string): string[] => {
  const text = `{"plans": {"P": ${plan}}}`;
  const { findings, config } = read(text);
  if (findings.length > 0) expect(config.plans.size, 'a plan with a mistake is left out').toBe(0);
  for (const f of findings) expect(unsaid(sentence(f, PSEUDO), ownWords(text))).toEqual([]);
  return findings.map((f) => `${f.at.replace(/^plans\/?/, '')}: ${text.slice(...f.span)}: ${sentence(f)}`);
};
const run = (fields: string) => said(`{"runs": [{${fields}}]}`);

describe('plans', () => {
  it('are read with their blocks, runs and rows', () => {
    const { config, findings } = read(`{
      // Ours
      "plans": {
        "Quick look": {
          "about": "an hour",
          "blocks": [
            { "kind": "signal", "id": "sdr", "properties": { "range": "limited" } },
            { "kind": "signal", "id": "pc", "title": "From the desk", "from": "sdr", "properties": { "range": "full" } },
          ],
          "runs": [
            { "kind": "greyscale", "id": "grey", "title": "Short", "levels": [0, 50, 100], "properties": { "signal": "sdr" } },
            { "kind": "greyscale", "id": "codes", "like": "grey", "columns": "level[10bit] Y", "levels": "64..68 step 2" },
            { "kind": "saturation", "id": "sat", "hues": ["red", "blue"], "saturations": "50, 100" },
            { "kind": "patches", "id": "mix", "patches": ["skin 78  59.5 49"] },
            { "kind": "uniformity", "id": "field", "grid": "2 x 3" },
          ],
        },
      },
    }`);
    expect(findings).toEqual([]);
    expect([...config.plans]).toEqual([
      [
        'Quick look',
        {
          about: 'an hour',
          blocks: [
            { kind: 'signal', id: 'sdr', properties: { range: 'limited' } },
            { kind: 'signal', id: 'pc', title: 'From the desk', from: 'sdr', properties: { range: 'full' } },
          ],
          runs: [
            {
              kind: 'greyscale',
              id: 'grey',
              title: 'Short',
              properties: { signal: 'sdr' },
              columns: 'level Y x y',
              keys: ['level'],
              rows: [['0'], ['50'], ['100']],
            },
            {
              kind: 'greyscale',
              id: 'codes',
              like: 'grey',
              properties: {},
              columns: 'level[10bit] Y',
              keys: ['level'],
              rows: [['64'], ['66'], ['68']],
            },
            {
              kind: 'saturation',
              id: 'sat',
              properties: {},
              columns: 'hue sat Y x y',
              keys: ['hue', 'sat'],
              rows: [
                ['red', '50'],
                ['red', '100'],
                ['blue', '50'],
                ['blue', '100'],
              ],
            },
            {
              kind: 'patches',
              id: 'mix',
              properties: {},
              columns: 'patch R G B Y x y',
              keys: ['patch', 'R', 'G', 'B'],
              rows: [['skin', '78', '59.5', '49']],
            },
            {
              kind: 'uniformity',
              id: 'field',
              properties: {},
              columns: 'row col Y x y',
              keys: ['row', 'col'],
              rows: [
                ['1', '1'],
                ['1', '2'],
                ['1', '3'],
                ['2', '1'],
                ['2', '2'],
                ['2', '3'],
              ],
            },
          ],
        },
      ],
    ]);
  });

  it('say in place what they do not take, and are then left out', () => {
    expect(said('[]')).toEqual(['P: []: A plan takes an object such as { "runs": [ … ] }. It is not used.']);
    expect(said('{}')).toEqual(['P: "P": "P" needs "runs". It is not used.']);
    expect(said('{"runs": {}}')).toEqual(['P/runs: {}: runs takes a list of at most 256 objects. It is not used.']);
    expect(said('{"runs": [], "run": []}')).toEqual([
      'P/run: "run": A plan takes about, blocks, runs, not "run". It is not used. Perhaps runs?',
    ]);
    expect(said('{"runs": [5]}')).toEqual([
      'P/runs/1: 5: A run of a plan takes an object such as { "kind": "greyscale", "id": "grey", "levels": "21 steps" }. It is not used.',
    ]);
    expect(said('{"runs": [], "blocks": [{"kind": "singal", "id": "a"}]}')).toEqual([
      'P/blocks/1/kind: "singal": Expected a "kind" of meter, signal, mode, target. It is not used. Perhaps signal?',
    ]);
    expect(said('{"runs": [], "blocks": [{"kind": "mode", "id": "a"}, {"kind": "mode", "id": "a", "from": "b"}]}')).toEqual([
      'P/blocks/2/id: "a": The id a is taken by a block or run above. It is not used.',
      'P/blocks/2/from: "b": from takes the id of a block or run above. It is not used.',
    ]);
    expect(said('{"runs": [], "blocks": [{"kind": "mode", "id": "a", "properties": {"x": 5, "y": "a\\nb"}}]}')).toEqual([
      'P/blocks/1/properties/x: 5: x takes a text in one line. It is not used.',
      'P/blocks/1/properties/y: "a\\nb": y takes a text in one line. It is not used.',
    ]);
    expect(run('"id": "g"')[0]).toMatch(/^P\/runs\/1: {"id": "g"}: Expected a "kind" of greyscale, tracking, /);
    expect(run('"kind": "lag", "places": ["top"]')).toEqual([
      'P/runs/1: {"kind": "lag", "places": ["top"]}: Expected an "id": a letter, then letters, digits and hyphens. It is not used.',
    ]);
    expect(run('"kind": "lag", "id": "2nd", "places": ["top"]')[0]).toMatch(/^P\/runs\/1\/id: "2nd": Expected an "id"/);
    expect(run('"kind": "greyscale", "id": "g"')[0]).toMatch(/A greyscale run of a plan needs "levels": a text or a list of numbers: /);
    expect(run('"kind": "greyscale", "id": "g", "levels": "lots"')[0]).toMatch(
      /^P\/runs\/1\/levels: "lots": levels takes a text or a list/,
    );
    expect(run('"kind": "greyscale", "id": "g", "levels": "5", "windows": "5"')[0]).toMatch(
      /^P\/runs\/1\/windows: "windows": A greyscale run/,
    );
    expect(run('"kind": "lag", "id": "l", "places": ["top left"]')[0]).toMatch(/"top left"\]: places takes a list of names/);
    expect(run('"kind": "patches", "id": "l", "patches": ["skin 78 59"]')[0]).toMatch(
      /patches takes a list of a name and its red, green and blue/,
    );
    expect(run('"kind": "uniformity", "id": "l", "grid": "0 x 99"')[0]).toMatch(/grid takes a text such as "5 x 5"/);
  });

  it('stay small', () => {
    const hues = JSON.stringify(Array.from({ length: 30 }, (_, i) => `h${i}`));
    expect(run(`"kind": "saturation", "id": "s", "hues": ${hues}, "saturations": "1000 steps"`)[0]).toMatch(
      new RegExp(`A run of a plan has at most ${MOST_PLANNED} rows`),
    );
    expect(said(`{"runs": [${Array(257).fill('{}').join()}]}`)[0]).toMatch(/runs takes a list of at most 256 objects/);
  });

  it('have names in one line', () => {
    expect(read('{"plans": {"": {"runs": []}, "a\\nb": {"runs": []}}}').findings.map((f) => f.code)).toEqual([
      'config-value',
      'config-value',
    ]);
  });

  test('any mutated plan is read, and findings lie in the text', () => {
    const whole = JSON.stringify({
      plans: {
        P: {
          about: 'a',
          blocks: [{ kind: 'mode', id: 'm', properties: { __proto: '1' } }],
          runs: [
            { kind: 'greyscale', id: 'g', levels: '3 steps', properties: { mode: 'm' } },
            { kind: 'saturation', id: 's', like: 'g', hues: ['red'], saturations: [50, 100] },
          ],
        },
      },
    });
    const put = fc.constantFrom('', '"', '{', '[', '5', ',', ':', '"runs"', 'null', '"__proto__": {}', '"x"', '\\u00');
    fc.assert(
      fc.property(fc.nat(whole.length), fc.nat(12), put, (from, removed, text) => {
        const mutated = whole.slice(0, from) + text + whole.slice(from + removed);
        const { findings, config } = read(mutated);
        for (const { span, mends } of findings) {
          expect(span[1]).toBeLessThanOrEqual(mutated.length);
          for (const mend of mends) applyEdits(mutated, mend.edits);
        }
        for (const { runs } of config.plans.values())
          for (const { rows, keys } of runs) for (const row of rows) expect(row).toHaveLength(keys.length);
      }),
      { seed: 20260314, numRuns: 1500 },
    );
  });
});
