import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { headOf } from '../../src/language/ids';
import { fragmentParts, sessionParts, targetAround } from '../../src/language/reviewComplete';
import { hoverInReview } from '../../src/language/reviewHover';
import { definitionInReview, idInReview, idsIn } from '../../src/language/reviewIds';
import { analyse } from '../../src/project/analysis';
import { readReview } from '../../src/review/markdown';
import { ENGLISH } from '../../src/review/notation';
import { SessionText } from '../../src/session/sessionText';
import { applyEdits } from '../../src/text/span';
import { reviewed, SESSION } from '../review/reviews';

const session = analyse(SessionText.read(SESSION), NO_CONFIG);

/** A text with a cursor in it, ‸. */
function at(marked: string): { readonly text: string; readonly offset: number } {
  const offset = marked.indexOf('‸');
  return { text: marked.replace('‸', ''), offset };
}

describe('the hover of a claim', () => {
  const hover = async (marked: string) => {
    const { text, offset } = at(marked);
    const found = hoverInReview(await reviewed(text), offset);
    return found && { parts: found.parts, on: text.slice(...found.span) };
  };

  it('says what the figure is now, how it is judged, against what, and whether the claim holds', async () => {
    expect(await hover('It is [5 % too d‸ark](aurora.nitbook#grey.curve@50).')).toEqual({
      on: '[5 % too dark](aurora.nitbook#grey.curve@50)',
      parts: [
        '**Luminance error @50 %** of grey: **-3.2 %**',
        'within ·, aim met; limit ±10 %, aim ±5 %',
        'Against dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark).',
        'greyscale, mode cinema "Cinema, as shipped", signal sdr, meter probe',
      ],
    });
  });

  it('says that a claim holds, and shows the interval of a figure once it is known', async () => {
    const review = await reviewed('[2.4](aurora.nitbook#hdr-window.peak) [over 400](aurora.nitbook#hdr-window.peak)');
    expect(hoverInReview(review, 45)?.parts).toContain('*The claim holds.*');
    expect(hoverInReview(review, 45)?.parts[0]).toMatch(/^\*\*Peak\*\* of hdr-window: \*\*505 ± \d+ cd\/m²\*\*$/);
  });

  it('tells why there is no figure', async () => {
    expect((await hover('[x‸](aurora.nitbook#spd.x@white)'))?.parts[0]).toBe(
      '**x @white** of spd is not computed: of rows with a wavelength it needs at least 3, and there are 1.',
    );
  });

  it('tells a property and a chart', async () => {
    expect((await hover('[2.14.8](aurora.nitbook#aurora.firm‸ware)'))?.parts).toEqual([
      '**firmware** of aurora: **2.14.8**',
      '*The claim holds.*',
    ]);
    expect((await hover('![x](aurora.nitbook#grey.bal‸ance)'))?.parts.length).toBeGreaterThan(1);
  });

  it('is of the innermost reference, and there is none elsewhere', async () => {
    const text = '[![a‸](aurora.nitbook#grey.balance) 505](aurora.nitbook#hdr-window.peak)';
    expect((await hover(text))?.on).toBe('![a](aurora.nitbook#grey.balance)');
    expect(await hover('a ‸ [505](aurora.nitbook#hdr-window.peak)')).toBeUndefined();
    expect(await hover('[505‸](aurora.nitbook#hdr-windw.peak)')).toBeUndefined();
  });

  it('shows texts of files as text', async () => {
    const files = { '/w/aurora.nitbook': SESSION.replace('firmware: 2.14.8', 'firmware: **x** <b> [y](z)') };
    const found = hoverInReview(await reviewed('[x](aurora.nitbook#aurora.firmware)', { files }), 3);
    expect(found?.parts[0]).toBe('**firmware** of aurora: **\\*\\*x\\*\\* \\<b\\> \\[y\\](z)**');
  });
});

describe('the target of a link that is being written', () => {
  it.each([
    ['[505](‸', 'link', '505', '', ''],
    ['[505](au‸ro) and', 'link', '505', 'au', 'ro'],
    ['![Balance](a.nitbook#‸grey', 'image', 'Balance', 'a.nitbook#', 'grey'],
    ['[a](b) [505 nits](<a.nitbook#w.‸', 'link', '505 nits', 'a.nitbook#w.', ''],
  ])('%s', (marked, is, label, typed, rest) => {
    const { text, offset } = at(marked);
    expect(targetAround(text, offset)).toMatchObject({ is, label, typed, rest });
  });

  it.each(['505 (‸', '[505](a.nitbook#w.peak) ‸', '[505](a b‸', '[505]‸', '[a](b)‸'])('is none in %s', (marked) => {
    const { text, offset } = at(marked);
    expect(targetAround(text, offset)).toBeUndefined();
  });
});

describe('completion in a link', () => {
  /** Labels with their details, and the text after the first is taken. */
  const offered = (marked: string) => {
    const { text, offset } = at(marked);
    const target = targetAround(text, offset)!;
    const parts = target.typed.includes('#')
      ? fragmentParts(session, target, ENGLISH)
      : sessionParts(target, [
          { path: 'aurora.nitbook', detail: '' },
          { path: '../old days/a b.nitbook', detail: '' },
        ]);
    const taken = (i: number) => parts[i] && applyEdits(text, [{ span: parts[i].replace, text: parts[i].insert }]);
    return { labels: parts.map(({ label }) => label), details: parts.map(({ detail }) => detail), first: taken(0), taken, parts };
  };

  it('offers sessions, and leaves what stands behind a #', () => {
    expect(offered('[505](‸)')).toMatchObject({ labels: ['aurora.nitbook', '../old days/a b.nitbook'], first: '[505](aurora.nitbook#)' });
    expect(offered('[505](‸)').taken(1)).toBe('[505](../old%20days/a%20b.nitbook#)');
    expect(offered('[505](au‸rra.nitbook#w.peak)').first).toBe('[505](aurora.nitbook#w.peak)');
  });

  it('offers runs, then blocks that have properties', () => {
    const { labels, details, first } = offered('[505](aurora.nitbook#‸)');
    expect(labels.slice(0, 5)).toEqual(['grey', 'hdr-window', 'pair', 'deep', 'spd']);
    expect(labels).toContain('aurora');
    expect(labels).toContain('cinema');
    expect(details.slice(0, 2)).toEqual(['greyscale', 'window']);
    expect(first).toBe('[505](aurora.nitbook#grey.)');
    expect(offered('[505](aurora.nitbook#gr‸ay.de.max)').first).toBe('[505](aurora.nitbook#grey.de.max)');
  });

  it('offers measures with what they are now, what supports the text first, those of rows with their number', () => {
    const { labels, details, first, parts } = offered('[163 nits](aurora.nitbook#hdr-window.‸)');
    expect(labels).toEqual(['full', 'peak', 'peak@', 'full.share']);
    expect(details).toEqual(['163 cd/m²', '505 cd/m²', '3 rows', '0.323']);
    expect(first).toBe('[163 nits](aurora.nitbook#hdr-window.full)');
    expect(parts.map(({ goesOn }) => goesOn)).toEqual([false, false, true, false]);
    expect(parts[0]!.documentation).toContain('luminance at 100 %');
    expect(offered('[163](aurora.nitbook#hdr-window.fu‸ll.share@9)').first).toBe('[163](aurora.nitbook#hdr-window.full@9)');
  });

  it('offers rows with what they are now', () => {
    const { labels, details, first } = offered('[400 nits](aurora.nitbook#hdr-window.peak@‸)');
    expect(labels).toEqual(['1', '10', '100']);
    expect(details).toEqual(['400 cd/m²', '505 cd/m²', '163 cd/m²']);
    expect(first).toBe('[400 nits](aurora.nitbook#hdr-window.peak@1)');
    expect(offered('[163 nits](aurora.nitbook#hdr-window.peak@1‸0)').first).toBe('[163 nits](aurora.nitbook#hdr-window.peak@100)');
  });

  it('offers properties with their text', () => {
    const { labels, details } = offered('[x](aurora.nitbook#aurora.‸)');
    expect(labels).toEqual(['size', 'firmware', 'price']);
    expect(details).toEqual(['55 in', '2.14.8', '1899 GBP']);
    expect(offered('[x](aurora.nitbook#cinema.‸)').labels).toEqual(['input', 'preset']);
  });

  it('offers of an image runs alone, joined by + with runs of the same kind, and figures', () => {
    expect(offered('![x](aurora.nitbook#‸)').labels).toEqual(['grey', 'hdr-window', 'pair', 'deep', 'spd']);
    expect(offered('![x](aurora.nitbook#pair+‸)').labels).toEqual(['deep']);
    expect(offered('![x](aurora.nitbook#grey.‸)').labels).toContain('balance');
    expect(offered('![x](aurora.nitbook#grey.ba‸lanc)').taken(offered('![x](aurora.nitbook#grey.‸)').labels.indexOf('balance'))).toBe(
      '![x](aurora.nitbook#grey.balance)',
    );
  });

  it('offers nothing of a run that is not there', () => {
    expect(offered('[x](aurora.nitbook#gray.‸)').labels).toEqual([]);
    expect(offered('[x](aurora.nitbook#grey.de@‸)').labels).toEqual(['50', '100']);
    expect(offered('[x](aurora.nitbook#grey.nothing@‸)').labels).toEqual([]);
  });
});

describe('a reference leads', () => {
  const definition = async (marked: string) => {
    const { text, offset } = at(marked);
    const found = definitionInReview(await reviewed(text), offset);
    return found && [found.path, SESSION.slice(...found.line), SESSION.slice(...found.span), text.slice(...found.from)];
  };

  it('to the head of a run', async () => {
    expect(await definition('[5‸05](aurora.nitbook#hdr-window.peak)')).toEqual([
      '/w/aurora.nitbook',
      'window hdr-window',
      'hdr-window',
      'aurora.nitbook#hdr-window.peak',
    ]);
    expect((await definition('![x](aurora.nitbook#grey.balance‸)'))?.[1]).toBe('greyscale grey');
  });

  it('to a row, and to a property', async () => {
    expect((await definition('[505](aurora.nitbook#hdr-window.peak@1‸0)'))?.slice(1, 3)).toEqual(['10  505', '10  505']);
    expect((await definition('[x](aurora.nitbook#cinema.input‸)'))?.[1]).toBe('.input: HDMI #2');
  });

  it('nowhere where there is nothing', async () => {
    expect(await definition('[5‸05](aurora.nitbook#gray.peak)')).toBeUndefined();
    expect(await definition('[505](aurora.nitbook#grey.de.max) ‸')).toBeUndefined();
  });
});

describe('the ids in a review', () => {
  const place = { path: '/w/sub/review.md', root: '/w' };

  it('stand in every reference, with the session that they are of', () => {
    const text =
      '[1](../a.nitbook#grey.de.max) ![x](/a.nitbook#grey+tuned.balance) [2][pk] [3][pk] [4](../../out.nitbook#grey.de)\n\n[pk]: b.nitbook#grey@x';
    expect(idsIn(readReview(text), place).map(({ id, path, span }) => [id, path, text.slice(...span)])).toEqual([
      ['grey', '/w/a.nitbook', 'grey'],
      ['grey', '/w/a.nitbook', 'grey'],
      ['tuned', '/w/a.nitbook', 'tuned'],
      ['grey', '/w/sub/b.nitbook', 'grey'],
    ]);
  });

  it('can be asked for at an offset', () => {
    const { text, offset } = at('![x](/a.nitbook#grey+tu‸ned.balance)');
    expect(idInReview(readReview(text), place, offset)).toMatchObject({ id: 'tuned', path: '/w/a.nitbook' });
    expect(idInReview(readReview(text), place, 2)).toBeUndefined();
  });

  it('have their heads in the session', () => {
    const source = SessionText.read(SESSION);
    expect(SESSION.slice(headOf(source, 'hdr-window')).split('\n')[0]).toBe('hdr-window');
    expect(SESSION.slice(headOf(source, 'session')).split('\n')[0]).toBe('session 2026-03-14');
    expect(headOf(source, 'nothing')).toBeUndefined();
  });
});
