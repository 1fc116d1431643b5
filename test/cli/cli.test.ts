import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, linkSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { inSlices } from '../../src/editor/intervals';
import { analyse, intervals } from '../../src/project/analysis';
import { summaryJson } from '../../src/report/json';
import { SessionText } from '../../src/session/sessionText';
import { CODES } from '../../src/text/codes';
import { commandLine, project } from './commandLine';
import { REFUSED, sessionOf } from './refusals';

/** Nobody, so that permissions hold where the tests run as root; else who runs them. */
const nobody = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};

const { bundle, work, nitbook, given } = commandLine();

const clean = `nitbook 1

session 2026-03-14
display aurora
  firmware: 2.14.8
contrast pair
    patch   Y
    white   120
    black   0.03
`;
const falls = clean.replace('    black   0.03\n', '    black   -0.03\n');
const negative = 'Y is -0.03: a luminance is not negative. Below the floor of the meter write <n.';
const unmeasured = clean.replace('    black   0.03\n', '    black   ?\n');

describe('check', () => {
  it('says nothing of a clean session, and 0', () => {
    given({ 'a.nitbook': clean });
    expect(nitbook(['check', 'a.nitbook'])).toEqual({ code: 0, out: '', err: '1 file: nothing to report\n' });
  });

  it('gives path:line:column, severity, code and sentence, and 1', () => {
    given({ 'a.nitbook': falls });
    expect(nitbook(['check', 'a.nitbook'])).toEqual({
      code: 1,
      out: `a.nitbook:9:13: error reading-negative: ${negative}\n`,
      err: '1 file: 1 error\n',
    });
  });

  it.each([
    ['a.nitbook', 'info', 1],
    ['a.nitbook', 'warning', 0],
    ['a.nitbook', 'error', 0],
    ['a.nitbook', 'never', 0],
    ['b.nitbook', 'info', 1],
    ['b.nitbook', 'warning', 1],
    ['b.nitbook', 'error', 0],
    ['c.nitbook', 'error', 1],
    ['c.nitbook', 'never', 0],
  ])('%s fails on %s: %i', (file, severity, code) => {
    given({ 'a.nitbook': unmeasured, 'b.nitbook': clean.replace('nitbook 1\n', ''), 'c.nitbook': falls });
    const { out, code: ended } = nitbook(['check', file, '--fail-on', severity]);
    expect(out.split('\n').length).toBeGreaterThan(1);
    expect(ended).toBe(code);
  });

  it('walks folders in the order of names, past node_modules, dot folders and links', () => {
    given({
      'b.nitbook': falls,
      'a/z.nitbook': falls,
      'a/a.nitbook': falls,
      'a/notes.md': '',
      'node_modules/m/x.nitbook': falls,
      '.cache/x.nitbook': falls,
      '.x.nitbook': falls,
    });
    symlinkSync(work, join(work, 'circle'));
    symlinkSync(join(work, 'b.nitbook'), join(work, 'linked.nitbook'));
    const files = (args: string[]) =>
      nitbook(['check', ...args])
        .out.trim()
        .split('\n')
        .map((line) => line.split(':')[0]);
    expect(files(['.'])).toEqual(['.x.nitbook', 'a/a.nitbook', 'a/z.nitbook', 'b.nitbook']);
    expect(files(['./a', 'b.nitbook', 'a/a.nitbook'])).toEqual(['a/a.nitbook', 'a/z.nitbook', 'b.nitbook']);
    expect(files([work])[1]).toBe(`${work}/a/a.nitbook`);
  });

  it('says what is found in the order of the files, whichever is read first, and of those that cannot be read all', () => {
    const names = Array.from({ length: 50 }, (_, i) => `${String(i).padStart(2, '0')}.nitbook`);
    // The first ones are long, some are no text, and one is judged by a configuration that has mistakes.
    const long = `${falls}${'# more\n'.repeat(100_000)}`;
    const files = names.map((name, i) => [name, i % 10 === 7 ? Uint8Array.of(0xff, 0) : i < 5 ? long : falls] as const);
    given({ ...Object.fromEntries(files), 'sub/nitbook.jsonc': '{ "x": 1 }', 'sub/a.nitbook': clean });
    const { code, out, err } = nitbook(['check', '.']);
    const told = (text: string) => text.split('\n').map((line) => line.replace(/^nitbook: /, '').split(':')[0]);
    const isText = (name: string) => name[1] !== '7';
    expect([...new Set(told(out))]).toEqual([...names.filter(isText), 'sub/nitbook.jsonc', '']);
    expect(told(err)).toEqual([...names.filter((name) => !isText(name)), '47 files', '']);
    expect(code).toBe(2);
    const again = nitbook(['check', ...[...names.filter(isText)].reverse(), '--format', 'json']);
    const order = (JSON.parse(again.out) as { file: string }[]).map(({ file }) => file);
    expect([...new Set(order)]).toEqual([...names.filter(isText)].reverse());
    expect(again.code).toBe(1);
  });

  it('reports the configuration that a session is judged by, and takes its severities', () => {
    given({ 'sub/a.nitbook': falls, 'nitbook.jsonc': '{ "findings": { "reading-negative": "info" }, "limit": {} }\n' });
    const { code, out, err } = nitbook(['check', 'sub']);
    expect(out).toBe(
      'nitbook.jsonc:1:47: warning config-value: The keys here are limits, findings, plans and language, not "limit". It is not used. Perhaps limits?\n' +
        `sub/a.nitbook:9:13: info reading-negative: ${negative}\n`,
    );
    expect([code, err]).toEqual([1, '2 files: 1 warning, 1 info\n']);
    expect(nitbook(['check', 'nitbook.jsonc', '--fail-on', 'error']).code).toBe(0);
  });

  it('counts lines and columns as editors do: CRLF, CR, UTF-16, no byte order mark', () => {
    given({ 'a.nitbook': `\uFEFF  nitbook 1\r\rsession 2026-03-14\r\n  title: 😀  \r\n😀 oops\r\n` });
    const { out } = nitbook(['check', 'a.nitbook', '--format', 'json']);
    const places = (JSON.parse(out) as { line: number; column: number; endColumn: number; code: string }[]).map(
      ({ code, line, column, endColumn }) => `${code} ${line}:${column}-${endColumn}`,
    );
    expect(places).toContain('line-unread 5:1-8');
  });

  it('gives JSON as documented', () => {
    given({ 'a.nitbook': clean.replace('120', '1,20') });
    const { code, out, err } = nitbook(['check', 'a.nitbook', '--format', 'json']);
    expect([code, err]).toEqual([1, '']);
    expect(JSON.parse(out)).toEqual([
      {
        file: 'a.nitbook',
        line: 8,
        column: 13,
        endLine: 8,
        endColumn: 17,
        severity: 'warning',
        code: 'decimal-comma',
        message: 'Numbers take a decimal point: "1,20" is not read, as the comma may also part thousands.',
        at: 'pair/row/0/Y',
        mends: ['Write 1.20'],
      },
    ]);
  });

  it('gives workflow commands that no name can break out of', () => {
    const name = 'a, b: 100%\n::error::x.nitbook';
    given({ [name]: falls });
    const { out } = nitbook(['check', '.', '--format', 'github']);
    expect(out).toBe(
      '::error file=a%2C b%3A 100%25%0A%3A%3Aerror%3A%3Ax.nitbook,line=9,endLine=9,col=13,endColumn=18,title=reading-negative' +
        `::${negative}\n`,
    );
    given({ 'a.nitbook': unmeasured });
    expect(nitbook(['check', '.', '--format', 'github']).out).toMatch(/^::notice file=a.nitbook,line=9,.*,title=readings-to-take::/);
  });

  it('gives a SARIF 2.1.0 log', () => {
    given({ 'sub/a b%.nitbook': falls, 'nul.nitbook': 'a\0' });
    const { code, out } = nitbook(['check', '.', '--format', 'sarif']);
    expect(code).toBe(2);
    const log = JSON.parse(out);
    expect(log.version).toBe('2.1.0');
    expect(log.$schema).toContain('sarif-schema-2.1.0.json');
    const [run, ...others] = log.runs;
    expect(others).toEqual([]);
    const { name, version, rules } = run.tool.driver;
    expect([name, version, run.columnKind]).toEqual(['nitbook', '1.2.3', 'utf16CodeUnits']);
    expect(rules.map(({ id }: { id: string }) => id)).toEqual(Object.keys(CODES));
    for (const rule of rules) {
      expect(rule.shortDescription.text).toMatch(/\.$/);
      expect(['error', 'warning', 'note']).toContain(rule.defaultConfiguration.level);
    }
    expect(run.originalUriBaseIds).toEqual({ ROOT: { uri: `${pathToFileURL(work).href}/` } });
    expect(run.invocations).toEqual([
      {
        executionSuccessful: false,
        toolExecutionNotifications: [{ level: 'error', message: { text: 'nul.nitbook: it is no text (line 1 holds a zero byte)' } }],
      },
    ]);
    const [result] = run.results;
    expect(rules[result.ruleIndex].id).toBe(result.ruleId);
    expect({ ...result, ruleIndex: 0 }).toEqual({
      ruleId: 'reading-negative',
      ruleIndex: 0,
      level: 'error',
      message: { text: negative },
      locations: [
        {
          physicalLocation: {
            artifactLocation: { uri: 'sub/a%20b%25.nitbook', uriBaseId: 'ROOT' },
            region: { startLine: 9, startColumn: 13, endLine: 9, endColumn: 18 },
          },
          logicalLocations: [{ fullyQualifiedName: 'pair/row/1/Y' }],
        },
      ],
    });
  });

  it('paints nothing into a pipe, whatever the terminal is called', () => {
    given({ 'a.nitbook': falls });
    expect(nitbook(['check', 'a.nitbook']).out).not.toContain('\u001B');
  });

  it('lets neither names nor contents drive the terminal', () => {
    given({ 'a\u001B[2J\nb.nitbook': clean.replace('120', '\u001B[31m1,2') });
    const { out, err } = nitbook(['check', '.']);
    expect(out.trimEnd().split('\n')).toHaveLength(1);
    expect(out).toContain('a\uFFFD[2J\uFFFDb.nitbook:8:13: ');
    expect(out + err).not.toContain('\u001B');
  });

  it('finds in the examples what their record says', () => {
    const record = JSON.parse(readFileSync(join(project, 'test/examples/bench-mistakes.json'), 'utf8')) as Record<string, unknown>;
    expect(Object.keys(record).length).toBeGreaterThan(0);
    expect(nitbook(['check', 'examples/aurora-55.nitbook', 'examples/meadow-65.nitbook'], project).code).toBe(0);
    expect(nitbook(['check', 'examples'], project).code).toBe(1);
  });
});

describe('a file that cannot be read', () => {
  const files = {
    'nul.nitbook': 'nitbook 1\n\0',
    'latin.nitbook': Uint8Array.from([0x6e, 0x0a, 0xe9, 0x0a]),
    'wide.nitbook': Uint8Array.from([0xff, 0xfe, 0x6e, 0]),
    'folder.nitbook/x.txt': '',
  };
  const sentences: readonly (readonly [string, string])[] = [
    ['missing.nitbook', 'there is no such file'],
    ['missing/deep.nitbook', 'there is no such file'],
    ['nul.nitbook/deep.nitbook', 'there is no such file'],
    ['nul.nitbook', 'it is no text (line 2 holds a zero byte)'],
    ['latin.nitbook', 'it is not UTF-8 (line 2 holds bytes that are no text): save it as UTF-8'],
    ['wide.nitbook', 'it is written in UTF-16: save it as UTF-8'],
    ['loop.nitbook', 'it cannot be read (links that go in a circle)'],
  ];

  it.each(sentences)('%s: %s', (name, sentence) => {
    given(files);
    symlinkSync('loop.nitbook', join(work, 'loop.nitbook'));
    for (const args of [
      ['summary', name],
      ['check', name],
      ['format', name],
      ['value', `${name}#grey.de.max`],
    ]) {
      expect(nitbook(args)).toEqual({
        code: 2,
        out: '',
        err: `nitbook: ${name}: ${sentence}\n${args[0] === 'check' ? '0 files: nothing to report\n' : ''}`,
      });
    }
  });

  it('is a folder, or of another kind', () => {
    given(files);
    expect(nitbook(['summary', 'folder.nitbook'])).toMatchObject({
      code: 2,
      err: 'nitbook: folder.nitbook: this is a folder, expected a file\n',
    });
    expect(nitbook(['check', 'folder.nitbook']).err).toBe('nitbook: folder.nitbook: this folder holds no .nitbook file\n');
    expect(nitbook(['check', 'folder.nitbook/x.txt'])).toMatchObject({
      code: 2,
      err: 'nitbook: folder.nitbook/x.txt: expected a folder, a .nitbook file, a Markdown file (.md) or nitbook.jsonc\n',
    });
    expect(nitbook(['summary', 'folder.nitbook/x.txt']).err).toBe('nitbook: folder.nitbook/x.txt: expected a .nitbook file\n');
  });

  it('is neither file nor folder: a pipe that nobody writes to', () => {
    given();
    spawnSync('mkfifo', [join(work, 'pipe.nitbook')]);
    expect(nitbook(['summary', 'pipe.nitbook'])).toEqual({
      code: 2,
      out: '',
      err: 'nitbook: pipe.nitbook: this is neither a file nor a folder\n',
    });
  });

  it('holds more than 50 MB', () => {
    given({ 'big.nitbook': new Uint8Array(50_000_001).fill(0x20) });
    expect(nitbook(['summary', 'big.nitbook'])).toEqual({
      code: 2,
      out: '',
      err: 'nitbook: big.nitbook: it holds 50.1 MB, more than the 50 MB that are read\n',
    });
  });

  it('is not ours to read', () => {
    given({ 'a.nitbook': clean });
    chmodSync(join(work, 'a.nitbook'), 0);
    expect(nitbook(['summary', 'a.nitbook'], work, nobody)).toEqual({
      code: 2,
      out: '',
      err: 'nitbook: a.nitbook: it cannot be read (no permission)\n',
    });
  });

  it('lies in a folder that is not ours to look through', () => {
    given({ 'a.nitbook': clean, 'sub/b.nitbook': clean });
    chmodSync(join(work, 'sub'), 0);
    expect(nitbook(['check', '.'], work, nobody)).toMatchObject({ code: 2, err: 'nitbook: ./sub: this folder cannot be read\n' });
  });

  it('does not keep others from being checked, and is what the code says', () => {
    given({ ...files, 'a.nitbook': falls });
    const { code, out, err } = nitbook(['check', '.']);
    expect(code).toBe(2);
    expect(out).toMatch(/^a.nitbook:9:13: error reading-negative/);
    expect(err).toMatch(/^nitbook: latin.nitbook: .*\nnitbook: nul.nitbook: .*\nnitbook: wide.nitbook: .*\n1 file: 1 error\n$/);
  });

  it('is the configuration: nothing is judged by another', () => {
    given({ 'a.nitbook': clean, 'nitbook.jsonc': '\0' });
    for (const args of [
      ['check', 'a.nitbook'],
      ['summary', 'a.nitbook'],
      ['value', 'a.nitbook#pair.sequential'],
    ]) {
      const { code, err } = nitbook(args);
      expect(code).toBe(2);
      expect(err).toMatch(/^nitbook: (?:.*\/)?nitbook\.jsonc: it is no text \(line 1 holds a zero byte\)\n/);
    }
  });
});

describe('summary', () => {
  it('prints the bench report', () => {
    given({ 'a.nitbook': clean });
    expect(nitbook(['summary', 'a.nitbook'])).toEqual({
      code: 0,
      out: `a.nitbook, 2026-03-14
display aurora, firmware 2.14.8

contrast pair
    Contrast, sequential   4000:1         within ·, aim met   limit 500:1, aim 2000:1
    Black                  0.0300 cd/m²   within ·, aim met   limit 0.4 cd/m², aim 0.05 cd/m²

Findings: none.
`,
      err: '',
    });
  });

  it('prints Markdown, JSON and CSV of the same figures', () => {
    given({ 'a.nitbook': clean });
    expect(nitbook(['summary', 'a.nitbook', '--format', 'md']).out).toContain(
      '| Contrast, sequential | 4000:1 | within\u00a0·, aim met | 500:1 | 2000:1 |\n',
    );
    const json = JSON.parse(nitbook(['summary', 'a.nitbook', '--format', 'json']).out);
    expect(json).toMatchObject({
      file: 'a.nitbook',
      runs: [
        { id: 'pair', kind: 'contrast', against: '', measures: { sequential: { value: 4000, verdict: 'within', aim: 2000, limit: 500 } } },
      ],
    });
    expect(nitbook(['summary', 'a.nitbook', '--format', 'csv']).out).toContain(
      '\r\na.nitbook,pair,contrast,sequential,,4000,:1,within,2000,500,,,,,,,\r\n',
    );
  });

  it('is whole through a pipe, however long', () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => `    ${(i + 1) / 200}  100\n`).join('');
    given({ 'a.nitbook': `nitbook 1\nsession 2026-03-14\nwindow w\n    window  Y\n${rows}` });
    const json = JSON.parse(nitbook(['summary', 'a.nitbook', '--format', 'json']).out);
    expect(json.runs[0].rows).toHaveLength(20_000);
  });

  it('ends without complaint when its reader has seen enough', async () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => `    ${(i + 1) / 200}  100\n`).join('');
    given({ 'a.nitbook': `nitbook 1\nsession 2026-03-14\nwindow w\n    window  Y\n${rows}` });
    const child = spawn(process.execPath, [bundle, 'summary', 'a.nitbook', '--format', 'json'], { cwd: work });
    let err = '';
    child.stderr.on('data', (data) => {
      err += data;
    });
    child.stdout.once('data', () => child.stdout.destroy());
    const code = await new Promise((done) => child.on('close', done));
    expect([code, err]).toEqual([0, '']);
  });
});

describe('intervals', () => {
  const file = 'examples/aurora-55.nitbook';
  const json = (...more: string[]) => JSON.parse(nitbook(['summary', file, '--format', 'json', ...more], project).out);

  it('are those that an editor comes to in slices, with verdicts and changes, of rows too', async () => {
    const analysis = analyse(SessionText.read(readFileSync(join(project, file), 'utf8')), NO_CONFIG);
    expect(await inSlices(intervals(analysis), () => true)).toBe(true);
    const printed = json('--row-intervals');
    expect(printed).toEqual(JSON.parse(JSON.stringify(summaryJson(analysis, file, { rowIntervals: true }))));
    expect(printed.changes.length).toBeGreaterThan(0);
    expect(printed.runs[1].rows[0].intervals.de).toHaveLength(2);
  });

  it('of rows are printed when they are asked for', () => {
    expect(json().runs[1].rows[0]).not.toHaveProperty('intervals');
  });
});

describe('value', () => {
  const at = (reference: string, ...more: string[]) => nitbook(['value', `a.nitbook#${reference}`, ...more]);

  it('prints one figure with its limits, or the number alone', () => {
    given({ 'a.nitbook': clean.replace('0.03', '0.07') });
    expect(at('pair.sequential')).toEqual({
      code: 0,
      out: 'Contrast, sequential 1714:1 — within ·; limit 500:1, aim 2000:1. Judged by the number alone: the run names no meter.\n',
      err: '',
    });
    expect(at('pair.sequential', '--raw')).toEqual({ code: 0, out: `${120 / 0.07}\n`, err: '' });
    expect(at('aurora.firmware')).toEqual({ code: 0, out: '2.14.8\n', err: '' });
  });

  it('says what it is against', () => {
    expect(nitbook(['value', 'examples/aurora-55.nitbook#grey.de.max'], project).out).toBe(
      "ΔE 2000 maximum 3.40 (0.83 … 6.20) — undecided ≈; limit 3 (session), aim 1; against dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark). 3.40 lies within the meter's uncertainty of the limit 3 (session).\n",
    );
  });

  it('gives a row its interval, and the number alone without', () => {
    const row = 'examples/aurora-55.nitbook#grey.de@30';
    expect(nitbook(['value', row], project).out).toMatch(/^ΔE 2000 @30 %: 0\.70 \(0\.00 … \d\.\d\d\); against/);
    expect(nitbook(['value', row, '--raw'], project).out).toMatch(/^0\.70\d+\n$/);
  });

  it('is 1 when there is no number, with the reason', () => {
    given({ 'a.nitbook': clean });
    expect(at('pair.checkerboard')).toEqual({
      code: 1,
      out: '',
      err: 'nitbook: a.nitbook#pair.checkerboard: not computed: it needs the patch checker-white\n',
    });
    expect(at('pair.checkerboard', '--raw')).toMatchObject({ code: 1, out: '' });
  });

  it('is 2 when the reference leads nowhere, with what is near', () => {
    given({ 'a.nitbook': clean });
    expect(at('pair.sequentiel')).toEqual({
      code: 2,
      out: '',
      err: 'nitbook: a.nitbook#pair.sequentiel: A contrast run has no measure "sequentiel". Perhaps sequential?\n',
    });
    expect(nitbook(['value', 'a.nitbook'])).toMatchObject({ code: 2, err: expect.stringContaining('Expected # between') });
    expect(nitbook(['value', '#pair.sequential'])).toMatchObject({
      code: 2,
      err: expect.stringContaining('expected a session file before the #'),
    });
  });

  it('reads from the root with a leading /, which is the nearest nitbook.jsonc, else .git, else this folder', () => {
    given({ 'a.nitbook': clean, 'sub/a.nitbook': clean.replace('0.03', '0.06'), 'sub/deep/x.txt': '' });
    const raw = (reference: string, ...more: string[]) => nitbook(['value', reference, '--raw', ...more], join(work, 'sub/deep'));
    expect(raw('/a.nitbook#pair.sequential').out).toBe('4000\n');
    expect(raw('../a.nitbook#pair.sequential').out).toBe('2000\n');
    expect(raw('/a.nitbook#pair.sequential', '--root', '..').out).toBe('2000\n');
    writeFileSync(join(work, 'sub/nitbook.jsonc'), '{}');
    expect(raw('/a.nitbook#pair.sequential').out).toBe('2000\n');
    expect(raw('/b.nitbook#pair.sequential').err).toBe(
      `nitbook: /b.nitbook: there is no such file; a leading / means ${join(work, 'sub')}\n`,
    );
    expect(raw('/a.nitbook#pair.sequential', '--root', 'nowhere').err).toBe('nitbook: nowhere: expected a folder for --root\n');
  });

  it('never leaves the root, by .. or by a link', () => {
    given({ 'root/x.txt': '', 'outside.nitbook': clean });
    symlinkSync('../outside.nitbook', join(work, 'root/link.nitbook'));
    symlinkSync('..', join(work, 'root/up'));
    for (const path of ['../outside.nitbook', 'link.nitbook', 'up/outside.nitbook', '/../outside.nitbook']) {
      const { code, out, err } = nitbook(['value', `${path}#pair.sequential`, '--root', '.'], join(work, 'root'));
      expect([code, out]).toEqual([2, '']);
      expect(err).toMatch(path.startsWith('/..') ? /Expected the name of a folder/ : /lies outside the folder/);
    }
  });
});

describe('format', () => {
  const loose = clean.replaceAll('    patch', ' patch').replaceAll('    white   120', ' white 120');

  it('rewrites what is not in the canonical layout, and names it', () => {
    given({ 'a.nitbook': loose, 'b.nitbook': clean });
    chmodSync(join(work, 'a.nitbook'), 0o640);
    expect(nitbook(['format', '.'])).toEqual({ code: 0, out: 'a.nitbook\n', err: '' });
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(clean);
    expect(statSync(join(work, 'a.nitbook')).mode & 0o777).toBe(0o640);
    expect(readdirSync(work).sort()).toEqual(['.git', 'a.nitbook', 'b.nitbook']);
    expect(nitbook(['format'])).toEqual({ code: 0, out: '', err: '' });
  });

  it('with --check lists what would change, changes nothing, and ends with 1', () => {
    given({ 'a.nitbook': loose, 'b.nitbook': clean });
    expect(nitbook(['format', '--check', '.'])).toEqual({ code: 1, out: 'a.nitbook\n', err: '' });
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(loose);
    expect(nitbook(['format', '--check', 'b.nitbook']).code).toBe(0);
  });

  it('looks through no folder outside the root, by its name or by a link; a file that is named is meant', () => {
    given({ 'project/.git/x': '', 'project/sub/a.nitbook': clean, 'beside.nitbook': loose });
    const project = join(work, 'project');
    symlinkSync(work, join(project, 'out'));
    const says = (folder: string) => ({
      code: 2,
      out: '',
      err: `nitbook: ${folder}: this folder lies outside ${project}; name its files, or give it as --root\n`,
    });
    for (const folder of ['..', work, 'out', 'sub/../..']) expect(nitbook(['format', folder], project)).toEqual(says(folder));
    expect(nitbook(['format', '--check', '/'], project)).toEqual(says('/'));
    expect(readFileSync(join(work, 'beside.nitbook'), 'utf8')).toBe(loose);
    expect(nitbook(['format', '..'], join(project, 'sub'))).toEqual({ code: 0, out: '', err: '' });
    expect(nitbook(['format', '..', '--check', '--root', '..'], project)).toEqual({ code: 1, out: '../beside.nitbook\n', err: '' });
    expect(nitbook(['format', '../beside.nitbook'], project)).toEqual({ code: 0, out: '../beside.nitbook\n', err: '' });
  });

  it('keeps a byte order mark, CRLF and a missing end of the last line', () => {
    const odd = `\uFEFF${loose.replaceAll('\n', '\r\n').trimEnd()}`;
    given({ 'a.nitbook': odd });
    expect(nitbook(['format', 'a.nitbook']).code).toBe(0);
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(`\uFEFF${clean.replaceAll('\n', '\r\n').trimEnd()}`);
  });

  it('refuses a newer version of the format', () => {
    const newer = loose.replace('nitbook 1', 'nitbook 2');
    given({ 'a.nitbook': newer, 'b.nitbook': loose });
    expect(nitbook(['format', '.'])).toEqual({
      code: 2,
      out: 'b.nitbook\n',
      err: 'nitbook: a.nitbook: its version 2 of the format is newer than this program: it is not rewritten\n',
    });
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(newer);
  });

  it('replaces the file that a link leads to, and leaves the link', () => {
    given({ 'sub/a.nitbook': loose });
    symlinkSync('sub/a.nitbook', join(work, 'link.nitbook'));
    expect(nitbook(['format', 'link.nitbook']).code).toBe(0);
    expect(readFileSync(join(work, 'sub/a.nitbook'), 'utf8')).toBe(clean);
    expect(
      readdirSync(work, { withFileTypes: true })
        .find(({ name }) => name === 'link.nitbook')!
        .isSymbolicLink(),
    ).toBe(true);
  });

  it('writes beside the file and moves into its place: another name of the old file keeps the old text', () => {
    given({ 'a.nitbook': loose });
    linkSync(join(work, 'a.nitbook'), join(work, 'old.txt'));
    expect(nitbook(['format', 'a.nitbook']).code).toBe(0);
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(clean);
    expect(readFileSync(join(work, 'old.txt'), 'utf8')).toBe(loose);
  });

  it('leaves the file as it was where it may not write', () => {
    given({ 'a.nitbook': loose });
    chmodSync(join(work, 'a.nitbook'), 0o644);
    chmodSync(work, 0o555);
    const { code, out, err } = nitbook(['format', '.'], work, nobody);
    chmodSync(work, 0o755);
    expect([code, out]).toEqual([2, '']);
    expect(err).toBe('nitbook: a.nitbook: it cannot be written (no permission); it is as it was\n');
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(loose);
  });

  it('formats all files though nobody reads any more which', async () => {
    const names = Array.from({ length: 40 }, (_, i) => `${String(i).padStart(2, '0')}.nitbook`);
    given(Object.fromEntries(names.map((name) => [name, loose])));
    const child = spawn(process.execPath, [bundle, 'format', '.'], { cwd: work, stdio: ['ignore', 'pipe', 'pipe'] });
    child.stdout.destroy();
    child.stderr.destroy();
    expect(await new Promise((resolve) => child.on('exit', resolve))).toBe(0);
    expect(names.filter((name) => readFileSync(join(work, name), 'utf8') !== clean)).toEqual([]);
  });

  it('leaves the file whole when there is no room to write, and nothing beside it', () => {
    // A limit on the size of files stands for a full disk: the write fails half way (setrlimit(2), RLIMIT_FSIZE).
    const long = loose + '# remark\n'.repeat(20_000);
    given({ 'a.nitbook': long });
    const limited = spawnSync('bash', ['-c', `trap '' XFSZ; ulimit -f 8; exec "$0" "$1" format a.nitbook`, process.execPath, bundle], {
      cwd: work,
      encoding: 'utf8',
    });
    expect(limited.status).toBe(2);
    expect(limited.stderr).toMatch(/^nitbook: a\.nitbook: it cannot be written \(the file would be too large\); it is as it was\n$/);
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(long);
    expect(readdirSync(work).sort()).toEqual(['.git', 'a.nitbook']);
  });
});

describe('measures', () => {
  it('prints the table, or that of one kind of run', () => {
    given();
    const all = nitbook(['measures']);
    expect([all.code, all.err]).toEqual([0, '']);
    expect(all.out).toMatch(/^greyscale\n {2}white\.luminance /);
    expect(nitbook(['measures', 'contrast']).out).toMatch(
      /^contrast\n {2}white .*\n {2}black .*\n {2}sequential .*\n {2}checkerboard .*\n$/,
    );
    expect(nitbook(['measures', 'contrast', '--format', 'md']).out).toMatch(/^## contrast\n\n\| Measure \|/);
    const json = JSON.parse(nitbook(['measures', 'contrast', '--format', 'json']).out);
    expect(json.map(({ id }: { id: string }) => id)).toEqual([
      'contrast.white',
      'contrast.black',
      'contrast.sequential',
      'contrast.checkerboard',
    ]);
    expect(nitbook(['measures', 'contrats'])).toMatchObject({ code: 2, out: '' });
  });
});

describe('the command line', () => {
  it('prints version and help, and 0', () => {
    given();
    expect(nitbook(['--version'])).toEqual({ code: 0, out: '1.2.3\n', err: '' });
    for (const args of [['--help'], ['help'], ['help', 'check'], ['check', '--help']]) {
      expect(nitbook(args)).toMatchObject({ code: 0, out: expect.stringContaining('Usage: nitbook'), err: '' });
    }
  });

  it.each([
    [[]],
    [['chek']],
    [['check']],
    [['check', '.', '--format', 'xml']],
    [['check', '.', '--fail-on', 'hint']],
    [['check', '.', '--colour']],
    [['summary']],
    [['summary', 'a.nitbook', 'b.nitbook']],
    [['value']],
    [['\u001B[2J']],
  ])('is 2 for %j, with what was expected', (args) => {
    given();
    const { code, out, err } = nitbook(args);
    expect([code, out]).toEqual([2, '']);
    expect(err).not.toBe('');
    expect(err).not.toContain('\u001B');
  });
});

describe.each(REFUSED)('what cannot be computed: $what', (refused) => {
  const { asked, reason, finding } = refused;
  const ask = () => given({ 'a.nitbook': sessionOf(refused) });

  it('is no number but a reason', () => {
    ask();
    for (const raw of [[], ['--raw']]) {
      const { code, out, err } = nitbook(['value', `a.nitbook#${asked}`, ...raw]);
      expect(code).toBeGreaterThan(0);
      expect(out).toBe('');
      expect(err).toContain(reason);
    }
  });

  it('is a finding', () => {
    ask();
    const found = JSON.parse(nitbook(['check', '--format', 'json', 'a.nitbook']).out) as { code: string }[];
    expect(found.map(({ code }) => code)).toContain(finding);
  });

  it('is no number in the summary for programs, and of a run says why there too', () => {
    ask();
    const [id, measure] = [asked.slice(0, asked.indexOf('.')), asked.slice(asked.indexOf('.') + 1)];
    const { runs } = JSON.parse(nitbook(['summary', '--format', 'json', 'a.nitbook']).out);
    const run = runs.find((one: { id: string }) => one.id === id);
    const [figure, key] = measure.split('@') as [string, string?];
    if (key === undefined) {
      expect(run.measures[figure]?.value ?? null).toBeNull();
      expect([run.measures[figure]?.why, run.why]).toContain(reason);
    } else {
      const rows = run.rows as { key: string; values: Record<string, number | null> }[];
      if (finding === 'limit-row') expect(rows.map((row) => row.key)).not.toContain(key);
      else for (const { values } of rows) expect(values[figure] ?? null).toBeNull();
    }
  });
});
