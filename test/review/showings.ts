import { readFileSync } from 'node:fs';
import { type Config, NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { refused } from '../../src/project/files';
import type { Source } from '../../src/review/publish/page';
import type { Showing } from '../../src/review/shown';
import { SessionText } from '../../src/session/sessionText';
import { fill } from '../../src/text/message';

/** Two modes of a display, of which one is from the other, and a second display of which less is known. */
export const DAY = `nitbook 1

session 2026-03-14
  title: Halden Aurora 55, bench day
  room: 0.02 lx at the screen, 21 °C
  warm-up: 45 min
display aurora "Halden Aurora 55"
  size: 55 in
  panel: self-lit, white emitter
  firmware: 2.14.8
  unit: retail, on loan
  hours: 61
  price: 1899 GBP
meter probe "Tripod colorimeter"
  kind: colorimeter
  checked: 2025-11-02
  floor: 0.003 cd/m2
  note: with the new strap
meter spare
signal sdr
  range: limited
  depth: 10
  window: 10 %
mode cinema "Cinema, as shipped"
  .input: HDMI #2
  .automatic: ambient sensor off, energy saving on
  Overscan: off
  Picture / Light output: 38
  Picture / Gamma: 2.4
  White / Gain red: 0
  Motion / Smoothing: ?
mode cinema-tuned "Cinema, as adjusted" from cinema
  Picture / Light output: 39
  Picture / Gamma: 2.4
  White / Gain red: -3
  White / Gain blue: 2
  Motion / Smoothing: ~
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2

greyscale grey "As shipped"
  mode: cinema
  meter: probe
    level   Y         x        y
         0  <0.003    -        -
        50  22.5      0.3090   0.3228
       100  120.8     0.3093   0.3228
greyscale grey-tuned "As adjusted" like grey
  mode: cinema-tuned
  firmware: 2.15.0
  taken: 2026-03-15 11:20
    level   Y         x        y
         0  <0.003    -        -
        50  22.8      0.3127   0.3290
       100  120.0     0.3127   0.3290
window hdr-window
  mode: cinema
  meter: probe
    window  Y
         1  400
        10  505
       100  163
spectrum spd
  mode: cinema
  meter: probe
    nm      white
       400  ?
`;

export const OTHER = `nitbook 1

session 2026-04-21
display meadow "Halden Meadow 65"
  size: 65 in
  firmware: 1.08.3
mode cinema "Cinema"
target dim
  space: bt709
  curve: power 2.2
  white: d65

greyscale grey "As shipped"
    level   Y         x        y
        50  32.0      0.3127   0.3290
       100  150.0     0.3080   0.3200
window hdr-window
    window  Y
         1  308
        10  1184
       100  667
`;

export const FILES: Readonly<Record<string, string>> = { '/w/aurora.nitbook': DAY, '/w/meadow.nitbook': OTHER };

/** How a review of a folder in memory, `/w`, is shown. Of `unread` files it is not known yet what is in them. */
export function showing({
  files = FILES,
  config = NO_CONFIG,
  unread = [],
}: {
  readonly files?: Readonly<Record<string, string>>;
  readonly config?: Config;
  readonly unread?: readonly string[];
} = {}): Showing {
  const analyses = new Map(Object.entries(files).map(([path, text]) => [path, analyse(SessionText.read(text), config)]));
  return {
    place: { path: '/w/review.md', root: '/w', config },
    say: fill,
    sessions: {
      session: (path) => {
        if (unread.includes(path)) return undefined;
        const analysis = analyses.get(path);
        return analysis ? { ok: true, analysis } : { path, ...refused('missing') };
      },
      paths: [...analyses.keys()],
    },
  };
}

export const source = (text: string, given: Parameters<typeof showing>[0] = {}): Source => ({
  text,
  name: 'review',
  showing: showing(given),
});

/** An example as it stands in its folder. */
export const exampleSource = (name: string): Source => {
  const read = (file: string) => readFileSync(new URL(`../../examples/${file}`, import.meta.url), 'utf8');
  const files = Object.fromEntries(['aurora-55', 'meadow-65'].map((each) => [`/w/${each}.nitbook`, read(`${each}.nitbook`)]));
  return { text: read(`${name}.md`), name, showing: showing({ files }) };
};

/** Text that would be markup, and mischief, wherever it is not taken for text. */
export const HOSTILE = `nitbook 1

session 2026-03-14
  title: <script>window.ran = 1</script>
  room: 1 lx <img src=x onerror=window.ran=2>
display evil "\\"><img src=x onerror='window.ran = 3'>"
  firmware: </title></style><script>window.ran = 4</script>
mode evil-mode "| **[x](javascript:window.ran=5)** <svg onload=window.ran=6>"
  Picture / <svg onload=window.ran=7>: </td></table><script>window.ran = 8</script>
  "![x](https://nowhere.invalid/x.png)": \`code\` & <!-- --> \u202Eturned
target dark
  space: bt709
  curve: power 2.4
  luminance: 120 cd/m2
greyscale grey "'><style>*{display:none}</style>"
    level   Y
        50  22.0
       100  120.0
`;
