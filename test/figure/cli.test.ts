import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { svgOf } from '../../src/figure/svg';
import { DARK, LIGHT } from '../../src/figure/theme';
import { commandLine, project } from '../cli/commandLine';
import { example, figure } from './tools';

const { bundle, folder: beside, work: folder, given, nitbook: run } = commandLine();

beforeAll(() => given({ 'aurora.nitbook': readFileSync(join(project, 'examples/aurora-55.nitbook')) }));

const nitbook = (...args: readonly string[]) => run(['figure', ...args]);

const drawn = (ref: string, width = 720, theme = LIGHT) => svgOf(figure(example('aurora-55'), ref), { width, theme });

describe('nitbook figure', () => {
  it('writes one figure to the terminal, the same as the core draws', () => {
    expect(nitbook('aurora.nitbook#grey.balance')).toEqual({ code: 0, out: drawn('#grey.balance'), err: '' });
  });

  it('writes it to a file, in the size and the colours asked for, over what was there', () => {
    for (const width of [500, 640]) {
      const { code, out } = nitbook('aurora.nitbook#grey+grey-tuned.balance', '-o', 'b.svg', '--width', String(width), '--theme', 'dark');
      expect([code, out]).toEqual([0, 'b.svg\n']);
      expect(readFileSync(join(folder, 'b.svg'), 'utf8')).toBe(drawn('#grey+grey-tuned.balance', width, DARK));
    }
    expect(readdirSync(folder).filter((name) => name.startsWith('.nitbook'))).toEqual([]);
  });

  it('lists the figures of a run, and of a session, with their answers', () => {
    const run = nitbook('aurora.nitbook#grey');
    expect([run.code, run.out.split('\n').map((line) => line.split('  ')[0])]).toEqual([
      0,
      ['#grey.balance', '#grey.curve', '#grey.de', '#grey.chromaticity', ''],
    ]);
    expect(run.out).toContain(`#grey.balance  ${figure(example('aurora-55'), '#grey.balance').title}\n`);
    expect(nitbook('aurora.nitbook').out).toContain('#spd.spectrum  Peaks of white');
  });

  it('writes them all into a folder, made where it is not there', () => {
    const { code, out } = nitbook('aurora.nitbook#grey', '-o', 'new/figures/');
    expect([code, out.split('\n').length]).toEqual([0, 5]);
    expect(readdirSync(join(folder, 'new/figures'))).toEqual([
      'grey.balance.svg',
      'grey.chromaticity.svg',
      'grey.curve.svg',
      'grey.de.svg',
    ]);
    expect(readFileSync(join(folder, 'new/figures/grey.de.svg'), 'utf8')).toBe(drawn('#grey.de'));
    expect(nitbook('aurora.nitbook', '-o', 'new').out.split('\n').length).toBeGreaterThan(50);
  });

  it('writes PNG with a renderer and fonts of its own, and says so when they are missing', () => {
    expect(nitbook('aurora.nitbook#grey.balance', '-o', 'b.png')).toMatchObject({ code: 2, out: '' });
    expect(existsSync(join(folder, 'b.png'))).toBe(false);
    mkdirSync(join(beside, 'png'));
    cpSync(join(project, 'node_modules/@resvg/resvg-wasm/index_bg.wasm'), join(beside, 'png/resvg.wasm'));
    for (const font of ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'])
      cpSync(join(project, 'node_modules/dejavu-fonts-ttf/ttf', font), join(beside, 'png', font));
    expect(nitbook('aurora.nitbook#grey.balance', '-o', 'b.png', '--scale', '1.5')).toEqual({ code: 0, out: 'b.png\n', err: '' });
    const png = readFileSync(join(folder, 'b.png'));
    // PNG (ISO/IEC 15948), 11.2.2: width and height stand behind the name of the first chunk.
    expect([png.subarray(1, 4).toString('latin1'), png.readUInt32BE(16)]).toEqual(['PNG', 1080]);
  });

  it.each([
    ['aurora.nitbook#gray.balance', 'aurora.nitbook#gray.balance: There is no run "gray" in this session. Perhaps grey?'],
    ['aurora.nitbook#grey.balense', 'aurora.nitbook#grey.balense: A greyscale run has no figure "balense". Perhaps balance?'],
    ['aurora.nitbook#grey.de.max', 'aurora.nitbook#grey.de.max: A greyscale run has no figure "de.max"'],
    ['aurora.nitbook#cinema', 'aurora.nitbook#cinema: "cinema" is a mode block: figures are of runs.'],
    ['#grey.balance', '#grey.balance: expected a session file before the #, such as aurora.nitbook#grey.balance'],
    ['missing.nitbook#grey.balance', 'missing.nitbook: '],
    ['missing.nitbook', 'missing.nitbook: '],
    ['aurora.nitbook#grey#', 'aurora.nitbook#grey#: Expected'],
  ])('%s: one sentence, and 2', (ref, sentence) => {
    const { code, out, err } = nitbook(ref);
    expect([code, out]).toEqual([2, '']);
    expect(err.startsWith(`nitbook: ${sentence}`), err).toBe(true);
    expect(err.trim().split('\n').length).toBe(1);
  });

  it('writes to where links lead, to files with the rights they had, and into pipes', () => {
    const made = () => nitbook('aurora.nitbook#grey.balance', '-o', 'l.svg').out;
    const text = () => readFileSync(join(folder, 'led/to.svg'), 'utf8');
    mkdirSync(join(folder, 'led'));
    symlinkSync('led/to.svg', join(folder, 'l.svg'));
    expect([made(), text()]).toEqual(['l.svg\n', drawn('#grey.balance')]);
    writeFileSync(join(folder, 'led/to.svg'), 'before');
    chmodSync(join(folder, 'led/to.svg'), 0o640);
    expect([made(), text()]).toEqual(['l.svg\n', drawn('#grey.balance')]);
    expect(statSync(join(folder, 'led/to.svg')).mode & 0o777).toBe(0o640);
    expect(lstatSync(join(folder, 'l.svg')).isSymbolicLink()).toBe(true);
    const script = 'mkfifo p.svg; cat p.svg & "$0" "$1" figure "aurora.nitbook#grey.balance" -o p.svg > said; wait';
    const piped = spawnSync('bash', ['-c', script, process.execPath, bundle], { cwd: folder, encoding: 'utf8' });
    expect(piped).toMatchObject({ status: 0, stdout: drawn('#grey.balance'), stderr: '' });
    expect(lstatSync(join(folder, 'p.svg')).isFIFO()).toBe(true);
  });

  it('takes no file for several figures, and none of another form', () => {
    expect(nitbook('aurora.nitbook#grey', '-o', 'all.svg').err).toBe(
      'nitbook: aurora.nitbook#grey: these are 4 figures, and all.svg is one file: name a folder that ends in /, such as -o figures/\n',
    );
    expect(nitbook('aurora.nitbook#grey.de', '-o', 'aurora.nitbook').err).toBe(
      'nitbook: aurora.nitbook: expected a file that ends in .svg or .png, or a folder that ends in /\n',
    );
    expect(nitbook('aurora.nitbook#grey.de', '--width', 'wide').code).toBe(2);
    expect(nitbook('aurora.nitbook#grey.de', '-o', 'no/such/folder.svg').err).toBe(
      'nitbook: no/such/folder.svg: it cannot be written (its folder is not there)\n',
    );
  });
});
