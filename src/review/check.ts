import type { Config } from '../config/config';
import { FIGURE_MISTAKES, type FigureMistake, figureFor } from '../figure/figures';
import { withInterval } from '../measure/intervals';
import type { RunResult } from '../measure/result';
import { REASONS } from '../measure/value';
import { type Analysis, withSeverity } from '../project/analysis';
import { FILE_PROBLEMS, refused } from '../project/files';
import type { Read } from '../project/folder';
import { folderOf, referredPath } from '../project/paths';
import { RESOLUTION_MISTAKES, type ResolutionMistake, resolveReference } from '../project/resolve';
import { visible } from '../report/format';
import { escaped } from '../report/markdown';
import { type Figure, figureOf, figureTitle } from '../report/summary';
import type { Block } from '../session/block';
import { REFERENCE_MISTAKES, type Reference, readReference, writeReference } from '../session/reference';
import { CODES, type Code } from '../text/codes';
import { type Finding, type Mend, mendTitle } from '../text/finding';
import { type Arg, type Args, fill, phrase, phraseOf, tabled } from '../text/message';
import { nearest, neighbour } from '../text/neighbour';
import { type Span, shifted, type TextEdit } from '../text/span';
import { agrees } from './agree';
import { type Fragment, figuresNear, isClear, meantBy, ofUnit, repairs, unitOf } from './candidates';
import { type Claim, claimsOf, readClaim } from './claim';
import { type FenceProblem, readFence } from './fences/language';
import { partsOf } from './fences/make';
import type { Led, LedGroup } from './fences/parts';
import { knownOf, measuredOf, nowOf, numberFor, numbersIn, writtenFigure } from './known';
import type { ReviewText } from './markdown';
import { held, isComparison, type Known, numbersOf } from './match';
import type { Mention } from './mention';
import { type Notation, notationOf } from './notation';
import { fragmentText, nameOf, pathText, relativePath, targetPlaces } from './places';
import { unlinkedFigures } from './prose';
import { narrowed, rewritten, softened } from './rewrite';

/**
 * `broken`: the reference leads to nothing. `unclear`: the text is not to be held against one figure. `pointing`: there is no claim, as in an
 * image, or in a link that says no number. `pending`: the session is still to be read.
 */
export type Status = 'holds' | 'wrong' | 'undecided' | 'broken' | 'not-computed' | 'unclear' | 'pointing' | 'pending';

/** A reference of a review with what became of it. */
export interface Checked {
  readonly mention: Mention;
  readonly status: Status;
  /** Undefined where it cannot be read. */
  readonly reference?: Reference;
  /** Of the session; undefined where it lies outside the folder. */
  readonly path?: string;
  readonly analysis?: Analysis;
  readonly figure?: Figure;
  readonly property?: { readonly block: Block; readonly name: string; readonly text: string };
}

export interface CheckedReview {
  readonly review: ReviewText;
  /** In the order of the text. */
  readonly checked: readonly Checked[];
  /** In the order of the text, with the severities that the folder gives them. */
  readonly findings: readonly Finding[];
}

/** Where a review stands. */
export interface ReviewPlace {
  /** Absolute, with `/`. */
  readonly path: string;
  /** What its references may not leave. */
  readonly root: string;
  /** What its folder says. */
  readonly config: Config;
}

/** What is known of the sessions of the folder. */
export interface KnownSessions {
  /** Undefined for one that is still to be read. */
  session(path: string): Read<{ readonly analysis: Analysis }> | undefined;
  /** The paths of sessions there are, for when one is not found. */
  readonly paths: readonly string[];
}

/** The paths of the sessions that a review refers to, each once. */
export function sessionsOf({ mentions }: ReviewText, { path, root }: Pick<ReviewPlace, 'path' | 'root'>): readonly string[] {
  const paths = mentions.flatMap(({ target }) => {
    const reading = readReference(target);
    return reading.ok ? (referredPath(reading.reference.path, folderOf(path), root) ?? []) : [];
  });
  return [...new Set(paths)];
}

/** The runs whose intervals decide a claim: those of comparisons and ranges, and of figures that are known by a bound. */
export function comparedRuns(review: ReviewText, { path, root, config }: ReviewPlace, sessions: KnownSessions): readonly RunResult[] {
  const notation = notationOf(config.language);
  const results = review.mentions.flatMap(({ is, target, label }) => {
    const reading = readReference(target);
    const session = is === 'link' && reading.ok ? referredPath(reading.reference.path, folderOf(path), root) : undefined;
    const read = session === undefined ? undefined : sessions.session(session);
    const resolution = read?.ok && reading.ok ? resolveReference(read.analysis, reading.reference) : undefined;
    if (!resolution?.ok || resolution.is !== 'figure') return [];
    const { result, id, value } = resolution;
    const spec = result.specs[id];
    const claim = readClaim(label.text, spec ? measuredOf(id, spec) : {}, notation);
    const isBound = value.ok && value.bound !== undefined;
    return isBound || (isClear(claim) && isComparison(claim)) ? [result] : [];
  });
  return [...new Set(results)];
}

/** Holds all that a review claims against the sessions that it names. */
export function checkReview(review: ReviewText, place: ReviewPlace, sessions: KnownSessions): CheckedReview {
  const checker = new Checker(review, place, sessions);
  const checked = review.mentions.map((mention) => checker.check(mention));
  checker.unlinked(checked);
  checker.fences(checked);
  const findings = checker.findings
    .flatMap((finding) => withSeverity(finding, place.config))
    .sort((a, b) => a.span[0] - b.span[0] || a.span[1] - b.span[1]);
  return { review, checked, findings };
}

type Outcome = Omit<Checked, 'mention'>;

/** Figures that are offered for a number. */
const MOST_OFFERED = 5;
/** Beyond as many figures without a link none are sought for them: a list of hints that long is read by nobody. */
const MOST_UNLINKED = 200;

/** One pass over one review. */
class Checker {
  readonly findings: Finding[] = [];
  private readonly notation: Notation;
  private readonly folder: string;
  private readonly repaired = new Map<string, readonly Fragment[]>();

  constructor(
    private readonly review: ReviewText,
    private readonly place: ReviewPlace,
    private readonly sessions: KnownSessions,
  ) {
    this.notation = notationOf(place.config.language);
    this.folder = folderOf(place.path);
  }

  check(mention: Mention): Checked {
    return { mention, ...this.outcome(mention) };
  }

  private outcome(mention: Mention): Outcome {
    const reading = readReference(mention.target);
    if (!reading.ok) {
      for (const { code, args, span } of reading.mistakes) {
        const at = inTarget(mention, span);
        const mends = args.mended !== undefined && mention.isPlain ? [edit(at, String(args.mended))] : [];
        this.say('link-unread', mention, at, { reason: phraseOf(REFERENCE_MISTAKES, { code, args }) }, mends);
      }
      return { status: 'broken' };
    }
    const { reference } = reading;
    const path = referredPath(reference.path, this.folder, this.place.root);
    if (path === undefined) {
      this.file(mention, reference, phraseOf(FILE_PROBLEMS, refused('outside', { root: this.place.root || '/' }).problem));
      return { status: 'broken', reference };
    }
    const read = this.sessions.session(path);
    if (!read) return { status: 'pending', reference, path };
    if (!read.ok) {
      const isMissing = read.path === path && read.problem.code === 'missing';
      this.file(mention, reference, phraseOf(FILE_PROBLEMS, read.problem), isMissing ? this.near(reference) : []);
      return { status: 'broken', reference, path };
    }
    const { analysis } = read;
    const found = { reference, path, analysis };
    if (mention.is === 'image') return { ...found, status: this.image(mention, found) };
    if (mention.is === 'instruction') return { ...found, status: this.instruction(mention, found) };
    const resolution = resolveReference(analysis, reference);
    if (!resolution.ok) return { ...found, status: this.unknown(mention, found, resolution.mistake) };
    if (resolution.is === 'text') {
      const { block, name, text } = resolution;
      const property = { block, name, text };
      return { ...found, property, status: this.property(mention, found, property) };
    }
    const { result, id, value } = resolution;
    const figure = figureOf(analysis, result, id, reference.keys, withInterval(result, id, reference.keys, value));
    return { ...found, figure, status: this.figure(mention, found, figure) };
  }

  private figure(mention: Mention, { reference }: Found, figure: Figure): Status {
    const what = phrase('{title} of {run}', { title: titleOf(figure), run: reference.ids[0]! });
    const known = knownOf(figure);
    if (!known) {
      const reason = figure.value.ok ? '' : phraseOf(REASONS, figure.value.why);
      this.say('claim-not-computed', mention, wordsSpan(mention), { what, reason });
      return 'not-computed';
    }
    const claim = readClaim(mention.label.text, known, this.notation);
    const now = nowOf(figure, isClear(claim) ? Math.max(...numbersOf(claim).map(({ decimals }) => decimals)) : 0);
    return this.held(mention, claim, known, { what, now, written: () => writtenFigure(figure, this.notation) });
  }

  private property(mention: Mention, { analysis }: Found, { block, name, text }: NonNullable<Checked['property']>): Status {
    const label = mention.label.text;
    const subject: Subject = { what: phrase('{name} of {id}', { name, id: block.name }), now: text, written: () => text };
    if (label.trim() === '') return this.nothing(mention, subject);
    const numbers = numbersIn(analysis.session, block, name);
    const claim = readClaim(label, { isDifference: false }, this.notation);
    const agreement = agrees(label, text, this.notation);
    if (agreement === 'yes' && (numbers.length === 0 || claim.is === 'none')) return 'holds';
    if (agreement === 'denied' && !isClear(claim))
      return this.unclear(mention, { is: 'unclear', why: 'negation', parts: [] }, undefined, subject);
    const known = isClear(claim) ? numberFor(numbers, unitOf(claim)) : undefined;
    if (known) return this.held(mention, claim, known, subject);
    if (claim.is === 'unclear' && numbers.length > 0) return this.unclear(mention, claim, numbers[0], subject);
    this.say('claim-wrong', mention, wordsSpan(mention), { claim: shown(label), ...told(subject) }, [replaced(mention, text)]);
    return 'wrong';
  }

  private held(mention: Mention, claim: Claim, known: Known, subject: Subject): Status {
    switch (claim.is) {
      case 'none':
        return this.nothing(mention, subject);
      case 'notation':
        return this.badNotation(mention, claim);
      case 'unclear':
        return this.unclear(mention, claim, known, subject);
    }
    const status = held(claim, known);
    if (status === 'holds') return status;
    const args = { claim: shown(mention.label.text), ...told(subject) };
    const better = [rewritten(mention.label, claim, known, this.notation), softened(mention.label, claim, known, this.notation)];
    const mends = better.flatMap((each) => (each ? [{ args: { mended: each.text.trim() }, edits: each.edits }] : []));
    if (status === 'undecided') {
      this.say('claim-undecided', mention, wordsSpan(mention), { ...args, between: betweenOf(known) }, mends);
      return status;
    }
    this.say('claim-wrong', mention, wordsSpan(mention), args, mends);
    return status;
  }

  private nothing(mention: Mention, subject: Subject): Status {
    const mends = mention.label.text.trim() === '' ? [replaced(mention, subject.written())] : [];
    this.say('claim-none', mention, wordsSpan(mention), told(subject), mends);
    return 'pointing';
  }

  private badNotation(mention: Mention, claim: Extract<Claim, { is: 'notation' }>): Status {
    const span = mention.label.spanOf(claim.span);
    const { group, decimal } = this.notation;
    const args = {
      found: mention.label.text.slice(...claim.span),
      language: this.place.config.language,
      example: `1${group}000${decimal}5`,
    };
    const mends = span && claim.mended !== undefined ? [edit(span, claim.mended)] : [];
    this.say('claim-notation', mention, span ?? wordsSpan(mention), args, mends);
    return 'unclear';
  }

  private unclear(
    mention: Mention,
    { why, parts, named = '' }: Extract<Claim, { is: 'unclear' }>,
    known: Known | undefined,
    subject: Subject,
  ): Status {
    const { label } = mention;
    const all = parts.map((part) => ({ ...part, text: label.text.slice(...part.whole) }));
    const fit = all.filter(({ text }) => {
      const claim = readClaim(text, known, this.notation);
      return known !== undefined && isClear(claim) && held(claim, known) === 'holds';
    });
    // What is told of another figure or in another unit is no more of this one by itself.
    const linkable = why === 'name' || why === 'unit' ? [] : fit.length > 0 ? fit : all;
    const mends = linkable.flatMap(({ whole, digits }) => {
      // Marks of emphasis may stand between a number and its unit.
      const [part, span] = [whole, digits].map((each) => [each, label.spanOf(each)] as const).find(([, each]) => each) ?? [];
      if (!part || !span || mention.is !== 'link') return [];
      return [{ args: { mended: label.text.slice(...part) }, edits: narrowed(this.review.text, mention, span) }];
    });
    this.say('claim-unclear', mention, wordsSpan(mention), { reason: UNCLEAR[why](named), ...told(subject) }, mends);
    return 'unclear';
  }

  private image(mention: Mention, { reference, analysis }: Found): Status {
    const mistake = drawn(analysis, reference);
    return mistake ? this.undrawn(mention, { reference, analysis }, mistake) : 'pointing';
  }

  /** Whether what a line names is there; whether the line can show it is said by `fences`. */
  private instruction(mention: Mention, found: Found): Status {
    const { reference, analysis } = found;
    const { ids, measure } = reference;
    if (/^figure\s/.test(mention.label.text)) {
      const mistake = drawn(analysis, reference);
      // Lines go together: how many runs a figure has is known of all of them.
      return mistake && !COUNTS.has(mistake.code) ? this.undrawn(mention, found, mistake) : 'pointing';
    }
    const missing = ids.find((id) => !analysis.session.byName.has(id));
    if (missing !== undefined) return this.noBlock(mention, found, missing);
    if (measure === '') return 'pointing';
    const resolution = resolveReference(analysis, { ...reference, ids: [ids[0]!] });
    return resolution.ok ? 'pointing' : this.unknown(mention, found, resolution.mistake);
  }

  private noBlock(mention: Mention, { reference: { ids }, analysis }: Found, missing: string): Status {
    const [start] = targetPlaces(mention.target).ids;
    const from = start + ids.slice(0, ids.indexOf(missing)).reduce((sum, id) => sum + id.length + 1, 0);
    const at = inTarget(mention, [from, from + missing.length]);
    const near = nearest(missing, analysis.session.byName.keys());
    const resolution = resolveReference(analysis, { path: '', ids: [missing], measure: '', keys: [] });
    if (resolution.ok) return 'pointing';
    const mends = near === undefined ? [] : [edit(at, near)];
    this.say('link-unknown', mention, at, { reason: phraseOf(RESOLUTION_MISTAKES, resolution.mistake) }, mends);
    return 'broken';
  }

  /** An image without its figure. */
  private undrawn(mention: Mention, { reference, analysis }: Pick<Found, 'reference' | 'analysis'>, mistake: FigureMistake): Status {
    if (mistake.code === 'not-drawn') {
      const { name = '', id = '', reason = '' } = mistake.args;
      const what = phrase('The figure "{name}" of "{id}"', { name, id });
      this.say('claim-not-computed', mention, wordsSpan(mention), { what, reason });
      return 'not-computed';
    }
    const places = targetPlaces(mention.target);
    const part = places[FIGURE_PARTS[mistake.code]];
    const fragment: Span = [places.path[1] + 1, mention.target.length];
    const offered = mention.isPlain ? figuresNear(analysis, reference) : [];
    const mends = offered.map((each) => ({
      args: { mended: fragmentText(each) },
      edits: [{ span: shifted(fragment, mention.targetSpan[0]), text: fragmentText(each).slice(1) }],
    }));
    this.say('link-unknown', mention, inTarget(mention, part), { reason: phraseOf(FIGURE_MISTAKES, mistake) }, mends);
    return 'broken';
  }

  private unknown(mention: Mention, found: Pick<Found, 'reference' | 'analysis'>, mistake: ResolutionMistake): Status {
    const places = targetPlaces(mention.target);
    const fragment: Span = [places.path[1] + 1, mention.target.length];
    const mends = !mention.isPlain
      ? []
      : this.repairs(mention, found).map((each) => ({
          args: { mended: fragmentText(each) },
          edits: [{ span: shifted(fragment, mention.targetSpan[0]), text: fragmentText(each).slice(1) }],
        }));
    const part = places[PARTS[mistake.code]];
    // A key that is lacking is lacked by its measure.
    const at = inTarget(mention, part[0] === part[1] ? places.measure : part);
    this.say('link-unknown', mention, at, { reason: phraseOf(RESOLUTION_MISTAKES, mistake) }, mends);
    return 'broken';
  }

  /** Looked for once for all links of the same text to the same figure. */
  private repairs({ target, label }: Mention, { reference, analysis }: Pick<Found, 'reference' | 'analysis'>): readonly Fragment[] {
    const name = `${target}\n${label.text}`;
    const found = this.repaired.get(name) ?? repairs(analysis, reference, claimsOf(label.text, this.notation));
    this.repaired.set(name, found);
    return found;
  }

  private file(mention: Mention, { path }: Reference, problem: Arg, near: readonly string[] = []): void {
    const at = inTarget(mention, targetPlaces(mention.target).path);
    const mends = mention.isPlain ? near.map((each) => edit(at, pathText(each))) : [];
    const args = { path, problem, neighbour: near[0] === undefined ? '' : neighbour(near[0]) };
    this.say('link-file', mention, at, args, mends);
  }

  /** The sessions whose name is the wanted one or near it, as they are written from here. */
  private near({ path }: Reference): readonly string[] {
    const name = nameOf(path);
    const byName = new Map(this.sessions.paths.map((each) => [nameOf(each), each]));
    const found = byName.has(name) ? name : nearest(name, byName.keys());
    return found === undefined ? [] : [relativePath(this.folder, byName.get(found)!)];
  }

  /** Figures in the prose that could be linked. */
  unlinked(checked: readonly Checked[]): void {
    // By the path as it is first written.
    const named = new Map<Analysis, string>();
    for (const { analysis, reference } of checked) if (analysis && reference && !named.has(analysis)) named.set(analysis, reference.path);
    let count = 0;
    for (const words of this.review.prose) {
      for (const { part, unit, isDifference } of unlinkedFigures(words.text, this.notation)) {
        const span = words.spanOf(part);
        if (!span || count++ === MOST_UNLINKED) continue;
        const text = words.text.slice(...part);
        const kind = isDifference ? (id: string) => /(?:^|\.)d[ec](?:\.|$)/.test(id) : ofUnit(unit);
        const claimOf = claimsOf(text, this.notation);
        const mends = [...named].flatMap(([analysis, path]) =>
          meantBy(analysis, claimOf, MOST_OFFERED, kind).map((fragment) => this.link(span, analysis, { path, ...fragment })),
        );
        this.say('claim-unlinked', undefined, span, { figure: text }, mends.slice(0, MOST_OFFERED));
      }
    }
  }

  /** What fenced blocks ask for. @param checked their references among others */
  fences(checked: readonly Checked[]): void {
    const byPlace = new Map(checked.map((each) => [each.mention.targetSpan[0], each]));
    let isCautioned = false;
    for (const { content, starts } of this.review.fences) {
      const { groups, problems } = readFence(content);
      for (const problem of problems) this.inFence(starts, problem);
      for (const group of groups) {
        const { instruction } = group[0];
        if (instruction === 'cautions') {
          for (const again of isCautioned ? group : group.slice(1))
            this.inFence(starts, { ...again, code: 'fence-again', args: { instruction } });
          isCautioned = true;
          continue;
        }
        const leds = group.flatMap(({ line, target }) => ledOf(target && byPlace.get(starts[line]! + target.span[0])) ?? []);
        if (leds.length < group.length) continue;
        for (const making of partsOf(instruction, leds as unknown as LedGroup, { say: fill, notation: this.notation })) {
          if (!making.ok) this.inFence(starts, { ...group[making.at]!, code: making.code, args: making.args });
        }
      }
    }
  }

  private inFence(starts: readonly number[], { line, span, code, args, mended }: FenceProblem): void {
    const at = shifted(span, starts[line]!);
    this.findings.push({
      code,
      severity: CODES[code].severity,
      args,
      at: this.review.text.slice(...at),
      span: at,
      mends: mended === undefined ? [] : [edit(at, mended)].map((mend): Mend => ({ title: mendTitle(code, mend.args), ...mend })),
    });
  }

  private link(span: Span, analysis: Analysis, reference: Reference): Edited {
    const result = analysis.results.find(({ run }) => run.id === reference.ids[0])!;
    const figure = figureOf(analysis, result, reference.measure, reference.keys);
    const written = writeReference(reference);
    return {
      args: { reference: written, title: titleOf(figure), now: nowOf(figure) },
      edits: [
        { span: [span[0], span[0]], text: '[' },
        { span: [span[1], span[1]], text: `](${written})` },
      ],
    };
  }

  private say(code: Code, mention: Mention | undefined, span: Span, args: Args, mends: readonly Edited[] = []): void {
    this.findings.push({
      code,
      severity: CODES[code].severity,
      args,
      at: mention?.target ?? String(args.figure),
      span,
      mends: mends.map((mend): Mend => ({ title: mendTitle(code, mend.args), ...mend })),
    });
  }
}

interface Found {
  readonly reference: Reference;
  readonly path: string;
  readonly analysis: Analysis;
}

interface Edited {
  readonly args: Args;
  readonly edits: readonly TextEdit[];
}

const edit = (span: Span, mended: string): Edited => ({ args: { mended }, edits: [{ span, text: mended }] });

/** A line that leads somewhere; undefined for another. */
export const ledOf = (checked: Checked | undefined): Led | undefined => {
  const { status, reference, path, analysis } = checked ?? {};
  return status === 'pointing' && reference && path !== undefined && analysis ? { reference, path, analysis } : undefined;
};

/** Mistakes that hang on how many runs there are. */
const COUNTS: ReadonlySet<string> = new Set(['runs-one', 'runs-some', 'runs-two'] satisfies FigureMistake['code'][]);

const drawings = new WeakMap<Analysis, Map<string, FigureMistake | undefined>>();

/** Why a session does not have a figure; undefined where it does. A figure is drawn to know, once for a session as it stands. */
function drawn(analysis: Analysis, reference: Reference): FigureMistake | undefined {
  const known = drawings.get(analysis) ?? new Map<string, FigureMistake | undefined>();
  drawings.set(analysis, known);
  const name = fragmentText(reference);
  if (!known.has(name)) {
    const reading = figureFor(analysis, reference);
    known.set(name, reading.ok ? undefined : reading.mistake);
  }
  return known.get(name);
}

/** What a claim is held against, in words. */
interface Subject {
  readonly what: Arg;
  readonly now: Arg;
  /** As a review would write it. */
  readonly written: () => string;
}

const told = ({ what, now }: Subject): Args => ({ what, now });

const UNCLEAR: Readonly<Record<Extract<Claim, { is: 'unclear' }>['why'], (named: string) => Arg>> = {
  several: () => phrase('Several figures in one link'),
  negation: () => phrase('A denial cannot be held against a figure'),
  condition: () => phrase('A condition cannot be held against a figure'),
  tolerance: () => phrase('A tolerance cannot be held against a figure'),
  reckoning: () => phrase('A multiple, a part or a difference cannot be held against a figure'),
  comparison: () => phrase('It is not clear which comparison is meant'),
  sides: () => phrase('Two sides are named'),
  unit: () => phrase('What stands behind the number is no unit of this figure'),
  name: (named) => phrase('"{named}" is not what was measured', { named }),
  language: () => phrase('Words are not read in the language of this folder'),
};

/** The part of a reference to a figure that is mistaken. */
const FIGURE_PARTS: Readonly<Record<Exclude<FigureMistake['code'], 'not-drawn'>, 'ids' | 'measure' | 'keys'>> = {
  'no-run': 'ids',
  'not-a-run': 'ids',
  'kinds-differ': 'ids',
  'run-twice': 'ids',
  'runs-one': 'ids',
  'runs-some': 'ids',
  'runs-two': 'ids',
  'figure-needed': 'ids',
  'no-figure': 'measure',
  'figures-none': 'measure',
  'figure-key': 'keys',
};

/** The part of a reference that is mistaken. */
const PARTS: Readonly<Record<ResolutionMistake['code'], 'ids' | 'measure' | 'keys'>> = {
  'several-runs': 'ids',
  'no-block': 'ids',
  'measure-needed': 'ids',
  'property-needed': 'ids',
  'no-measure': 'measure',
  'not-computed': 'measure',
  'no-property': 'measure',
  'to-note': 'measure',
  'text-key': 'keys',
  key: 'keys',
};

/** As reports call a figure. */
const titleOf = ({ spec, key, units }: Figure): Arg => {
  const title = tabled(spec.title);
  return key.length === 0
    ? title
    : tabled('{title} {key}', { title, key: figureTitle({ spec: { ...spec, title: '' }, key, units }).trim() });
};

const betweenOf = ({ interval }: Known): Arg => {
  if (!interval?.every(Number.isFinite)) return '';
  const [from, to] = interval;
  return phrase(', between {from} and {to}', { from, to });
};

/** Claims are short; what is longer is told by its start. */
const LONGEST = 60;
const shown = (text: string): string => {
  const trimmed = visible(text.trim());
  return trimmed.length > LONGEST ? `${trimmed.slice(0, LONGEST)}…` : trimmed;
};

/** A part of a reference in its document; the whole where escapes stand in it. Where nothing stands, the mark before it. */
function inTarget({ targetSpan, isPlain }: Mention, [start, end]: Span): Span {
  if (!isPlain) return targetSpan;
  return shifted(start === end && start > 0 ? [start - 1, end] : [start, end], targetSpan[0]);
}

/** The words of a link; all of it where it has none. */
const wordsSpan = ({ span, labelSpan, label }: Mention): Span => (label.text.trim() === '' ? span : labelSpan);

const replaced = ({ labelSpan }: Mention, text: string): Edited => ({
  args: { mended: text },
  edits: [{ span: labelSpan, text: escaped(text) }],
});
