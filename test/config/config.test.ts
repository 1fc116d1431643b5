import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Config, NO_CONFIG } from '../../src/config/config';
import { readConfig } from '../../src/config/readConfig';
import { MAX_DEPTH } from '../../src/config/syntax';
import { CODES } from '../../src/text/codes';
import { sentence } from '../../src/text/finding';
import { applyEdits } from '../../src/text/span';
import { ownWords, PSEUDO, unsaid } from '../editor/pseudo';

const known = { measures: new Set(['greyscale.de.max', 'greyscale.de.avg', 'contrast.sequential']) };
const read = (text: string) => readConfig(text, known);

/** The findings as `where: what is underlined: sentence`. */
const said = (text: string): string[] =>
  read(text).findings.map((f) => {
    expect(unsaid(sentence(f, PSEUDO), ownWords(text))).toEqual([]);
    return `${f.at}: ${text.slice(...f.span)}: ${sentence(f)}`;
  });

/** The config as plain data. */
const data = ({ limits, severities }: Config) => ({ limits: [...limits], severities: [...severities] });

describe('a configuration is read', () => {
  test('with comments, trailing commas and all of its keys', () => {
    const text = `// For this folder
{
  "limits": {
    "greyscale.de.max": "aim 1, limit 3", /* stricter */
    "contrast.sequential": "limit 1000..1e6",
  },
  "findings": { "minus-sign": "off", "decimal-comma": "error", "id-missing": "info", "date-missing": "warning", },
}
`;
    const { config, findings } = read(text);
    expect(findings).toEqual([]);
    expect(data(config)).toEqual({
      limits: [
        ['greyscale.de.max', { aim: { high: 1 }, limit: { high: 3 } }],
        ['contrast.sequential', { limit: { low: 1000, high: 1e6 } }],
      ],
      severities: [
        ['minus-sign', 'off'],
        ['decimal-comma', 'error'],
        ['id-missing', 'info'],
        ['date-missing', 'warning'],
      ],
    });
  });

  test.each(['', ' \r\n', '// nothing yet', '/* nothing yet */', '{}', '{"limits": {}, "findings": {}, "plans": {}}', '\uFEFF{}'])(
    'as saying nothing: %j',
    (text) => {
      expect(read(text)).toEqual({ config: NO_CONFIG, findings: [] });
    },
  );

  test('with the language that numbers are written in, English when nothing is said', () => {
    expect(read('{"language": "de-CH"}').config.language).toBe('de-CH');
    expect(read('{"language": "xx"}').config.language).toBe('en');
  });

  test('with offsets that count a byte order mark', () => {
    const text = '\uFEFF{"limit": {}}';
    expect(read(text).findings.map((f) => f.span)).toEqual([[2, 9]]);
  });

  test('and what stands beside a mistake counts', () => {
    const text =
      '{"limits": {"greyscale.de.max": 3, "greyscale.de.avg": "limit 2" "contrast.sequential": "aim 2000"}, "other": [], "findings": {"id-missing": "off"}';
    expect(data(read(text).config)).toEqual({
      limits: [
        ['greyscale.de.avg', { limit: { high: 2 } }],
        ['contrast.sequential', { aim: { high: 2000 } }],
      ],
      severities: [['id-missing', 'off']],
    });
    expect(read(text).findings.map((f) => [f.code, text.slice(...f.span)])).toEqual([
      ['config-value', '3'],
      ['config-syntax', '"contrast.sequential"'],
      ['config-value', '"other"'],
      ['config-syntax', ''],
    ]);
  });
});

describe('a key or value that it does not take is found in place', () => {
  const LIMIT = '"aim A, limit B", one of them, or ranges such as "limit -5..5"';
  const SEVERITY = 'takes "off", "info", "warning" or "error". It is not used.';
  test.each<[string, string[]]>([
    ['[]', ['file: []: The file takes an object such as { "limits": { … } }. It is not used.']],
    ['"limits"', ['file: "limits": The file takes an object such as { "limits": { … } }. It is not used.']],
    [
      '{"Limits": {}}',
      ['Limits: "Limits": The keys here are limits, findings, plans and language, not "Limits". It is not used. Perhaps limits?'],
    ],
    ['{"targets": {}}', ['targets: "targets": The keys here are limits, findings, plans and language, not "targets". It is not used.']],
    ['{"plans": []}', ['plans: []: plans takes an object such as { "Quick look": { "runs": [ … ] } }. It is not used.']],
    ['{"": {}}', [': "": The keys here are limits, findings, plans and language, not "". It is not used.']],
    [
      '{"limits": {}, "limits": {"greyscale.de.max": "aim 1"}}',
      ['limits: "limits": "limits" stands twice: the first counts. It is not used.'],
    ],
    ['{"limits": []}', ['limits: []: limits takes an object such as { "greyscale.de.max": "aim 1, limit 3" }. It is not used.']],
    ['{"limits": null}', ['limits: null: limits takes an object such as { "greyscale.de.max": "aim 1, limit 3" }. It is not used.']],
    [
      '{"limits": {"greyscale.de.mx": "aim 1"}}',
      [
        'limits/greyscale.de.mx: "greyscale.de.mx": "greyscale.de.mx" is not a measure with limits. It is not used. Perhaps greyscale.de.max?',
      ],
    ],
    ['{"limits": {"de": "aim 1"}}', ['limits/de: "de": "de" is not a measure with limits. It is not used.']],
    ['{"limits": {"greyscale.de.max": 3}}', [`limits/greyscale.de.max: 3: greyscale.de.max takes a text: ${LIMIT}. It is not used.`]],
    ['{"limits": {"greyscale.de.max": "3"}}', [`limits/greyscale.de.max: "3": greyscale.de.max takes a text: ${LIMIT}. It is not used.`]],
    [
      '{"limits": {"greyscale.de.max": {"aim": 1}}}',
      [`limits/greyscale.de.max: {"aim": 1}: greyscale.de.max takes a text: ${LIMIT}. It is not used.`],
    ],
    ['{"language": 3}', ['language: 3: language takes the tag of a language, such as "en" or "de". It is not used.']],
    [
      '{"language": "decimal comma"}',
      ['language: "decimal comma": language takes the tag of a language, such as "en" or "de". It is not used.'],
    ],
    ['{"language": "xx"}', ['language: "xx": language takes the tag of a language, such as "en" or "de". It is not used.']],
    ['{"findings": "off"}', ['findings: "off": findings takes an object such as { "minus-sign": "off" }. It is not used.']],
    [
      '{"findings": {"minus-sing": "off"}}',
      ['findings/minus-sing: "minus-sing": "minus-sing" is not the code of a finding. It is not used. Perhaps minus-sign?'],
    ],
    ['{"findings": {"minus-sign": "Off"}}', [`findings/minus-sign: "Off": minus-sign ${SEVERITY} Perhaps off?`]],
    ['{"findings": {"minus-sign": "hint"}}', [`findings/minus-sign: "hint": minus-sign ${SEVERITY}`]],
    ['{"findings": {"minus-sign": false}}', [`findings/minus-sign: false: minus-sign ${SEVERITY}`]],
    ['{"findings": {"minus-sign": ["off"]}}', [`findings/minus-sign: ["off"]: minus-sign ${SEVERITY}`]],
  ])('%s', (text, expected) => {
    expect(said(text)).toEqual(expected);
    expect(read(text).config).toEqual(NO_CONFIG);
    expect(read(text).findings.map((f) => [f.code, f.severity])).toEqual([['config-value', 'warning']]);
  });

  test.each([
    ['{"limts": {}}', '{"limits": {}}', 'limits'],
    ['{"limits": {"greyscale.de.mx": "aim 1"}}', '{"limits": {"greyscale.de.max": "aim 1"}}', 'greyscale.de.max'],
    ['{"findings": {"minus-sing": "of"}}', '{"findings": {"minus-sign": "of"}}', 'minus-sign'],
    ['{"findings": {"minus-sign": "eror"}}', '{"findings": {"minus-sign": "error"}}', 'error'],
  ])('and its mend writes the neighbour: %s', (text, mended, word) => {
    const [found] = read(text).findings;
    expect(found!.mends).toHaveLength(1);
    expect(applyEdits(text, found!.mends[0]!.edits)).toBe(mended);
    expect(found!.mends[0]!.title).toBe(`Write ${word}`);
  });
});

describe('a mistake of JSON is found in place and said once', () => {
  const WORD = 'Expected a text in double quotes, a number, true, false, null, [ or {.';
  test.each<[string, string[]]>([
    ['{limits: {"a": "b"}, "findings": {}}', [`file: limits: ${WORD}`]],
    ["{'limits': {}}", [`file: 'limits': ${WORD}`]],
    ['{"limits": tru}', [`file: tru: ${WORD}`]],
    ['{"limits": {}; "findings": {}}', [`file: ;: ${WORD}`]],
    ['{"limits": }', ['file: }: Expected a value.']],
    ['{,}', ['file: ,: Expected a value.']],
    ['{"limits": {},, "findings": {}}', ['file: ,: Expected a name in double quotes.']],
    ['{"limits" {}}', ['file: {: Expected a colon between a name and its value.']],
    ['{"limits": {} "findings": {}}', ['file: "findings": Expected a comma before this.']],
    ['{"limits": {}', ['file: : Expected } at the end of the object.']],
    ['{"limits": {', ['file: : Expected } at the end of the object.']],
    ['{} {}', ['file: {: Expected nothing more: the file holds one object.']],
    ['{} /* open', ['file: /* open: The comment is not closed: expected */.']],
    ['{"limits": {"greyscale.de.max": "aim 1}}\n', ['file: "aim 1}}: The text is not closed on this line: expected ".']],
    [
      '{"limits": {"greyscale.de.max": "aim 1,\n"greyscale.de.avg": "aim 1"}}',
      ['file: "aim 1,: The text is not closed on this line: expected ".'],
    ],
    ['{"limits": 1.}', ['file: 1.: The number breaks off: expected a digit.']],
    ['{"limits": {"greyscale.de.max": "aim\\u00 1"}}', ['file: \\u00: Expected four hexadecimal digits after \\u.']],
    ['{"li\\mits": {}}', ['file: \\m: Expected one of " \\ / b f n r t u after \\.']],
    ['{"limits": "\t"}', ['file: \t: A text takes no control characters: write \\t for a tab, \\u0007 for others.']],
    [
      '{"\\q\\u0041\\u12": "\\"\u0001"}',
      [
        'file: \\q: Expected one of " \\ / b f n r t u after \\.',
        'file: \\u12: Expected four hexadecimal digits after \\u.',
        'file: \u0001: A text takes no control characters: write \\t for a tab, \\u0007 for others.',
      ],
    ],
    ['{"limits": tru, "findings": fals}', [`file: tru: ${WORD}`, `file: fals: ${WORD}`]],
  ])('%j', (text, expected) => {
    expect(said(text)).toEqual(expected);
    expect(new Set(read(text).findings.map((f) => f.code))).toEqual(new Set(['config-syntax']));
  });

  test('a list that is not closed is no object either', () => {
    expect(said('[')).toEqual([
      'file: [: The file takes an object such as { "limits": { … } }. It is not used.',
      'file: : Expected ] at the end of the list.',
    ]);
  });
});

describe('untrusted text', () => {
  test('names of the language itself are names like others', () => {
    const names = ['__proto__', 'constructor', 'toString', 'hasOwnProperty'];
    const members = names.map((name) => `${JSON.stringify(name)}: {"greyscale.de.max": "aim 1"}`).join(', ');
    for (const text of [`{${members}}`, `{"limits": {${members}}}`, `{"findings": {${members}}}`]) {
      expect(read(text).config).toEqual(NO_CONFIG);
      expect(read(text).findings.map((f) => text.slice(...f.span))).toEqual(names.map((name) => JSON.stringify(name)));
    }
    expect(({} as Record<string, unknown>)['greyscale.de.max']).toBeUndefined();
  });

  test.each(['[', '{"a":', '[},', '{"a":[', '[{"a":1},', '{"limits":{"greyscale.de.max":['])(
    '100 kB of %s are refused at the bracket that is too deep',
    (unit) => {
      const text = unit.repeat(Math.ceil(100_000 / unit.length));
      const { config, findings } = read(text);
      expect(config).toEqual(NO_CONFIG);
      expect(findings.every((f) => f.span[1] <= text.length)).toBe(true);
      expect(findings.map((f) => f.code)).toEqual(['config-syntax']);
      expect(sentence(findings[0]!)).toBe(`Expected brackets at most ${MAX_DEPTH} deep: nothing of the file is read.`);
      const opened = [...text.slice(0, findings[0]!.span[1])].filter((c) => c === '[' || c === '{').length;
      expect(opened).toBeGreaterThan(MAX_DEPTH);
    },
  );

  test('brackets are counted where they are brackets', () => {
    const marks = '['.repeat(1000);
    const text = `/* ${marks} */ {"limits": {"greyscale.de.max": "${marks}"}} // ${marks}`;
    expect(read(text).findings.map((f) => f.at)).toEqual(['limits/greyscale.de.max']);
    expect(read('['.repeat(MAX_DEPTH) + ']'.repeat(MAX_DEPTH)).findings.map((f) => f.code)).toEqual(['config-value']);
    expect(read('['.repeat(MAX_DEPTH + 1) + ']'.repeat(MAX_DEPTH + 1)).findings.map((f) => f.span)).toEqual([[MAX_DEPTH, MAX_DEPTH + 1]]);
  });

  test('neighbours are sought for the first hundred mistakes only', () => {
    const text = `{"limits": {${Array.from({ length: 5000 }, (_, i) => `"greyscale.de.${i}ax": 1`).join(', ')}}}`;
    const { findings } = read(text);
    expect(findings).toHaveLength(5000);
    expect(findings.map((f) => f.mends.length).lastIndexOf(1)).toBe(99);
  });

  const sound = (text: string): void => {
    const { config, findings } = read(text);
    let before = 0;
    for (const { span, severity, code, mends } of findings) {
      expect(span[0]).toBeGreaterThanOrEqual(before);
      expect(span[1]).toBeGreaterThanOrEqual(span[0]);
      expect(span[1]).toBeLessThanOrEqual(text.length);
      expect(severity).toBe(CODES[code].severity);
      for (const mend of mends) applyEdits(text, mend.edits);
      before = span[0];
    }
    for (const id of config.limits.keys()) expect(known.measures).toContain(id);
    for (const code of config.severities.keys()) expect(Object.keys(CODES)).toContain(code);
  };

  test('any text is read', () => {
    const marks = fc.string({
      unit: fc.constantFrom('{', '}', '[', ']', ':', ',', '"', '\\', 'u', '/', '*', '\n', '1', '.', '-', 'limits', 'a'),
      maxLength: 60,
    });
    fc.assert(fc.property(fc.oneof(marks, fc.string({ unit: 'binary' }), fc.json()), sound), { seed: 20260314, numRuns: 4000 });
  });

  test('a mutated configuration is read, and what JSON itself would take has no mistake of JSON', () => {
    const value = fc.oneof(fc.constantFrom('aim 1, limit 3', 'limit -5..5', 'off', 'error', 'Off', ''), fc.jsonValue({ maxDepth: 2 }));
    const members = (names: string[]) => fc.dictionary(fc.oneof(fc.constantFrom(...names), fc.string()), value, { maxKeys: 5 });
    const config = fc.record({
      limits: members([...known.measures, '__proto__']),
      findings: members(['minus-sign', 'id-missing', 'constructor']),
    });
    fc.assert(
      fc.property(config, fc.nat(), fc.nat(4), fc.string({ maxLength: 3 }), (made, at, removed, put) => {
        const text = JSON.stringify(made, null, 1);
        sound(text);
        expect(read(text).findings.filter((f) => f.code === 'config-syntax')).toEqual([]);
        const cut = at % (text.length + 1);
        const mutated = text.slice(0, cut) + put + text.slice(cut + removed);
        sound(mutated);
        if (isJson(mutated)) expect(read(mutated).findings.filter((f) => f.code === 'config-syntax')).toEqual([]);
        else if (!/\/[/*]|,\s*[}\]]/.test(mutated)) expect(read(mutated).findings.map((f) => f.code)).toContain('config-syntax');
      }),
      { seed: 20260315, numRuns: 2000 },
    );
  });
});

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

describe('limits for one row', () => {
  const known = { measures: new Set(['window.peak']) };

  test('are taken by the measure before the @', () => {
    const { config, findings } = readConfig('{ "limits": { "window.peak@10": "aim 1000, limit 500" } }', known);
    expect(findings).toEqual([]);
    expect(config.limits.get('window.peak@10')).toEqual({ aim: { high: 1000 }, limit: { high: 500 } });
  });

  test('are found where the measure is none', () => {
    const { config, findings } = readConfig('{ "limits": { "window.peek@10": "limit 500" } }', known);
    expect(findings.map(({ code, span }) => [code, span])).toEqual([['config-value', [14, 30]]]);
    expect(config.limits.size).toBe(0);
  });
});
