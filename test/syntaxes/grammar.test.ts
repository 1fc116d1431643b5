import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import oniguruma from 'vscode-oniguruma';
import textmate from 'vscode-textmate';
import { KEYWORDS } from '../../src/session/vocabulary';

const require = createRequire(import.meta.url);
const grammarFile = new URL('../../syntaxes/nitbook.tmLanguage.json', import.meta.url);
const session = readFileSync(new URL('../host/workspace/aurora.nitbook', import.meta.url), 'utf8');

const configuration = JSON.parse(readFileSync(new URL('../../syntaxes/language-configuration.json', import.meta.url), 'utf8'));

let grammar: textmate.IGrammar;

beforeAll(async () => {
  await oniguruma.loadWASM(readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm')));
  const registry = new textmate.Registry({
    onigLib: Promise.resolve(oniguruma),
    loadGrammar: async () => textmate.parseRawGrammar(readFileSync(grammarFile, 'utf8'), 'nitbook.tmLanguage.json'),
  });
  grammar = (await registry.loadGrammar('source.nitbook'))!;
});

/** Every token that is more than blank, as "text → its scopes", leaving out the scopes that every line of the block has. */
function tokens(text: string): string[][] {
  let state = textmate.INITIAL;
  return text.split('\n').map((line) => {
    const result = grammar.tokenizeLine(line, state);
    state = result.ruleStack;
    return result.tokens
      .map(({ startIndex, endIndex, scopes }) => ({
        text: line.slice(startIndex, endIndex).trim(),
        scopes: scopes
          .filter((scope) => scope !== 'source.nitbook' && !scope.startsWith('meta.'))
          .map((scope) => scope.replace(/\.nitbook$/, '')),
      }))
      .filter((token) => token.text !== '')
      .map(({ text, scopes }) => (scopes.length > 0 ? `${text} → ${scopes.join(' ')}` : text));
  });
}

/** The tokens of the one line of the canonical session that reads so, coloured in its place. */
function inSession(line: string): string[] {
  const lines = session.split('\n');
  const at = lines.indexOf(line);
  if (at < 0 || lines.indexOf(line, at + 1) >= 0) throw new Error(`Not one line: ${line}`);
  return tokens(session)[at]!;
}

/** The tokens of the last line of a text. */
const last = (...lines: string[]) => tokens(lines.join('\n')).at(-1);

const colon = ': → punctuation.separator.key-value';

describe('The grammar colours', () => {
  it('the version line', () => {
    expect(inSession('nitbook 1')).toEqual(['nitbook → keyword.control.version', '1 → constant.numeric.version']);
  });

  it('headers: keyword, id or date, title, what is inherited', () => {
    expect(inSession('session 2026-03-14')).toEqual(['session → keyword.control.block', '2026-03-14 → constant.numeric.date']);
    expect(inSession('display aurora "Halden Aurora 55"')).toEqual([
      'display → keyword.control.block',
      'aurora → entity.name.type.id',
      '" → string.quoted.double punctuation.definition.string.begin',
      'Halden Aurora 55 → string.quoted.double',
      '" → string.quoted.double punctuation.definition.string.end',
    ]);
    expect(inSession('tracking hdr-4k like hdr-1k')).toEqual([
      'tracking → keyword.control.block',
      'hdr-4k → entity.name.type.id',
      'like → keyword.control.inherit',
      'hdr-1k → entity.other.inherited-class',
    ]);
    expect(inSession('limits')).toEqual(['limits → keyword.control.block']);
  });

  it.each(KEYWORDS)('the head of a block %s, under which a new line is indented', (keyword) => {
    expect(last(keyword)).toEqual([`${keyword} → keyword.control.block`]);
    expect(last(`${keyword} a`)![0]).toBe(`${keyword} → keyword.control.block`);
    expect(new RegExp(configuration.onEnterRules[0].beforeText).test(keyword)).toBe(true);
  });

  it('a title that looks like a property, and one that holds a quote', () => {
    expect(last('mode a "Cinema: \\"warm\\""')).toEqual([
      'mode → keyword.control.block',
      'a → entity.name.type.id',
      '" → string.quoted.double punctuation.definition.string.begin',
      'Cinema: → string.quoted.double',
      '\\" → string.quoted.double constant.character.escape',
      'warm → string.quoted.double',
      '\\" → string.quoted.double constant.character.escape',
      '" → string.quoted.double punctuation.definition.string.end',
    ]);
  });

  it("the format's own properties, with numbers, units, lists and dates", () => {
    expect(inSession('  room: 0.02 lx at the screen, 21 °C')).toEqual([
      'room → support.variable.property',
      colon,
      '0.02 → constant.numeric',
      'lx → keyword.other.unit',
      'at the screen',
      ', → punctuation.separator.list',
      '21 → constant.numeric',
      '°C → keyword.other.unit',
    ]);
    expect(inSession('  checked: 2025-11-02')).toEqual([
      'checked → support.variable.property',
      colon,
      '2025-11-02 → constant.numeric.date',
    ]);
    expect(inSession('  firmware: 2.14.8')).toEqual(['firmware → support.variable.property', colon, '2.14.8']);
    expect(inSession('  .input: HDMI #2')).toEqual(['.input → support.variable.property', colon, 'HDMI #2']);
    expect(last('greyscale a', '  mode: cinema-tuned  # again')).toEqual([
      'mode → support.variable.property',
      colon,
      'cinema-tuned → entity.name.type.reference',
      '# → comment.line.number-sign punctuation.definition.comment',
      'again → comment.line.number-sign',
    ]);
    expect(inSession('  .mode: cinema')).toEqual(['.mode → support.variable.property', colon, 'cinema → entity.name.type.reference']);
  });

  it('a range without swallowing its dots', () => {
    expect(last('tuning', '  control: "Gain red" -50..50 step 1')).toEqual([
      'control → support.variable.property',
      colon,
      '" → string.quoted.double punctuation.definition.string.begin',
      'Gain red → string.quoted.double',
      '" → string.quoted.double punctuation.definition.string.end',
      '-50 → constant.numeric',
      '.. → keyword.operator.range',
      '50 → constant.numeric',
      'step',
      '1 → constant.numeric',
    ]);
  });

  it("the user's own names apart from ours", () => {
    expect(inSession('  Picture / Aspect 16:9: Full')).toEqual(['Picture / Aspect 16:9 → variable.other.property', colon, 'Full']);
    expect(inSession('  画面 / 色温: 低')).toEqual(['画面 / 色温 → variable.other.property', colon, '低']);
    expect(inSession('  "Screen: Overscan": off  # the name holds \': \'')).toEqual([
      '"Screen: Overscan" → variable.other.property',
      colon,
      'off',
      '# → comment.line.number-sign punctuation.definition.comment',
      "the name holds ': ' → comment.line.number-sign",
    ]);
    expect(inSession('  greyscale.de.max: aim 1, limit 3')).toEqual([
      'greyscale.de.max → variable.other.property',
      colon,
      'aim',
      '1 → constant.numeric',
      ', → punctuation.separator.list',
      'limit',
      '3 → constant.numeric',
    ]);
    expect(last('mode a', '  3D depth: 4')).toEqual(['3D depth → variable.other.property', colon, '4 → constant.numeric']);
  });

  it('what is still to be noted, and what is taken out', () => {
    expect(inSession('  Motion / Smoothing: ?')).toEqual([
      'Motion / Smoothing → variable.other.property',
      colon,
      '? → keyword.other.to-take',
    ]);
    expect(inSession('  Motion / Smoothing: ~')).toEqual([
      'Motion / Smoothing → variable.other.property',
      colon,
      '~ → keyword.operator.remove',
    ]);
  });

  it('column lines, with units and quoted names', () => {
    expect(inSession('    hue     sat     Y         x        y')).toEqual(
      ['hue', 'sat', 'Y', 'x', 'y'].map((name) => `${name} → variable.other.column`),
    );
    expect(last('tuning', '    level[10bit]  "Gain red"  ref.Y  u\'')).toEqual([
      'level → variable.other.column',
      '[10bit] → keyword.other.unit',
      '"Gain red" → variable.other.column',
      'ref.Y → variable.other.column',
      "u' → variable.other.column",
    ]);
  });

  it('rows: numbers, below the floor, over the range, not measured, to take, words', () => {
    expect(inSession('         0  <0.003    -        -')).toEqual([
      '0 → constant.numeric',
      '< → keyword.operator.relational',
      '0.003 → constant.numeric',
      '- → constant.language.not-measured',
      '- → constant.language.not-measured',
    ]);
    expect(inSession('       100  >700')).toEqual(['100 → constant.numeric', '> → keyword.operator.relational', '700 → constant.numeric']);
    expect(inSession('        40  ?         ?        ?')).toEqual(['40 → constant.numeric', ...Array(3).fill('? → keyword.other.to-take')]);
    expect(inSession('    red     50      44.1      0.4432   0.3310')[0]).toBe('red → string.unquoted.cell');
  });

  it('the note and the comment at the end of a row', () => {
    expect(last('greyscale a', '    level  Y', '    30  6.7e0  | by hand  # why')).toEqual([
      '30 → constant.numeric',
      '6.7e0 → constant.numeric',
      '| → string.unquoted.note punctuation.definition.note',
      'by hand → string.unquoted.note',
      '# → comment.line.number-sign punctuation.definition.comment',
      'why → comment.line.number-sign',
    ]);
  });

  it('a number with a decimal comma or a typographic minus as no number', () => {
    expect(last('greyscale a', '    30  6,7  −3')).toEqual(['30 → constant.numeric', '6,7  −3']);
  });

  it('struck rows and voided blocks as out of force, to the end of the block', () => {
    const row = 'comment.line.struck markup.strikethrough';
    expect(inSession('  ~     30  67        0.3099   0.3279  | decimal slip')).toEqual([
      `~ → ${row} punctuation.definition.struck`,
      `30  67        0.3099   0.3279  | decimal slip → ${row}`,
    ]);
    const block = 'comment.block.voided markup.strikethrough';
    expect(tokens('~ window peak\n  mode: cinema\n    window  Y\nwindow peak-2')).toEqual([
      [`~ window peak → ${block}`],
      [`mode: cinema → ${block}`],
      [`window  Y → ${block}`],
      ['window → keyword.control.block', 'peak-2 → entity.name.type.id'],
    ]);
  });

  it('comment and note lines anywhere', () => {
    expect(inSession('  | Long remarks are note lines.')).toEqual([
      '| → string.unquoted.note punctuation.definition.note',
      'Long remarks are note lines. → string.unquoted.note',
    ]);
    expect(last('greyscale a', '    # cloth over the lens')).toEqual([
      '# → comment.line.number-sign punctuation.definition.comment',
      'cloth over the lens → comment.line.number-sign',
    ]);
  });

  it('the marks of a merge under way, and not a row of fewer marks', () => {
    for (const mark of ['<<<<<<< ours', '=======', '>>>>>>> theirs', '||||||| base']) {
      expect(last('greyscale a', mark)).toEqual([`${mark} → invalid.illegal.conflict`]);
    }
    expect(last('greyscale a', '|||||| six')).toEqual([
      '| → string.unquoted.note punctuation.definition.note',
      '||||| six → string.unquoted.note',
    ]);
  });

  it('a property or a row at column 0 as part of its block', () => {
    expect(last('mode a', 'Picture / Gamma: 2.4')).toEqual(['Picture / Gamma → variable.other.property', colon, '2.4 → constant.numeric']);
    expect(last('greyscale a', '30  6.7')).toEqual(['30 → constant.numeric', '6.7 → constant.numeric']);
  });

  it('a block that it does not know without its keyword', () => {
    expect(last('sound bar')).toEqual(['sound', 'bar → entity.name.type.id']);
  });
});

describe('The language configuration', () => {
  const words = (text: string) => text.match(new RegExp(configuration.wordPattern.pattern, `g${configuration.wordPattern.flags}`));

  it('takes ids, signed numbers, dates, measures and quoted names as words', () => {
    expect(words('greyscale hdr-1000 like grey')).toEqual(['greyscale', 'hdr-1000', 'like', 'grey']);
    expect(words('    -3  +.5  6.70  1e-3  <0.003  -')).toEqual(['-3', '+.5', '6.70', '1e-3', '0.003']);
    expect(words('-50..50')).toEqual(['-50', '50']);
    expect(words('  .taken: 2026-03-14')).toEqual(['.taken', '2026-03-14']);
    expect(words('  greyscale.de.max: aim 1')).toEqual(['greyscale.de.max', 'aim', '1']);
    expect(words('  "Gain red"  ref.Y  u\'')).toEqual(['"Gain red"', 'ref.Y', "u'"]);
    expect(words('画面 / 色温: 低')).toEqual(['画面', '色温', '低']);
  });

  it('indents after a header and after nothing else', () => {
    const header = new RegExp(configuration.onEnterRules[0].beforeText);
    for (const line of session.split('\n')) {
      expect([line, header.test(line)]).toEqual([line, /^[a-mo-z]/.test(line)]);
    }
    expect(header.test('mode a "Cinema: warm"')).toBe(true);
    expect(header.test('contrast: 3')).toBe(false);
  });
});
