import { describe, expect, it } from 'vitest';
import { decoded, type Files, MOST_BYTES, problemText, refused } from '../../src/project/files';
import { Folder } from '../../src/project/folder';
import { configPaths, referredPath } from '../../src/project/paths';
import { mistakeText } from '../../src/project/resolve';
import { readReference } from '../../src/session/reference';

const bytes = (...parts: (string | number[])[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((part) => (typeof part === 'string' ? [...new TextEncoder().encode(part)] : part)));

const said = (data: Uint8Array): string => {
  const reading = decoded(data);
  return reading.ok ? `text: ${reading.text}` : problemText(reading.problem);
};

describe('bytes', () => {
  it('are UTF-8, a byte order mark kept', () => {
    expect(said(bytes('画面 ✓\r\n'))).toBe('text: 画面 ✓\r\n');
    expect(said(bytes('\uFEFFnitbook 1'))).toBe('text: \uFEFFnitbook 1');
    expect(said(bytes())).toBe('text: ');
  });

  it.each([
    [[0xff], 1, 'a byte that begins nothing'],
    [[0xc3], 1, 'a character cut off at the end'],
    [[0xc0, 0x80], 1, 'an overlong form'],
    [[0xed, 0xa0, 0x80], 1, 'half of a surrogate pair'],
    [[0xf4, 0x90, 0x80, 0x80], 1, 'beyond U+10FFFF'],
    [[0x0a, 0x41, 0x0a, 0xe9, 0x0a], 3, 'Latin-1 in the third line'],
  ])('%j are not: line %i (%s)', (wrong, line) => {
    expect(said(Uint8Array.from(wrong))).toBe(`it is not UTF-8 (line ${line} holds bytes that are no text): save it as UTF-8`);
  });

  it('that are no text are told apart', () => {
    expect(said(bytes('a\nb', [0], 'c'))).toBe('it is no text (line 2 holds a zero byte)');
    expect(said(bytes([0xff, 0xfe, 0x61, 0]))).toBe('it is written in UTF-16: save it as UTF-8');
    expect(said(bytes([0xfe, 0xff, 0, 0x61]))).toBe('it is written in UTF-16: save it as UTF-8');
    expect(said(new Uint8Array(MOST_BYTES + 1))).toBe('it holds 50.1 MB, more than the 50 MB that are read');
  });
});

describe('paths', () => {
  it('of a configuration go upwards to the root, and all the way for a file outside it', () => {
    expect(configPaths('/w/a/b/x.nitbook', '/w')).toEqual(['/w/a/b/nitbook.jsonc', '/w/a/nitbook.jsonc', '/w/nitbook.jsonc']);
    expect(configPaths('/v/x.nitbook', '/w')).toEqual(['/v/nitbook.jsonc', '/nitbook.jsonc']);
    expect(configPaths('/x.nitbook', '')).toEqual(['/nitbook.jsonc']);
  });

  it.each([
    ['x.nitbook', '/w/a/x.nitbook'],
    ['../x.nitbook', '/w/x.nitbook'],
    ['/x.nitbook', '/w/x.nitbook'],
    ['/b/x.nitbook', '/w/b/x.nitbook'],
    ['../../x.nitbook', undefined],
    ['../../wide/x.nitbook', undefined],
    ['../../../../../../etc/x.nitbook', undefined],
    ['../../w/x.nitbook', '/w/x.nitbook'],
  ])('%s in /w/a of the root /w is %s', (reference, path) => {
    expect(referredPath(reference, '/w/a', '/w')).toBe(path);
  });

  it('know drives, and a root that is the whole file system', () => {
    expect(referredPath('x.nitbook', 'C:/w/a', 'C:/w')).toBe('C:/w/a/x.nitbook');
    expect(referredPath('../../x.nitbook', 'C:/w/a', 'C:/w')).toBeUndefined();
    expect(referredPath('/x.nitbook', '/w', '')).toBe('/x.nitbook');
  });
});

const session = `nitbook 1
session 2026-03-14
display aurora "Halden Aurora 55"
  maker: Halden
  firmware: 2.14.8
  serial: ?
mode cinema
  .input: HDMI #2
  Picture / Gamma: 2.4
target dark
  space: bt709
  curve: power 2.4
  luminance: 120 cd/m2
greyscale grey
  mode: cinema
    level[8bit]  Y     x       y
    30           6.70  0.3099  0.3279
    35.5         9.0   0.3127  0.3290
    40           ?     ?       ?
    100          120   0.3127  0.3290
saturation sat
    hue  sat  Y   x       y
    red  100  15  0.6000  0.3300
window window
    window  Y
    1       900
    10      800
tuning lamp
    "Gain"  Y   x       y
    0       70  0.3127  0.329
`;

class Memory implements Files {
  readonly asked: string[] = [];
  constructor(private readonly files: Readonly<Record<string, string>>) {}
  async read(path: string) {
    this.asked.push(path);
    const text = this.files[path];
    return text === undefined ? refused('missing') : { ok: true as const, text };
  }
}

const resolved = async (text: string, files: Files = new Memory({ '/w/a.nitbook': session })): Promise<string> => {
  const reading = readReference(text);
  if (!reading.ok) throw new Error(text);
  const read = await new Folder(files, '/w').resolve(reading.reference, '/w');
  if (!read.ok) return `${read.path}: ${problemText(read.problem)}`;
  const { resolution } = read;
  if (!resolution.ok) return mistakeText(resolution.mistake);
  if (resolution.is === 'text') return `text ${resolution.text}`;
  return resolution.value.ok ? String(Number(resolution.value.v.toPrecision(4))) : `why ${resolution.value.why.code}`;
};

describe('a reference', () => {
  it.each([
    ['window.peak', '900'],
    ['window.peak@10', '800'],
    ['window.peak@10.0', '800'],
    ['window.peak@1e1', '800'],
    ['sat.de@red,100', expect.stringMatching(/^[0-9.]+$/)],
    ['aurora.firmware', 'text 2.14.8'],
    ['cinema.input', 'text HDMI #2'],
    ['grey.mode', 'text cinema'],
    ['window.full', 'why no-row'],
  ])('#%s is %s', async (reference, expected) => {
    expect(await resolved(`a.nitbook#${reference}`)).toEqual(expected);
  });

  it.each([
    ['window.peak@11', '"peak" of "window": there is no row 11 (there is 1; 10).'],
    ['window.peak@10,1', '"peak" of "window": there is no row 10,1 (there is 1; 10).'],
    ['window.full@10', '"full" of "window": it belongs to the whole run and takes no @.'],
    ['sat.de', '"de" of "sat": it belongs to a row: write de@ and the key of the row.'],
    ['sat.de@red,50', '"de" of "sat": there is no row red,50 (there is red,100).'],
    ['window.peek', 'A window run has no measure "peek". Perhaps peak?'],
    ['window.luminance', 'A window run has no measure "luminance". There is peak, full, full.share.'],
    ['sat.de.maximum', 'A saturation run has no measure "de.maximum". There is de.avg, de.max, de.itp.avg, de.itp.max, de, de.ab …'],
    ['windo.peak', 'There is no "windo" in this session. Perhaps window?'],
    ['zzz.peak', 'There is no "zzz" in this session. There is grey, sat, window, lamp.'],
    ['grey', '"grey" is a greyscale run: a figure of it needs a measure, such as #grey.de.max.'],
    ['aurora', '"aurora" is a display block: name one of its properties, such as #aurora.maker.'],
    ['aurora.firmvare', 'The display block "aurora" has no property "firmvare". Perhaps firmware?'],
    ['aurora.serial', '"serial" of "aurora" is still to be noted.'],
    ['aurora.firmware@1', '"firmware" of "aurora" is a text: it has no rows, and takes no @.'],
    ['lamp.peak', 'The figures of tuning runs are not computed by this version.'],
    ['grey+sat.de.max', 'A figure is of one run: grey and sat together make a chart.'],
  ])('#%s is refused: %s', async (reference, sentence) => {
    expect(await resolved(`a.nitbook#${reference}`)).toBe(sentence);
  });

  it('to a file that is not there, or outside the root, says so and reads nothing else', async () => {
    const files = new Memory({ '/w/a.nitbook': session, '/b.nitbook': session });
    expect(await resolved('b.nitbook#grey.de.max', files)).toBe('/w/b.nitbook: there is no such file');
    expect(await resolved('../b.nitbook#grey.de.max', files)).toBe(
      '../b.nitbook: it lies outside the folder /w, from which nothing is read',
    );
    expect(files.asked).not.toContain('/b.nitbook');
  });
});

describe('a folder', () => {
  it('judges each session by its nearest configuration, and reads each file once', async () => {
    const files = new Memory({
      '/w/nitbook.jsonc': '{ "limits": { "window.peak": "limit 1" }, "oops": 1 }',
      '/w/a/nitbook.jsonc': '{ "limits": { "window.peak": "limit 2" } }',
      '/w/a/x.nitbook': session,
      '/w/b/x.nitbook': session,
    });
    const folder = new Folder(files, '/w');
    const limit = async (path: string) => {
      const read = await folder.session(path);
      return read.ok && [read.config?.path, read.analysis.config.limits.get('window.peak')?.limit?.high];
    };
    expect(await limit('/w/a/x.nitbook')).toEqual(['/w/a/nitbook.jsonc', 2]);
    expect(await limit('/w/b/x.nitbook')).toEqual(['/w/nitbook.jsonc', 1]);
    await folder.session('/w/b/x.nitbook');
    expect(new Set(files.asked).size).toBe(files.asked.length);
    const config = await folder.config('/w/nitbook.jsonc');
    expect(config.ok && config.file.findings.map(({ code }) => code)).toEqual(['config-value']);
  });

  it('keeps as many sessions as it may: those that were asked for last', async () => {
    const files = new Memory({ '/w/a.nitbook': session, '/w/b.nitbook': session, '/w/c.nitbook': session });
    const folder = new Folder(files, '/w', 2);
    for (const name of ['a', 'b', 'a', 'c', 'a', 'b']) expect((await folder.session(`/w/${name}.nitbook`)).ok).toBe(true);
    const read = files.asked.filter((path) => path.endsWith('.nitbook')).map((path) => path[3]);
    expect(read.join('')).toBe('abcb');
  });

  it('judges by nothing rather than by another configuration when the nearest cannot be read', async () => {
    const files: Files = {
      read: async (path) => (path === '/w/nitbook.jsonc' ? refused('binary', { line: 1 }) : { ok: true, text: session }),
    };
    expect(await new Folder(files, '/w').session('/w/x.nitbook')).toEqual({
      ok: false,
      path: '/w/nitbook.jsonc',
      problem: { code: 'binary', args: { line: 1 } },
    });
  });
});
