import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { commandLine } from './commandLine';

const { folder, work, nitbook: run } = commandLine();

beforeEach(() => {
  rmSync(work, { recursive: true, force: true });
  mkdirSync(work);
});

/** No setting of who runs the tests, and no repository above the folder. */
const env = () => ({
  ...process.env,
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_CEILING_DIRECTORIES: folder,
  GIT_AUTHOR_NAME: 'Bench',
  GIT_AUTHOR_EMAIL: 'bench@example.org',
  GIT_COMMITTER_NAME: 'Bench',
  GIT_COMMITTER_EMAIL: 'bench@example.org',
});

function nitbook(args: readonly string[], { cwd = work, path }: { cwd?: string; path?: string } = {}) {
  return run(args, cwd, { env: path === undefined ? env() : { ...env(), PATH: path } });
}

function git(...args: string[]): string {
  const { status, stdout, stderr } = spawnSync('git', args, { cwd: work, encoding: 'utf8', env: env() });
  expect(status, stderr).toBe(0);
  return stdout;
}

function write(name: string, text: string): void {
  mkdirSync(dirname(join(work, name)), { recursive: true });
  writeFileSync(join(work, name), text);
}

function commit(files: Readonly<Record<string, string>>): void {
  for (const [name, text] of Object.entries(files)) write(name, text);
  git('init', '-q', '-b', 'main');
  git('add', '.');
  git('commit', '-q', '-m', 'As measured');
}

const text = `nitbook 1

session 2026-03-14
meter probe
  kind: colorimeter
  spread: 0.0004 xy, 0.5 %
mode cinema
  Picture / Gamma: 2.4

contrast pair
  mode: cinema
    patch   Y
    white   120
    black   0.03
`;
const other = text.replace('Gamma: 2.4', 'Gamma: 2.2').replace('0.03', '0.04');
const sentence = (err: string) => err.replace(/^nitbook: /, '').trimEnd();

describe('diff of two files', () => {
  it('says what changed, and 1', () => {
    write('a.nitbook', text);
    write('b.nitbook', other);
    const { code, out, err } = nitbook(['diff', 'a.nitbook', 'b.nitbook']);
    expect([code, err]).toEqual([1, '']);
    expect(out).toContain('a.nitbook → b.nitbook\n\nmode cinema\n  Picture / Gamma: 2.4 → 2.2\n\ncontrast pair\n  black: Y 0.03 → 0.04\n');
    // 120/0.03 and 120/0.04, by hand.
    expect(out).toContain('  Contrast, sequential 4000 → 3000:1, changed\n');
    expect(nitbook(['diff', 'a.nitbook', 'b.nitbook', '--format', 'md']).out).toContain('\n| Contrast, sequential | 4000:1 | 3000:1 |');
    const json = JSON.parse(nitbook(['diff', 'a.nitbook', 'b.nitbook', '--format', 'json']).out);
    expect(json).toMatchObject({
      matters: true,
      runs: [{ measures: { sequential: { from: 4000, to: 3000, by: 'again', changed: true } } }],
    });
  });

  it('says 0 where nothing matters: comments, blanks, notes, line ends', () => {
    write('a.nitbook', text);
    write('b.nitbook', text.replaceAll('\n', '\r\n').replace('120', '120.0').replace('mode cinema', '# as found\r\nmode cinema'));
    expect(nitbook(['diff', 'a.nitbook', 'b.nitbook'])).toMatchObject({
      code: 0,
      out: expect.stringContaining('No differences that matter'),
    });
    expect(nitbook(['diff', 'a.nitbook', 'a.nitbook'])).toMatchObject({ code: 0, out: expect.stringContaining('No differences.') });
  });

  it.each([
    [['diff'], /missing required argument/],
    [['diff', 'a.nitbook'], /expected two files, OLD and NEW, or --git REV and one file/],
    [['diff', 'a.nitbook', 'a.nitbook', 'a.nitbook'], /expected two files/],
    [['diff', '--git', 'HEAD', 'a.nitbook', 'a.nitbook'], /expected one file with --git/],
    [['diff', 'a.nitbook', 'notes.md'], /notes\.md: expected a \.nitbook file/],
    [['diff', 'a.nitbook', 'none.nitbook'], /none\.nitbook: there is no such file/],
    [['diff', 'a.nitbook', 'a.nitbook', '--format', 'csv'], /Allowed choices are text, md, json/],
  ])('%j cannot run: 2', (args, said) => {
    write('a.nitbook', text);
    const { code, out, err } = nitbook(args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(said);
  });
});

describe('diff with a revision in git', () => {
  it.each(['aurora.nitbook', 'bench day/aurora 55.nitbook', '画面/größe*?.nitbook', '-x.nitbook', "it's $HOME; `ls`.nitbook"])(
    '%s',
    (name) => {
      commit({ [name]: text });
      const shown = `./${name}`;
      expect(nitbook(['diff', '--git', 'HEAD', shown])).toMatchObject({
        code: 0,
        out: expect.stringContaining(`${shown} (HEAD) → ${shown}`),
      });
      write(name, other);
      const { code, out } = nitbook(['diff', '--git', 'HEAD', shown]);
      expect(code).toBe(1);
      expect(out).toContain('Picture / Gamma: 2.4 → 2.2');
      git('commit', '-q', '-a', '-m', 'Again');
      expect(nitbook(['diff', '--git', 'HEAD', shown]).code).toBe(0);
      expect(nitbook(['diff', '--git', 'HEAD~1', shown]).out).toBe(out.replace('(HEAD)', '(HEAD~1)'));
    },
  );

  it('reads the file of the folder it is in, from anywhere, and through a link', () => {
    commit({ 'in/a.nitbook': text, 'a.nitbook': 'nitbook 1\n' });
    write('in/a.nitbook', other);
    const { out } = nitbook(['diff', '--git', 'HEAD', 'in/a.nitbook']);
    expect(out).toContain('black: Y 0.03 → 0.04');
    expect(
      nitbook(['diff', '--git', 'HEAD', 'a.nitbook'], { cwd: join(work, 'in') })
        .out.split('\n')
        .slice(1),
    ).toEqual(out.split('\n').slice(1));
    symlinkSync(join(work, 'in'), join(work, 'linked'));
    expect(nitbook(['diff', '--git', 'HEAD', 'linked/a.nitbook']).out).toContain('black: Y 0.03 → 0.04');
  });

  it('follows a link that was committed, as it led then', () => {
    commit({ 'in/a.nitbook': text, 'in/b.nitbook': other });
    symlinkSync('in/a.nitbook', join(work, 'now.nitbook'));
    symlinkSync('now.nitbook', join(work, 'again.nitbook'));
    symlinkSync(join(work, 'in/a.nitbook'), join(work, 'away.nitbook'));
    symlinkSync('round.nitbook', join(work, 'round.nitbook'));
    git('add', '.');
    git('commit', '-q', '-m', 'Links');
    rmSync(join(work, 'now.nitbook'));
    symlinkSync('in/b.nitbook', join(work, 'now.nitbook'));
    expect(nitbook(['diff', '--git', 'HEAD', 'again.nitbook']).out).toContain('black: Y 0.03 → 0.04');
    for (const name of ['away.nitbook', 'round.nitbook']) {
      rmSync(join(work, name));
      write(name, text);
      expect(nitbook(['diff', '--git', 'HEAD', name])).toEqual({
        code: 2,
        out: '',
        err: `nitbook: ${name}: in HEAD it is a link that leads to no file there\n`,
      });
    }
  });

  it('follows no committed link out of the root that was given', () => {
    commit({ 'out/a.nitbook': text, 'in/b.nitbook': other });
    symlinkSync('../out/a.nitbook', join(work, 'in/a.nitbook'));
    git('add', '.');
    git('commit', '-q', '-m', 'A link');
    rmSync(join(work, 'in/a.nitbook'));
    write('in/a.nitbook', text);
    const { code, out, err } = nitbook(['diff', '--git', 'HEAD', '--root', 'in', 'in/a.nitbook']);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(/^nitbook: in\/a\.nitbook: .*outside/);
    expect(nitbook(['diff', '--git', 'HEAD', '--root', '.', 'in/a.nitbook']).code).toBe(0);
  });

  it.each([
    ['--output=stolen', '--output=stolen: expected a revision, such as HEAD, HEAD~1, a tag or a commit'],
    ['HEAD:a.nitbook', 'HEAD:a.nitbook: expected a revision, such as HEAD, HEAD~1, a tag or a commit'],
    ['v9', 'v9: there is no such revision in the repository of a.nitbook'],
    ['HEAD^{tree}', 'HEAD^{tree}: there is no such revision in the repository of a.nitbook'],
    ['$(touch stolen)', '$(touch stolen): there is no such revision in the repository of a.nitbook'],
  ])('refuses %s in a sentence, and 2', (revision, said) => {
    commit({ 'a.nitbook': text });
    const { code, out, err } = nitbook(['diff', `--git=${revision}`, 'a.nitbook']);
    expect([code, out, sentence(err)]).toEqual([2, '', said]);
    expect(git('status', '--porcelain')).toBe('');
  });

  it('says what git does not have', () => {
    write('a.nitbook', text);
    const said = (...args: Parameters<typeof nitbook>) => {
      const { code, err } = nitbook(...args);
      expect(code).toBe(2);
      return sentence(err);
    };
    expect(said(['diff', '--git', 'HEAD', 'a.nitbook'])).toBe('a.nitbook: git knows no repository that its folder is in');
    git('init', '-q');
    expect(said(['diff', '--git', 'HEAD', 'a.nitbook'])).toBe('HEAD: there is no such revision in the repository of a.nitbook');
    commit({ 'b.nitbook': text });
    write('c.nitbook', text);
    expect(said(['diff', '--git', 'HEAD', 'c.nitbook'])).toBe('c.nitbook: it is not in HEAD');
    expect(said(['diff', '--git', 'HEAD', 'b.nitbook'], { path: '/nonexistent' })).toMatch(/^git is not there/);
    rmSync(join(work, 'b.nitbook'));
    expect(said(['diff', '--git', 'HEAD', 'b.nitbook'])).toBe('b.nitbook: there is no such file');
  });

  it('says of a file that was no text then why it cannot be read', () => {
    commit({ 'a.nitbook': 'nitbook 1\0' });
    write('a.nitbook', text);
    expect(sentence(nitbook(['diff', '--git', 'HEAD', 'a.nitbook']).err)).toBe('a.nitbook: it is no text (line 1 holds a zero byte)');
  });
});

describe('what the README advises for git', () => {
  const readme = readFileSync('README.md', 'utf8');
  const attributes = /^\*\.nitbook .*$/m.exec(readme)?.[0];
  const setting = /^git config (diff\.nitbook\.xfuncname) '(.*)'$/m.exec(readme);

  it('names the run of a changed row in the head of its hunk', () => {
    const run = (id: string, y: string) =>
      `greyscale ${id}\n  mode: cinema\n    level   Y\n${[10, 20, 30, 40, 50, 60].map((level) => `        ${level}  ${y}\n`).join('')}\n`;
    commit({
      '.gitattributes': `${attributes}\n`,
      'a.nitbook': `nitbook 1\n\n${run('grey', '1')}~ ${run('grey-void', '2')}${run('grey-tuned', '3')}`,
    });
    git('config', setting![1]!, setting![2]!);
    const changed = readFileSync(join(work, 'a.nitbook'), 'utf8').replaceAll(/50 {2}(\d)/g, '50  $1.5');
    write('a.nitbook', changed);
    const heads = git('diff', '-U1')
      .match(/^@@.*@@.*$/gm)
      ?.map((head) => head.replace(/^@@.*@@ /, ''));
    expect(heads).toEqual(['greyscale grey', '~ greyscale grey-void', 'greyscale grey-tuned']);
  });

  it('keeps line ends of any editor out of the history', () => {
    commit({ '.gitattributes': `${attributes}\n`, 'a.nitbook': text });
    write('a.nitbook', text.replaceAll('\n', '\r\n'));
    expect(git('diff', '--stat')).toBe('');
    expect(nitbook(['diff', '--git', 'HEAD', 'a.nitbook']).code).toBe(0);
    git('-c', 'core.autocrlf=true', 'checkout', '-q', '-f', 'HEAD', '--', 'a.nitbook');
    expect(readFileSync(join(work, 'a.nitbook'), 'utf8')).toBe(text);
  });
});
