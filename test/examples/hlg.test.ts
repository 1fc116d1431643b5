import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { number } from '../measure/tools';

const runIn = (name: string, id: string) => {
  const text = readFileSync(new URL(`../../examples/${name}.nitbook`, import.meta.url), 'utf8');
  return analyse(SessionText.read(text), NO_CONFIG).results.find(({ run }) => run.id === id)!;
};

/** Scene light of a signal (ITU-R BT.2100-2 table 5), the constants as they are printed there. */
const scene = (signal: number) => (signal <= 0.5 ? signal ** 2 / 3 : (Math.exp((signal - 0.55991073) / 0.17883277) + 0.28466892) / 12);
/** Note 5f of the same table. */
const systemGamma = (peak: number) => 1.2 + 0.42 * Math.log10(peak / 1000);
/** What is sent of a level: the nearest code of 10 bits, limited. */
const sent = (level: number) => (Math.round(876 * (level / 100) + 64) - 64) / 876;

describe.each([
  { name: 'aurora-55', peak: [790, 840], errs: 0.05 },
  { name: 'meadow-65', peak: [1130, 1220], errs: 0.15 },
])('the HLG run of $name', ({ name, peak, errs }) => {
  const run = runIn(name, 'track-hlg');

  test('is held against HLG with the system gamma of the peak that the display has', () => {
    const own = number(run, 'peak');
    expect(own).toBeGreaterThan(peak[0]!);
    expect(own).toBeLessThan(peak[1]!);
    for (const level of [20, 50, 75, 90]) {
      const target = own * scene(sent(level)) ** systemGamma(own);
      expect(number(run, `target@${level}`) / target, `${level}`).toBeCloseTo(1, 5);
      // The gamma of 1,000 cd/m² would put the dark levels elsewhere.
      if (level === 20) expect(Math.abs(target / (own * scene(sent(level)) ** 1.2) - 1)).toBeGreaterThan(0.05);
    }
  });

  test('shows the error of the mid-tones that the display was made with', () => {
    expect(Math.abs(number(run, 'gain') - errs)).toBeLessThan(0.04);
  });
});
