import { describe, expect, it } from 'vitest';
import { leastOf } from '../../src/review/known';
import { CODES } from '../../src/text/codes';
import { type Given, mendsOf, reviewed, SESSION, saidOf, statusesOf } from './reviews';

/** One claim: what it says, of what in the session of `reviews.ts`. */
const claim = (text: string, of: string) => `[${text}](aurora.nitbook#${of})`;

async function checks(text: string, given?: Given) {
  const review = await reviewed(text, given);
  return { status: statusesOf(review), says: saidOf(review), mends: mendsOf(review) };
}

/** The claim of a figure, and what its link says after each mend. */
async function mended(text: string, of: string, given?: Given): Promise<Record<string, string>> {
  const { mends } = await checks(claim(text, of), given);
  return Object.fromEntries(Object.entries(mends).map(([title, after]) => [title, after.replaceAll(`](aurora.nitbook#${of})`, ']')]));
}

describe('a claim', () => {
  it('holds, and nothing is said', async () => {
    expect(await checks(`It peaks at ${claim('505 nits', 'hdr-window.peak')} and ${claim('over 400', 'hdr-window.peak@10')}.`)).toEqual({
      status: ['holds', 'holds'],
      says: [],
      mends: {},
    });
  });

  it('is wrong, with what it is now', async () => {
    expect(await checks(`It peaks at ${claim('504 nits', 'hdr-window.peak@10')}.`)).toEqual({
      status: ['wrong'],
      says: ['claim-wrong "504 nits": "504 nits" does not hold: Peak @10 % of hdr-window is 505 cd/m².'],
      mends: { 'Write 505 nits': `It peaks at ${claim('505 nits', 'hdr-window.peak@10')}.` },
    });
  });

  it('shows what it is now in as many digits as it claims', async () => {
    const { says } = await checks(claim('1.0435e3', 'pair.sequential') + claim('1,043.9:1', 'pair.sequential'));
    expect(says[1]).toContain('is 1043.5:1');
  });

  it('may hold or not, where only a bound of the figure is known', async () => {
    expect(await checks(claim('over 50,000:1', 'deep.sequential'))).toMatchObject({
      status: ['undecided'],
      says: ['claim-undecided "over 50,000:1": "over 50,000:1" may hold or not: Contrast, sequential of deep is at least 39600:1.'],
    });
    expect((await checks(claim('over 30,000:1', 'deep.sequential'))).status).toEqual(['holds']);
  });

  it('may so with a meter that says nothing of its spread', async () => {
    const files = { '/w/aurora.nitbook': SESSION.replace(/ {2}spread:.*\n/, '') };
    expect((await checks(claim('over 50,000:1', 'deep.sequential'), { files })).status).toEqual(['undecided']);
    expect((await checks(claim('over 39,999:1', 'deep.sequential'), { files })).status).toEqual(['holds']);
    expect((await checks(claim('at most 0.003', 'deep.black'), { files })).status).toEqual(['holds']);
  });

  it('is not to be held against a figure that is not computed', async () => {
    expect(await checks(claim('0.3127', 'spd.x@white'))).toMatchObject({
      status: ['not-computed'],
      says: [
        'claim-not-computed "0.3127": x @white of spd is not computed: of rows with a wavelength it needs at least 3, and there are 1.',
      ],
    });
  });

  it('has no number, and an empty one is filled in', async () => {
    expect(await checks(claim('very bright', 'hdr-window.peak'))).toEqual({
      status: ['pointing'],
      says: ['claim-none "very bright": There is no number here to hold against Peak of hdr-window, which is 505 cd/m².'],
      mends: {},
    });
    expect(await mended('', 'hdr-window.peak')).toEqual({ 'Write 505 cd/m²': '[505 cd/m²]' });
    expect(await mended('', 'deep.sequential')).toEqual({ 'Write at least 39600:1': '[at least 39600:1]' });
    expect(await mended('', 'aurora.firmware')).toEqual({ 'Write 2.14.8': '[2.14.8]' });
    expect(await mended('', 'pair.black', { config: '{"language": "de"}' })).toEqual({ 'Write 0,1150 cd/m²': '[0,1150 cd/m²]' });
  });

  it('in a comparison of a share, per cent are hundredths', async () => {
    expect((await checks(claim('32 %', 'hdr-window.full.share') + claim('0.32', 'hdr-window.full.share'))).status).toEqual([
      'holds',
      'holds',
    ]);
    expect((await checks(claim('33 percent', 'hdr-window.full.share'))).status).toEqual(['wrong']);
  });

  it('in another unit of its kind is held in that unit', async () => {
    // 505 cd/m² are 147.4 fL: one is 3.42626 cd/m² (session/valueTypes.ts).
    expect((await checks(claim('147 fL', 'hdr-window.peak') + claim('505 cd/m²', 'hdr-window.peak'))).status).toEqual(['holds', 'holds']);
    expect(await mended('150 fL', 'hdr-window.peak')).toEqual({ 'Write 147 fL': '[147 fL]', 'Write about 150 fL': '[about 150 fL]' });
  });
});

describe('the current value is written', () => {
  it.each([
    ['504 nits', 'hdr-window.peak', '505 nits'],
    ['**504** nits', 'hdr-window.peak', '**505** nits'],
    ['504.0 nits', 'hdr-window.peak', '505.0 nits'],
    ['over 600 nits', 'hdr-window.peak', 'over 498 nits'],
    ['under 400 nits', 'hdr-window.peak', 'under 512 nits'],
    ['at least 600 nits', 'hdr-window.peak', 'at least 499 nits'],
    ['at most 400 nits', 'hdr-window.peak', 'at most 511 nits'],
    ['about 901 nits', 'hdr-window.peak', 'about 505 nits'],
    ['nearly 500 nits', 'hdr-window.peak', 'nearly 506 nits'],
    ['just over 600 nits', 'hdr-window.peak', 'just over 504 nits'],
    ['up to 601 nits', 'hdr-window.peak', 'up to 505 nits'],
    ['300 to 401 nits', 'hdr-window.peak', '300 to 511 nits'],
    ['601–702 nits', 'hdr-window.peak', '499–702 nits'],
    ['1,044:1', 'pair.sequential', '1,043:1'],
    ['1044:1', 'pair.sequential', '1043:1'],
    ['1.1 thousand to one', 'pair.sequential', '1.0 thousand to one'],
    ['3 %', 'grey.curve@50', '−3 %'],
    ['+3 %', 'grey.curve@50', '−3 %'],
    ['-4 %', 'grey.curve@50', '-3 %'],
    ['5 % too dark', 'grey.curve@50', '3 % too dark'],
    ['3 % too bright', 'grey.curve@50', '3 % too dark'],
    ['Too bright by 4 %', 'grey.curve@50', 'Too dark by 3 %'],
    ['33 %', 'hdr-window.full.share', '32 %'],
    ['2.14.7', 'aurora.firmware', '2.14.8'],
    ['60 in', 'aurora.size', '55 in'],
    ['£1,900', 'aurora.price', '£1,899'],
    ['4 nits', 'hdr-window.peak', '505 nits'],
  ])('%s of %s: %s', async (text, of, expected) => {
    const { says } = await checks(claim(text, of));
    expect(says[0]).toMatch(/^claim-wrong /);
    const all = Object.values(await mended(text, of));
    expect(all[0]).toBe(`[${expected}]`);
    for (const after of all) expect((await checks(`${after}(aurora.nitbook#${of})`)).status).toEqual(['holds']);
  });

  it('of a bound, as one that can be claimed', async () => {
    const [after] = Object.values(await mended('30,001:1', 'deep.sequential'));
    expect(after).toMatch(/^\[at least 39,\d\d\d:1\]$/);
    expect((await checks(`${after}(aurora.nitbook#deep.sequential)`)).status).toEqual(['holds']);
  });

  it('where a comparison may hold or not, so that it surely does', async () => {
    // The meter states a spread of 0.5 %: 505 cd/m² may as well be 500.
    const { status, says } = await checks(claim('over 500 nits', 'hdr-window.peak'));
    expect(status).toEqual(['undecided']);
    expect(says[0]).toMatch(
      /^claim-undecided "over 500 nits": "over 500 nits" may hold or not: Peak of hdr-window is 505 cd\/m², between 49\d\.\d+ and 51\d\.\d+\.$/,
    );
    expect(await mended('over 500 nits', 'hdr-window.peak')).toEqual({ 'Write over 498 nits': '[over 498 nits]' });
  });

  it('or, of a round number, "about"', async () => {
    expect(await mended('500 nits', 'hdr-window.peak')).toEqual({
      'Write 505 nits': '[505 nits]',
      'Write about 500 nits': '[about 500 nits]',
    });
  });

  it('in a definition and in a quotation, where the text stands', async () => {
    const { mends } = await checks('> It has [504\n> nits][pk].\n\n[pk]: aurora.nitbook#hdr-window.peak\n');
    expect(mends).toEqual({ 'Write 505 nits': '> It has [505\n> nits][pk].\n\n[pk]: aurora.nitbook#hdr-window.peak\n' });
  });

  it('not where marks of emphasis stand within a number', async () => {
    expect(await mended('5**04** nits', 'hdr-window.peak')).toEqual({});
  });
});

describe('a link with more than one figure can be held against', () => {
  it('says so, and can be narrowed to what holds', async () => {
    expect(await checks(claim('10 % window peaks at 505', 'hdr-window.peak@10'))).toEqual({
      status: ['unclear'],
      says: [
        'claim-unclear "10 % window peaks at 505": Several figures in one link: link only what says Peak @10 % of hdr-window, 505 cd/m².',
      ],
      mends: { 'Link only "505"': `10 % window peaks at ${claim('505', 'hdr-window.peak@10')}` },
    });
  });

  it.each([
    ['no more than 600 nits', 'A denial cannot be held against a figure', 'no [more than 600 nits]'],
    ['505 nits when warm', 'A condition cannot be held against a figure', '[505 nits] when warm'],
    ['505 ± 5 nits', 'A tolerance cannot be held against a figure', '[505] ± 5 nits'],
    ['over 400 nits in a 10 % window', 'Several figures in one link', '[over 400 nits] in a 10 % window'],
    ['**505** nits in a 10 % window', 'Several figures in one link', '**[505]** nits in a 10 % window'],
  ])('%s: %s', async (text, reason, narrowed) => {
    const { says } = await checks(claim(text, 'hdr-window.peak'));
    expect(says).toHaveLength(1);
    expect(says[0]).toContain(reason);
    expect(Object.values(await mended(text, 'hdr-window.peak'))).toContain(narrowed);
  });

  it.each([
    ['505 K', 'hdr-window.peak', 'What stands behind the number is no unit of this figure'],
    ['505 lux', 'hdr-window.peak', 'What stands behind the number is no unit of this figure'],
    ['a ΔE 76 of 1.0', 'grey.de.avg', '"ΔE 76" is not what was measured: link only what says ΔE 2000 average of grey, '],
    ['a ΔE ITP of 1.0', 'grey.de@50', '"ΔE ITP" is not what was measured: link only what says ΔE 2000 @50 % of grey, '],
  ])('and offers no link for another unit or formula: %s of %s', async (text, of, reason) => {
    const { status, says } = await checks(claim(text, of));
    expect(status).toEqual(['unclear']);
    expect(says[0]).toContain(reason);
    expect(await mended(text, of)).toEqual({});
  });

  it('keeps the word for the side', async () => {
    expect(Object.values(await mended('at 50 % it is 3 % too dark', 'grey.curve@50'))).toContain('at 50 % it is [3 % too dark]');
  });

  it('of a definition, which is named as before', async () => {
    const { mends } = await checks(
      '[10 %: 505][pk] [10 %: 505]\n\n[pk]: aurora.nitbook#hdr-window.peak\n[10 %: 505]: aurora.nitbook#hdr-window.peak',
    );
    expect(Object.values(mends)).toContain(
      '[10 %: 505][pk] 10 %: [505][10 %: 505]\n\n[pk]: aurora.nitbook#hdr-window.peak\n[10 %: 505]: aurora.nitbook#hdr-window.peak',
    );
  });

  it('has digits that are no number in the language of the folder', async () => {
    expect(await checks(claim('505,0', 'hdr-window.peak'))).toEqual({
      status: ['unclear'],
      says: ['claim-notation "505,0": "505,0" is no number in the language of this folder (en), which writes 1,000.5.'],
      mends: { 'Write 505.0': claim('505.0', 'hdr-window.peak') },
    });
    expect((await checks(claim('505,0', 'hdr-window.peak'), { config: '{"language": "de"}' })).status).toEqual(['holds']);
  });
});

describe('in the language of its folder', () => {
  const german = { config: '{"language": "de"}' };

  it('a claim is read, and mended', async () => {
    expect((await checks(claim('über 400 Nits', 'hdr-window.peak'), german)).status).toEqual(['holds']);
    expect((await checks(claim('nicht 505 Nits', 'hdr-window.peak'), german)).status).toEqual(['unclear']);
    expect(Object.values(await mended('unter 400 Nits', 'hdr-window.peak', german))).toEqual(['[unter 512 Nits]']);
    expect(Object.values(await mended('3 % zu hell', 'grey.curve@50', german))).toEqual(['[3 % zu dunkel]']);
    expect(Object.values(await mended('4 % unter dem Ziel', 'grey.curve@50', german))).toEqual(['[3 % unter dem Ziel]']);
    expect(Object.values(await mended('3 % über dem Ziel', 'grey.curve@50', german))).toEqual(['[3 % unter dem Ziel]']);
    expect(Object.values(await mended('500 Nits', 'hdr-window.peak', german))).toEqual(['[505 Nits]', '[etwa 500 Nits]']);
    expect(Object.values(await mended('', 'deep.sequential', german))).toEqual(['[mindestens 39600:1]']);
  });

  it('or is to be linked without words, where none are known of it', async () => {
    const french = { config: '{"language": "fr"}' };
    expect((await checks(claim('505 nits', 'hdr-window.peak'), french)).status).toEqual(['holds']);
    const { status, says } = await checks(claim('moins de 505 nits', 'hdr-window.peak'), french);
    expect(status).toEqual(['unclear']);
    expect(says[0]).toContain('Words are not read in the language of this folder: link only what says Peak of hdr-window, 505 cd/m².');
    expect(Object.values(await mended('moins de 505 nits', 'hdr-window.peak', french))).toEqual(['moins de [505 nits]']);
    expect(Object.values(await mended('500 nits', 'hdr-window.peak', french))).toEqual(['[505 nits]', '[≈ 500 nits]']);
  });
});

describe('a black that is crushed below what the meter sees', () => {
  // Constructed: the target of 6.5 % is 120 · 0.065^2.4 = 0.170 cd/m², and log2(0.003 / 0.170) = −5.8.
  const files = { '/w/aurora.nitbook': SESSION.replace(/(?=\n +50 {2}22\.0)/, '\n       6.5  <0.003    -        -') };

  it('has no least error in stops', async () => {
    const { says } = await checks(claim('3 stops', 'grey.nearblack.stops'), { files });
    expect(says[0]).toMatch(/is at most -5\.8\d stops/);
    const status = async (text: string) => (await checks(claim(text, 'grey.nearblack.stops'), { files })).status;
    expect(await status('over 5 stops too dark')).toEqual(['holds']);
    expect(await status('at most −5 stops')).toEqual(['holds']);
    expect(await status('over 7 stops too dark')).toEqual(['undecided']);
    expect(await status('under 7 stops too dark')).toEqual(['undecided']);
    expect(await status('at least −7 stops')).toEqual(['undecided']);
    expect(await status('4 to 7 stops too dark')).toEqual(['undecided']);
  });

  it.each([
    ['cd/m²', undefined, 0],
    [':1', undefined, 0],
    ['', undefined, 0],
    ['%', undefined, 0],
    ['%', 'light', -100],
    ['stops', 'light', Number.NEGATIVE_INFINITY],
    ['stops', undefined, Number.NEGATIVE_INFINITY],
    ['', 'light', Number.NEGATIVE_INFINITY],
    ['', 'green', Number.NEGATIVE_INFINITY],
  ] as const)('leaves open below "at most" what can be there: of %s %s from %s', (unit, axis, least) => {
    expect(leastOf({ unit, ...(axis ? { axis } : {}) })).toBe(least);
  });
});

describe('a property', () => {
  it.each([
    ['2.14.8', 'aurora.firmware', 'holds'],
    ['firmware 2.14.8', 'aurora.firmware', 'holds'],
    ['2.14', 'aurora.firmware', 'wrong'],
    ['12.14.8', 'aurora.firmware', 'wrong'],
    ['Filmmaker-like', 'cinema.preset', 'holds'],
    ['filmmaker–like', 'cinema.preset', 'holds'],
    ['“Filmmaker-like” mode', 'cinema.preset', 'holds'],
    ['Filmmaker', 'cinema.preset', 'wrong'],
    ['not Filmmaker-like', 'cinema.preset', 'unclear'],
    ['HDMI #2', 'cinema.input', 'holds'],
    ['55 in', 'aurora.size', 'holds'],
    ['55-inch', 'aurora.size', 'holds'],
    ['about 55 inches', 'aurora.size', 'holds'],
    ['1.4 m', 'aurora.size', 'holds'],
    ['54 in', 'aurora.size', 'wrong'],
    ['£1,899', 'aurora.price', 'holds'],
    ['under £2,000', 'aurora.price', 'holds'],
    ['120 nits', 'dark.luminance', 'holds'],
    ['a gamma of 2.4', 'dark.curve', 'holds'],
    ['10-bit', 'sdr.depth', 'holds'],
    ['2.14.8.1', 'aurora.firmware', 'wrong'],
    ['2.14.80', 'aurora.firmware', 'wrong'],
    ['2.14.8-beta', 'aurora.firmware', 'wrong'],
    ['firmware 2.14.8, the newest', 'aurora.firmware', 'holds'],
    ['newer than 2.14.8', 'aurora.firmware', 'unclear'],
    ['2.14.8 or later', 'aurora.firmware', 'unclear'],
    ['the successor of 2.14.8', 'aurora.firmware', 'unclear'],
    ['below firmware 2.14.8', 'aurora.firmware', 'unclear'],
    ['instead of 2.14.8', 'aurora.firmware', 'unclear'],
    ['HDMI #2.1', 'cinema.input', 'wrong'],
    ['under 55 in', 'aurora.size', 'wrong'],
    ['over 50 in', 'aurora.size', 'holds'],
    ['not 55 in', 'aurora.size', 'unclear'],
    ['55.5 in', 'aurora.size', 'wrong'],
    ['55 cm', 'aurora.size', 'wrong'],
    ['55 kg', 'aurora.size', 'wrong'],
    ['a 55 in panel', 'aurora.size', 'holds'],
    ['a third of 55 in', 'aurora.size', 'unclear'],
    ['1899 GBP', 'aurora.price', 'holds'],
    ['GBP 1,899', 'aurora.price', 'holds'],
    ['1,899 pounds', 'aurora.price', 'holds'],
    ['1899', 'aurora.price', 'holds'],
    ['1899 EUR', 'aurora.price', 'wrong'],
    ['EUR 1899', 'aurora.price', 'wrong'],
    ['€1,899', 'aurora.price', 'wrong'],
    ['$1,899', 'aurora.price', 'wrong'],
    ['₹1,899', 'aurora.price', 'wrong'],
    ['1,899 ₹', 'aurora.price', 'wrong'],
    ['1,899 £', 'aurora.price', 'holds'],
    ['1899 euros', 'aurora.price', 'wrong'],
    ['1899 nits', 'aurora.price', 'wrong'],
    ['120 K', 'dark.luminance', 'wrong'],
    ['Halden Aurora 55', 'aurora.maker', 'broken'],
  ])('is claimed by a text: "%s" of %s %s', async (text, of, status) => {
    expect((await checks(claim(text, of))).status).toEqual([status]);
  });

  it.each([
    ['61 hours', 'holds'],
    ['61 h of use', 'holds'],
    ['61', 'holds'],
    ['61.5 hours', 'wrong'],
    ['−61 h', 'wrong'],
    ['over 61 hours', 'wrong'],
  ])('is claimed by its number: "%s" of 61 h %s', async (text, status) => {
    const files = { '/w/aurora.nitbook': SESSION.replace('  size:', '  hours: 61 h\n  size:') };
    expect((await checks(claim(text, 'aurora.hours'), { files })).status).toEqual([status]);
  });

  it.each([
    ['1899 INR', '₹1,899', 'holds'],
    ['1899 CAD', '$1,899', 'holds'],
    ['1899 USD', 'US dollars: $1,899', 'holds'],
    ['1899 ₹', '₹1,899', 'holds'],
  ])('of a price of %s is claimed by the mark of its currency: "%s" %s', async (price, text, status) => {
    const files = { '/w/aurora.nitbook': SESSION.replace('1899 GBP', price) };
    expect((await checks(claim(text, 'aurora.price'), { files })).status).toEqual([status]);
  });

  it('is denied and compared in the language of the folder too', async () => {
    const german = { config: '{"language": "de"}' };
    for (const [text, status] of [
      ['nicht 2.14.8', 'unclear'],
      ['neuer als 2.14.8', 'unclear'],
      ['Firmware 2.14.8', 'holds'],
    ] as const)
      expect((await checks(claim(text, 'aurora.firmware'), german)).status).toEqual([status]);
    expect((await checks(claim('keine 55 Zoll', 'aurora.size') + claim('55 Zoll', 'aurora.size'), german)).status).toEqual([
      'unclear',
      'holds',
    ]);
  });

  it('is written in its place, marks of Markdown escaped', async () => {
    expect(await mended('HDMI 1', 'cinema.input')).toEqual({ 'Write HDMI #2': '[HDMI \\#2]' });
    expect((await checks(claim('HDMI \\#2', 'cinema.input'))).status).toEqual(['holds']);
  });
});

describe('a reference that leads to nothing', () => {
  it.each([
    ['hdr-windw.peak', 'hdr-windw', 'There is no "hdr-windw" in this session. Perhaps hdr-window?', ['hdr-window.peak']],
    ['hdr-window.peek', 'peek', 'A window run has no measure "peek". Perhaps peak?', ['hdr-window.peak', 'hdr-window.peak@10']],
    [
      'hdr-window',
      'hdr-window',
      '"hdr-window" is a window run: a figure of it needs a measure, such as #hdr-window.peak.',
      ['hdr-window.peak@10', 'hdr-window.peak'],
    ],
    [
      'hdr-window.peak@2',
      '2',
      '"peak" of "hdr-window": there is no row 2 (there is 1; 10).',
      ['hdr-window.peak', 'hdr-window.peak@10', 'hdr-window.peak@1'],
    ],
    ['hdr-window.full@10', '10', '"full" of "hdr-window": it belongs to the whole run and takes no @.', ['hdr-window.full']],
    ['grey.de', 'de', '"de" of "grey": it belongs to a row: write de@ and the key of the row.', undefined],
    [
      'hdr-window+pair.peak',
      'hdr-window+pair',
      'A figure is of one run: hdr-window and pair together make a chart.',
      ['hdr-window.peak', 'hdr-window.peak@10'],
    ],
    ['aurora.firmwar', 'firmwar', 'The display block "aurora" has no property "firmwar". Perhaps firmware?', ['aurora.firmware']],
    ['aurora.firmware@1', '1', '"firmware" of "aurora" is a text: it has no rows, and takes no @.', ['aurora.firmware']],
  ])('#%s: "%s", %s', async (of, underlined, sentence, repairs) => {
    const { status, says, mends } = await checks(claim('505 nits', of));
    expect(status).toEqual(['broken']);
    expect(says).toEqual([`link-unknown "${underlined}": ${sentence}`]);
    if (repairs) expect(Object.values(mends)).toEqual(repairs.map((repair) => claim('505 nits', repair)));
  });

  it('is repaired to what supports the claim first', async () => {
    const { mends } = await checks(claim('400 nits', 'hdr-window.peak@2'));
    expect(Object.keys(mends)[0]).toBe('Write #hdr-window.peak@1');
  });

  it('is repaired by the text of each link to it, as a link alone is', async () => {
    const firstsFor = async (text: string) => {
      const { findings } = await reviewed(text);
      return findings.map(({ mends }) => mends[0]!.edits[0]!.text);
    };
    const [dim, bright] = ['400 nits', '700 nits'].map((each) => claim(each, 'hdr-window.peak@2')) as [string, string];
    const alone = [await firstsFor(dim), await firstsFor(bright)].flat();
    expect(new Set(alone).size).toBe(2);
    expect(await firstsFor(`${dim} ${bright} ${dim}`)).toEqual([alone[0], alone[1], alone[0]]);
  });

  it.each([
    ['aurra.nitbook#grey.de.max', 'aurra.nitbook', 'aurra.nitbook: there is no such file. Perhaps aurora.nitbook?', 'aurora.nitbook'],
    [
      'old/aurora.nitbook#grey.de.max',
      'old/aurora.nitbook',
      'old/aurora.nitbook: there is no such file. Perhaps aurora.nitbook?',
      'aurora.nitbook',
    ],
    ['/aurora-55.nitbook#grey.de.max', '/aurora-55.nitbook', '/aurora-55.nitbook: there is no such file.', undefined],
  ])('%s: "%s", %s', async (target, underlined, sentence, repair) => {
    const { status, says, mends } = await checks(`[2.9](${target})`);
    expect(status).toEqual(['broken']);
    expect(says).toEqual([`link-file "${underlined}": ${sentence}`]);
    expect(Object.values(mends)).toEqual(repair === undefined ? [] : [`[2.9](${target.replace(underlined, repair)})`]);
  });

  it('names a session that cannot be read, with the reason', async () => {
    const { says } = await checks('[2.9](odd.nitbook#grey.de.max)', { config: '{}', files: { '/w/odd.nitbook/x': '' } });
    expect(says[0]).toMatch(/^link-file/);
  });

  it.each([
    ['aurora.nitbook#grey.De', 'De', 'Expected a name, a small letter and then small letters, digits or -, found "De".'],
    ['aurora.nitbook#', '#', 'Expected an id, a letter and then letters, digits or -, found "".'],
    ['aurora.nitbook#sat.de@red;100', ';', '";" cannot stand here as it is: write %3B.'],
  ])('cannot be read: %s', async (target, underlined, sentence) => {
    expect((await checks(`[2.9](${target})`)).says).toEqual([`link-unread "${underlined}": ${sentence}`]);
  });

  it('is underlined whole where escapes stand in it, and is then left to be written by hand', async () => {
    const { says, mends } = await checks('[2.9](aurora\\.nitbook#gray.de.max) a.nitbook#');
    expect(says[0]).toBe('link-unknown "aurora\\.nitbook#gray.de.max": There is no "gray" in this session. Perhaps grey?');
    expect(mends).toEqual({});
  });

  it('is a finding on each link of a definition, in its target', async () => {
    const { says } = await checks('[505][pk] [504][pk]\n\n[pk]: aurora.nitbook#hdr-window.peek');
    expect(says.map((said) => said.split(':')[0])).toEqual(['link-unknown "peek"', 'link-unknown "peek"']);
  });
});

describe('nothing outside the folder', () => {
  it.each([
    [
      '../aurora.nitbook#grey.de.max',
      'link-file "../aurora.nitbook": ../aurora.nitbook: it lies outside the folder /w, from which nothing is read.',
    ],
    [
      '../../etc/x.nitbook#grey.de.max',
      'link-file "../../etc/x.nitbook": ../../etc/x.nitbook: it lies outside the folder /w, from which nothing is read.',
    ],
    [
      '//host/x.nitbook#a.b',
      'link-unread "//": Expected a path from here, or one from the workspace folder that starts with /, found "//".',
    ],
    [
      'https://halden.example/x.nitbook#a.b',
      'link-unread "https:": Expected a path from here, or one from the workspace folder that starts with /, found "https:".',
    ],
    [
      'file:///etc/x.nitbook#a.b',
      'link-unread "file:": Expected a path from here, or one from the workspace folder that starts with /, found "file:".',
    ],
    ['C:/x.nitbook#a.b', 'link-unread "C:": Expected a path from here, or one from the workspace folder that starts with /, found "C:".'],
    ['a/../x.nitbook#a.b', 'link-unread "..": Expected the name of a folder or file, with ../ at the start only, found "..".'],
    [
      'a%2F..%2Fx.nitbook#a.b',
      'link-unread "a%2F..%2Fx.nitbook": Expected the name of a folder or file, with ../ at the start only, found "a%2F..%2Fx.nitbook".',
    ],
  ])('is read through a reference: %s', async (target, said) => {
    const asked: string[] = [];
    const review = await reviewed(`[2.9](${target})`, { asked });
    expect(saidOf(review)).toEqual([said]);
    expect(statusesOf(review)).toEqual(['broken']);
    expect(asked).toEqual([]);
  });

  it('though what leads out and back in is', async () => {
    const asked: string[] = [];
    await reviewed('[2.9](../w/aurora.nitbook#grey.de.max) [2.9](/aurora.nitbook#grey.de.max)', { asked, path: '/w/sub/review.md' });
    expect(asked.filter((path) => path.endsWith('.nitbook')).sort()).toEqual(['/w/aurora.nitbook', '/w/w/aurora.nitbook']);
  });
});

describe('an image', () => {
  it('shows figures of runs', async () => {
    expect((await checks('![Balance](aurora.nitbook#grey.balance) ![x](aurora.nitbook#pair+deep.change)')).status).toEqual([
      'pointing',
      'pointing',
    ]);
  });

  it.each([
    ['grey.balanc', '"balanc": A greyscale run has no figure "balanc". Perhaps balance?', ['grey.balance']],
    ['gry.balance', '"gry": There is no run "gry" in this session. Perhaps grey?', ['grey.balance']],
    ['grey+gry.balance', '"grey+gry": There is no run "gry" in this session. Perhaps grey?', undefined],
    ['grey+pair.balance', '"grey+pair": A figure is of runs of one kind: "grey" is a greyscale run, "pair" a contrast run.', undefined],
    ['dark.balance', '"dark": "dark" is a target block: figures are of runs.', undefined],
    ['grey.de.max', '"de.max": A greyscale run has no figure "de.max".', undefined],
    ['grey', '"grey": Name a figure of "grey", such as #grey.', undefined],
    ['grey.balance@50', '"50": A figure shows all rows: it takes no @.', ['grey.balance']],
  ])('%s does not: %s', async (of, said, repairs) => {
    const { status, says, mends } = await checks(`![x](aurora.nitbook#${of})`);
    expect(status).toEqual(['broken']);
    expect(says).toHaveLength(1);
    expect(says[0]!.startsWith(`link-unknown ${said}`), says[0]).toBe(true);
    if (repairs) expect(Object.values(mends)).toEqual(repairs.map((repair) => `![x](aurora.nitbook#${repair})`));
  });

  it('of a figure that cannot be drawn says why', async () => {
    const { status, says } = await checks('![x](aurora.nitbook#spd.spectrum)');
    expect(status).toEqual(['not-computed']);
    expect(says[0]).toMatch(/^claim-not-computed "x": The figure "spectrum" of "spd" is not computed: /);
  });
});

describe('a line of a fenced block', () => {
  it('names blocks, measures and figures of a session', async () => {
    const { status, says } = await checks(
      '```nitbook\nsettings aurora.nitbook#cinema\nfigure aurora.nitbook#grey.balance\ncompare aurora.nitbook#grey.de.max\nsummary aurora.nitbook#gray\ncompare aurora.nitbook#grey.de.mx\n```\n',
    );
    expect(status).toEqual(['pointing', 'pointing', 'pointing', 'broken', 'broken']);
    expect(says.map((said) => said.split(':')[0])).toEqual(['link-unknown "gray"', 'link-unknown "de.mx"']);
  });
});

describe('a figure without a link', () => {
  const review = (text: string) => `${text} ${claim('505', 'hdr-window.peak')}`;

  it('is noticed, and the figures that it could be are offered, headlines first', async () => {
    const { says, mends } = await checks(review('It has 163 nits over the whole screen.'));
    expect(says).toEqual(['claim-unlinked "163 nits": "163 nits" is linked to no figure of a session.']);
    expect(mends).toEqual({
      'Link to aurora.nitbook#hdr-window.full: Full field 163 cd/m²': review(
        'It has [163 nits](aurora.nitbook#hdr-window.full) over the whole screen.',
      ),
      'Link to aurora.nitbook#hdr-window.peak@100: Peak @100 % 163 cd/m²': review(
        'It has [163 nits](aurora.nitbook#hdr-window.peak@100) over the whole screen.',
      ),
    });
  });

  it.each([
    ['over 400 nits', ['over 400 nits']],
    ['a contrast of 1,043:1', ['1,043:1']],
    ['6504 K at white', ['6504 K']],
    ['a ΔE 2000 of 2.9', ['2.9']],
    ['a ΔE of at most 2.9 on average', ['at most 2.9']],
    ['119 to 121 cd/m²', ['119 to 121 cd/m²']],
    ['97.8 % of P3', ['97.8 %']],
    ['0.12 stops', ['0.12 stops']],
    ['on a 10 % window at 80 % for 30 minutes', []],
    ['a 55-inch display of 2026 with BT.2020 and 4K at 60 Hz', []],
    ['`505 nits` and [505 nits](https://halden.example) and ![505 nits](x.png)', []],
    ['ΔE [2.9](https://halden.example) 3', []],
  ])('in "%s": %j', async (text, figures) => {
    const { says } = await checks(review(text));
    expect(says.map((said) => /"(.*?)": /.exec(said)![1])).toEqual(figures);
  });

  it("is nobody's business where nothing refers to a session", async () => {
    expect((await checks('It has 163 nits.')).says).toEqual([]);
  });

  it('can be switched off', async () => {
    expect((await checks(review('163 nits'), { config: '{"findings": {"claim-unlinked": "off"}}' })).says).toEqual([]);
  });
});

describe('the findings of a review', () => {
  it('come in the order of the text, with the severities of the folder', async () => {
    const text = `163 nits ${claim('504', 'hdr-window.peak')} [x](https://a.example/b.nitbook#c.d) ${claim('1', 'gray.de.max')}`;
    const { findings } = await reviewed(text, { config: '{"findings": {"claim-wrong": "info"}}' });
    expect(findings.map(({ code, severity }) => [code, severity])).toEqual([
      ['claim-unlinked', 'info'],
      ['claim-wrong', 'info'],
      ['link-unread', 'error'],
      ['link-unknown', 'error'],
    ]);
  });

  it('are all raised here', async () => {
    const text = [
      '163 nits',
      claim('504', 'hdr-window.peak'),
      claim('over 50,000:1', 'deep.sequential'),
      claim('2 of 3', 'hdr-window.peak'),
      claim('5,05', 'hdr-window.peak'),
      claim('x', 'hdr-window.peak'),
      claim('x', 'spd.x@white'),
      claim('1', 'gray.de.max'),
      '[x](C:/b.nitbook#c.d) [x](b.nitbook#c.d)',
    ].join(' ');
    const { findings } = await reviewed(text);
    const raised = new Set(findings.map(({ code }) => code));
    expect([...raised].sort()).toEqual(
      Object.keys(CODES)
        .filter((code) => /^(?:claim|link)-/.test(code))
        .sort(),
    );
    for (const { code, severity } of findings) expect(severity).toBe(CODES[code].severity);
  });

  it('are of sessions that are read once, however often they are named', async () => {
    const asked: string[] = [];
    await reviewed(
      `${claim('504', 'hdr-window.peak')} ${claim('504', 'hdr-window.full')} [1](./aurora.nitbook#a.b) [1](/aurora.nitbook#a.b)`,
      { asked },
    );
    expect(asked.filter((path) => path === '/w/aurora.nitbook')).toHaveLength(1);
  });

  it('follow the sessions: what is measured anew makes a claim fall', async () => {
    const text = claim('505 nits', 'hdr-window.peak');
    const files = { '/w/aurora.nitbook': SESSION.replace('10  505', '10  611') };
    expect((await checks(text, { files })).says).toEqual([
      'claim-wrong "505 nits": "505 nits" does not hold: Peak of hdr-window is 611 cd/m².',
    ]);
  });
});
