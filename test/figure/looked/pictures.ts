import { NO_CONFIG } from '../../../src/config/config';
import { figureAcross } from '../../../src/figure/across';
import { figureMistakeText } from '../../../src/figure/figures';
import { svgOf } from '../../../src/figure/svg';
import { THEMES } from '../../../src/figure/theme';
import { type Analysis, analyse, settled } from '../../../src/project/analysis';
import { readReference } from '../../../src/session/reference';
import { SessionText } from '../../../src/session/sessionText';

/** Every figure at least once, and what is hardest to draw: many runs over each other, readings far off, levels still to be read. */
const LOOKED_AT: Readonly<Record<string, readonly string[]>> = {
  'examples/aurora-55.nitbook': [
    'grey.balance',
    'grey+grey-tuned.balance',
    'grey.curve',
    'grey+grey-tuned.curve',
    'grey.de',
    'grey+grey-tuned.de',
    'grey.chromaticity',
    'grey+grey-tuned.chromaticity',
    'grey+grey-tuned.change',
    'sat+sat-tuned.change',
    'near-black.nearblack',
    'sat.de',
    'sat.drift',
    'sat+sat-tuned.drift',
    'sat.chromaticity',
    'colours.de',
    'colours+colours-tuned.de',
    'colours.chromaticity',
    'gamut-709.chromaticity',
    'gamut-709+gamut-p3.chromaticity.xy',
    'hdr-window.curve',
    'contrast-sdr.contrast',
    'contrast-sdr+contrast-hdr.contrast',
    'track-4000.tracking',
    'track-1000+track-4000+track-10000.tracking',
    'track-1000.eotf',
    'track-1000+track-4000.de',
    'hold.time',
    'field-50.map',
    'field-50.tint',
    'side.angles',
    'solid.volume',
    'again.readings',
    'delay.readings',
    'draw.readings',
    'spd.spectrum',
    'daylight.light',
    'probe-fix.residual',
  ],
  'examples/meadow-65.nitbook': [
    'grey.balance',
    'near-black.nearblack',
    'track-1000+track-hlg.tracking',
    'hdr-window.curve',
    'hold.time',
    'field-5.map',
  ],
  'examples/bench-mistakes.nitbook': ['slip-up.curve', 'tints.balance'],
  'test/figure/looked/gaps.nitbook': ['grey.balance', 'grey.curve', 'grey+again.de', 'win.curve'],
};

/** The same runs of both displays over each other. */
const ACROSS = ['grey.balance', 'grey.de', 'hdr-window.curve'];

export interface Picture {
  /** `aurora-55#grey.balance dark` */
  readonly name: string;
  readonly figure: string;
  readonly theme: string;
  readonly svg: string;
}

/**
 * The pictures that someone has looked at.
 * @param read a file of the project
 */
export function* pictures(read: (file: string) => string): Generator<Picture> {
  const analyses = new Map<string, Analysis>();
  const analysisOf = (file: string): Analysis => {
    const found = analyses.get(file) ?? settled(analyse(SessionText.read(read(file)), NO_CONFIG));
    analyses.set(file, found);
    return found;
  };
  const nameOf = (file: string): string => file.replace(/.*\/|\.nitbook$/g, '');
  const figures = [
    ...Object.entries(LOOKED_AT).flatMap(([file, refs]) => refs.map((ref) => ({ files: [file], ref }))),
    ...ACROSS.map((ref) => ({ files: Object.keys(LOOKED_AT).slice(0, 2), ref })),
  ];
  for (const { files, ref } of figures) {
    const reading = readReference(`#${ref}`);
    if (!reading.ok) throw new Error(ref);
    const parts = files.map((file) => ({
      analysis: analysisOf(file),
      reference: reading.reference,
      id: nameOf(file),
      title: nameOf(file),
    }));
    const found = figureAcross(parts as unknown as Parameters<typeof figureAcross>[0]);
    if (!found.ok) throw new Error(`${ref}: ${figureMistakeText(found.mistake)}`);
    const name = `${files.map(nameOf).join('+')}#${ref}`;
    for (const [theme, colours] of Object.entries(THEMES))
      yield { name: `${name} ${theme}`, figure: name, theme, svg: svgOf(found.figure, { width: 720, theme: colours }) };
  }
}
