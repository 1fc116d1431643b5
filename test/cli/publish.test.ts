import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { settled } from '../../src/project/analysis';
import { publishedPage } from '../../src/review/publish/page';
import { exampleSource } from '../review/showings';
import { commandLine, type Ended, ended, project } from './commandLine';

const { folder: around, bundle } = commandLine();
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(around, 'w-'));
  mkdirSync(join(folder, '.git'));
  for (const name of ['aurora-55.nitbook', 'meadow-65.nitbook', 'aurora-55.md', 'meadow-65.md'])
    copyFileSync(join(project, 'examples', name), join(folder, name));
});

function nitbook(...args: readonly string[]): Ended {
  return ended(process.execPath, [bundle, 'publish', ...args], { cwd: folder });
}

const write = (name: string, text: string | Uint8Array): void => writeFileSync(join(folder, name), text);
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');
const list = (name: string): string[] => readdirSync(join(folder, name)).sort();

const HOLDS = '# A\n\n[815 cd/m²](aurora-55.nitbook#hdr-window.peak@10)\n';
const WRONG = '[900 cd/m²](aurora-55.nitbook#hdr-window.peak@10) and [815 cd/m²](aurora-55.nitbook#gone.peak)\n';
/** The smallest GIF that there is. */
const PICTURE = Buffer.from('R0lGODlhAQABAAAAACwAAAAAAQABAAA=', 'base64');

describe('nitbook publish', () => {
  it('makes pages of reviews that lead to each other', () => {
    expect(nitbook('aurora-55.md', 'meadow-65.md', '-o', 'out/')).toEqual({
      code: 0,
      out: 'out/aurora-55.html\nout/meadow-65.html\n',
      err: '',
    });
    expect(list('out')).toEqual(['aurora-55.html', 'meadow-65.html']);
    expect(read('out/aurora-55.html')).toContain('<a href="meadow-65.html">Meadow 65</a>');
    expect(read('out/meadow-65.html')).toContain('<a href="aurora-55.html#hdr">');
  });

  it('makes the page that the core makes', () => {
    write('r.md', `${HOLDS}\n![B](aurora-55.nitbook#grey.balance)\n`);
    nitbook('r.md', '-o', 'out/');
    const source = exampleSource('aurora-55');
    const session = source.showing.sessions.session('/w/aurora-55.nitbook');
    // Verdicts and figures hang on intervals.
    if (session?.ok) settled(session.analysis);
    const { html } = publishedPage({ ...source, name: 'r', text: read('r.md') }, { images: new Map(), documents: new Map() });
    expect(read('out/r.html')).toBe(html);
  });

  it('leads to a review that was published before, and names one that was not', () => {
    write('r.md', `${HOLDS}\n[A](aurora-55.md#hdr)\n`);
    expect(nitbook('r.md', '-o', 'out/').err).toBe('nitbook: r.md: aurora-55.md#hdr is not taken along: it stands there as text\n');
    nitbook('aurora-55.md', '-o', 'out/');
    expect(nitbook('r.md', '-o', 'out/')).toMatchObject({ code: 0, err: '' });
    expect(read('out/r.html')).toContain('<a href="aurora-55.html#hdr">A</a>');
  });

  it('writes one file by its name, and Markdown with its figures into a folder', () => {
    write('r.md', `${HOLDS}\n![B](aurora-55.nitbook#grey.balance)\n`);
    expect(nitbook('r.md', '-o', 'page.html').out).toBe('page.html\n');
    expect(read('page.html')).toContain('<title>A</title>');
    expect(nitbook('r.md', '--to', 'md', '-o', 'new/folder/').out).toBe('new/folder/r-grey.balance.svg\nnew/folder/r.md\n');
    expect(read('new/folder/r.md')).toBe('# A\n\n815 cd/m²\n\n![B](r-grey.balance.svg)\n');
    expect(list('new/folder')).toEqual(['r-grey.balance.svg', 'r.md']);
  });

  it('publishes nothing while a claim does not hold, and says which', () => {
    write('r.md', WRONG);
    write('s.md', HOLDS);
    const { code, out, err } = nitbook('s.md', 'r.md', '-o', 'out/');
    expect([code, out]).toEqual([1, '']);
    expect(err.split('\n')).toEqual([
      expect.stringMatching(/^r\.md:1:2: error claim-wrong: "900 cd\/m²" does not hold: /),
      expect.stringMatching(/^r\.md:1:\d+: error link-unknown: There is no "gone" in this session/),
      'nitbook: 2 claims or lines do not hold, so that nothing is published: mend that, or publish it marked with --allow-stale',
      '',
    ]);
    expect(existsSync(join(folder, 'out'))).toBe(false);
  });

  it('publishes them marked when it is told to', () => {
    write('r.md', WRONG);
    const { code, out, err } = nitbook('r.md', '-o', 'out/', '--allow-stale');
    expect([code, out]).toEqual([0, 'out/r.html\n']);
    expect(err).toContain('claim-wrong');
    expect(read('out/r.html')).toContain('▲ does not hold: it is 815 cd/m²');
    expect(read('out/r.html')).toContain('▲ its source is not there');
  });

  it('says what is open, and publishes it', () => {
    write('r.md', '[815 cd/m² when warm](aurora-55.nitbook#hdr-window.peak@10)\n\n```nitbook\ncautions\n\ncautions\n```\n');
    const { code, err } = nitbook('r.md', '-o', 'out/');
    expect(code).toBe(0);
    expect(err).toMatch(/^r\.md:1:2: warning claim-unclear: .*\n$/);
  });

  it('takes pictures of the folder along, and nothing from outside it', () => {
    const outside = mkdtempSync(join(around, 'outside-'));
    writeFileSync(join(outside, 'secret.gif'), PICTURE);
    mkdirSync(join(folder, 'img'));
    write('img/bench 1.gif', PICTURE);
    write('img/notes.txt', 'no picture');
    symlinkSync(join(outside, 'secret.gif'), join(folder, 'img/linked.gif'));
    const pictures = [
      'img/bench%201.gif',
      '/img/bench%201.gif',
      'img/linked.gif',
      `../${outside.split('/').at(-1)}/secret.gif`,
      'img/gone.gif',
      'img/notes.txt',
      'https://nowhere.invalid/x.gif',
    ];
    write('r.md', pictures.map((path, i) => `![${i}](${path})`).join('\n'));
    const { code, err } = nitbook('r.md', '-o', 'out/');
    expect(code).toBe(0);
    expect(err.match(/nitbook: r\.md: (.*) is not taken along: it stands there as text/g)).toHaveLength(5);
    const page = read('out/r.html');
    expect(page.match(/<img src="data:image\/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=" alt="[01]">/g)).toHaveLength(2);
    expect(page.match(/<img/g)).toHaveLength(2);

    const markdown = nitbook('r.md', '--to', 'md', '-o', 'md/');
    expect(markdown.code).toBe(0);
    expect(list('md')).toEqual(['img', 'r.md']);
    expect(list('md/img')).toEqual(['bench 1.gif']);
    expect(read('md/r.md')).toBe(read('r.md'));
    // A picture of two reviews is one file.
    write('s.md', '![b](img/bench%201.gif)\n');
    expect(nitbook('r.md', 's.md', '--to', 'md', '-o', 'both/')).toMatchObject({ code: 0 });
    expect(list('both')).toEqual(['img', 'r.md', 's.md']);
  });

  it('shows HTML as text, and says so', () => {
    write('r.md', `${HOLDS}\n<div onclick="x">y</div>\n`);
    const { code, err } = nitbook('r.md', '-o', 'out/');
    expect([code, err]).toEqual([0, 'nitbook: r.md: HTML is shown as text: <div onclick="x"> </div>\n']);
  });

  it('reads sessions and reviews of the folder of --root alone', () => {
    mkdirSync(join(folder, 'sub'));
    write('sub/r.md', '[815 cd/m²](../aurora-55.nitbook#hdr-window.peak@10)\n');
    expect(nitbook('sub/r.md', '-o', 'out/').code).toBe(0);
    expect(nitbook('sub/r.md', '-o', 'out/', '--root', 'sub')).toMatchObject({ code: 1, out: '' });
    expect(nitbook('meadow-65.md', '-o', 'out/', '--root', 'sub')).toMatchObject({ code: 2, out: '' });
  });

  it.each([
    [['gone.md', '-o', 'out/'], 'gone.md: there is no such file'],
    [['aurora-55.nitbook', '-o', 'out/'], 'aurora-55.nitbook: expected a Markdown file (.md)'],
    [['r.md', '-o', 'page.txt'], 'page.txt: expected a file that ends in .html, or a folder that ends in /'],
    [['r.md', '-o', 'page.html', '--to', 'md'], 'page.html: expected a file that ends in .md, or a folder that ends in /'],
    [
      ['r.md', 'sub/r.md', '-o', 'page.html'],
      '2 reviews make as many files, and page.html is one: name a folder that ends in /, such as -o out/',
    ],
    [['r.md', '-o', './', '--to', 'md'], 'r.md: the review itself would be written over: name another folder'],
    [['r.md', 'sub/r.md', '-o', 'out/'], 'two reviews would be written here: publish them into folders of their own'],
    [['r.md', '-o', 'aurora-55.nitbook/x.html'], 'the folder cannot be made'],
  ])('%j: one sentence, and 2', (args, sentence) => {
    mkdirSync(join(folder, 'sub'));
    write('r.md', HOLDS);
    write('sub/r.md', 'Another');
    const { code, out, err } = nitbook(...args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(list('.').filter((name) => name.startsWith('out') || name.includes('.tmp'))).toEqual([]);
  });

  it('does not write over the review where a link leads to it', () => {
    mkdirSync(join(folder, 'sub'));
    write('sub/r.md', HOLDS);
    write('sub/aurora-55.nitbook', read('aurora-55.nitbook'));
    symlinkSync('sub', join(folder, 'site'));
    const { code, err } = nitbook('sub/r.md', '--to', 'md', '-o', 'site/');
    expect(code).toBe(2);
    expect(err).toContain('sub/r.md: the review itself would be written over');
    expect(read('sub/r.md')).toBe(HOLDS);
  });

  it('needs to be told where', () => {
    expect(nitbook('aurora-55.md')).toMatchObject({ code: 2, out: '' });
  });
});
