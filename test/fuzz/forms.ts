import assert from 'node:assert/strict';
import MarkdownIt, { type Token } from 'markdown-it';
import { visible } from '../../src/report/format';

/** What whoever takes an output reads in it: that it is well formed, and shows names as text. */

/** As the Markdown preview of VS Code sets it up, where HTML is passed on and addresses become links. */
const markdown = new MarkdownIt({ html: true, linkify: true });
markdown.linkify.set({ fuzzyLink: false });

const parts = (tokens: readonly Token[]): Token[] => tokens.flatMap((token) => [token, ...parts(token.children ?? [])]);
const textOf = (token: Token): string =>
  parts(token.children ?? [])
    .map(({ content }) => content)
    .join('');

const PLAIN = ['heading', 'paragraph', 'bullet_list', 'list_item', 'table', 'thead', 'tbody', 'tr', 'th', 'td'];
const OPEN_CLOSE = PLAIN.flatMap((name) => [`${name}_open`, `${name}_close`]);
const TEXT = ['inline', 'text', 'text_special', 'softbreak', 'hardbreak'];

/** The summary is made of headings, one list, paragraphs and tables: all else would come out of a name. */
const IN_SUMMARY: ReadonlySet<string> = new Set([...OPEN_CLOSE, ...TEXT]);
/** In hovers the program marks its own words, and shows colours as images of its own making. */
const IN_HOVER: ReadonlySet<string> = new Set([
  ...OPEN_CLOSE,
  ...TEXT,
  'strong_open',
  'strong_close',
  'em_open',
  'em_close',
  'code_inline',
  'image',
]);

function checkedTokens(text: string, allowed: ReadonlySet<string>): Token[] {
  const tokens = markdown.parse(text, {});
  for (const { type, content, attrs } of parts(tokens)) {
    assert.ok(allowed.has(type), `a name became ${type}: ${content}`);
    if (type === 'image') assert.match(String(attrs?.find(([name]) => name === 'src')?.[1]), /^data:image\/svg\+xml[;,]/);
  }
  return tokens;
}

const OWN_HEADINGS: ReadonlySet<string> = new Set(['Observations', 'Settings']);

/** @param runs their headings, and the ids that a change is called by */
export function checkSummaryMarkdown(text: string, title: string, runs: readonly { readonly id: string; readonly title: string }[]): void {
  const headings = runs.map((run) => (run.title === '' ? run.id : `${run.id}: ${run.title}`));
  const ids = new Set(runs.map(({ id }) => id));
  const tokens = checkedTokens(text, IN_SUMMARY);
  const found = tokens.flatMap(({ type, tag }, i) => (type === 'heading_open' ? [{ tag, text: textOf(tokens[i + 1]!) }] : []));
  const expected = [{ tag: 'h1', text: title }, ...headings.map((heading) => ({ tag: 'h2', text: heading }))];
  const plain = (all: typeof expected) => all.map(({ tag, text: of }) => `${tag} ${visible(of).trim()}`);
  assert.deepEqual(plain(found.slice(0, expected.length)), plain(expected));
  for (const { text: own } of found.slice(expected.length)) {
    assert.ok(OWN_HEADINGS.has(own) || own.split(' → ').every((id) => ids.has(id)), `a name became a heading: ${own}`);
  }
}

export const checkHoverMarkdown = (text: string): void => void checkedTokens(text, IN_HOVER);

/** Lines for a screen: nothing in them drives it or hides what it says. */
export function checkScreen(text: string): void {
  const lines = text.split('\n').join('');
  assert.equal(visible(lines), lines);
}

/** RFC 4180, read without forgiveness. */
export function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const cell = /"((?:[^"]|"")*)"|([^",\r\n]*)/y;
  for (let at = 0; at < text.length; ) {
    cell.lastIndex = at;
    const [all, quoted, plain] = cell.exec(text)!;
    row.push(quoted?.replaceAll('""', '"') ?? plain!);
    at += all.length;
    if (text[at] === ',') at++;
    else {
      assert.equal(text.slice(at, at + 2), '\r\n', `no end of a cell at ${at}`);
      rows.push(row);
      row = [];
      at += 2;
    }
  }
  return rows;
}

const isNumber = (text: string): boolean => /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text);

/** What a spreadsheet would take for a formula, by how it begins (OWASP, CSV Injection): any such text but a number. */
export const isFormula = (text: string): boolean => /^[=+\-@\t\r]/.test(text) && !isNumber(text);

/** A range of two numbers, as limits are: no text of others, and none that runs. */
export const isRange = (cell: string): boolean => {
  const ends = cell.split('..');
  return ends.length === 2 && ends.every(isNumber);
};

interface Sarif {
  readonly version: string;
  readonly runs: readonly {
    readonly tool: { readonly driver: { readonly rules: readonly { readonly id: string }[] } };
    readonly results: readonly {
      readonly ruleId: string;
      readonly ruleIndex: number;
      readonly level: string;
      readonly message: { readonly text: string };
      readonly locations: readonly {
        readonly physicalLocation: {
          readonly artifactLocation: { readonly uri: string };
          readonly region: {
            readonly startLine: number;
            readonly startColumn: number;
            readonly endLine: number;
            readonly endColumn: number;
          };
        };
      }[];
    }[];
  }[];
}

/** What SARIF 2.1.0 asks of results: rules by index (3.27.6), levels (3.27.10), regions from 1 and not backwards (3.30), URIs (3.4.3). */
export function checkSarif(text: string): void {
  const { version, runs } = JSON.parse(text) as Sarif;
  assert.equal(version, '2.1.0');
  for (const { tool, results } of runs) {
    for (const { ruleId, ruleIndex, level, message, locations } of results) {
      assert.equal(tool.driver.rules[ruleIndex]?.id, ruleId);
      assert.ok(['error', 'warning', 'note', 'none'].includes(level));
      assert.notEqual(message.text, '');
      for (const { physicalLocation } of locations) {
        assert.match(physicalLocation.artifactLocation.uri, /^[\w\-.~:/?#[\]@!$&'()*+,;=%]*$/);
        const { startLine, startColumn, endLine, endColumn } = physicalLocation.region;
        assert.ok(startLine >= 1 && startColumn >= 1 && (endLine > startLine || (endLine === startLine && endColumn >= startColumn)));
      }
    }
  }
}

/** Workflow commands: one a line, and each line one. */
export function checkWorkflowCommands(text: string): void {
  for (const line of text.split(/\r\n|\r|\n/).slice(0, -1))
    assert.match(line, /^::(?:error|warning|notice) file=[^,]*,line=\d+,[\w=,-]*::./);
}

const FINDING = ['file', 'line', 'column', 'endLine', 'endColumn', 'severity', 'code', 'message', 'at', 'mends'];

export function checkFindingsJson(text: string): void {
  for (const finding of JSON.parse(text) as object[]) assert.deepEqual(Object.keys(finding), FINDING);
}
