// A host that takes its time, and hands that do not wait for it.
import { describe, expect, it } from 'vitest';
import type { HeldRow } from '../../src/sheet/paper';
import { Bench, DAY, edited } from './bench';

const OPEN_40 = '        40  ?         ?        ?\n';

describe('The hand, when the host is slow', () => {
  it.each(['undo', 'redo'] as const)('stays where the next reading is typed when %s had nothing to do', async (kind) => {
    for (const isOver of [true, false]) {
      const bench = await Bench.open(DAY);
      bench.document.onUndo = () => undefined;
      const { client } = bench;
      client.undo(kind);
      if (isOver) await bench.settle();
      const y = bench.cell('30', 'Y');
      bench.type(y, '6.7');
      const next = client.nextOpenIn(client.block, y)!;
      client.go(next);
      client.type(next, '0.3');
      await bench.settle();
      expect(client.place).toEqual(next);
      expect(client.shown(next)).toBe('0.3');
    }
  });

  it('goes to what was taken back all the same', async () => {
    const bench = await Bench.open(DAY);
    const { client } = bench;
    const y = bench.cell('30', 'Y');
    bench.type(y, '6.7');
    await bench.settle();
    client.go(bench.cell('100', 'x'));
    bench.document.onUndo = () => bench.document.write('30  6.7 ', '30  ?   ');
    client.undo('undo');
    await bench.settle();
    expect(client.place).toEqual(y);
  });

  it('takes along what was typed for a row that was not there yet, and commits it nowhere else', async () => {
    const bench = await Bench.open(DAY);
    const { client } = bench;
    const from = bench.cell('30', 'Y');
    client.go(from);
    client.again('takeAgain', bench.cell('20', 'Y').line as HeldRow);
    client.type(from, '2.');
    expect(client.commit(from)).toBe('waits');
    await bench.settle();
    const there = client.place!;
    expect(there.line.view.text).toMatch(/^ +20 +\?/);
    expect(client.shown(there)).toBe('2.');
    expect(client.draft(from)).toBeUndefined();
    bench.type(there, '2.54');
    await bench.settle();
    expect(bench.document.text).toMatch(/ 20 {2}2\.54 +\? +\?\n/);
    expect(bench.document.text).toContain('        30  ?');
  });

  it('stays where it has gone meanwhile', async () => {
    const bench = await Bench.open(DAY);
    const { client } = bench;
    client.go(bench.cell('30', 'Y'));
    client.again('addRepeat', bench.cell('20', 'Y').line as HeldRow);
    const elsewhere = bench.cell('100', 'x');
    client.go(elsewhere);
    client.type(elsewhere, '0.31');
    await bench.settle();
    expect(client.place).toEqual(elsewhere);
    expect(client.shown(elsewhere)).toBe('0.31');
  });

  it('can commit once the edit that led elsewhere was refused', async () => {
    const bench = await Bench.open(DAY);
    const { client } = bench;
    const from = bench.cell('30', 'Y');
    client.go(from);
    bench.document.refuses = 3;
    client.again('takeAgain', bench.cell('20', 'Y').line as HeldRow);
    client.type(from, '6.7');
    await bench.settle();
    expect(client.notice).not.toBe('');
    expect(client.commit(from)).toBe('sent');
  });
});

describe('A reading, when the host is slow', () => {
  it('that was written while the page was away does not come back on a row that reads as its own did', async () => {
    const bench = await Bench.open(edited(DAY, [OPEN_40, OPEN_40 + OPEN_40]));
    bench.type(bench.cell('40', 'Y'), '12.1');
    const kept = bench.client.keep();
    await bench.settle();
    const client = bench.load(kept);
    await bench.settle();
    expect(client.typed).toEqual([]);
    expect(bench.document.text.match(/12\.1/g)).toHaveLength(1);
  });

  it('is not what an undo that was asked for before it takes back', async () => {
    const bench = await Bench.open(DAY);
    const { client, document } = bench;
    bench.type(bench.cell('30', 'Y'), '66.7');
    await bench.settle();
    document.onUndo = async () => {
      await new Promise((resolve) => setTimeout(resolve, 5));
      document.undo();
    };
    client.undo('undo');
    bench.type(bench.cell('40', 'Y'), '12.1');
    await bench.settle();
    await new Promise((resolve) => setTimeout(resolve, 20));
    await bench.settle();
    expect(document.text).toBe(edited(DAY, ['40  ?    ', '40  12.1 ']));
  });

  it('that was typed whole and is refused is still there, with the reason', async () => {
    const bench = await Bench.open(DAY);
    const { client } = bench;
    const place = bench.cell('30', 'Y');
    expect(bench.type(place, '6.7 0.3099 0.3279')).toBe('previewed');
    await bench.settle();
    bench.document.isReadonly = true;
    client.closePreview(true);
    expect(client.draft(place)).toMatchObject({ is: 'sent' });
    await bench.settle();
    expect(client.draft(place)).toMatchObject({ is: 'refused', text: '6.7 0.3099 0.3279' });
  });
});

describe('What is shown, when messages cross', () => {
  it('is of the run that was gone to while a patch was on its way', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    bench.document.write('        20  2.54', '        20  2.55');
    await new Promise((resolve) => setImmediate(resolve));
    client.go(client.entry(client.blocks.findIndex(({ label }) => label === 'deep')));
    const see = () => client.see(0, client.lines.length - 1, 20);
    see();
    await bench.settle();
    see();
    await bench.settle();
    expect(client.isComputed).toBe(true);
    expect(client.offers.fields).not.toEqual([]);
  });

  it('stays when the text is opened beside it', async () => {
    const bench = await Bench.looking(DAY);
    const place = bench.cell('20', 'Y');
    const before = bench.deltaE(place);
    expect(before).toBeDefined();
    bench.client.openText(place.line, 'Y');
    bench.document.write('        30  ?', '        30  6.7');
    await bench.settle();
    expect(bench.deltaE(place)).toBe(before);
  });

  it('of how a run stands goes with it when another comes above it', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    bench.server.tellStandings(await bench.document.analysis());
    await bench.settle();
    const standing = (label: string) => client.known.standings!.blocks[client.blocks.findIndex((block) => block.label === label)]!;
    const before = standing('grey');
    expect(before.words).not.toBe('');
    bench.document.write('greyscale grey', 'contrast first\n    patch   Y\n    white   100\n    black   0.1\n\ngreyscale grey');
    await bench.settle();
    expect(standing('grey')).toEqual(before);
    expect(standing('first')).toMatchObject({ words: '' });
  });

  it('is of the same text also when that was read anew', async () => {
    const bench = await Bench.looking(DAY);
    bench.document.readAnew();
    bench.server.changed();
    expect(bench.server.tellNoticed(await bench.document.analysis())).toBe(true);
  });
});
