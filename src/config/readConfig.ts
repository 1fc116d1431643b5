import { type Node, type ParseError, parseTree } from 'jsonc-parser';
import { CODES, type Code, type Severity } from '../text/codes';
import { type Finding, type Mend, mendTitle } from '../text/finding';
import { LIMIT_EXPECTED, type Limits, readLimits } from '../text/limitText';
import { type Phrase, phrase } from '../text/message';
import { nearest, neighbour } from '../text/neighbour';
import type { Span } from '../text/span';
import { CONFIG_KEYS, type Config, NO_CONFIG, SEVERITIES } from './config';
import { type Member, type NodeReader, type Plan, readPlans } from './plans';
import { brokenTokens, firstTooDeep, MAX_DEPTH, syntaxMistakes } from './syntax';

/**
 * Reads `nitbook.jsonc`: JSON with comments and trailing commas. Any text is read: what it cannot take is a finding and everything else
 * counts; an empty file says nothing. Of a key written twice the first counts, as everywhere in sessions.
 * @returns findings in the order of the text, `at` being the path of keys (`limits/greyscale.de.max`), or `file` for the file itself and
 *   for mistakes of JSON, where a path cannot be told for sure.
 */
export function readConfig(
  text: string,
  known: { readonly measures: ReadonlySet<string> },
): { config: Config; findings: readonly Finding[] } {
  const tooDeep = firstTooDeep(text);
  if (tooDeep) {
    const expected = phrase('Expected brackets at most {most} deep: nothing of the file is read', { most: MAX_DEPTH });
    return { config: NO_CONFIG, findings: [finding('config-syntax', ROOT, tooDeep, expected)] };
  }
  const errors: ParseError[] = [];
  // A byte order mark is no JSON, yet editors write it; a blank in its place keeps the offsets.
  const root = parseTree(text.replace(/^\uFEFF/, ' '), errors, { allowTrailingComma: true, allowEmptyContent: true });
  const reader = new Reader(text.length, brokenTokens(errors), known.measures);
  if (root) reader.file(root);
  const syntax = syntaxMistakes(text, errors).map((mistake) => finding('config-syntax', ROOT, mistake.span, mistake.expected));
  const findings = [...syntax, ...reader.findings].sort((a, b) => a.span[0] - b.span[0] || a.span[1] - b.span[1]);
  const { limits, severities, plans, language } = reader;
  return { config: { limits, severities, plans, language }, findings };
}

const ROOT = 'file';

/** `near` replaces the whole underlined text, as a JSON text. */
function finding(code: 'config-syntax' | 'config-value', at: string, span: Span, expected: Phrase, near?: string): Finding {
  const args = code === 'config-value' ? { expected, neighbour: near === undefined ? '' : neighbour(near) } : { expected };
  const mends = near === undefined ? [] : [mendTo(code, span, near)];
  return { code, severity: CODES[code].severity, args, at, span, mends };
}

function mendTo(code: Code, span: Span, near: string): Mend {
  const args = { mended: near };
  return { title: mendTitle(code, args), args, edits: [{ span, text: JSON.stringify(near) }] };
}

/** Beyond as many mistakes no neighbours are sought: a search costs up to 0.3 ms, and a hostile file has mistakes without end. */
const MOST_NEIGHBOURS = 100;

/** One pass over one file. Reads nodes, never makes objects of them: `__proto__` and `constructor` are names like others. */
class Reader implements NodeReader {
  readonly limits = new Map<string, Limits>();
  readonly severities = new Map<Code, Severity | 'off'>();
  plans: ReadonlyMap<string, Plan> = new Map();
  language = NO_CONFIG.language;
  readonly findings: Finding[] = [];
  private sought = 0;

  constructor(
    private readonly length: number,
    private readonly broken: ReadonlySet<number>,
    private readonly measures: ReadonlySet<string>,
  ) {}

  file(root: Node): void {
    for (const member of this.members(root, '', phrase('The file takes an object such as { "limits": { … } }'))) {
      if (member.name === 'limits') this.readLimits(member);
      else if (member.name === 'findings') this.readSeverities(member);
      else if (member.name === 'plans') this.plans = readPlans(this, member);
      else if (member.name === 'language') this.readLanguage(member);
      else
        this.say(
          member.at,
          member.key,
          phrase('The keys here are {keys} and {last}, not "{name}"', {
            keys: CONFIG_KEYS.slice(0, -1),
            last: CONFIG_KEYS.at(-1)!,
            name: member.name,
          }),
          {
            word: member.name,
            of: CONFIG_KEYS,
          },
        );
    }
  }

  private readLimits({ value, at }: Member): void {
    for (const member of this.members(value, at, phrase('limits takes an object such as { "greyscale.de.max": "aim 1, limit 3" }'))) {
      // A limit may be for one row: `window.peak@10`.
      if (!this.measures.has(member.name.split('@')[0]!)) {
        this.say(member.at, member.key, phrase('"{name}" is not a measure with limits', { name: member.name }), {
          word: member.name,
          of: this.measures,
        });
        continue;
      }
      const limits = member.value.type === 'string' ? readLimits(member.value.value) : undefined;
      if (limits) this.limits.set(member.name, limits);
      else this.say(member.at, member.value, phrase('{name} takes a text: {expected}', { name: member.name, expected: LIMIT_EXPECTED }));
    }
  }

  private readSeverities({ value, at }: Member): void {
    for (const member of this.members(value, at, phrase('findings takes an object such as { "minus-sign": "off" }'))) {
      if (!isCode(member.name)) {
        this.say(member.at, member.key, phrase('"{name}" is not the code of a finding', { name: member.name }), {
          word: member.name,
          of: Object.keys(CODES),
        });
        continue;
      }
      const written: unknown = member.value.value;
      const severity = SEVERITIES.find((each) => each === written);
      if (severity) this.severities.set(member.name, severity);
      else {
        const candidates = typeof written === 'string' ? { word: written, of: SEVERITIES } : undefined;
        this.say(member.at, member.value, phrase('{name} takes "off", "info", "warning" or "error"', { name: member.name }), candidates);
      }
    }
  }

  private readLanguage({ value, at }: Member): void {
    const written: unknown = value.value;
    if (typeof written === 'string' && isLanguage(written)) this.language = written;
    else this.say(at, value, phrase('language takes the tag of a language, such as "en" or "de"'));
  }

  /** The members of an object that are whole and written for the first time; a finding that says `expected` when it is no object. */
  *members(node: Node, at: string, expected: Phrase): Generator<Member> {
    if (this.broken.has(node.offset)) return;
    if (node.type !== 'object') return this.say(at || ROOT, node, expected);
    const seen = new Set<string>();
    for (const property of node.children ?? []) {
      const [key, value] = property.children ?? [];
      // What is missing or broken off was said as a mistake of JSON.
      if (!key || !value || this.broken.has(key.offset)) continue;
      const name: string = key.value;
      const memberAt = at === '' ? name : `${at}/${name}`;
      if (seen.has(name)) this.say(memberAt, key, phrase('"{name}" stands twice: the first counts', { name }));
      else if (!this.broken.has(value.offset)) yield { name, at: memberAt, key, value };
      seen.add(name);
    }
  }

  say(at: string, node: Node, expected: Phrase, candidates?: { readonly word: string; readonly of: Iterable<string> }): void {
    const start = Math.min(node.offset, this.length);
    const end = Math.min(node.offset + Math.max(node.length, 0), this.length);
    const near = candidates && this.sought++ < MOST_NEIGHBOURS ? nearest(candidates.word, candidates.of) : undefined;
    this.findings.push(finding('config-value', at, [start, end], expected, near));
  }
}

/** Whether it is known how numbers are written in a language. */
function isLanguage(tag: string): boolean {
  try {
    return Intl.NumberFormat.supportedLocalesOf([tag]).length > 0;
  } catch (error) {
    // No tag of BCP 47 at all.
    if (error instanceof RangeError) return false;
    throw error;
  }
}

const isCode = (name: string): name is Code => Object.hasOwn(CODES, name);
