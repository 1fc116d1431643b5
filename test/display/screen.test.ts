import { describe, expect, it } from 'vitest';
import { type Pair, pqLight, pqSignal, type Triple, uvOf, xyOf } from './light';
import { aurora, meadow, type Panel } from './panels';
import { light, type Picture, pictureOf, type Scene, shippedPicture } from './screen';
import { arrive, type Link } from './signal';

// The numbers of this file are those of the table that the two invented displays were laid down in, or follow from them by hand.

const grey = (level: number): Triple => [level, level, level];
const native = (panel: Panel): Picture => ({ ...shippedPicture(panel), gamut: 0 });
const hdr = (panel: Panel, mastering = 4000): Picture => ({ ...shippedPicture(panel, 'hdr'), mastering });
const Y = (panel: Panel, scene: Scene, picture = shippedPicture(panel)): number => light(panel, picture, scene)[1];
/** Light of a drive without the black of the display. */
const added = (panel: Panel, rgb: Triple, picture = native(panel)): Triple => {
  const black = light(panel, picture, { rgb: [0, 0, 0] });
  const lit = light(panel, picture, { rgb });
  return [lit[0] - black[0], lit[1] - black[1], lit[2] - black[2]];
};
const channels: readonly Triple[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const scaled = (v: Triple, by: number): Triple => [v[0] * by, v[1] * by, v[2] * by];
const apart = (a: Pair, b: Pair): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const uv = (xyz: Triple): Pair => uvOf(xyOf(xyz));

describe.each([
  {
    panel: aurora,
    white: 120,
    black: 0.0004,
    primaries: [
      [0.684, 0.314],
      [0.2571, 0.656],
      [0.1476, 0.0589],
    ],
    exponents: [2.38, 2.4, 2.43],
    additivity: 0.6,
  },
  {
    panel: meadow,
    white: 150,
    black: 0.045,
    primaries: [
      [0.682, 0.31],
      [0.266, 0.678],
      [0.152, 0.058],
    ],
    exponents: [2.22, 2.25, 2.28],
    additivity: 1,
  },
])('$panel.name as shipped', ({ panel, white, black, primaries, exponents, additivity }) => {
  it('has its white and black', () => {
    expect(Y(panel, { rgb: grey(1) })).toBeCloseTo(white, 9);
    expect(Y(panel, { rgb: grey(0) })).toBeCloseTo(black, 9);
    expect(Y(panel, { rgb: grey(1), window: 1 })).toBeCloseTo(white, 9);
  });

  it('has its primaries', () => {
    channels.forEach((channel, i) => {
      expect(apart(xyOf(added(panel, channel)), primaries[i] as unknown as Pair)).toBeLessThan(1e-9);
    });
  });

  it('adds up as stated', () => {
    const sum = channels.reduce((total, channel) => total + added(panel, channel)[1], 0);
    expect(sum / added(panel, grey(1))[1]).toBeCloseTo(additivity, 2);
    const even: Picture = { ...native(panel), gains: [1 / panel.shipped.gains[0], 1, 1 / panel.shipped.gains[2]] };
    const evenSum = channels.reduce((total, channel) => total + added(panel, channel, even)[1], 0);
    expect(evenSum / added(panel, grey(1), even)[1]).toBeCloseTo(additivity, 9);
  });

  it('has its channel exponents', () => {
    channels.forEach((channel, i) => {
      const ratio = added(panel, scaled(channel, 0.5))[1] / added(panel, channel)[1];
      expect(Math.log(ratio) / Math.log(0.5)).toBeCloseTo(exponents[i]!, 9);
    });
  });

  it('is bluish', () => {
    expect(xyOf(light(panel, shippedPicture(panel), { rgb: grey(1) }))[0]).toBeLessThan(0.3127);
    expect(xyOf(light(panel, shippedPicture(panel), { rgb: grey(1) }))[1]).toBeLessThan(0.329);
  });

  it('never falls as the level rises, in SDR or HDR', () => {
    for (const picture of [shippedPicture(panel), hdr(panel, 1000), hdr(panel)]) {
      let below = -1;
      for (let code = 0; code <= 1023; code++) {
        const here = Y(panel, { rgb: grey(code / 1023) }, picture);
        expect(here).toBeGreaterThanOrEqual(below - 1e-9);
        below = here;
      }
    }
  });
});

describe('near black', () => {
  it('the self-lit display is dark below 1.5 %', () => {
    expect(Y(aurora, { rgb: grey(0.0149) })).toBeCloseTo(0.0004, 12);
    expect(Y(aurora, { rgb: grey(0.0151) })).toBeGreaterThan(0.004);
  });
  it('the self-lit display has 12 % more blue at 2 to 4 % and none at 6 %', () => {
    const blue = (level: number): number => added(aurora, [0, 0, level])[1] / (added(aurora, [0, 0, 1])[1] * level ** 2.43);
    for (const level of [0.02, 0.03, 0.04]) expect(blue(level)).toBeCloseTo(1.12, 9);
    for (const level of [0.06, 0.1, 0.5]) expect(blue(level)).toBeCloseTo(1, 9);
  });
  it('the backlit display has a pedestal, and a halo of 0.02 to 0.3 beside light', () => {
    expect(Y(meadow, { rgb: grey(0), surround: 0.001 })).toBeCloseTo(0.045 + 0.02, 4);
    expect(Y(meadow, { rgb: grey(0), surround: 1, window: 0.5 })).toBeCloseTo(0.045 + 0.3, 9);
    expect(Y(aurora, { rgb: grey(0), surround: 1, window: 0.5 })).toBeCloseTo(0.0004, 12);
  });
});

describe('HDR', () => {
  const peak = (panel: Panel, window: number): number => Y(panel, { rgb: grey(1), window }, hdr(panel)) - panel.shipped.black;

  it('has the window curve of the self-lit display', () => {
    expect([0.01, 0.1, 0.25, 1].map((window) => Number(peak(aurora, window).toPrecision(4)))).toEqual([820, 820, 431.8, 163.6]);
  });
  it('has the window curve of the backlit display', () => {
    expect([0.01, 0.1, 0.25, 1].map((window) => Number(peak(meadow, window).toPrecision(4)))).toEqual([310.7, 1178, 1249, 669.9]);
  });
  it('the self-lit display is 0.05 stop bright and ignores the mastering peak', () => {
    const stops = (nits: number, mastering: number): number => {
      const shown = Y(aurora, { rgb: grey(pqSignal(nits)) }, hdr(aurora, mastering)) - 0.0004;
      return Math.log2(shown / nits);
    };
    for (const mastering of [1000, 4000, 10_000]) {
      for (const nits of [0.1, 5, 50, 300]) expect(stops(nits, mastering)).toBeCloseTo(0.05, 9);
    }
    expect(stops(600, 1000)).toBe(stops(600, 10_000));
    expect(stops(600, 1000)).toBeLessThan(0);
  });
  it('the backlit display is 0.15 stop bright from 10 to 100 cd/m² and follows the mastering peak', () => {
    const shown = (nits: number, mastering: number): number => Y(meadow, { rgb: grey(pqSignal(nits)) }, hdr(meadow, mastering)) - 0.045;
    for (const nits of [10, 30, 100]) expect(Math.log2(shown(nits, 1000) / nits)).toBeCloseTo(0.15, 9);
    for (const nits of [2, 4, 250, 800]) expect(Math.log2(shown(nits, 1000) / nits)).toBeCloseTo(0, 9);
    expect(shown(pqLight(0.75), 10_000)).toBeLessThan(0.9 * shown(pqLight(0.75), 1000));
  });
});

describe('time', () => {
  it('a cold display is brighter', () => {
    const rise = (panel: Panel, minutes: number): number => Y(panel, { rgb: grey(1), minutes }) / Y(panel, { rgb: grey(1) }) - 1;
    expect(rise(aurora, 0)).toBeCloseTo(0.015, 6);
    expect(rise(aurora, 12)).toBeCloseTo(0.015 / Math.E, 6);
    // The pedestal does not warm up with the picture: 0.045 of 150 cd/m².
    expect(rise(meadow, 0)).toBeCloseTo(0.05 * (1 - 0.045 / 150), 6);
    expect(rise(meadow, 45)).toBeCloseTo(0.05 * Math.exp(-3) * (1 - 0.045 / 150), 6);
  });
  it('a bright HDR picture sags', () => {
    const kept = (panel: Panel, held: number): number =>
      Y(panel, { rgb: grey(1), held }, hdr(panel)) / Y(panel, { rgb: grey(1) }, hdr(panel));
    expect(kept(aurora, 90)).toBeCloseTo(1 - 0.15 * (1 - 1 / Math.E), 5);
    expect(kept(aurora, 3600)).toBeCloseTo(0.85, 5);
    expect(kept(meadow, 600)).toBeCloseTo(1 - 0.06 * (1 - 1 / Math.E), 5);
  });
});

describe('place and angle', () => {
  const corner = (panel: Panel, at: Pair, level = 1): number => Y(panel, { rgb: grey(level), at }) / Y(panel, { rgb: grey(level) });
  const seen = (panel: Panel, scene: Partial<Scene>): Triple => light(panel, shippedPicture(panel), { rgb: grey(1), ...scene });

  it('light falls to the corners', () => {
    expect(corner(aurora, [1, 1])).toBeCloseTo(0.96, 9);
    expect(corner(meadow, [1, 1])).toBeCloseTo(0.84, 9);
    expect(corner(meadow, [-1, 1])).toBeCloseTo(0.84 - 0.05, 9);
  });
  it('the self-lit display has bands of 2 % in a 5 % field', () => {
    const at = 1 / 12;
    expect(corner(aurora, [at, 0], 0.05) / (1 - (0.04 * at ** 2) / 2)).toBeCloseTo(1.02, 9);
    expect(corner(aurora, [-at, 0], 0.05) / (1 - (0.04 * at ** 2) / 2)).toBeCloseTo(0.98, 9);
  });
  it("tints the edges in u'", () => {
    for (const [panel, tint] of [
      [aurora, 0.0015],
      [meadow, 0.003],
    ] as const) {
      const [u, v] = uv(seen(panel, {}));
      expect(uv(seen(panel, { at: [1, 0] }))[0] - u).toBeCloseTo(tint, 9);
      expect(uv(seen(panel, { at: [-1, 0] }))[0] - u).toBeCloseTo(-tint, 9);
      expect(uv(seen(panel, { at: [1, 0] }))[1]).toBeCloseTo(v, 9);
    }
  });
  it('dims and shifts off axis', () => {
    expect(seen(aurora, { angle: 60 })[1] / 120).toBeCloseTo(0.5 ** 0.15, 9);
    expect(seen(meadow, { angle: 38 })[1] / 150).toBeCloseTo(0.5, 9);
    expect(apart(uv(seen(aurora, { angle: 45 })), uv(seen(aurora, {})))).toBeCloseTo(0.006, 9);
    expect(apart(uv(seen(meadow, { angle: 45 })), uv(seen(meadow, {})))).toBeCloseTo(0.012, 9);
  });
});

describe('a range mismatch (constructed examples: white 120, power 2.4)', () => {
  // An even display without a black of its own, so that only the mismatch is left.
  const even: Panel = {
    ...aurora,
    shipped: { gains: [1, 1, 1], exponents: [2.4, 2.4, 2.4], white: 120, black: 0 },
    nearBlack: { darkBelow: 0 },
  };
  const through = (level: number, link: Link): number => Y(even, { rgb: arrive(grey(level), link) });

  it('limited shown as full', () => {
    const link: Link = { range: 'limited', depth: 8, takenAs: 'full' };
    expect(through(0, link)).toBeCloseTo(0.1561, 4);
    expect(through(1, link)).toBeCloseTo(98.64, 2);
  });
  it('full shown as limited', () => {
    // 10 bits: 102 is 25.5 of 8 bits, the 10 % of the worked example, which 8 bits would round to 26.
    const link: Link = { range: 'full', depth: 10, takenAs: 'limited' };
    expect(through(0.05, link)).toBe(0);
    expect(through(0.1, link)).toBeCloseTo(0.0644, 4);
  });
});

describe('settings', () => {
  it('do what their names say', () => {
    const at = (settings: Record<string, string>, level = 1): Triple => light(aurora, pictureOf(aurora, settings), { rgb: grey(level) });
    expect(at({ 'Picture / Light output': '19' })[1]).toBeCloseTo(60, 3);
    expect(at({ 'White / Gain blue': '-10' })[2]).toBeLessThan(at({})[2]);
    expect(at({ 'White / Offset red': '3' }, 0.1)[0]).toBeGreaterThan(at({}, 0.1)[0]);
    expect(at({ 'White / Offset red': '3' })).toEqual(at({}));
    expect(at({ 'Picture / Gamma': '2.2' }, 0.5)[1]).toBeGreaterThan(at({}, 0.5)[1]);
    expect(xyOf(light(aurora, pictureOf(aurora, { 'Colour / Gamut': 'BT.709' }), { rgb: [0, 0, 1] }))[0]).toBeCloseTo(0.15, 3);
  });
  it('refuse what the display does not offer', () => {
    expect(() => pictureOf(aurora, { 'Colour / Gamut': 'Wide' })).toThrow('Halden Aurora 55 offers no gamut "Wide"');
    expect(() => pictureOf(aurora, { 'Picture / Gamma': 'dark' })).toThrow('offers no "dark" for Picture / Gamma');
  });
});
