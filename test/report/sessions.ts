import { type Config, NO_CONFIG } from '../../src/config/config';
import { readConfig } from '../../src/config/readConfig';
import { MEASURE_IDS } from '../../src/measure/specs';
import { type Analysis, analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';

export const analysed = (text: string, config: Config = NO_CONFIG): Analysis => analyse(SessionText.read(text), config);

export const configured = (text: string): Config => readConfig(text, { measures: new Set(MEASURE_IDS) }).config;

/** Few readings, chosen so that most figures can be told by hand: 120 / 0.003 is 40000, 600 / 800 is 0.75. */
export const small = `nitbook 1

session 2026-03-14
  title: Halden Aurora 55, bench day
display aurora "Halden Aurora 55"
  firmware: 2.14.8
meter probe "Tripod colorimeter"
  kind: colorimeter
  checked: 2025-11-02
  floor: 0.003 cd/m2
signal sdr
  range: limited
  depth: 10
signal hdr from sdr
  mastering-peak: 4000 cd/m2
mode cinema "Cinema, as shipped"
  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off
  Picture / Gamma: 2.4
  White / Gain red: ?
mode cinema-tuned from cinema
  White / Gain red: -3
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2
limits
  greyscale.de.max: aim 0.5, limit 1
  greyscale.de@30: limit 0.6

greyscale grey "As shipped"
  mode: cinema
  target: dark
  signal: sdr
    level   Y         x        y
        30  6.70      0.3099   0.3279
        40  ?         ?        ?
       100  120       0.3127   0.3290

contrast pair
  mode: cinema-tuned
  signal: sdr
  taken: 2026-03-15
    patch   Y
    white   120
    black   <0.003

window peaks "Peak by area"
  mode: cinema
  signal: hdr
    window  Y
        10  800
       100  600

tuning lamp
  mode: cinema
  signal: sdr
    "Gain red"  Y         x        y
             0  70.1      0.3127   0.3290
`;
