import { describe, expect, it } from 'vitest';
import { CODES, type Code, type Severity } from '../../src/text/codes';
import { sentence } from '../../src/text/finding';
import { applyEdits } from '../../src/text/span';
import { ownWords, PSEUDO, unsaid } from '../editor/pseudo';
import { findingsIn, said } from './said';

/** Raised above the session's text: by readings, by what is unsaid, by claims of reviews, by nitbook.jsonc. */
const ELSEWHERE: readonly Code[] = [
  'xy-sum',
  'xy-range',
  'outside-locus',
  'reading-negative',
  'level-range',
  'xy-swapped',
  'decimal-slip',
  'chromaticity-stray',
  'chromaticity-form',
  'level-unit',
  'code-reserved',
  'patch-unknown',
  'reading-copied',
  'white-dark',
  'luminance-falls',
  'below-floor',
  'repeats-disagree',
  'white-drift',
  'range-mismatch',
  'date-missing',
  'firmware-missing',
  'firmware-changed',
  'meter-check-old',
  'automatic-on',
  'automatic-unsaid',
  'target-mismatch',
  'not-computed',
  'gamut-driven-narrow',
  'quantity-range',
  'time-backwards',
  'grid-hole',
  'wavelength-order',
  'wavelength-range',
  'power-negative',
  'correction-refused',
  'limit-aim',
  'limit-row',
  'limit-measure',
  'claim-wrong',
  'claim-undecided',
  'claim-unclear',
  'claim-notation',
  'claim-none',
  'claim-not-computed',
  'claim-unlinked',
  'link-unread',
  'link-file',
  'link-unknown',
  'fence-instruction',
  'fence-reference',
  'fence-block',
  'fence-together',
  'fence-again',
  'config-syntax',
  'config-value',
];

interface Case {
  /** Behind `nitbook 1`, unless it starts with one itself or is about it. */
  readonly text: string;
  /** All that is said of the text, in its order. */
  readonly says: readonly string[];
  readonly severity: Severity;
  /** The sentence of the first finding of the code. */
  readonly sentence: string;
  /** The title and the text after each of its mends. */
  readonly mends?: readonly (readonly [title: string, text: string])[];
}

const V = 'nitbook 1\n';
const RUN = `${V}greyscale g\n    level Y x y\n`;

const CASES: Readonly<Partial<Record<Code, Case>>> = {
  'version-missing': {
    text: '# note\nmode m\n',
    says: ['version-missing at m, 2:1 "mode m"'],
    severity: 'warning',
    sentence: 'The file starts with "nitbook 1", so that later versions can read it.',
    mends: [['Put "nitbook 1" on top', '# note\nnitbook 1\nmode m\n']],
  },
  'version-newer': {
    text: 'nitbook 2  # later\n',
    says: ['version-newer at file/line/0, 1:9 "2"'],
    severity: 'warning',
    sentence: 'Version 2 of the format is newer than 1: what is known is read, and nothing here is rewritten.',
  },
  'merge-conflict': {
    text: `${V}<<<<<<< ours\n>>>>>>> theirs`,
    says: ['merge-conflict at file/line/1, 2:1 "<<<<<<<"', 'merge-conflict at file/line/2, 3:1 ">>>>>>>"'],
    severity: 'error',
    sentence: 'A merge is under way: the lines between the marks are kept as text and left out of every computation.',
  },
  'line-unread': {
    text: `${V}mode m\n  HDMI 2  # note`,
    says: ['line-unread at m/line/1, 3:3 "HDMI 2"'],
    severity: 'warning',
    sentence: 'Expected a property, "name: value". The line is kept and not read.',
  },
  'header-indented': {
    text: `${V}mode m\n  target t  # note`,
    says: ['header-indented at m/line/1, 3:3 "target"'],
    severity: 'warning',
    sentence: 'A block starts at the beginning of the line: "target" here belongs to no block.',
    mends: [['Move to the start of the line', `${V}mode m\ntarget t  # note`]],
  },
  'not-indented': {
    text: `${V}mode m\nGamma: 2.4`,
    says: ['not-indented at m/property/Gamma, 3:1 "Gamma:"'],
    severity: 'warning',
    sentence: 'Lines of a block are indented; this one is read as part of the block above.',
    mends: [['Indent', `${V}mode m\n  Gamma: 2.4`]],
  },
  'before-any-block': {
    text: `${V}  Gamma: 2.4\nmode m`,
    says: ['before-any-block at file/line/1, 2:3 "Gamma: 2.4"'],
    severity: 'warning',
    sentence: 'Expected the head of a block (session, display, mode, greyscale …) before this line. It is kept and not read.',
  },
  'block-unknown': {
    text: `${V}grayscale g\n    level Y`,
    says: ['block-unknown at g, 2:1 "grayscale"'],
    severity: 'info',
    sentence: '"grayscale" is not a block of this format: it is kept and not read. Perhaps greyscale?',
    mends: [['Write greyscale', `${V}greyscale g\n    level Y`]],
  },
  'header-part': {
    text: `${V}mode m As \\shipped  # note`,
    says: ['header-part at m, 2:8 "As \\shipped"'],
    severity: 'warning',
    sentence: 'Expected an id, a title in quotation marks, or "from" or "like" and an id.',
    mends: [['Write "As \\\\shipped"', `${V}mode m "As \\\\shipped"  # note`]],
  },
  'string-open': {
    text: `${V}mode m "As shipped  # note`,
    says: ['string-open at m, 2:8 ""As shipped"'],
    severity: 'warning',
    sentence: 'The quotation is not closed on this line.',
    mends: [['Close the quotation', `${V}mode m "As shipped"  # note`]],
  },
  'colon-wide': {
    text: `${V}mode m\n  画面 / 色温：低`,
    says: ['colon-wide at m/line/1, 3:10 "："'],
    severity: 'warning',
    sentence: 'A property takes the plain colon and a blank: "画面 / 色温: …". The line is not read.',
    mends: [['Write the plain colon', `${V}mode m\n  画面 / 色温: 低`]],
  },
  'id-missing': {
    text: `${V}meter "On a tripod"`,
    says: ['id-missing at meter, 2:1 "meter"'],
    severity: 'warning',
    sentence: 'A meter needs an id of its own, such as "meter probe".',
  },
  'id-repeated': {
    text: `${V}mode dark\n\ntarget dark`,
    says: ['id-repeated at dark~2, 4:8 "dark"'],
    severity: 'error',
    sentence: 'The id dark is taken by the block in line 2: ids are unique in a file.',
  },
  'display-second': {
    text: `${V}display a\ndisplay b`,
    says: ['display-second at b, 3:1 "display"'],
    severity: 'error',
    sentence: 'One display a file: rivals are compared across files. The display of this file is in line 2.',
  },
  'reference-missing': {
    text: `${V}mode cinema\ngreyscale g\n  mode: cinmea`,
    says: ['reference-missing at g/property/mode, 4:9 "cinmea"'],
    severity: 'error',
    sentence: 'There is no mode cinmea in this file. Perhaps cinema?',
    mends: [['Write cinema', `${V}mode cinema\ngreyscale g\n  mode: cinema`]],
  },
  'reference-kind': {
    text: `${V}mode cinema\ngreyscale g\n  target: cinema`,
    says: ['reference-kind at g/property/target, 4:11 "cinema"'],
    severity: 'error',
    sentence: 'cinema is a mode; expected a target.',
  },
  'reference-circle': {
    text: `${V}mode a from a`,
    says: ['reference-circle at a, 2:13 "a"'],
    severity: 'error',
    sentence: 'What a takes over comes round in a circle, or through more than 64 blocks: nothing is taken over.',
  },
  'reference-unsaid': {
    text: `${V}mode a\nmode b\ngreyscale g  # note\n    level Y`,
    says: ['reference-unsaid at g, 4:1 "greyscale"'],
    severity: 'warning',
    sentence: 'Which mode? There are several (a, b): write "mode: …".',
    mends: [
      ['Add mode: a', `${V}mode a\nmode b\ngreyscale g  # note\n  mode: a\n    level Y`],
      ['Add mode: b', `${V}mode a\nmode b\ngreyscale g  # note\n  mode: b\n    level Y`],
    ],
  },
  'property-unknown': {
    text: `${V}signal s\n  rnage: limited`,
    says: ['property-unknown at s/property/rnage, 3:3 "rnage"'],
    severity: 'info',
    sentence: 'A signal has no property "rnage": it is kept and not read. Names of your own start with x-. Perhaps range?',
    mends: [['Write range', `${V}signal s\n  range: limited`]],
  },
  'property-repeated': {
    text: `${V}mode m\n  Gamma: 2.4\n  Gamma: 2.2`,
    says: ['property-repeated at m/property/Gamma, 4:3 "Gamma"'],
    severity: 'warning',
    sentence: '"Gamma" stands above already, with the value 2.4: that first one counts.',
  },
  'property-value': {
    text: `${V}signal s\n  range: Limited  # note`,
    says: ['property-value at s/property/range, 3:10 "Limited"'],
    severity: 'warning',
    sentence: 'range takes one of limited, full.',
    mends: [['Write limited', `${V}signal s\n  range: limited  # note`]],
  },
  'property-to-note': {
    text: `${V}display d\n  firmware: ?`,
    says: ['property-to-note at d/property/firmware, 3:13 "?"'],
    severity: 'info',
    sentence: 'firmware is still to be noted.',
  },
  'rating-unknown': {
    text: `${V}observations\n  Banding: a little`,
    says: ['rating-unknown at observations/property/Banding, 3:12 "a little"'],
    severity: 'warning',
    sentence: 'An observation starts with one of none, slight, clear, strong, pass, fail, not applicable; free text follows after a comma.',
  },
  'columns-missing': {
    text: `${V}window w\n    10 500\n    100 150`,
    says: ['columns-missing at w/line/1, 3:5 "10 500"'],
    severity: 'warning',
    sentence: 'Expected a line of column names first, such as "window Y". The row is kept and not read.',
    mends: [['Put "window Y" above', `${V}window w\n    window Y\n    10 500\n    100 150`]],
  },
  'columns-second': {
    text: `${RUN}    level Y  # note`,
    says: ['columns-second at g/line/2, 4:5 "level Y"'],
    severity: 'warning',
    sentence: 'A run has one column line. This one is kept and not read.',
  },
  'column-unknown': {
    text: `${V}window w\n    windwo[%] Y`,
    says: ['column-unknown at w/columns, 3:5 "windwo[%]"'],
    severity: 'info',
    sentence: 'A window run has no column "windwo": it is kept and not read. Perhaps window?',
    mends: [['Write window', `${V}window w\n    window[%] Y`]],
  },
  'column-repeated': {
    text: `${V}gamut g\n    patch y x y`,
    says: ['column-repeated at g/columns, 3:15 "y"'],
    severity: 'warning',
    sentence: 'Column y stands twice (Y is luminance, y a chromaticity): only the first is read.',
    mends: [['Write Y first', `${V}gamut g\n    patch Y x y`]],
  },
  'column-spelling': {
    text: `${V}window w\n    window Y(fL)`,
    says: ['column-spelling at w/columns, 3:12 "Y(fL)"'],
    severity: 'warning',
    sentence: 'Expected Y[fL]. The column is not read.',
    mends: [['Write Y[fL]', `${V}window w\n    window Y[fL]`]],
  },
  'column-unit': {
    text: `${V}window w\n    window Y[lx]`,
    says: ['column-unit at w/columns, 3:13 "[lx]"'],
    severity: 'warning',
    sentence: 'Y takes [cd/m2] or [cd/m²] or [nit] or [nits] or [fL], not [lx]. The column is not read.',
  },
  'column-needed': {
    text: `${V}saturation s\n    hue Y`,
    says: ['column-needed at s/columns, 3:5 "hue Y"'],
    severity: 'warning',
    sentence: "A saturation run needs sat, x or X or u': without it nothing is computed.",
  },
  'cell-surplus': {
    text: `${RUN}    30 6.70 0.31 0.33 0.33`,
    says: ['cell-surplus at g/row/0, 4:23 "0.33"'],
    severity: 'warning',
    sentence: '5 cells under 4 columns: a column is missing, or a blank too many.',
  },
  'cell-empty': {
    text: `${RUN}\t30\t\t0.31\t0.33`,
    says: ['cell-empty at g/row/0/Y, 4:4 "\t\t"'],
    severity: 'warning',
    sentence: 'Nothing stands between two tabs: write ? for a reading to take, - for one not measured.',
    mends: [['Write ?', `${RUN}\t30\t?\t0.31\t0.33`]],
  },
  'cell-number': {
    text: `${RUN}    <30 bright 0.31 "0.33"`,
    says: ['cell-number at g/row/0/level, 4:5 "<30"', 'cell-number at g/row/0/Y, 4:9 "bright"', 'cell-number at g/row/0/y, 4:21 ""0.33""'],
    severity: 'warning',
    sentence: 'level takes a number, <n, >n, - or ?. "<30" is not read.',
  },
  'decimal-comma': {
    text: `${RUN}    30 6,70 0.31 0.33`,
    says: ['decimal-comma at g/row/0/Y, 4:8 "6,70"'],
    severity: 'warning',
    sentence: 'Numbers take a decimal point: "6,70" is not read, as the comma may also part thousands.',
    mends: [['Write 6.70', `${RUN}    30 6.70 0.31 0.33`]],
  },
  'sign-apart': {
    text: `${RUN}    0 <  0.003 - -`,
    says: ['sign-apart at g/row/0/Y, 4:7 "<  0.003"'],
    severity: 'warning',
    sentence: '"<  0.003" reads as two cells: <0.003 is one.',
    mends: [['Write <0.003', `${RUN}    0 <0.003 - -`]],
  },
  'minus-sign': {
    text: `${V}angles a\n    angle Y\n    −30 90`,
    says: ['minus-sign at a/row/0/angle, 4:5 "−"'],
    severity: 'info',
    sentence: 'The sign is read as a minus; the plain - keeps the file searchable.',
    mends: [['Write -30', `${V}angles a\n    angle Y\n    -30 90`]],
  },
  'percent-in-cell': {
    text: `${RUN}    30% 6.70 0.31 0.33`,
    says: ['percent-in-cell at g/row/0/level, 4:5 "30%"'],
    severity: 'warning',
    sentence: 'The column says the unit: "30%" is not read.',
    mends: [['Write 30', `${RUN}    30 6.70 0.31 0.33`]],
  },
  'readings-to-take': {
    text: `${RUN}    30 6.70 ? 0.33\n    40\n    50 ? ? ?`,
    says: ['readings-to-take at g/row/0/x, 4:13 "?"'],
    severity: 'info',
    sentence: '3 readings still to take in g, the first at 30.',
  },
};

describe('the codes of findings', () => {
  it('all have a case here, or are raised elsewhere', () => {
    expect([...Object.keys(CASES), ...ELSEWHERE].sort()).toEqual(Object.keys(CODES).sort());
  });

  it('say what was expected, in whole sentences', () => {
    for (const [code, { sentence, trigger, range }] of Object.entries(CODES)) {
      expect(sentence, code).toMatch(/[.?}]$/);
      expect(sentence, code).not.toMatch(/invalid|illegal|!/i);
      expect(trigger, code).not.toMatch(/\.$/);
      expect(range, code).not.toMatch(/\.$/);
    }
  });

  it.each(Object.entries(CASES))('%s', (code, { text, says, severity, sentence: expected, mends = [] }) => {
    expect(said(text)).toEqual(says);
    const finding = findingsIn(text).find((f) => f.code === code)!;
    expect(finding.severity).toBe(severity);
    expect(sentence(finding)).toBe(expected);
    expect(unsaid(sentence(finding, PSEUDO), ownWords(text))).toEqual([]);
    expect(finding.mends.map((mend) => [mend.title, applyEdits(text, mend.edits)])).toEqual(mends);
  });

  it.each(Object.entries(CASES).filter(([, { mends }]) => mends))('%s is gone once mended', (code, { mends }) => {
    for (const [, text] of mends!) expect(findingsIn(text).filter((f) => f.code === code)).toEqual([]);
  });
});

describe('heads with parts that do not belong', () => {
  it.each([
    ['mode m 2026-03-14', 'header-part at m, 2:8 "2026-03-14"', ['mode m "2026-03-14"']],
    ['mode 2026-03-14', 'header-part at mode, 2:6 "2026-03-14"', []],
    ['session today', 'header-part at today, 2:9 "today"', []],
    ['limits l', 'header-part at l, 2:8 "l"', []],
    ['display d from e', 'header-part at d, 2:11 "from"', []],
    ['greyscale g from h', 'header-part at g, 2:13 "from"', ['greyscale g like h']],
    ['mode m like n', 'header-part at m, 2:8 "like"', ['mode m from n']],
    ['mode m "a" b', 'header-part at m, 2:12 "b"', []],
    ['mode m "a"b', 'header-part at m, 2:8 ""a"b"', []],
  ] as const)('%s', (header, expected, mends) => {
    const findings = findingsIn(V + header);
    expect(said(V + header)).toContain(expected);
    expect(findings.find((f) => f.code === 'header-part')!.mends.map((m) => applyEdits(V + header, m.edits).slice(V.length))).toEqual(
      mends,
    );
  });
});
