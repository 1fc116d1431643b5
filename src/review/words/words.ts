import { DE } from './de';
import { EN } from './en';

/** How a claim compares: `equal` to the written digits, `nearly` from below, `just-over` from above. */
export type Relation = 'equal' | 'about' | 'nearly' | 'just-over' | 'under' | 'over' | 'at-most' | 'at-least';

/** To which side a figure is off. `below` and `above` are said of any figure that has two sides. */
export type Side = 'dark' | 'bright' | 'cool' | 'warm' | 'pale' | 'vivid' | 'pink' | 'green' | 'below' | 'above';

/** Words that say a side, or that a figure is off on `any`. */
type Sided = Readonly<Partial<Record<Side | 'any', readonly string[]>>>;

/**
 * The words of one language that bear on a claim, in lower case. Phrases have their words parted by one blank, without hyphens between them.
 * What stands in no list says nothing.
 */
export interface Words {
  /** Deny wherever they stand. */
  readonly negations: readonly string[];
  readonly conditions: readonly string[];
  /** Between the two numbers of a range. */
  readonly joins: readonly string[];
  /** Phrases right before a number. */
  readonly comparisons: Readonly<Partial<Record<Relation, readonly string[]>>>;
  /** Phrases right behind a number that bound it: "30,000:1 or more". */
  readonly bounds: Readonly<Partial<Record<Relation, readonly string[]>>>;
  /** Those of the comparisons that compare only where nothing stands between them and the number: "gute 500", not "eine gute Helligkeit von 500". */
  readonly close: readonly string[];
  readonly articles: readonly string[];
  /** What else may stand between a comparison and its number. */
  readonly fillers: readonly string[];
  /** Phrases right before a number that say that it is another one. */
  readonly denials: readonly string[];
  /** Phrases right behind a number that say the same, or that it is wished for, or of what it is a part. */
  readonly refusals: readonly string[];
  /** Between a word such as "loss" and its number: "the loss is 3 %". */
  readonly copulas: readonly string[];
  /** Phrases right before a number that is multiplied or divided, or a difference to one side or the other. */
  readonly multiples: readonly string[];
  /** Right behind a number that multiplies. */
  readonly times: readonly string[];
  /** Before a number that multiplies or compares: "twice as bright as", "brighter than". */
  readonly as: readonly string[];
  readonly than: readonly string[];
  /** Before a number by which something differs. */
  readonly by: readonly string[];
  /** Beside a number by which something differs, and the side they say. */
  readonly steps: Sided;
  /** Before the number only: "falls by 3 %". */
  readonly verbs: Sided;
  /** Such words that stand behind the number alone, and at the end of what is said or before what they are of: "3 % short of the target". */
  readonly behind: Sided;
  readonly links: readonly string[];
  /** Of these only what follows tells which: "3 % brighter", "3 % brighter than the target", "3 % brighter than the rival". */
  readonly comparatives: Sided;
  /** Between a number and what it is off: "3 % below the target". */
  readonly places: Sided;
  /** Those of them that put what follows beside the number, whatever it is: "505 nits below the rival". */
  readonly apart: readonly string[];
  /** What a figure is off, where it is no other thing's figure. */
  readonly targets: readonly string[];
  /** What a part of the screen is brighter or darker than. */
  readonly centres: readonly string[];
  /** Phrases that say a side by themselves. */
  readonly sides: Readonly<Partial<Record<Side, readonly string[]>>>;
  /** Phrases of words that say nothing together: "above all". */
  readonly idle: readonly string[];
  /** Last words of phrases for one side and for the other. */
  readonly opposites: readonly (readonly [string, string])[];
  /** How a comparison is written before a number. */
  readonly written: Readonly<Record<'about' | 'at-least' | 'at-most', string>>;
}

/** All that is read in texts of one language: English as well, of which reviews in other languages have words. */
export interface Lexicon {
  readonly negations: ReadonlySet<string>;
  readonly conditions: ReadonlySet<string>;
  readonly joins: ReadonlySet<string>;
  readonly comparisons: ReadonlyMap<string, Relation>;
  readonly bounds: ReadonlyMap<string, Relation>;
  readonly close: ReadonlySet<string>;
  readonly articles: ReadonlySet<string>;
  readonly fillers: ReadonlySet<string>;
  readonly denials: ReadonlySet<string>;
  readonly refusals: ReadonlySet<string>;
  readonly copulas: ReadonlySet<string>;
  readonly multiples: ReadonlySet<string>;
  readonly times: ReadonlySet<string>;
  readonly as: ReadonlySet<string>;
  readonly than: ReadonlySet<string>;
  readonly by: ReadonlySet<string>;
  readonly steps: ReadonlyMap<string, Side | 'any'>;
  readonly verbs: ReadonlyMap<string, Side | 'any'>;
  readonly behind: ReadonlyMap<string, Side | 'any'>;
  readonly links: ReadonlySet<string>;
  readonly comparatives: ReadonlyMap<string, Side | 'any'>;
  readonly places: ReadonlyMap<string, Side | 'any'>;
  readonly apart: ReadonlySet<string>;
  readonly targets: ReadonlySet<string>;
  readonly centres: ReadonlySet<string>;
  readonly sides: ReadonlyMap<string, Side>;
  readonly idle: ReadonlySet<string>;
  readonly opposites: readonly (readonly [string, string])[];
  readonly written: Words['written'];
  /** All single words of the lists, where the language has none of its own: another word may turn a claim round. */
  readonly known?: ReadonlySet<string>;
}

/** What is read alike in every language. */
const SIGNS: Readonly<Partial<Record<Relation, readonly string[]>>> = {
  'at-most': ['≤'],
  'at-least': ['≥'],
  under: ['<'],
  over: ['>'],
  about: ['~', '≈'],
};
const MARKS = ['(', '[', '"', '“', '„', '«', '»', '=', ':', 'delta', 'duv', 'itp'];

const OWN: Readonly<Record<string, Words>> = { de: DE };

function lexiconOf(own: Words | undefined): Lexicon {
  const all = own ? [EN, own] : [EN];
  const set = (of: (words: Words) => readonly string[]) => new Set(all.flatMap(of));
  const map = <T extends string>(of: (words: Words) => Readonly<Partial<Record<T, readonly string[]>>>) =>
    new Map(
      all.flatMap((words) =>
        (Object.entries(of(words)) as [T, readonly string[]][]).flatMap(([meaning, phrases]) =>
          phrases.map((each) => [each, meaning] as const),
        ),
      ),
    );
  return {
    negations: set(({ negations }) => negations),
    conditions: set(({ conditions }) => conditions),
    joins: new Set(['-', '−', '–', '—', ...set(({ joins }) => joins)]),
    comparisons: new Map([...map<Relation>(() => SIGNS), ...map<Relation>(({ comparisons }) => comparisons)]),
    bounds: map<Relation>(({ bounds }) => bounds),
    close: set(({ close }) => close),
    articles: set(({ articles }) => articles),
    fillers: new Set([...MARKS, ...set(({ articles, fillers }) => [...articles, ...fillers])]),
    denials: set(({ denials }) => denials),
    refusals: set(({ refusals }) => refusals),
    copulas: set(({ copulas }) => copulas),
    multiples: set(({ multiples }) => multiples),
    times: new Set(['×', '·', '*', ...set(({ times }) => times)]),
    as: set((words) => words.as),
    than: set(({ than }) => than),
    by: set(({ by }) => by),
    steps: map(({ steps }) => steps),
    verbs: map(({ verbs }) => verbs),
    behind: map(({ behind }) => behind),
    links: set(({ links }) => links),
    comparatives: map(({ comparatives }) => comparatives),
    places: map(({ places }) => places),
    apart: set(({ apart }) => apart),
    targets: set(({ targets }) => targets),
    centres: set(({ centres }) => centres),
    sides: map(({ sides }) => sides),
    idle: set(({ idle }) => idle),
    // A word is turned in its own language: the English "warmer" is none of "ein warmer Ton".
    opposites: (own ?? EN).opposites,
    written: (own ?? EN).written,
  };
}

const ENGLISH = lexiconOf(undefined);

/** Signs are written where no words of the language are known. */
const UNKNOWN: Lexicon = { ...ENGLISH, written: { about: '≈', 'at-least': '≥', 'at-most': '≤' }, known: wordsIn(ENGLISH) };

function wordsIn(lexicon: Lexicon): ReadonlySet<string> {
  const lists = Object.values(lexicon).flatMap((each) => (each instanceof Set ? [...each] : each instanceof Map ? [...each.keys()] : []));
  return new Set(lists.flatMap((phrase) => String(phrase).split(' ')));
}

const lexicons = new Map<string, Lexicon>([['en', ENGLISH]]);

/** What is read in texts of a language, by its tag of BCP 47. */
export function wordsOf(tag: string): Lexicon {
  const language = tag.toLowerCase().split('-')[0]!;
  let lexicon = lexicons.get(language);
  if (!lexicon) {
    lexicon = Object.hasOwn(OWN, language) ? lexiconOf(OWN[language]) : UNKNOWN;
    lexicons.set(language, lexicon);
  }
  return lexicon;
}
