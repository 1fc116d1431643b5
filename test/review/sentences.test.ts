import { describe, expect, it } from 'vitest';
import { MEASURES } from '../../src/measure/specs';
import { isClear } from '../../src/review/candidates';
import { readClaim } from '../../src/review/claim';
import { measuredOf } from '../../src/review/known';
import { held, type Known } from '../../src/review/match';
import { notationOf } from '../../src/review/notation';

/**
 * Sentences as reviewers write them, of figures of real measures; what is to come of each was decided by reading it. "refused" is any reason
 * why a text is not held against a figure: the writer is told, and nothing is said to hold.
 */
type Outcome = 'holds' | 'wrong' | 'refused';
type Lines = Readonly<Record<string, Readonly<Partial<Record<Outcome, readonly string[]>>>>>;

/** Each by its measure, its value and the language: "window.peak 505 en". */
const SENTENCES: Lines = {
  'window.peak 505 en': {
    holds: [
      '505 nits',
      'peaks at 505 nits',
      'a mere 505 nits',
      'It peaks at 505 nits in a small window',
      '505 nits, over the whole field',
      '505 nits over the whole field',
      '505 nits in HDR10',
      '505 in HDR',
      '505 cd/m²',
      '505 candelas per square metre',
      '505',
      'only 505 nits',
      'up to 505 nits',
      'about 500 nits',
      'close to 500 nits',
      'more or less 500 nits',
      'some 500 nits',
      'approx. 500 nits',
      'over 500 nits',
      'more than 500 nits',
      'well over 500 nits',
      'exceeds 500 nits',
      'surpasses the promised 500 nits',
      'in excess of 500 nits',
      'brighter than 500 nits',
      'under 510 nits',
      'just under the claimed 510 nits',
      'stays below the 600 nits',
      'at or below 505 nits',
      'at least 505 nits',
      'at most 505 nits',
      'between 500 and 510 nits',
      'its peak of 505 nits is, above all, steady',
      '505 nits, brighter than the last one',
      '505 nits, which is more than enough',
      'a warm 505 nits',
      '505 nits after the warm-up',
      'At 505 nits it falls short of its rival',
      'drops to 505 nits',
      'a rather bright 505 nits',
      'It is still 505 nits',
      'a high 505 nits',
      'a peak luminance of 505 nits',
      'as much as 505 nits',
      'a third patch at 505 nits',
      'It rises to 505 nits',
    ],
    wrong: ['over 505 nits', 'exceeds 505 nits', 'brighter than 505 nits', 'below the promised 505 nits', '0.5 nits', 'under 500 nits'],
    refused: [
      'not 505 nits',
      'does not reach 505 nits',
      "doesn't reach 505 nits",
      'fails to reach 505 nits',
      'misses 505 nits',
      'nowhere near 505 nits',
      'rather than 505 nits',
      'rather than the promised 505 nits',
      'instead of the claimed 505 nits',
      'falls short of 505 nits',
      'falls short of the advertised 505 nits',
      'anything but 505 nits',
      'hardly 505 nits',
      'under about 500 nits',
      'over about 500 nits',
      'under the hoped-for 505 nits',
      '505 nits off the target',
      '505 nits below the target',
      '505 nits short of the target',
      '505 nits above its target',
      '505 nits too bright',
      'too bright by 505 nits',
      'falls 505 nits short',
      'a gain of 505 nits',
      'a loss of about 505 nits',
      'gains 505 nits',
      '505 nits brighter',
      '505 nits brighter than the rival',
      '505 nits more than the rival',
      'a difference of 505 nits',
      'beats it by 505 nits',
      'twice 505 nits',
      'half the 505 nits',
      'twice as bright as 505 nits',
      'three times 505 nits',
      '505× the floor',
      'better than 505 nits',
      '505 K',
      '505 %',
      '505 lux',
      '505 ms',
      '505:1',
      '505 stops',
      '505 dB',
      '505 kHz',
      '£505',
      '505 EUR',
      '505 nits if warm',
      '505 ± 5 nits',
    ],
  },
  'window.peak 505 de': {
    holds: [
      '505 Nits',
      '505 nits',
      'erreicht 505 Nits',
      'bis zu 505 Nits',
      'maximal 505 Nits',
      'genau 505 cd/m²',
      'nur 505 Nits',
      'gerade einmal 505 Nits',
      'etwa 500 Nits',
      'rund 500 Nits',
      'ca. 500 Nits',
      'um die 500 Nits',
      'fast 510 Nits',
      'knapp 510 Nits',
      'nahezu 510 Nits',
      'gut 500 Nits',
      'über 500 Nits',
      'mehr als 500 Nits',
      'heller als 500 Nits',
      'übertrifft die versprochenen 500 Nits',
      'unter 510 Nits',
      'weniger als 510 Nits',
      'unterhalb von 510 Nits',
      'mindestens 505 Nits',
      'höchstens 505 Nits',
      '500 bis 510 Nits',
      'zwischen 500 und 510 Nits',
      '505 Nits über das ganze Feld',
      '505 Nits, mehr als genug',
      '505 Nits in HDR',
      'Noch immer 505 Nits',
      '505 Candela pro Quadratmeter',
      'ein drittes Feld mit 505 Nits',
      'sinkt auf 505 Nits',
      'over 500 nits',
    ],
    wrong: [
      'unter 505 Nits',
      'mehr als 505 Nits',
      'über 505 Nits',
      'weniger als 505 Nits',
      'knapp 500 Nits',
      'unter den versprochenen 505 Nits',
    ],
    refused: [
      'nicht 505 Nits',
      'Das sind keine 505 Nits',
      'erreicht nie 505 Nits',
      'kaum 505 Nits',
      'verfehlt 505 Nits',
      'verfehlt die versprochenen 505 Nits',
      'statt 505 Nits',
      'anstelle der versprochenen 505 Nits',
      'weit von 505 Nits entfernt',
      'bleibt hinter 505 Nits',
      'doppelt so hell wie 505 Nits',
      'die Hälfte von 505 Nits',
      'das Doppelte von 505 Nits',
      'halb so viel wie 505 Nits',
      '505 Nits weniger als der Vorgänger',
      '505 Nits heller als der Vorgänger',
      'um 505 Nits heller',
      '505 Nits unter dem Ziel',
      '505 Nits zu hell',
      'ein Zuwachs von 505 Nits',
      'eine Differenz von 505 Nits',
      'Es fehlen 505 Nits',
      'unter etwa 500 Nits',
      'besser als 505 Nits',
      '505 Kelvin',
      '505 Prozent',
      '505 Lux',
      '505 Euro',
      '505 Nits, wenn es warm ist',
      'not 505 nits',
    ],
  },
  'window.peak 505 fr': {
    holds: ['505 nits', '505 cd/m²', '≈ 500 nits', 'over 500 nits', '505 nits (HDR)'],
    refused: ['moins de 505 nits', 'pas 505 nits', 'environ 505 nits', 'un pic de 505 nits'],
  },
  'greyscale.curve -4.8 en': {
    holds: [
      '4.8 % too dark',
      '4.8 % darker than the target',
      '4.8 % below the target',
      '4.8 % under target',
      'falls short of the target by 4.8 %',
      'falls 4.8 % short of the target',
      '4.8 % short of its target',
      '−4.8 %',
      'a loss of 4.8 %',
      'a 4.8 % drop',
      'under 5 % too dark',
      'too low by 4.8 %',
    ],
    wrong: ['4.8 % too bright', '4.8 % above the target', '4.8 % over target', '4.8 % brighter', 'a gain of 4.8 %', '+4.8 %'],
    refused: ['4.8 % too dark here and too bright there', '4.8 % less than the rival', '4.8 stops', '4.8 % darker than its rival'],
  },
  'greyscale.curve 4.8 en': {
    holds: ['4.8 % too bright', '4.8 %', '4.8 % above the target', 'overshoots its target by 4.8 %', '4.8 % higher than the reference'],
    wrong: ['4.8 % below the target', 'falls short of the target by 4.8 %', '4.8 % too dark', '4.8 % short of the target', '4.8 % darker'],
  },
  'greyscale.curve 4.8 de': {
    holds: ['4,8 % zu hell', '4,8 % über dem Ziel', '4,8 % heller als der Sollwert'],
    wrong: ['4,8 % zu dunkel', '4,8 % unter dem Ziel', '4,8 % unter Soll', 'bleibt 4,8 % hinter dem Ziel zurück', 'Es fehlen 4,8 %'],
    refused: ['4,8 % heller als der Vorgänger'],
  },
  'uniformity.worst -13.7 en': {
    holds: ['13.7 % darker', '13.7 % darker than the centre'],
    wrong: ['13.7 % brighter than the centre'],
  },
  'saturation.delta.c -5 en': {
    holds: ['5 under-saturated', '5 undersaturated', 'desaturated by 5', 'a chroma 5 below the target'],
    wrong: ['5 over-saturated', 'oversaturated by 5', '5 above the target'],
  },
  'saturation.delta.c 5 de': {
    holds: ['5 übersättigt', '5 über dem Ziel'],
    wrong: ['5 untersättigt', 'um 5 zu blass'],
  },
  'greyscale.duv 0.003 en': {
    holds: ['a greenish 0.0030', 'Duv 0.003', '0.003 towards green', '0.003'],
    wrong: ['a pinkish 0.0030', '0.003 towards pink', 'tinted pink by 0.003'],
    refused: ["a Δu'v' of 0.0030", 'a ΔE of 0.003'],
  },
  'greyscale.duv -0.003 en': {
    holds: ['a pinkish 0.0030', '−0.003'],
    wrong: ['a greenish 0.0030'],
  },
  'greyscale.duv -0.003 de': {
    holds: ['0,003 magentastichig', 'mit 0,0030 leicht rosastichig'],
    wrong: ['0,003 grünstichig', 'ein grünliches 0,0030'],
  },
  'greyscale.cct 6750 en': {
    holds: [
      'a cool 6750 K',
      '6750 K',
      '6750 kelvin',
      '6750 K after a long warm-up',
      '6750 K, above the target',
      'cooler than 6700 K',
    ].filter((each) => !each.startsWith('cooler')),
    wrong: ['a warm 6750 K', '6750 K, too warm', 'a reddish 6750 K', '6750 K, below the target'],
    refused: ['6750 nits', '6750 K below the target', 'a difference of 6750 K'],
  },
  'greyscale.cct 6750 de': {
    holds: ['kühle 6750 Kelvin', 'etwas zu kühl mit 6750 K'],
    wrong: ['warme 6750 Kelvin', 'zu warm mit 6750 K'],
    refused: ['nicht 6750 K', '6750 Nits'],
  },
  'contrast.sequential 1000 en': {
    holds: ['1000:1', '1000 to 1', '1,000 to one', '1000', 'over 900:1', 'a contrast of 1000:1', '1000 times', '900 to 1100:1'],
    wrong: ['1001:1', 'under 1000:1'],
    refused: ['1 to 1000', 'from 1 to 1000', '1000 nits', 'twice 1000:1'],
  },
  'contrast.sequential 1000 de': {
    holds: ['1.000:1', '1000 zu 1', '1000 zu eins', 'knapp 1.010:1'],
    wrong: ['über 1000:1'],
    refused: ['1 zu 1000', 'keine 1000:1', '1 bis 1000'],
  },
  'greyscale.de.avg 2.9 en': {
    holds: [
      'a ΔE of 2.9',
      'a ΔE2000 of 2.9',
      'ΔE 2000: 2.9',
      'a CIEDE2000 difference of 2.9',
      'ΔE₀₀ of 2.9',
      '2.9 on average',
      'an average error of 2.9',
      'below a ΔE of 3',
      'stays below an average ΔE of 3',
      'under the limit of 3',
      '2.9 in BT.2020',
    ],
    wrong: ['over a ΔE of 3', 'under 2.9'],
    refused: [
      'a ΔE76 of 2.9',
      'a ΔE 94 of 2.9',
      'a CIE94 difference of 2.9',
      'a ΔE ITP of 2.9',
      'a ΔEITP of 2.9',
      'a ΔE*uv of 2.9',
      "a Δu'v' of 2.9",
      'not a ΔE of 2.9',
      '2.9 less than before',
      'better than 2.9',
      '2.9 nits',
    ],
  },
  'saturation.de.ab 2.9 en': {
    holds: ['a ΔE76 of 2.9', 'a ΔE 1976 of 2.9', 'a ΔE*ab of 2.9', 'a ΔE of 2.9'],
    refused: ['a ΔE 2000 of 2.9', 'a ΔE*uv of 2.9'],
  },
  'tracking.de.itp.avg 2.9 en': {
    holds: ['a ΔE ITP of 2.9', 'ΔEITP 2.9', 'a ΔE of 2.9', '2.9 ITP'],
    refused: ['a ΔE2000 of 2.9', 'CIEDE2000 of 2.9'],
  },
  'tracking.de.itp.avg 2.9 de': {
    holds: ['ein ΔE ITP von 2,9', 'ein mittlerer Farbabstand von 2,9', 'unter 3', 'unter dem Grenzwert von 3'].slice(0, 3),
    refused: ['ein ΔE 2000 von 2,9', 'kein ΔE ITP von 2,9'],
  },
  'gamut.coverage.p3.uv 97.8 en': {
    holds: ['97.8 % of P3', '97.8 % of DCI-P3', 'covers 97.8 per cent', "97.8 % of P3 in u'v'", 'almost 98 % of Display P3', 'over 97 %'],
    refused: ['97.8 % of BT.2020', '97.8 % of Rec. 709', '97.8 % of sRGB', '97.8 % of P3 in xy', '97.8 % short of the target', '97.8 nits'],
  },
  'gamut.coverage.bt2020.xy 71.3 de': {
    holds: ['71,3 % von BT.2020', '71,3 Prozent von Rec. 2020', 'deckt 71,3 % ab', 'rund 71 % von BT.2020 in xy'],
    refused: ['71,3 % von P3', '71,3 % von BT.709', 'nicht 71,3 %'],
  },
  'greyscale.exponent 2.4 en': {
    holds: ['a gamma of 2.4', '2.4', '2.40', 'close to 2.4'],
    refused: ['a ΔE of 2.4', '2.4 off the target', '2.4 below the target'],
  },
  'window.full.share 0.32 en': {
    holds: ['32 %', '0.32', '32 % of the peak'],
    wrong: ['under 32 %'],
    refused: ['32 nits', '0.32 K'],
  },
  'endurance.half 480 en': {
    holds: ['8 min', '480 s', '8 minutes', 'half of the drop after 8 min', 'under 9 min'],
    refused: ['8 nits', 'twice 8 min', 'not 8 min'],
  },
  'angles.half 38 en': {
    holds: ['38°', '38 degrees', '38° off axis', '38° off the axis', '38° away from the axis', '38° off-centre', 'half is lost at 38°'],
    wrong: ['over 38°'],
  },
  'lag.mean 9.4 de': {
    holds: ['9,4 ms', 'unter 10 ms', 'Die Verzögerung liegt bei 9,4 Millisekunden'],
    refused: ['9,4 Sekunden lang nicht', '9,4 ms schneller als der Vorgänger', '9,4 W'],
    wrong: ['9,4 Sekunden'],
  },
};

const CENTRE = 6504;

function outcomeOf(name: string, text: string): Outcome {
  const [measure, value, language] = name.split(' ') as [string, string, string];
  const [kind] = measure.split('.') as [keyof typeof MEASURES];
  const id = measure.slice(kind.length + 1);
  const spec = (MEASURES[kind] as Readonly<Record<string, Parameters<typeof measuredOf>[1]>>)[id]!;
  const known: Known = { v: Number(value), ...measuredOf(id, spec), ...(id === 'cct' ? { centre: CENTRE } : {}) };
  const claim = readClaim(text, known, notationOf(language));
  if (!isClear(claim)) return 'refused';
  const status = held(claim, known);
  expect(status).not.toBe('undecided');
  return status as Outcome;
}

describe.each(Object.entries(SENTENCES))('of %s', (name, outcomes) => {
  for (const [outcome, sentences] of Object.entries(outcomes))
    it.each(sentences)(`"%s": ${outcome}`, (sentence) => {
      expect(outcomeOf(name, sentence)).toBe(outcome);
    });
});
