import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { REFERENCE_MISTAKES, type Reference, readReference, referenceSentence, writeReference } from '../../src/session/reference';

const reference = (path: string, ids: string[], measure = '', keys: string[] = []): Reference => ({ path, ids, measure, keys });

/** The mistakes of a text as `code: what is underlined`. */
const mistakes = (text: string): string[] => {
  const reading = readReference(text);
  return reading.ok ? [] : reading.mistakes.map((mistake) => `${mistake.code}: ${text.slice(...mistake.span)}`);
};

describe('a reference is read', () => {
  test.each<[string, Reference]>([
    // The examples of the format's description.
    ['aurora.nitbook#grey.de.max', reference('aurora.nitbook', ['grey'], 'de.max')],
    ['aurora.nitbook#grey.de@90', reference('aurora.nitbook', ['grey'], 'de', ['90'])],
    ['#sat.de@red,100', reference('', ['sat'], 'de', ['red', '100'])],
    ['#hdr-window.peak', reference('', ['hdr-window'], 'peak')],
    ['#gamut.coverage.p3.uv', reference('', ['gamut'], 'coverage.p3.uv')],
    ['#grey+grey-tuned.balance', reference('', ['grey', 'grey-tuned'], 'balance')],
    ['#aurora.firmware', reference('', ['aurora'], 'firmware')],
    // Paths
    ['/reviews/2026/aurora.nitbook#grey', reference('/reviews/2026/aurora.nitbook', ['grey'])],
    ['../../aurora.nitbook#grey', reference('../../aurora.nitbook', ['grey'])],
    ['bench/Halden%20Aurora%2055.nitbook#grey', reference('bench/Halden Aurora 55.nitbook', ['grey'])],
    ['%23%3F.nitbook#grey', reference('#?.nitbook', ['grey'])],
    ['a+b,c@d(1).nitbook#grey', reference('a+b,c@d(1).nitbook', ['grey'])],
    ['画面.nitbook#grey', reference('画面.nitbook', ['grey'])],
    ['..a/b...nitbook#grey', reference('..a/b...nitbook', ['grey'])],
    ['d/16%3A9.nitbook#grey', reference('d/16:9.nitbook', ['grey'])],
    // Names and keys
    ['#Grey-2', reference('', ['Grey-2'])],
    ['#grey@90', reference('', ['grey'], '', ['90'])],
    ['#grey.de@2.5', reference('', ['grey'], 'de', ['2.5'])],
    ['#patches.de@Light%20skin%2C%20warm', reference('', ['patches'], 'de', ['Light skin, warm'])],
    ['#grey.de@-._~', reference('', ['grey'], 'de', ['-._~'])],
    ['#%67rey.d%65', reference('', ['grey'], 'de')],
  ])('%s', (text, expected) => {
    expect(readReference(text)).toEqual({ ok: true, reference: expected });
  });

  test('and each part decoded once: an encoded per cent sign stays one', () => {
    expect(readReference('a%2541.nitbook#grey.de@%2540')).toEqual({
      ok: true,
      reference: reference('a%41.nitbook', ['grey'], 'de', ['%40']),
    });
  });
});

describe('a near miss is a mistake at its place', () => {
  test.each<[string, string[]]>([
    ['', ['reference-hash: ']],
    ['aurora.nitbook', ['reference-hash: aurora.nitbook']],
    // The file
    ['aurora.md#grey', ['reference-file: aurora.md']],
    ['aurora.nitbook.txt#grey', ['reference-file: aurora.nitbook.txt']],
    ['aurora.NITBOOK#grey', ['reference-file: aurora.NITBOOK']],
    ['C:/aurora.nitbook#grey', ['reference-absolute: C:']],
    ['https://example.org/aurora.nitbook#grey', ['reference-absolute: https:']],
    ['//host/aurora.nitbook#grey', ['reference-absolute: //']],
    ['C%3A/aurora.nitbook#grey', ['reference-absolute: C%3A']],
    ['a//b.nitbook#grey', ['reference-segment: /']],
    ['a/#grey', ['reference-segment: /']],
    ['/#grey', ['reference-segment: /']],
    ['..//a.nitbook#grey', ['reference-segment: /']],
    ['./aurora.nitbook#grey', ['reference-segment: .']],
    ['a/../b.nitbook#grey', ['reference-segment: ..']],
    ['/../b.nitbook#grey', ['reference-segment: ..']],
    ['a/%2E%2E/b.nitbook#grey', ['reference-segment: %2E%2E']],
    ['a%2Fb.nitbook#grey', ['reference-segment: a%2Fb.nitbook']],
    ['a%5Cb.nitbook#grey', ['reference-segment: a%5Cb.nitbook']],
    ['a%00.nitbook#grey', ['reference-segment: a%00.nitbook']],
    ['Halden Aurora.nitbook#grey', ['reference-character:  ']],
    ['a\u00A0b.nitbook#grey', ['reference-character: \u00A0']],
    ['a\\b.nitbook#grey', ['reference-character: \\']],
    ['aurora.nitbook?raw=1#grey', ['reference-character: ?']],
    ['d/16:9.nitbook#grey', ['reference-character: :']],
    ['a\uD800.nitbook#grey', ['reference-character: \uD800']],
    // Encoding
    ['50%.nitbook#grey', ['reference-encoding: %.n']],
    ['a.nitbook#grey.de@5%', ['reference-encoding: %']],
    ['a.nitbook#grey.de@%4,1', ['reference-encoding: %4']],
    ['%41%FF.nitbook#grey', ['reference-encoding: %41%FF']],
    ['%C0%AF.nitbook#grey', ['reference-encoding: %C0%AF']],
    ['%ED%A0%80.nitbook#grey', ['reference-encoding: %ED%A0%80']],
    // Ids
    ['#', ['reference-id: #']],
    ['#.de', ['reference-id: #']],
    ['#@90', ['reference-id: #']],
    ['#2grey', ['reference-id: 2grey']],
    ['#gr_ey', ['reference-id: gr_ey']],
    ['#größe', ['reference-id: größe']],
    ['#grey+', ['reference-id: +']],
    ['#grey++sat', ['reference-id: +']],
    ['#grey%2Bsat', ['reference-id: grey%2Bsat']],
    ['#grey#sat', ['reference-id: grey#sat']],
    // Names
    ['#grey.', ['reference-name: .']],
    ['#grey..max', ['reference-name: .']],
    ['#grey.De', ['reference-name: De']],
    ['#grey.2de', ['reference-name: 2de']],
    ['#grey.de+sat.de', ['reference-name: de+sat']],
    // Keys
    ['#grey.de@', ['reference-key: @']],
    ['#sat.de@red,', ['reference-key: ,']],
    ['#sat.de@,100', ['reference-key: @']],
    ['#sat.de@red, 100', ['reference-character:  ']],
    ['#grey.de@90@95', ['reference-character: @']],
    ['#grey.de@é', ['reference-character: é']],
    // Several parts, each with its own
    ['a b.txt#2+x.De@,%', ['reference-character:  ', 'reference-id: 2', 'reference-name: De', 'reference-key: @', 'reference-encoding: %']],
  ])('%s', (text, expected) => {
    expect(mistakes(text)).toEqual(expected);
  });

  test('each in a whole sentence that says what stands there', () => {
    const samples = ['x', 'a.md#x', 'C:/a.nitbook#x', './a.nitbook#x', 'a b.nitbook#x', '%.nitbook#x', '#2', '#a.B', '#a@'];
    const said = samples.map((text) => {
      const reading = readReference(text);
      return reading.ok ? undefined : reading.mistakes[0];
    });
    expect(said.map((mistake) => mistake?.code)).toEqual(Object.keys(REFERENCE_MISTAKES));
    expect(said.map((mistake) => referenceSentence(mistake!)).filter((sentence) => /[{}]/.test(sentence))).toEqual([]);
    expect(referenceSentence(said[4]!)).toBe('" " cannot stand here as it is: write %20.');
  });
});

describe('writing', () => {
  test('encodes everything but letters, digits, - . and _', () => {
    expect(writeReference(reference("../a b/~(1)'!*é#?.nitbook", ['grey', 'sat'], 'de.max', ['Light skin', '5,5', '-._']))).toBe(
      '../a%20b/%7E%281%29%27%21%2A%C3%A9%23%3F.nitbook#grey+sat.de.max@Light%20skin,5%2C5,-._',
    );
  });

  const id = fc.stringMatching(/^[A-Za-z][A-Za-z0-9-]{0,8}$/);
  const name = fc.stringMatching(/^[a-z][a-z0-9-]{0,8}$/);
  const text = fc
    .oneof(fc.string({ unit: 'grapheme', maxLength: 12 }), fc.string({ unit: 'binary', maxLength: 12 }))
    .filter((t) => t !== '');
  const segment = text.filter((t) => !/[/\\\p{Cc}\p{Cs}]/u.test(t) && t !== '.' && t !== '..');
  const path = fc
    .record({ start: fc.constantFrom('', '/', '../', '../../'), folders: fc.array(segment, { maxLength: 3 }), file: segment })
    .map(({ start, folders, file }) => `${start}${[...folders, `${file}.nitbook`].join('/')}`)
    // What looks like a drive or scheme is refused on purpose.
    .filter((p) => !/^[A-Za-z][A-Za-z0-9+.-]*:/.test(p));
  const any: fc.Arbitrary<Reference> = fc.record({
    path: fc.oneof(fc.constant(''), path),
    ids: fc.array(id, { minLength: 1, maxLength: 3 }),
    measure: fc.array(name, { maxLength: 3 }).map((names) => names.join('.')),
    keys: fc.array(
      text.filter((t) => !/\p{Cs}/u.test(t)),
      { maxLength: 3 },
    ),
  });

  test('and reading come back to the same reference', () => {
    fc.assert(
      fc.property(any, (r) => {
        const written = writeReference(r);
        expect(readReference(written)).toEqual({ ok: true, reference: r });
        expect(written).toMatch(/^(\/|(\.\.\/)+)?[A-Za-z0-9._%/-]*#[A-Za-z0-9+-]+[a-z0-9.-]*(@[A-Za-z0-9._%,-]+)?$/);
      }),
      { seed: 20260314, numRuns: 2000 },
    );
  });

  test('what was read says the same as the text it was read from', () => {
    fc.assert(
      fc.property(any, fc.nat(), fc.string({ maxLength: 3 }), (r, at, put) => {
        const written = writeReference(r);
        const cut = at % (written.length + 1);
        const reading = readReference(written.slice(0, cut) + put + written.slice(cut));
        if (reading.ok) expect(readReference(writeReference(reading.reference))).toEqual(reading);
      }),
      { seed: 20260315, numRuns: 2000 },
    );
  });
});

test('any text is read, and its mistakes are in order and in the text', () => {
  const marks = fc.string({ unit: fc.constantFrom('#', '@', '.', '+', ',', '/', '%', '2', 'F', 'a', ':', '\uD800', 'é'), maxLength: 30 });
  fc.assert(
    fc.property(fc.oneof(marks, fc.string({ unit: 'binary' })), (text) => {
      const reading = readReference(text);
      if (reading.ok) return;
      let before = -1;
      for (const { span } of reading.mistakes) {
        expect(span[0]).toBeGreaterThanOrEqual(Math.max(before, 0));
        expect(span[1]).toBeGreaterThan(text === '' ? -1 : span[0]);
        expect(span[1]).toBeLessThanOrEqual(text.length);
        before = span[0];
      }
    }),
    { seed: 20260316, numRuns: 3000 },
  );
});

test('half of a surrogate pair, which has no UTF-8, is written as U+FFFD', () => {
  expect(writeReference(reference('a\uD800.nitbook', ['grey'], 'de', ['\uDC00']))).toBe('a%EF%BF%BD.nitbook#grey.de@%EF%BF%BD');
});
