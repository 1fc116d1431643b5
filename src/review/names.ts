/** A formula, a space, a diagram or a solid that a text names. */
export interface Named {
  readonly of: 'difference' | 'space' | 'diagram' | 'solid';
  /** The same for all ways to write it. */
  readonly name: string;
  readonly text: string;
}

/** What is of one kind, with the ways to write it. A text is held against these with its digits and blanks made plain. */
const PATTERNS: readonly (readonly [of: Named['of'], pattern: RegExp, name: (...groups: readonly string[]) => string])[] = [
  [
    'difference',
    /(?:[Δ∆]|(?<!\p{L})(?:[Dd]elta[ -]?|d))E(?:[ *_-]?(2000|1976|1994|00|76|94|ab|uv|ITP|itp|CMC|OK)(?![\p{L}\p{N}]|[.,]\p{N})|(?!\p{L}))/gu,
    (year = '') => FORMULAS[year.toLowerCase()] ?? `ΔE ${year.toLowerCase()}`.trim(),
  ],
  ['difference', /(?<!\p{L})DE(2000|00|94|76)(?!\p{N})/gu, (year = '') => FORMULAS[year]!],
  ['difference', /[Δ∆]E \(CIE[ -]?(2000|1994|1976)/gu, (year = '') => FORMULAS[year]!],
  ['difference', /(?<!\p{L})CIE(?:DE)?[ -]?(2000|94|76)(?!\p{N})/gu, (year = '') => FORMULAS[year]!],
  ['difference', /(?<!\p{L})ITP(?!\p{L})/gu, () => 'ΔE itp'],
  ['difference', /[Δ∆]u['’′] ?v/gu, () => "Δu'v'"],
  ['difference', /[Δ∆]u\*v\*/gu, () => 'Δu*v*'],
  ['difference', /(?<!\p{L})Duv(?!\p{L})/giu, () => 'Duv'],
  ['space', /(?<!\p{L})(?:BT|Rec)[. -]{0,2}(709|2020|2100|601)(?!\p{N})/giu, (number = '') => SPACES[number] ?? number],
  ['space', /(?<!\p{L})sRGB(?!\p{L})/giu, () => '709'],
  ['space', /(?:(?<!\p{L})|DCI|Display)P3(?!\p{N})/gu, () => 'P3'],
  ['space', /(?<!\p{L})(?:Adobe ?RGB|NTSC)(?!\p{L})/giu, () => 'another'],
  ['diagram', /(?<!\p{L})xy(?!\p{L})|CIE ?1931/gu, () => 'xy'],
  ['diagram', /(?<![Δ∆\p{L}])u['’′] ?v['’′]/gu, () => "u'v'"],
  ['solid', /(?<!\p{L})(?:CIE)?LAB(?!\p{L})/giu, () => 'Lab'],
  ['solid', /(?<!\p{L})ICtCp(?!\p{L})/giu, () => 'ICtCp'],
];

const FORMULAS: Readonly<Record<string, string>> = {
  '2000': 'ΔE 2000',
  '00': 'ΔE 2000',
  '1976': 'ΔE 1976',
  '76': 'ΔE 1976',
  '1994': 'ΔE 94',
  '94': 'ΔE 94',
};

/** BT.2100 has the primaries of BT.2020. */
const SPACES: Readonly<Record<string, string>> = { '2100': '2020' };

/** ΔE of whatever formula. */
const ANY = 'ΔE';

export function namesIn(text: string): readonly Named[] {
  // "ΔE₀₀" and blanks that do not break.
  const plain = text.normalize('NFKC');
  return PATTERNS.flatMap(([of, pattern, name]) =>
    [...plain.matchAll(pattern)].map((found): Named => ({ of, name: name(...found.slice(1)), text: found[0] })),
  );
}

/** The first name of a text that is another than what a measure is of, by the names in what is said of the measure. */
export function misnamed(said: readonly Named[], own: readonly Named[], unit: string): Named | undefined {
  return KINDS.map((kind) => {
    const named = said.filter(({ of }) => of === kind);
    const meant = own.filter(({ of }) => of === kind);
    // Without a formula of its own, a figure with a unit is not called a difference of colour by one that stands beside it.
    if (named.length === 0 || (meant.length === 0 && !(kind === 'difference' && unit === ''))) return undefined;
    const exact = named.filter(({ name }) => name !== ANY);
    return exact.length > 0
      ? exact.some(({ name }) => meant.some((each) => isAlike(each.name, name)))
        ? undefined
        : exact[0]
      : meant.some(({ name }) => name.startsWith(ANY))
        ? undefined
        : named[0];
  }).find((each) => each !== undefined);
}

const KINDS = ['difference', 'space', 'diagram', 'solid'] as const satisfies readonly Named['of'][];

/** ΔE*ab and ΔE*uv are both of 1976. */
const isAlike = (own: string, said: string): boolean => own === said || (said === 'ΔE 1976' && (own === 'ΔE ab' || own === 'ΔE uv'));
