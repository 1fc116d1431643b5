import type { Direction as Better } from '../measure/specs';
import type { Severity } from '../text/codes';
import { type Arg, phrase } from '../text/message';
import type { Direction } from './direction';

/** Words that are chosen by a code; others stand where they are said. Descriptions of properties and measures are in the tables of those. */

export const DIRECTIONS: Readonly<Record<Direction, Arg>> = {
  'too-bright': phrase('too bright'),
  'too-dark': phrase('too dark'),
  cool: phrase('cool'),
  warm: phrase('warm'),
  greenish: phrase('greenish'),
  pinkish: phrase('pinkish'),
  'over-saturated': phrase('over-saturated'),
  'under-saturated': phrase('under-saturated'),
  'towards-red': phrase('towards red'),
  'towards-yellow': phrase('towards yellow'),
  'towards-green': phrase('towards green'),
  'towards-cyan': phrase('towards cyan'),
  'towards-blue': phrase('towards blue'),
  'towards-magenta': phrase('towards magenta'),
};

export const BETTER: Readonly<Record<Better, string>> = {
  smaller: 'Smaller is better.',
  larger: 'Larger is better.',
  nearer: 'Nearer to {centre} is better.',
  report: 'It is reported, not judged.',
};

/** How grave a finding is. */
export const SEVERITIES: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', info: 'info' };

/** What a link of a head does. */
export const LINKS: Readonly<Record<'from' | 'like', string>> = {
  from: 'Takes over the properties of another block of its kind. "Name: ~" takes one out.',
  like: 'Takes over the properties of another run, never its rows. "Name: ~" takes one out.',
};

/** What the fields of colour of a row are, for those who do not see them; HDR on a scale of its own. */
export const FIELDS = {
  sdr: {
    both: 'Left the patch as sent, right as read, with the white of the target as the white of this screen',
    sent: 'The patch as sent, with the white of the target as the white of this screen',
    read: 'The patch as read, with the white of the target as the white of this screen',
  },
  hdr: {
    both: 'Left the patch as sent, right as read, with {luminance} cd/m² as the white of this screen',
    sent: 'The patch as sent, with {luminance} cd/m² as the white of this screen',
    read: 'The patch as read, with {luminance} cd/m² as the white of this screen',
  },
} as const;

/** What the cells of a column take that has no unit. */
export const COLUMN_TYPES = {
  word: 'A word, or words in quotation marks.',
  drive: 'The drive: per cent, or code values with [8bit], [10bit], [12bit] or [16bit].',
  number: 'A number.',
} as const;

/** What holds when a property is not written, by `block.property`; `run.` stands for any kind of run. A value of the format is a text. */
export const DEFAULTS: Readonly<Record<string, Arg>> = {
  'run.stimulus': '100 %',
  'run.repeat': 'adjacent',
  'run.drift': 'report',
  'run.firmware': phrase("the display's"),
  'run.taken': phrase("the session's date"),
  'run.window': phrase("the signal's"),
  'signal.range': phrase('levels in per cent are taken as they stand, and code values are not read'),
  'signal.depth': phrase('levels in per cent are taken as they stand, without rounding to codes'),
  'meter.floor': phrase('0.01 cd/m2, where a spread is needed (common practice, no source)'),
  'meter.spread': phrase('0.0005 xy, 0.5 % (common practice, no source)'),
  'target.white': phrase('the white of the space'),
  'target.luminance': phrase('white as the run reads it, else as the one greyscale of the same mode and signal does'),
  'target.roll-off': 'none',
};

/** What the columns of readings and keys hold. */
export const COLUMN_WORDS: Readonly<Record<string, string>> = {
  Y: 'luminance',
  X: 'X of CIE XYZ, absolute',
  Z: 'Z of CIE XYZ, absolute',
  x: 'chromaticity x (CIE 1931)',
  y: 'chromaticity y (CIE 1931)',
  "u'": "chromaticity u' (CIE 1976)",
  "v'": "chromaticity v' (CIE 1976)",
  t: 'time',
  level: 'level of a grey',
  hue: 'full-drive hue: red, green, blue, cyan, magenta, yellow; white and black give the run its scale',
  sat: 'saturation: the way in xy from white to the full-drive hue',
  patch: 'what is shown',
  R: 'drive of the red channel',
  G: 'drive of the green channel',
  B: 'drive of the blue channel',
  window: 'size of the patch, as share of the screen area',
  row: 'place on the screen, counted from the top',
  col: 'place on the screen, counted from the left',
  angle: 'angle from the normal of the screen',
  direction: 'to which side',
  nm: 'wavelength, nm',
  lag: 'from signal to light',
  place: 'place on the screen',
  power: 'what the display draws',
  illuminance: 'light that falls on the screen',
  'ref.Y': 'luminance by the reference meter',
  'ref.x': 'chromaticity x by the reference meter',
  'ref.y': 'chromaticity y by the reference meter',
};
