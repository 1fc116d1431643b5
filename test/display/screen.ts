import {
  between,
  d65,
  eetf,
  hlgLight,
  type Matrix,
  map,
  type Pair,
  pqLight,
  rgbToXyz,
  spaces,
  type Triple,
  times,
  uvOf,
  xyOf,
  xyOfUv,
  xyzOf,
} from './light';
import type { Panel } from './panels';

/** The state of the picture processing: what the settings of a mode come to. */
export interface Picture {
  readonly signal: 'sdr' | 'hdr';
  /** Light output over the shipped one. */
  readonly light: number;
  /** Linear gains over the shipped ones, and offsets of the drive (full at black, none at white). */
  readonly gains: Triple;
  readonly offsets: Triple;
  /** Added to the exponent of every channel. */
  readonly exponent: number;
  /** 0 = the panel's own primaries, 1 = exactly those of BT.709 (SDR only). */
  readonly gamut: number;
  /** What the signal is coded by (HDR only). */
  readonly transfer: 'pq' | 'hlg';
  /** Mastering peak that the source declares, cd/m² (PQ only). */
  readonly mastering: number;
}

/** What is on the screen, where and when it is looked at. */
export interface Scene {
  /** Signal 0..1 as it arrives, R, G, B: BT.709 container in SDR, BT.2020 with PQ or HLG in HDR. */
  readonly rgb: Triple;
  /** Area of the patch over that of the screen, above 0 to 1. */
  readonly window?: number;
  /** Grey signal of everything outside the patch. */
  readonly surround?: number;
  /** Minutes since power on; endless = warm. */
  readonly minutes?: number;
  /** Seconds for which this picture has stood. */
  readonly held?: number;
  /** Across and down the screen, −1..1 from the centre. */
  readonly at?: Pair;
  /** Degrees off axis. */
  readonly angle?: number;
  /** Light of the room that the screen throws back, cd/m². */
  readonly reflected?: number;
}

export const shippedPicture = (panel: Panel, signal: Picture['signal'] = 'sdr'): Picture => ({
  signal,
  light: 1,
  gains: [1, 1, 1],
  offsets: [0, 0, 0],
  exponent: 0,
  gamut: panel.controls.shippedGamut,
  transfer: 'pq',
  mastering: 1000,
});

/**
 * The picture that a mode's settings make. Settings without an effect on a still patch (motion, aspect) are passed over.
 * Throws on a value that the display would not offer.
 */
export function pictureOf(panel: Panel, settings: Readonly<Record<string, string>>, base: Picture = shippedPicture(panel)): Picture {
  const { controls } = panel;
  const number = (name: string, absent: number): number => {
    const value = Number(settings[name] ?? absent);
    if (!Number.isFinite(value)) throw new Error(`${panel.name} offers no "${settings[name]}" for ${name}`);
    return value;
  };
  const gamuts: Readonly<Record<string, number>> = { Auto: controls.shippedGamut, 'BT.709': 1, Native: 0 };
  const gamut = gamuts[settings['Colour / Gamut'] ?? 'Auto'];
  if (gamut === undefined) throw new Error(`${panel.name} offers no gamut "${settings['Colour / Gamut']}"`);
  const channels = ['red', 'green', 'blue'] as const;
  const perChannel = (control: string, step: number): Triple =>
    map([0, 0, 0], (_, channel) => number(`White / ${control} ${channels[channel]}`, 0) * step);
  return {
    ...base,
    light: base.signal === 'sdr' ? number('Picture / Light output', controls.lightOutput) / controls.lightOutput : 1,
    exponent: number('Picture / Gamma', controls.gamma) - controls.gamma + 0.01 * number('Picture / Gamma fine', 0),
    gains: map(perChannel('Gain', controls.gainStep), (gain) => 1 + gain),
    offsets: perChannel('Offset', controls.offsetStep),
    gamut,
  };
}

/** Largest white luminance of the panel in HDR for a window of area w. */
export const largestWhite = ({ window: { peak, rise, knee, slope } }: Panel, w: number): number =>
  peak * (rise > 0 ? 1 - Math.exp(-w / rise) : 1) * Math.min(1, (w / knee) ** slope);

/** Light at the screen: XYZ in cd/m², and how much of its luminance comes from the white emitter. */
export interface Light {
  readonly xyz: Triple;
  readonly emitted: number;
}

/** XYZ in cd/m² at the screen. */
export const light = (panel: Panel, picture: Picture, scene: Scene): Triple => lightAt(panel, picture, scene).xyz;

/** What is to be seen at the screen. No meter and no chance in it. */
export function lightAt(panel: Panel, picture: Picture, scene: Scene): Light {
  const { window = 0.1, surround = 0, minutes = Number.POSITIVE_INFINITY, held = 0 } = scene;
  const { black } = panel.shipped;
  const drive = driveOf(panel, picture, scene.rgb);
  const around = surround > 0 ? emitted(panel, picture, driveOf(panel, picture, [surround, surround, surround])).xyz[1] : 0;
  const loaded = window + (1 - window) * around;
  const limit = largestWhite(panel, loaded);

  const asked = emitted(panel, picture, drive);
  const white = fullWhite(panel, picture);
  const excess = (asked.xyz[1] * white) / limit;
  const sag = panel.endurance.drop * Math.min(1, excess) * (1 - Math.exp(-held / panel.endurance.seconds));
  const warmth = 1 + panel.warmUp.rise * Math.exp(-minutes / panel.warmUp.minutes);
  const pedestal = xyzOf(d65, black + halo(panel, around) + (scene.reflected ?? 0));
  const share = (white / Math.max(1, excess)) * (1 - sag) * warmth;
  const here = map(asked.xyz, (n, i) => n * share + pedestal[i]);
  const xyz = offAxis(panel, offCentre(panel, here, Math.max(...scene.rgb), scene.at ?? [0, 0]), scene.angle ?? 0);
  return { xyz, emitted: (asked.emitted * share * xyz[1]) / here[1] };
}

/** Luminance that stands for 1 of `emitted`. The black is added to it, so that white as shipped is white as stated. */
const fullWhite = (panel: Panel, picture: Picture): number =>
  picture.signal === 'sdr' ? picture.light * (panel.shipped.white - panel.shipped.black) : panel.rollOff.peak;

/**
 * Drive of the panel's channels. In SDR it is a signal (0..1) in the panel's own primaries, to which the channel exponents belong; in HDR it
 * is linear light over the panel's roll-off peak, since the exponents describe the SDR tracking only.
 */
function driveOf(panel: Panel, picture: Picture, rgb: Triple): Triple {
  if (picture.signal === 'sdr') {
    const decoding = panel.shipped.exponents[1];
    const toPanel = blend(between(spaces.bt709, panel.primaries), picture.gamut);
    const linear = times(
      toPanel,
      map(rgb, (signal) => signal ** decoding),
    );
    return map(linear, (n) => Math.max(0, n) ** (1 / decoding));
  }
  const { peak, mastering, lift } = panel.rollOff;
  const isPq = picture.transfer === 'pq';
  const asked = isPq ? map(rgb, pqLight) : hlgLight(rgb, peak);
  const strongest = Math.max(...asked);
  if (strongest === 0) return [0, 0, 0];
  // HLG is made for the peak of whatever shows it, so that there is nothing to roll off.
  const rolled = isPq ? eetf(strongest, mastering === 'sent' ? picture.mastering : mastering, peak) : strongest;
  // The strongest channel is mapped and the others keep their ratio to it, so that the roll-off moves no hue.
  const scale = (rolled * 2 ** (lift.stops * within(Math.log2(rolled), Math.log2(lift.from), Math.log2(lift.to), 1))) / strongest;
  const linear = times(between(spaces.bt2020, panel.primaries), asked);
  return map(linear, (n) => (Math.max(0, n) * scale) / peak);
}

/** The light of a drive, 1 = the luminance of white as shipped. */
function emitted(panel: Panel, picture: Picture, drive: Triple): Light {
  const { shipped, emitter, primaries } = panel;
  const mixed = (linear: Triple): Triple => {
    const white = xyzOf(d65, emitter * Math.min(...linear));
    return map(times(rgbToXyz(primaries), linear), (n, i) => n + white[i]);
  };
  const linear = map(drive, (d, channel) => {
    const gain = shipped.gains[channel] * picture.gains[channel];
    if (picture.signal === 'hdr') return gain * d;
    const lifted = Math.max(0, d + picture.offsets[channel] * (1 - d));
    return gain * lifted ** (shipped.exponents[channel] + picture.exponent) * nearBlack(panel, d, channel);
  });
  const whiteAsShipped = mixed(shipped.gains)[1];
  return { xyz: map(mixed(linear), (n) => n / whiteAsShipped), emitted: (emitter * Math.min(...linear)) / whiteAsShipped };
}

function nearBlack({ nearBlack: { darkBelow, blue } }: Panel, drive: number, channel: 0 | 1 | 2): number {
  if (drive < darkBelow) return 0;
  return blue && channel === 2 ? 1 + blue.share * within(drive, blue.from, blue.to, 0.01) : 1;
}

function halo({ nearBlack: { halo } }: Panel, around: number): number {
  return halo && around > 0 ? halo[0] + (halo[1] - halo[0]) * Math.min(1, around) : 0;
}

function offCentre({ uniformity: { falloff, bands, corner, tint } }: Panel, xyz: Triple, drive: number, [across, down]: Pair): Triple {
  const band = bands * Math.min(1, 0.05 / Math.max(drive, 0.05)) * Math.sin(6 * Math.PI * across);
  const kept = (1 - (falloff * (across ** 2 + down ** 2)) / 2 - corner * Math.max(0, -across) * Math.max(0, down)) * (1 + band);
  return tinted(xyz, kept, [tint * across, 0]);
}

function offAxis({ angles: { power, shift } }: Panel, xyz: Triple, angle: number): Triple {
  const moved = shift * (angle / 45) ** 2;
  return tinted(xyz, Math.cos((angle * Math.PI) / 180) ** power, [-0.6 * moved, -0.8 * moved]);
}

function tinted(xyz: Triple, kept: number, [du, dv]: Pair): Triple {
  if (kept === 1 && du === 0 && dv === 0) return xyz;
  const [u, v] = uvOf(xyOf(xyz));
  return xyzOf(xyOfUv([u + du, v + dv]), xyz[1] * kept);
}

/** 1 in from..to, 0 beyond `fade` outside of it, straight between: an abrupt edge would make luminance fall as the level rises. */
function within(value: number, from: number, to: number, fade: number): number {
  return Math.max(0, Math.min(1, 1 + (value - from) / fade, 1 + (to - value) / fade));
}

const blend = (m: Matrix, share: number): Matrix => {
  const row = (r: 0 | 1 | 2): Triple => map(m[r], (n, column) => share * n + (r === column ? 1 - share : 0));
  return [row(0), row(1), row(2)];
};
