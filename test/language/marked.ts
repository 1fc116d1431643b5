import { type Config, NO_CONFIG } from '../../src/config/config';
import { type Analysis, analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';

export interface Marked {
  readonly analysis: Analysis;
  readonly text: string;
  readonly offset: number;
}

/** A session with the cursor where `‸` stands. */
export function marked(written: string, config: Config = NO_CONFIG): Marked {
  const offset = written.indexOf('‸');
  if (offset < 0) throw new Error('no ‸ in the text');
  const text = written.slice(0, offset) + written.slice(offset + 1);
  return { analysis: analyse(SessionText.read(text), config), text, offset };
}

/** What most sessions of these tests start with. */
export const HEAD = `nitbook 1
session 2026-03-14
display aurora "Halden Aurora 55"
  firmware: 2.14.8
meter probe
  floor: 0.003 cd/m2
  spread: 0.0004 xy, 0.5 %
signal sdr
  window: 10 %
mode cinema "As shipped"
  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2
`;
