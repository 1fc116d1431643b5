import { Buffer } from 'node:buffer';
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { CONFIG_KEYS, SEVERITIES } from '../../src/config/config';
import { MEASURE_IDS } from '../../src/measure/specs';
import { INSTRUCTIONS } from '../../src/review/fences/language';
import { CODES } from '../../src/text/codes';
import { examples, sessionLike } from '../session/sessions';

/** What someone may put into a folder to do harm, or a broken disk, editor or merge by chance. */

const CHUNK = 1000;
/** Cases are held to their time up to this size. */
export const MOST_CHARACTERS = 100_000;

const pick = <T>(...of: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...of);

/** Names that try to be something else where they are shown: markup, scripts, links, formulas, commands of terminals and of CI, other lines. */
export const HOSTILE_NAMES = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '</td></table><svg onload=alert(1)>',
  '<!--',
  '<?php',
  '<![CDATA[',
  '[a](javascript:alert(1))',
  '![a](https://host.example/a.png)',
  '<https://host.example>',
  '<a@host.example>',
  'https://host.example/?a=b',
  '//host.example/a',
  'mailto:a@host.example',
  'www.host.example',
  'a@host.example',
  'command:workbench.action.quit',
  '`a` ``b``',
  '```',
  '~~~',
  '**a** __b__ ~~c~~ *d* _e_',
  '| a | b |',
  '---',
  '===',
  '# a',
  '- a',
  '1. a',
  '> a',
  '[a]: https://host.example',
  '[^1]',
  '$a$ $$b$$',
  '&lt;b&gt; &#60; &amp;',
  '\\',
  '\\<b>',
  'a\\',
  '{{a}} $(a) %s {0} {id}',
  '=HYPERLINK("https://host.example")',
  '+1+1',
  '-1+1',
  '@SUM(A1)',
  'a,"b";c',
  '::error file=a::b',
  '%0A%0D%25',
  '\u001B[31m\u001B]0;a\u0007',
  '\u202Ea\u2066b',
  '\u2028\u2029\u0085\u000B\u000C',
  '\u0000',
  '\uD800',
  '\uFEFF',
  'e\u0301\u200D\u{1F468}',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  '',
  ' ',
  '\u00A0',
] as const;

export const hostileName: fc.Arbitrary<string> = fc.oneof(
  { weight: 6, arbitrary: pick(...HOSTILE_NAMES) },
  { weight: 2, arbitrary: fc.array(pick(...HOSTILE_NAMES), { minLength: 2, maxLength: 4 }).map((names) => names.join(' ')) },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 20 }) },
  { weight: 1, arbitrary: fc.tuple(pick(...HOSTILE_NAMES), fc.integer({ min: 50, max: 3000 })).map(([name, times]) => name.repeat(times)) },
);

/** Of examples: all of one, or what a screen or two hold. */
const excerpt: fc.Arbitrary<string> = fc
  .tuple(
    pick(...examples),
    fc.nat(),
    fc.oneof({ weight: 40, arbitrary: fc.constant(CHUNK) }, { weight: 1, arbitrary: fc.constant(Infinity) }),
  )
  .map(([text, at, length]) => {
    if (length === Infinity) return text;
    const start = text.lastIndexOf('\n', at % text.length) + 1;
    return `nitbook 1\n${text.slice(start, start + length)}`;
  });

type Change = (bytes: Buffer) => Buffer;

const spliced =
  (at: number, removed: number, put: Uint8Array): Change =>
  (bytes) => {
    const place = at % (bytes.length + 1);
    return Buffer.concat([bytes.subarray(0, place), put, bytes.subarray(place + removed)]);
  };

/** A part of the bytes stands a second time, elsewhere. */
const doubled =
  (from: number, length: number, at: number): Change =>
  (bytes) => {
    const start = from % (bytes.length + 1);
    return spliced(at, 0, bytes.subarray(start, start + length))(bytes);
  };

const byteChange: fc.Arbitrary<Change> = fc.oneof(
  { weight: 4, arbitrary: fc.tuple(fc.nat(), fc.nat(3), fc.uint8Array({ maxLength: 4 })).map((of) => spliced(...of)) },
  {
    weight: 4,
    arbitrary: fc
      .tuple(fc.nat(), fc.nat(3), pick(...'\n\r\t ~|#:",.<>-?[]()=0123456789eE\\'))
      .map(([at, removed, mark]) => spliced(at, removed, Buffer.from(mark))),
  },
  { weight: 2, arbitrary: fc.tuple(fc.nat(), fc.nat(400)).map(([at, removed]) => spliced(at, removed, Buffer.alloc(0))) },
  { weight: 2, arbitrary: fc.tuple(fc.nat(), fc.nat(200), fc.nat()).map((of) => doubled(...of)) },
  { weight: 1, arbitrary: fc.tuple(fc.nat(), fc.nat(7)).map(([at, bit]) => flipped(at, bit)) },
  {
    weight: 1,
    arbitrary: fc.nat().map(
      (at): Change =>
        (bytes) =>
          bytes.subarray(0, at % (bytes.length + 1)),
    ),
  },
);

const flipped =
  (at: number, bit: number): Change =>
  (bytes) => {
    const copy = Buffer.from(bytes);
    if (copy.length > 0) copy[at % copy.length]! ^= 1 << bit;
    return copy;
  };

/** Bytes of a file that something has happened to. */
export const brokenBytes = (text: fc.Arbitrary<string>): fc.Arbitrary<Buffer> =>
  fc
    .tuple(text, fc.array(byteChange, { minLength: 1, maxLength: 8 }))
    .map(([of, changes]) => changes.reduce<Buffer>((bytes, change) => change(bytes), Buffer.from(of)));

const brokenText = (text: fc.Arbitrary<string>): fc.Arbitrary<string> => brokenBytes(text).map((bytes) => bytes.toString('utf8'));

/** A session whose titles, ids, settings, patches and remarks are hostile here and there. */
const namedSession: fc.Arbitrary<string> = fc
  .tuple(excerpt, fc.array(fc.tuple(fc.nat(), hostileName), { minLength: 1, maxLength: 6 }), fc.boolean())
  .map(([text, names, isQuoted]) => {
    for (const [at, name] of names) {
      const places = [...text.matchAll(/"[^"\n]*"|(?<=: ).*|(?<=^ {2})[A-Z][\w /]*(?=:)|(?<=\| ).*/gm)];
      const place = places[at % (places.length || 1)];
      if (!place) break;
      const put = isQuoted || place[0].startsWith('"') ? `"${name.replaceAll(/["\\]/g, '\\$&')}"` : name;
      text = text.slice(0, place.index) + put + text.slice(place.index + place[0].length);
    }
    return text;
  });

/** One part so often that it fills the size, or one day at the bench after the other. */
const longSession: fc.Arbitrary<string> = fc
  .tuple(
    fc.oneof({ weight: 3, arbitrary: sessionLike }, { weight: 1, arbitrary: pick(...examples) }),
    fc.integer({ min: 10_000, max: MOST_CHARACTERS }),
  )
  .map(([part, size]) => `${part}\n`.repeat(Math.ceil(size / (part.length + 1))).slice(0, size));

export const hostileSession: fc.Arbitrary<string> = fc
  .oneof(
    { weight: 50, arbitrary: brokenText(excerpt) },
    { weight: 30, arbitrary: namedSession },
    { weight: 19, arbitrary: sessionLike },
    { weight: 1, arbitrary: longSession },
  )
  .map((text) => text.slice(0, MOST_CHARACTERS));

export interface Typed {
  readonly at: number;
  readonly removed: number;
  readonly put: string;
}

/** What is typed, pasted or taken away, at any places. */
export const typing: fc.Arbitrary<readonly Typed[]> = fc.array(
  fc.record({
    at: fc.nat(),
    removed: fc.oneof(fc.nat(3), fc.nat(200)),
    put: fc.oneof(
      pick('', '\n', '\r', '\r\n', ' ', '~ ', '"', '<<<<<<< a\n', '\n>>>>>>> b\n', 'nitbook 2\n', '\uFEFF'),
      pick('\nmode m\n', '\n    30 5\n', '\n    level Y x y\n', '\ngreyscale g like grey\n', '\n  target: dark\n', '\nlimits\n'),
      hostileName,
      sessionLike,
    ),
  }),
  { minLength: 1, maxLength: 4 },
);

const CONFIG = `{
  // Judged more strictly than usual.
  "limits": {
    "greyscale.de.max": "aim 1, limit 3",
    "window.peak@10": "limit 500..2000",
  },
  "findings": { "firmware-missing": "error", "minus-sign": "off" },
  "plans": {
    "Quick look": {
      "about": "an hour",
      "blocks": [{ "kind": "signal", "id": "sdr", "properties": { "range": "limited" } }],
      "runs": [
        { "kind": "greyscale", "id": "grey", "title": "Short", "levels": "0..100 step 10", "properties": { "signal": "sdr" } },
        { "kind": "saturation", "id": "sat", "hues": ["red", "blue"], "saturations": "50, 100" },
        { "kind": "patches", "id": "mix", "patches": ["skin 78  59.5 49"] },
        { "kind": "uniformity", "id": "field", "grid": "2 x 3" },
      ],
    },
  },
}
`;

const json: fc.Arbitrary<string> = fc.oneof(
  fc.json({ maxDepth: 4 }),
  fc
    .dictionary(
      fc.oneof(pick(...CONFIG_KEYS), hostileName),
      fc.oneof(
        fc.jsonValue({ maxDepth: 3 }),
        fc.dictionary(
          fc.oneof(pick(...MEASURE_IDS), pick(...Object.keys(CODES)), hostileName),
          fc.oneof(
            pick(...SEVERITIES),
            pick('aim 1, limit 3', 'limit -5..5', 'aim 1', '3', ''),
            hostileName,
            fc.jsonValue({ maxDepth: 2 }),
          ),
        ),
      ),
    )
    .map((value) => JSON.stringify(value, undefined, 2)),
);

const nested: fc.Arbitrary<string> = fc
  .tuple(pick('[', '{"a":', '/*', '"', '{"limits":{'), fc.integer({ min: 100, max: 20_000 }))
  .map(([unit, times]) => unit.repeat(Math.min(times, MOST_CHARACTERS / unit.length)));

export const hostileConfig: fc.Arbitrary<string> = fc.oneof(
  { weight: 10, arbitrary: brokenText(fc.constant(CONFIG)) },
  { weight: 8, arbitrary: json },
  { weight: 2, arbitrary: brokenText(json) },
  { weight: 1, arbitrary: nested },
  { weight: 1, arbitrary: fc.string({ unit: 'binary' }) },
);

const REFERENCES = [
  'aurora-55.nitbook#grey.de.max',
  'aurora-55.nitbook#grey.de@90',
  '../a%20b/aurora.nitbook#grey+tuned.balance',
  '/aurora.nitbook#aurora.firmware',
  '#sat.de@red,100',
  'aurora.nitbook#hdr-window.peak@10',
];

export const hostileReference: fc.Arbitrary<string> = fc.oneof(
  { weight: 4, arbitrary: brokenText(pick(...REFERENCES)) },
  {
    weight: 3,
    arbitrary: fc
      .array(
        fc.oneof(
          pick('#', '.', '@', ',', '+', '/', '../', '%', '%2F', '%00', '%C0%AF', '%2e%2e/', 'c:', '\\', 'a.nitbook', 'grey', 'de', 'max'),
          hostileName,
        ),
        {
          maxLength: 10,
        },
      )
      .map((parts) => parts.join('')),
  },
  { weight: 1, arbitrary: fc.string({ unit: 'binary' }) },
);

const REVIEWS = ['aurora-55', 'meadow-65'].map((name) => readFileSync(`examples/${name}.md`, 'utf8'));

const inReview: fc.Arbitrary<string> = fc.oneof(
  fc.tuple(hostileName, hostileReference).map(([label, target]) => `[${label}](aurora-55.nitbook${target.slice(target.indexOf('#'))})`),
  fc
    .tuple(pick('2.3', 'under 3', '3 % too dark', 'between 1 and 2', 'about 800 cd/m²', '1,899', '½', ''), pick(...REFERENCES))
    .map(([label, target]) => `${label === '' ? '!' : ''}[${label}](<${target}> "a")`),
  fc
    .tuple(pick(...Object.keys(INSTRUCTIONS), ''), hostileReference)
    .map(([instruction, target]) => `\n\`\`\`nitbook\n${instruction} ${target}\n\`\`\`\n`),
  hostileName,
  pick(
    '\n',
    '\n\n',
    '> ',
    '- ',
    '| a | b |\n|---|---|\n| ',
    '\n[a]: aurora-55.nitbook#grey.de.max\n',
    '[a][]',
    '<!--',
    '-->',
    '<div>',
    '\n---\n',
    '    ',
  ),
);

export const hostileReview: fc.Arbitrary<string> = fc
  .oneof(
    {
      weight: 5,
      arbitrary: brokenText(fc.tuple(pick(...REVIEWS), fc.nat()).map(([text, at]) => text.slice(at % text.length).slice(0, CHUNK))),
    },
    { weight: 4, arbitrary: fc.array(inReview, { minLength: 1, maxLength: 12 }).map((parts) => parts.join(' ')) },
    { weight: 1, arbitrary: brokenText(pick(...REVIEWS)) },
    {
      weight: 1,
      arbitrary: fc
        .tuple(inReview, fc.integer({ min: 1000, max: MOST_CHARACTERS }))
        .map(([part, size]) => part.repeat(Math.ceil(size / Math.max(1, part.length))).slice(0, size)),
    },
  )
  .map((text) => text.slice(0, MOST_CHARACTERS));

/** What a page might say that is not the one it should be: of the right shape or nearly, about lines that are not there, or anything. */
export const messages: fc.Arbitrary<readonly unknown[]> = fc.array(
  fc.oneof(
    { weight: 6, arbitrary: fc.record({ kind: fc.constant('edit'), epoch: epoch(), base: line(), seq: line(), op: operation() }) },
    {
      weight: 2,
      arbitrary: fc.record({ kind: pick('ready', 'resync', 'undo', 'redo', 'save', '__proto__'), proto: fc.constant(1), epoch: epoch() }),
    },
    {
      weight: 2,
      arbitrary: fc.record({
        kind: fc.constant('look'),
        epoch: epoch(),
        version: line(),
        at: line(),
        from: line(),
        to: line(),
        width: line(),
      }),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        kind: fc.constant('preview'),
        epoch: epoch(),
        base: line(),
        id: line(),
        at: at(),
        column: pick('Y', 'x', ''),
        text: hostileName,
        answers: fc.constant({}),
      }),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        kind: fc.constant('foresee'),
        epoch: epoch(),
        base: line(),
        id: line(),
        at: at(),
        column: pick('Y', 'x', 'level', ''),
        text: hostileName,
      }),
    },
    { weight: 1, arbitrary: fc.record({ kind: fc.constant('openText'), epoch: epoch(), version: line(), line: line() }) },
    { weight: 1, arbitrary: fc.anything() },
  ),
  { minLength: 1, maxLength: 8 },
);

function epoch(): fc.Arbitrary<unknown> {
  return fc.oneof({ weight: 9, arbitrary: fc.constant('1') }, { weight: 1, arbitrary: fc.anything() });
}

function line(): fc.Arbitrary<unknown> {
  return fc.oneof(
    { weight: 9, arbitrary: fc.nat(60) },
    { weight: 1, arbitrary: fc.constantFrom<unknown>(-1, 0.5, 1e9, Number.MAX_SAFE_INTEGER, '1', null) },
  );
}

function at(): fc.Arbitrary<unknown> {
  return fc.record({
    block: pick('grey', 'cinema', 'file', 'grey~2', '__proto__'),
    line: line(),
    text: fc.oneof(fc.constant(''), hostileName),
  });
}

function operation(): fc.Arbitrary<unknown> {
  const names = pick('Y', 'x', 'level', 'target', '.input', '__proto__');
  return fc.oneof(
    fc.record({ do: fc.constant('setCell'), at: at(), column: names, text: hostileName }),
    fc.record({ do: pick('strike', 'takeAgain', 'addRepeat', 'duplicateAdjusted'), at: at(), on: fc.boolean() }),
    fc.record({ do: fc.constant('addLevels'), at: at(), levels: hostileName }),
    fc.record({ do: fc.constant('addRow'), at: at(), cells: fc.dictionary(names, hostileName) }),
    fc.record({ do: fc.constant('duplicate'), at: at(), mode: hostileName }),
    fc.record({ do: fc.constant('paste'), at: at(), column: names, text: hostileName, answers: fc.constant({ decimalComma: true }) }),
    fc.record({ do: fc.constant('setProperty'), at: at(), name: names, value: hostileName }),
    fc.record({ do: fc.constant('removeProperty'), at: at(), name: names }),
    fc.record({ do: fc.constant('setNote'), at: at(), text: hostileName }),
    fc.record({ do: fc.constant('mend'), at: at(), code: pick('minus-sign', 'not-indented', '__proto__'), start: line(), nth: line() }),
    fc.anything(),
  );
}

export interface CommandLine {
  readonly args: readonly string[];
  /** The session and the configuration of the folder that it runs in. */
  readonly session: Buffer;
  readonly config: Buffer | undefined;
}

const argument: fc.Arbitrary<string> = fc.oneof(
  {
    weight: 8,
    arbitrary: pick('check', 'summary', 'value', 'format', 'measures', 'help', 'a.nitbook', '.', 'nitbook.jsonc', 'grey', 'greyscale'),
  },
  {
    weight: 6,
    arbitrary: pick(
      '--format',
      'text',
      'md',
      'json',
      'csv',
      'sarif',
      'github',
      '--fail-on',
      'never',
      'info',
      '--root',
      '--check',
      '--raw',
      '--help',
      '-V',
      '--',
    ),
  },
  { weight: 2, arbitrary: hostileReference.map((text) => `a.nitbook${text.slice(text.indexOf('#'))}`) },
  {
    weight: 2,
    arbitrary: pick('..', '/', './a.nitbook', 'sub', 'missing.nitbook', 'sub/../a.nitbook', '-', '--x', '--format=', '--root=..', '@a', ''),
  },
  { weight: 1, arbitrary: hostileName },
);

const args: fc.Arbitrary<readonly string[]> = fc.oneof(
  fc
    .tuple(pick('text', 'json', 'sarif', 'github'), pick('a.nitbook', '.', 'nitbook.jsonc'))
    .map(([form, path]) => ['check', path, '--format', form]),
  pick('text', 'md', 'json', 'csv').map((form) => ['summary', 'a.nitbook', '--format', form]),
  pick(['format', 'a.nitbook'], ['format', '--check', '.'], ['format']),
  hostileReference.map((text) => ['value', text]),
  fc.array(argument, { maxLength: 6 }),
);

/** An argument cannot hold a zero byte: the system ends it there. */
export const commandLine: fc.Arbitrary<CommandLine> = fc.record({
  args: args.map((all) => all.map((arg) => arg.replaceAll('\0', ''))),
  session: fc.oneof(
    brokenBytes(excerpt),
    namedSession.map((text) => Buffer.from(text)),
    fc.uint8Array().map((bytes) => Buffer.from(bytes)),
  ),
  config: fc.option(
    hostileConfig.map((text) => Buffer.from(text)),
    { nil: undefined },
  ),
});
