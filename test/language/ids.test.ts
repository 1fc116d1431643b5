import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { isRefusal, refusalText } from '../../src/language/answers';
import { definitionAt, referencesAt, rename, renameRange } from '../../src/language/ids';
import { SessionText } from '../../src/session/sessionText';
import { applyEdits } from '../../src/text/span';
import { examples, sessionLike } from '../session/sessions';
import { at, cut, edited } from './cursor';

const TEXT = `nitbook 1
mode cinema "As shipped"
mode tuned from cinema
target dark
greyscale
  mode: cinema  # this one
  ~ mode: tuned
  target: "dark"
    level   Y
        50  1
saturation sat like greyscale
  mode: tuned
~ gamut old like sat
  mode: cinema
`;
/** The text with the cursor before the nth occurrence of a word. */
function on(word: string, nth = 1, text = TEXT) {
  let offset = -1;
  for (let i = 0; i < nth; i++) offset = text.indexOf(word, offset + 1);
  return at(`${text.slice(0, offset)}‸${text.slice(offset)}`);
}
const lineOf = (text: string, offset: number): number => text.slice(0, offset).split('\n').length;

it('The spectra of a correction are a reference like others', () => {
  const text = `nitbook 1
meter probe
correction fix
  meter: probe
  spectra: spd
    patch   Y       x       y
    white   100     0.31    0.33
spectrum spd
    nm      white
`;
  const ends = { head: text.lastIndexOf('spd'), reference: text.indexOf('spd') };
  const source = SessionText.read(text);
  expect(definitionAt(source, ends.reference)?.span[0]).toBe(ends.head);
  for (const offset of Object.values(ends)) {
    expect(referencesAt(source, offset).map(([from]) => from)).toEqual([ends.reference, ends.head]);
    const edits = rename(source, offset, 'lamp');
    expect(isRefusal(edits) ? refusalText(edits) : applyEdits(text, edits)).toBe(text.replaceAll('spd', 'lamp'));
  }
});

describe('the definition of an id', () => {
  const defined = (word: string, nth: number): string | undefined => {
    const { source, text, offset } = on(word, nth);
    const found = definitionAt(source, offset);
    return found && `${lineOf(text, found.span[0])}: ${cut(text, found.span)} of ${cut(text, found.head)}, from ${cut(text, found.from)}`;
  };
  it.each<[string, number, string]>([
    ['cinema', 1, '2: cinema of mode cinema "As shipped", from cinema'],
    ['cinema', 2, '2: cinema of mode cinema "As shipped", from cinema'],
    ['cinema', 3, '2: cinema of mode cinema "As shipped", from cinema'],
    ['tuned', 2, '3: tuned of mode tuned from cinema, from tuned'],
    ['"dark"', 1, '4: dark of target dark, from "dark"'],
    ['greyscale', 2, '5: greyscale of greyscale, from greyscale'],
    ['sat', 3, '11: sat of saturation sat like greyscale, from sat'],
    ['old', 1, '13: old of ~ gamut old like sat, from old'],
  ])('%s, the %ith', (word, nth, expected) => expect(defined(word, nth)).toBe(expected));

  it('stands at both ends of an id, and nowhere else', () => {
    for (const marked of ['target ‸dark', 'target da‸rk', 'target dark‸']) {
      const { source, offset } = at(`nitbook 1\n${marked}\n`);
      expect(definitionAt(source, offset)?.id).toBe('dark');
    }
    for (const marked of [
      'nit‸book 1\ntarget dark',
      'nitbook 1\ntarget dark\n  cur‸ve: bt1886',
      'nitbook 1\ntar‸get dark',
      'nitbook 1\ntarget  ‸  x',
    ]) {
      const { source, offset } = at(marked);
      expect(definitionAt(source, offset)).toBeUndefined();
    }
  });
  it('is not there for an id that no block has', () => {
    const { source, offset } = at('nitbook 1\nlag l\n  mode: ci‸nema\n');
    expect(definitionAt(source, offset)).toBeUndefined();
    expect(referencesAt(source, offset)).toHaveLength(1);
  });
});

describe('the references of an id', () => {
  const lines = (word: string, nth: number, withDefinition?: boolean) => {
    const { source, text, offset } = on(word, nth);
    return referencesAt(source, offset, withDefinition).map((span) => `${lineOf(text, span[0])} ${cut(text, span)}`);
  };
  it('are heads, links, properties, and those struck out', () => {
    expect(lines('cinema', 3)).toEqual(['2 cinema', '3 cinema', '6 cinema', '14 cinema']);
    expect(lines('tuned', 1)).toEqual(['3 tuned', '7 tuned', '12 tuned']);
    expect(lines('dark', 1)).toEqual(['4 dark', '8 "dark"']);
    expect(lines('greyscale', 2)).toEqual(['5 greyscale', '11 greyscale']);
    expect(lines('cinema', 1, false)).toEqual(['3 cinema', '6 cinema', '14 cinema']);
  });
});

describe('a rename', () => {
  const renamed = (word: string, nth: number, to: string, text = TEXT): string => {
    const { source, offset } = on(word, nth, text);
    return edited(text, rename(source, offset, to));
  };
  it('changes the head and all that name it', () => {
    expect(renamed('cinema', 2, 'film')).toBe(TEXT.replaceAll('cinema', 'film'));
    expect(renamed('tuned', 3, 'cinema-2')).toBe(TEXT.replaceAll('tuned', 'cinema-2'));
    expect(renamed('dark', 1, 'dim')).toBe(TEXT.replace('target dark', 'target dim').replace('"dark"', 'dim'));
  });
  it('gives a block an id that was called by its keyword', () => {
    const expected = TEXT.replace('greyscale\n', 'greyscale grey\n').replace('like greyscale', 'like grey');
    expect(renamed('greyscale', 1, 'grey')).toBe(expected);
    expect(renamed('greyscale', 2, 'grey')).toBe(expected);
    expect(renamed('greyscale', 1, 'greyscale')).toBe(TEXT.replace('greyscale\n', 'greyscale greyscale\n'));
  });
  it('of a second head of the same id changes that one alone', () => {
    const text = 'nitbook 1\nmode a\nmode a\nlag l\n  mode: a\n';
    const source = SessionText.read(text);
    expect(edited(text, rename(source, text.indexOf('a\nlag'), 'b'))).toBe('nitbook 1\nmode a\nmode b\nlag l\n  mode: a\n');
    expect(edited(text, rename(source, text.indexOf('a\nmode a'), 'b'))).toBe('nitbook 1\nmode b\nmode a\nlag l\n  mode: b\n');
  });
  it('to what it is called already is no edit', () => {
    expect(renamed('cinema', 2, 'cinema')).toBe(TEXT);
  });
  it('keeps the ends of lines', () => {
    const text = TEXT.replaceAll('\n', '\r\n');
    expect(renamed('cinema', 2, 'film', text)).toBe(text.replaceAll('cinema', 'film'));
  });
  it.each<[string, number, string, string]>([
    ['cinema', 1, 'tuned', 'The id tuned is taken by the block in line 3.'],
    ['cinema', 1, 'greyscale', 'The id greyscale is taken by the block in line 5.'],
    ['cinema', 1, 'old', 'The id old is taken by the block in line 13.'],
    ['cinema', 1, 'my mode', '"my mode" is no id: a letter, then letters of a to z, digits and hyphens.'],
    ['cinema', 1, '2nd', '"2nd" is no id: a letter, then letters of a to z, digits and hyphens.'],
    ['cinema', 1, 'Küche', '"Küche" is no id: a letter, then letters of a to z, digits and hyphens.'],
    ['cinema', 1, '', '"" is no id: a letter, then letters of a to z, digits and hyphens.'],
    ['tuned', 1, 'from', '"from" would not be read as an id here.'],
    ['level', 1, 'x', 'There is no id here: ids stand in the heads of blocks, after from and like, and in properties such as "mode".'],
  ])('of %s (%i) to %j is refused', (word, nth, to, sentence) => {
    const { source, offset } = on(word, nth);
    const answer = rename(source, offset, to);
    expect(isRefusal(answer) && refusalText(answer)).toBe(sentence);
  });
  it('is refused for blocks without ids and for later versions', () => {
    const session = at('nitbook 1\nses‸sion 2026-03-14\n');
    expect(rename(session.source, session.offset, 'x')).toEqual({ code: 'no-own-id', args: { keyword: 'session' } });
    const later = at('nitbook 2\nmode ‸cinema\n');
    expect(renameRange(later.source, later.offset)).toEqual({ code: 'version-newer', args: { version: 2 } });
  });
  it('shows what it would change', () => {
    const { source, text, offset } = on('cinema', 3);
    const range = renameRange(source, offset);
    expect(isRefusal(range) ? range.code : [range.id, cut(text, range.span), lineOf(text, range.span[0])]).toEqual(['cinema', 'cinema', 6]);
  });

  test('leaves every other id as it was, whatever the text', () => {
    const place = fc.record({
      text: fc.oneof(sessionLike, fc.constantFrom(...examples)),
      where: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    const to = fc.constantFrom('fresh-1', 'like', 'from', 'mode', 'grey', 'a');
    fc.assert(
      fc.property(place, to, ({ text, where }, id) => {
        const source = SessionText.read(text);
        const offset = Math.floor(where * (text.length + 1));
        const found = definitionAt(source, offset);
        const spans = referencesAt(source, offset);
        if (found) expect(spans).toContainEqual(found.span);
        for (const span of spans) expect(span[1]).toBeGreaterThan(span[0]);
        const answer = rename(source, offset, id);
        if (isRefusal(answer) || answer.length === 0) return;
        expect(answer).toHaveLength(spans.length);
        const renamed = SessionText.read(applyEdits(text, answer));
        expect(referencesAt(renamed, answer[0]!.span[0] + 1)).toHaveLength(spans.length);
      }),
      { seed: 20260314, numRuns: 100 },
    );
  });
});
