import { copyFileSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { LONGEST_REVIEW } from '../../src/review/markdown';
import { commandLine, ended, project } from './commandLine';

const { folder, bundle, work, nitbook, given } = commandLine();

const SESSION = `nitbook 1

session 2026-03-14
display aurora
  firmware: 2.14.8
contrast pair
    patch   Y
    white   120
    black   0.03
`;
const RIGHT = 'It has [4,000:1](a.nitbook#pair.sequential).\n';
const WRONG = 'It has [3,000:1](a.nitbook#pair.sequential).\n';
const SAID = '"3,000:1" does not hold: Contrast, sequential of pair is 4000:1.';

describe('a review', () => {
  it('that holds is checked, and nothing is said', () => {
    given({ 'a.nitbook': SESSION, 'review.md': RIGHT });
    expect(nitbook(['check', 'review.md'])).toEqual({ code: 0, out: '', err: '1 file: nothing to report\n' });
  });

  it('that does not is told as path:line:column, and 1', () => {
    given({ 'a.nitbook': SESSION, 'review.md': `# Aurora\n\n${WRONG}` });
    expect(nitbook(['check', 'review.md'])).toEqual({
      code: 1,
      out: `review.md:3:9: error claim-wrong: ${SAID}\n`,
      err: '1 file: 1 error\n',
    });
    expect(nitbook(['check', 'review.md', '--fail-on', 'never']).code).toBe(0);
  });

  it('is found in folders, beside sessions; other Markdown is passed over', () => {
    given({
      'a.nitbook': SESSION,
      'review.md': WRONG,
      'sub/review.md': WRONG.replace('(a', '(../a'),
      'README.md': 'See `a.nitbook#pair.sequential`, [the day](a.nitbook) and 505 nits.\n',
      'node_modules/x.md': WRONG,
    });
    const { out, err } = nitbook(['check', '.']);
    expect(out).toBe(`review.md:1:9: error claim-wrong: ${SAID}\nsub/review.md:1:9: error claim-wrong: ${SAID}\n`);
    expect(err).toBe('3 files: 2 errors\n');
    expect(nitbook(['check', 'README.md'])).toEqual({ code: 0, out: '', err: '1 file: nothing to report\n' });
  });

  it('finds its session again where so many were checked before it that this one is kept no more', () => {
    const many = Array.from({ length: 100 }, (_, i) => [`m${i}.nitbook`, SESSION] as const);
    given({ 'a.nitbook': SESSION, ...Object.fromEntries(many), 'z.md': WRONG });
    const { out, err } = nitbook(['check', '.']);
    expect(out).toBe(`z.md:1:9: error claim-wrong: ${SAID}\n`);
    expect(err).toBe('102 files: 1 error\n');
  });

  it('alone makes a folder worth checking, other Markdown does not', () => {
    given({ 'a.nitbook': SESSION, 'text/review.md': RIGHT.replace('(a', '(../a'), 'notes/README.md': 'No figures.\n' });
    expect(nitbook(['check', 'text']).code).toBe(0);
    expect(nitbook(['check', 'notes'])).toEqual({ code: 2, out: '', err: 'nitbook: notes: this folder holds no .nitbook file\n' });
  });

  it('is understood from the root: a leading / is it, and nothing is read above it', () => {
    given({ 'a.nitbook': SESSION, 'sub/review.md': WRONG.replace('(a', '(/a') + WRONG.replace('(a', '(../../a') });
    expect(nitbook(['check', 'sub']).out).toBe(
      `sub/review.md:1:9: error claim-wrong: ${SAID}\n` +
        `sub/review.md:2:18: error link-file: ../../a.nitbook: it lies outside the folder ${work}, from which nothing is read.\n`,
    );
    // With a folder of its own as the root, / is that one.
    expect(nitbook(['check', '--root', 'sub', 'sub']).out).toContain('error link-file: /a.nitbook: there is no such file.');
  });

  it('reads nothing through a link that leaves the root, of a file or a folder', () => {
    given({ 'in/a.nitbook': SESSION, 'review.md': '' });
    mkdirSync(join(folder, 'out'), { recursive: true });
    writeFileSync(join(folder, 'out/a.nitbook'), SESSION.replace('120', '90'));
    symlinkSync(join(folder, 'out/a.nitbook'), join(work, 'away.nitbook'));
    symlinkSync(join(folder, 'out'), join(work, 'elsewhere'));
    symlinkSync(join(work, 'in'), join(work, 'near'));
    const of = (path: string) => `[3,000:1](${path}#pair.sequential)\n`;
    writeFileSync(join(work, 'review.md'), of('away.nitbook') + of('elsewhere/a.nitbook') + of('near/a.nitbook'));
    const outside = (path: string) => `${path}: it lies outside the folder ${work}, from which nothing is read.`;
    expect(nitbook(['check', 'review.md']).out).toBe(
      `review.md:1:11: error link-file: ${outside('away.nitbook')}\n` +
        `review.md:2:11: error link-file: ${outside('elsewhere/a.nitbook')}\n` +
        `review.md:3:2: error claim-wrong: ${SAID}\n`,
    );
    // Named by a person, the same file is read.
    expect(nitbook(['check', 'away.nitbook'])).toEqual({ code: 0, out: '', err: '1 file: nothing to report\n' });
  });

  it('names a session that is not there with its neighbour, and one that cannot be read with the reason', () => {
    given({ 'a.nitbook': SESSION, 'b.nitbook': 'a\0b', 'review.md': WRONG.replace('(a', '(aa') + WRONG.replace('(a', '(b') });
    expect(nitbook(['check', 'review.md']).out).toBe(
      'review.md:1:18: error link-file: aa.nitbook: there is no such file. Perhaps a.nitbook?\n' +
        'review.md:2:18: error link-file: b.nitbook: it is no text (line 1 holds a zero byte).\n',
    );
  });

  it('is read with the configuration of its folder, whose mistakes are told with it', () => {
    given({
      'a.nitbook': SESSION,
      'review.md': RIGHT,
      'nitbook.jsonc': '{ "language": "de", "findings": { "claim-wrong": "info" }, "limit": {} }',
    });
    const { code, out } = nitbook(['check', 'review.md']);
    expect(out).toMatch(/^nitbook\.jsonc:1:\d+: warning config-value: .*\nreview\.md:1:9: info claim-wrong: "4,000:1" does not hold/);
    expect(code).toBe(1);
  });

  it('that cannot be read is no finding but a reason to stop, and so is one as long as a book', () => {
    given({ 'a.nitbook': SESSION, 'bad.md': 'a\0', 'long.md': RIGHT + ' '.repeat(LONGEST_REVIEW) });
    expect(nitbook(['check', 'bad.md'])).toMatchObject({ code: 2, err: expect.stringContaining('bad.md: it is no text') });
    expect(nitbook(['check', 'long.md'])).toMatchObject({
      code: 2,
      err: expect.stringContaining('long.md: it is too long to be read as a review'),
    });
    expect(nitbook(['check', '.']).code).toBe(2);
  });

  it('has its findings as JSON, SARIF and annotations too', () => {
    given({ 'a.nitbook': SESSION, 'review.md': WRONG });
    expect(JSON.parse(nitbook(['check', 'review.md', '--format', 'json']).out)).toEqual([
      {
        file: 'review.md',
        line: 1,
        column: 9,
        endLine: 1,
        endColumn: 16,
        severity: 'error',
        code: 'claim-wrong',
        message: SAID,
        at: 'a.nitbook#pair.sequential',
        mends: ['Write 4,000:1'],
      },
    ]);
    expect(nitbook(['check', 'review.md', '--format', 'github']).out).toBe(
      `::error file=review.md,line=1,endLine=1,col=9,endColumn=16,title=claim-wrong::${SAID}\n`,
    );
    const [run] = JSON.parse(nitbook(['check', 'review.md', '--format', 'sarif']).out).runs;
    expect(run.results).toMatchObject([
      {
        ruleId: 'claim-wrong',
        level: 'error',
        locations: [{ physicalLocation: { artifactLocation: { uri: 'review.md', uriBaseId: 'ROOT' } } }],
      },
    ]);
  });
});

describe('the problem matcher', () => {
  const [matcher] = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8')).contributes.problemMatchers;

  it('reads what check says as text: every line of it', () => {
    given({ 'a.nitbook': SESSION.replace('nitbook 1\n', '').replace('0.03', '-0.03'), 'my review.md': `${WRONG}\n505 nits\n` });
    const lines = nitbook(['check', '.']).out.trimEnd().split('\n');
    const pattern = new RegExp(matcher.pattern.regexp);
    const read = lines.map((line) => {
      const found = pattern.exec(line)!;
      const { file, line: row, column, severity, code, message } = matcher.pattern;
      return [file, row, column, severity, code, message].map((group: number) => found[group]);
    });
    expect(read.map((each) => each.slice(0, 5))).toEqual([
      ['a.nitbook', '2', '1', 'warning', 'version-missing'],
      ['a.nitbook', '8', '13', 'error', 'reading-negative'],
      ['my review.md', '1', '9', 'warning', 'claim-not-computed'],
      ['my review.md', '3', '1', 'info', 'claim-unlinked'],
    ]);
    expect(read[3]![5]).toBe('"505 nits" is linked to no figure of a session.');
    expect(matcher).toMatchObject({ name: 'nitbook', owner: 'nitbook', fileLocation: ['autoDetect', `\${workspaceFolder}`] });
  });
});

/** A repository of its own, with the bench days and their reviews. */
function repository(): string {
  const repo = join(folder, 'repo');
  rmSync(repo, { recursive: true, force: true });
  mkdirSync(repo);
  git(repo, 'init', '-q');
  for (const name of ['aurora-55.nitbook', 'aurora-55.md', 'meadow-65.nitbook', 'meadow-65.md']) {
    copyFileSync(join(project, 'examples', name), join(repo, name));
  }
  return repo;
}

const env = () => ({ ...process.env, NITBOOK: `${process.execPath} ${bundle}` });
const git = (repo: string, ...args: string[]) =>
  ended('git', ['-c', 'user.name=Bench', '-c', 'user.email=bench@halden.example', ...args], { cwd: repo, env: env() });
const rewrite = (repo: string, name: string, change: (text: string) => string) =>
  writeFileSync(join(repo, name), change(readFileSync(join(repo, name), 'utf8')));

describe('the hook of the examples', () => {
  it('lets a commit pass while all claims hold, and refuses it when one falls', () => {
    const repo = repository();
    git(repo, 'config', 'core.hooksPath', join(project, 'examples/hooks'));
    git(repo, 'add', '.');
    expect(git(repo, 'commit', '-q', '-m', 'Two bench days')).toMatchObject({ code: 0 });

    // The peak is read again after an update of the firmware.
    rewrite(repo, 'aurora-55.nitbook', (text) => text.replace(/^( {8}10 {2})\d+\.\d$/m, '$1700.0'));
    const { code, out, err } = git(repo, 'commit', '-q', '-a', '-m', 'Read again');
    expect(code).toBe(1);
    expect(out + err).toMatch(
      /aurora-55\.md:\d+:\d+: error claim-wrong: "815 cd\/m²" does not hold: Peak @10 % of hdr-window is \d+ cd\/m²\./,
    );
    expect(git(repo, 'log', '--oneline').out.trim().split('\n')).toHaveLength(1);

    // What counts is what would be committed: the old session in the folder helps nothing.
    rewrite(repo, 'aurora-55.nitbook', () => readFileSync(join(project, 'examples/aurora-55.nitbook'), 'utf8'));
    expect(git(repo, 'commit', '-q', '-m', 'Read again').code).toBe(1);
    git(repo, 'add', '.');
    writeFileSync(join(repo, 'notes.md'), 'No figures here.\n');
    git(repo, 'add', '.');
    expect(git(repo, 'commit', '-q', '-m', 'Notes').code).toBe(0);
  });

  it('says nothing in a repository without sessions', () => {
    const repo = join(folder, 'plain');
    mkdirSync(repo);
    git(repo, 'init', '-q');
    git(repo, 'config', 'core.hooksPath', join(project, 'examples/hooks'));
    writeFileSync(join(repo, 'README.md'), 'Nothing.\n');
    git(repo, 'add', '.');
    expect(git(repo, 'commit', '-q', '-m', 'Nothing')).toEqual({ code: 0, out: '', err: '' });
  });
});

describe('the job of the examples', () => {
  const job = parse(readFileSync(join(project, 'examples/ci/notebooks.yml'), 'utf8')).jobs.check;
  const steps: readonly { readonly name: string; readonly run: string }[] = job.steps.filter(({ run }: { run?: string }) => run);
  const play = (repo: string) => steps.map(({ run }) => ended('sh', ['-c', run], { cwd: repo, env: env() }));

  it('passes while all claims hold, and annotates the review where one falls', () => {
    const repo = repository();
    expect(steps.map(({ name }) => name)).toEqual(['Sessions and reviews', 'Canonical layout']);
    expect(Object.keys(job.env)).toEqual(['NITBOOK']);
    expect(play(repo).map(({ code }) => code)).toEqual([0, 0]);
    rewrite(repo, 'meadow-65.md', (text) => text.replaceAll('1243 cd/m²', '1342 cd/m²'));
    const [check] = play(repo);
    expect(check!.code).toBe(1);
    expect(check!.out).toMatch(
      /^::error file=meadow-65\.md,line=\d+,endLine=\d+,col=\d+,endColumn=\d+,title=claim-wrong::"1342 cd\/m²" does not hold/,
    );
  });
});
