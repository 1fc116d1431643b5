import { describe, expect, it } from 'vitest';
import type { Client } from '../../src/sheet/client';
import { readFromHost, readFromPage, readState } from '../../src/sheet/protocol';
import { Bench, DAY, edited } from './bench';

const row = (level: string, text: string): readonly [string, string] => [`${level}  ?         ?        ?`, `${level}  ${text}`];

describe('The sheet and its document', () => {
  it('opens with what stands in the file, at the first reading to take, and changes nothing', async () => {
    const bench = await Bench.open(DAY);
    expect(bench.isTrue).toBe(true);
    expect(bench.client.place?.line.view.text).toContain('30');
    expect(bench.client.place?.slot).toBe('Y');
    expect(bench.document.version).toBe(1);
    expect(bench.said.map(({ kind }) => kind)).toEqual(['state']);
  });

  it('writes a typed cell as one minimal edit, and tells the patch before the ack', async () => {
    const bench = await Bench.open(DAY);
    bench.type(bench.cell('30', 'Y'), '6.7');
    expect(bench.client.shown(bench.cell('30', 'Y'))).toBe('6.7');
    await bench.settle();
    expect(bench.document.text).toBe(edited(DAY, row('30', '6.7       ?        ?')));
    expect(bench.isTrue).toBe(true);
    expect(bench.client.typed).toEqual([]);
    const kinds = bench.said.map(({ kind }) => kind).filter((kind) => kind !== 'results' && kind !== 'noticed');
    expect(kinds).toEqual(['state', 'foreseen', 'patch', 'ack']);
    bench.document.write('        20  2.54', '        20  2.55');
    await bench.settle();
    const owners = bench.said.flatMap((said) => (said.kind === 'patch' ? [said.own] : []));
    expect(owners, 'the number of the edit, and none for what others write').toEqual([bench.client.sent, undefined]);
  });

  it('keeps what is typed fast apart: edits of a row that were sent before the first was answered', async () => {
    const bench = await Bench.open(DAY);
    for (const [slot, text] of [
      ['Y', '6.70'],
      ['x', '0.3099'],
      ['y', '0.3279'],
    ] as const)
      bench.type(bench.cell('30', slot), text);
    expect(bench.asked.filter(({ kind }) => kind === 'edit').map((edit) => 'base' in edit && edit.base)).toEqual([1, 1, 1]);
    await bench.settle();
    expect(bench.document.text).toBe(edited(DAY, row('30', '6.70      0.3099   0.3279')));
  });

  it('of two rows that read alike the one that was meant is written', async () => {
    const twice = edited(DAY, ['        40  ?', '        30  ?         ?        ?\n        40  ?']);
    const bench = await Bench.open(twice);
    const rows = bench.client.lines.filter(({ view }) => view.text.startsWith('        30  ?'));
    expect(rows).toHaveLength(2);
    bench.type({ line: rows[0]!, slot: 'Y' }, '6.70');
    bench.type({ line: rows[0]!, slot: 'x' }, '0.3');
    bench.type({ line: rows[1]!, slot: 'Y' }, '6.71');
    await bench.settle();
    expect(bench.document.text).toBe(edited(twice, row('30', '6.70      0.3      ?'), row('30', '6.71      ?        ?')));
  });

  it('finds a line again that has moved, and refuses one that was changed elsewhere meanwhile, keeping what was typed', async () => {
    const bench = await Bench.open(DAY);
    bench.type(bench.cell('30', 'Y'), '6.70');
    bench.document.meanwhile = () => bench.document.write('        20  2.54', '        10  0.49      -        -\n        20  2.54');
    await bench.settle();
    expect(bench.document.text).toContain('        30  6.70      ?        ?');
    expect(bench.isTrue).toBe(true);

    bench.type(bench.cell('40', 'Y'), '13.3');
    bench.document.meanwhile = () => bench.document.write('        40  ?', '        40  13.9');
    await bench.settle();
    expect(bench.document.text).toContain('        40  13.9');
    const draft = bench.client.draft(bench.cell('40', 'Y'));
    expect(draft).toMatchObject({ text: '13.3', is: 'refused', was: '13.9' });
    expect(draft!.why).toContain('changed elsewhere');
    // Once more means it.
    bench.client.commit(bench.cell('40', 'Y'));
    await bench.settle();
    expect(bench.document.text).toContain('        40  13.3');
    expect(bench.client.typed).toEqual([]);
  });

  it('a line that is gone takes no edit, and what was typed for it is kept until it is let go of', async () => {
    const bench = await Bench.open(DAY);
    const place = bench.cell('30', 'Y');
    bench.client.go(place);
    bench.client.type(place, '6.7');
    bench.document.write('        30  ?         ?        ?\n', '');
    await bench.settle();
    expect(place.line.gone).toBe(true);
    expect(bench.client.typed.map(({ text }) => text)).toEqual(['6.7']);
    expect(bench.client.place?.line.view.text).toContain('40');
    expect(bench.client.commit(place)).toBe('nothing');
    expect(bench.client.revert(place)).toBe(true);
    expect(bench.client.typed).toEqual([]);
    expect(bench.document.text).not.toContain('6.7\n');
  });

  it('tries three times, then says why, and keeps what was typed', async () => {
    const bench = await Bench.open(DAY);
    bench.document.refuses = 2;
    bench.type(bench.cell('30', 'Y'), '6.70');
    await bench.settle();
    expect(bench.document.text).toContain('6.70');
    bench.document.refuses = 3;
    bench.type(bench.cell('40', 'Y'), '13.3');
    await bench.settle();
    expect(bench.document.text).not.toContain('13.3');
    expect(bench.client.draft(bench.cell('40', 'Y'))).toMatchObject({ text: '13.3', is: 'refused' });
    expect(bench.said.at(-1)).toMatchObject({ kind: 'nack', why: 'not-written' });
  });

  it('answers an edit that is sent again as it did, without making it twice', async () => {
    const bench = await Bench.open(DAY);
    bench.client.again('addRepeat', bench.cell('20', 'Y').line as never);
    await bench.settle();
    const edit = bench.asked.find(({ kind }) => kind === 'edit')!;
    const { version } = bench.document;
    const [before] = bench.said.filter(({ kind }) => kind === 'ack');
    bench.server.receive(edit);
    await bench.settle();
    expect(bench.document.version).toBe(version);
    expect(bench.said.filter(({ kind }) => kind === 'ack')).toEqual([before, before]);
  });

  it('does not know an edit of a page that is gone', async () => {
    const bench = await Bench.open(DAY);
    bench.type(bench.cell('30', 'Y'), '6.70');
    const edit = bench.asked.at(-1)!;
    await bench.settle();
    bench.load();
    await bench.settle();
    const { version } = bench.document;
    bench.server.receive(edit);
    await bench.settle();
    expect(bench.document.version).toBe(version);
  });

  it('asks for everything anew when a patch was lost, and keeps what is typed', async () => {
    const bench = await Bench.open(DAY);
    bench.client.type(bench.cell('40', 'Y'), '13');
    bench.lost.add('patch');
    bench.document.write('119.6', '119.7');
    await bench.settle();
    bench.lost.clear();
    expect(bench.isTrue).toBe(false);
    bench.document.write('title: Halden', 'title: The Halden');
    await bench.settle();
    expect(bench.isTrue).toBe(true);
    expect(bench.client.shown(bench.cell('40', 'Y'))).toBe('13');
  });

  it('an edit without an answer puts the sheet out of step; read anew, it is made once', async () => {
    const bench = await Bench.open(DAY);
    bench.lost.add('ack').add('patch');
    bench.client.again('addRepeat', bench.cell('20', 'Y').line as never);
    await bench.settle();
    bench.client.late();
    expect(bench.client.inStep).toBe(false);
    bench.lost.clear();
    bench.client.resync();
    await bench.settle();
    expect(bench.client.inStep).toBe(true);
    expect(bench.client.isWaiting).toBe(false);
    expect(bench.document.text).toBe(edited(DAY, ['0.3130   0.3283\n', '0.3130   0.3283\n        20  ?         ?        ?\n']));
    expect(bench.isTrue).toBe(true);
  });

  it('ignores and logs what it does not understand', async () => {
    const bench = await Bench.open(DAY);
    for (const data of [undefined, 7, 'edit', {}, { kind: 'edit' }, { kind: 'edit', epoch: '1', base: 1, seq: 1, op: { do: 'erase' } }, []])
      bench.server.receive(data);
    expect(bench.logged).toHaveLength(7);
    expect(
      readFromPage({ kind: 'edit', epoch: '1', base: -1, seq: 1, op: { do: 'setNote', at: { block: '', line: 0, text: '' }, text: '' } }),
    ).toBeUndefined();
    expect(
      readFromHost({
        kind: 'patch',
        epoch: '1',
        from: 1,
        to: 2,
        lines: [{ at: 0, remove: 1, put: [{ is: 'row', text: '' }] }],
        blocks: [],
      }),
    ).toBeUndefined();
    expect(bench.document.text).toBe(DAY);
  });

  it('a reading that is typed is foreseen, and has its figures when it is committed, before the host has heard of it', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    const cell = bench.cell('20', 'Y');
    const value = () => bench.deltaE(cell);
    const before = value();
    for (const text of ['2', '2.', '2.9', '2.90']) client.type(cell, text);
    const asked = () => bench.asked.flatMap((message) => (message.kind === 'foresee' ? [message.text] : []));
    expect(asked(), 'one question at a time').toEqual(['2']);
    await bench.settle();
    expect(asked(), 'then the last of those that came meanwhile').toEqual(['2', '2.90']);
    expect(bench.document.text, 'nothing is written').toBe(DAY);
    expect(value(), 'nor shown').toBe(before);

    client.commit(cell);
    const foreseen = value();
    expect(foreseen).not.toBe(before);
    expect(client.isForeseen(client.sent)).toBe(true);
    await bench.settle();
    expect(bench.document.text).toContain('2.90');
    expect(value(), 'what was foreseen came').toBe(foreseen);
    expect(client.isForeseen(client.sent)).toBe(false);
  });

  it('nothing is foreseen of what is let go, refused, or has to be asked about first', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    const cell = bench.cell('20', 'Y');
    const value = () => bench.deltaE(cell);
    const before = value();
    client.type(cell, '2.9');
    await bench.settle();
    client.revert(cell);
    expect(value()).toBe(before);
    // Refused by the document: what is shown is what the file has.
    client.type(cell, '2.9');
    await bench.settle();
    bench.document.refuses = 3;
    client.commit(cell);
    expect(value()).not.toBe(before);
    await bench.settle();
    expect(client.draft(cell)?.is).toBe('refused');
    expect(value()).toBe(before);

    const questions = () => bench.asked.filter(({ kind }) => kind === 'foresee').length;
    const count = questions();
    client.type(cell, '2,9');
    client.type(cell, '2.9 0.31 0.33');
    client.type(cell, '');
    client.type({ line: client.lines.find(({ view }) => view.is === 'property')!, slot: 'value' }, '2.9');
    expect(questions()).toBe(count);
  });

  it('nothing is foreseen any more once the text is another one, by whomever', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    const cell = bench.cell('20', 'Y');
    const foresee = async () => {
      client.type(cell, '2.9');
      await bench.settle();
    };
    const isForeseen = () => client.commit(cell) === 'sent' && client.isForeseen(client.sent);
    await foresee();
    bench.document.write('0.3130   0.3283', '0.4130   0.3283');
    await bench.settle();
    expect(isForeseen(), 'x of the row was written outside').toBe(false);
    await bench.settle();
    bench.document.undo();
    await bench.settle();

    await foresee();
    bench.type(bench.cell('100', 'Y'), '60');
    expect(isForeseen(), 'the white is on its way').toBe(false);
    await bench.settle();
    bench.document.undo();
    await bench.settle();

    client.type(cell, '2.95');
    client.revert(cell);
    bench.type(bench.cell('100', 'Y'), '119');
    client.type(cell, '2.95');
    await bench.deliver(2);
    expect(isForeseen(), 'the answer is that of before').toBe(false);
  });

  it('nothing is foreseen of a repeat, whose patch has the figures', async () => {
    const bench = await Bench.looking(edited(DAY, ['        30  ?', '        20  2.53      0.3131   0.3284\n        30  ?']));
    const { client } = bench;
    const cell = { line: bench.client.lines.find(({ view }) => view.text.includes('2.53'))!, slot: 'Y' };
    client.type(cell, '2.9');
    await bench.settle();
    client.commit(cell);
    expect(client.isForeseen(client.sent)).toBe(false);
    const before = bench.deltaE(bench.cell('20', 'Y'));
    await bench.settle();
    expect(bench.deltaE(bench.cell('20', 'Y'))).not.toBe(before);
  });

  it('asks on where the host could not say', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    const cell = bench.cell('20', 'Y');
    const broken = Object.getOwnPropertyDescriptor(Object.getPrototypeOf(bench.document.source), 'change')!;
    Object.defineProperty(bench.document.source, 'change', {
      configurable: true,
      value: () => {
        throw new Error('a mistake');
      },
    });
    client.type(cell, '2.8');
    await bench.settle();
    Object.defineProperty(bench.document.source, 'change', broken);
    expect(bench.logged).toContain('not foreseen');
    client.type(cell, '2.9');
    await bench.settle();
    client.commit(cell);
    expect(client.isForeseen(client.sent)).toBe(true);
  });

  it('what is foreseen is so of the text that the edits before it leave', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    bench.type(bench.cell('30', 'Y'), '6.70');
    bench.type(bench.cell('30', 'x'), '0.3099');
    const last = bench.cell('30', 'y');
    client.type(last, '0.3279');
    await bench.settle();
    client.commit(last);
    const foreseen = client.resultOf(last.line)?.figures[0];
    expect(foreseen).toMatchObject({ value: expect.stringMatching(/^\d/), word: '' });
    await bench.settle();
    expect(client.resultOf(last.line)?.figures[0]?.value).toBe(foreseen!.value);
  });

  it('figures come at once, verdicts and findings with the rest; those of a version that is over are dropped', async () => {
    const bench = await Bench.looking(DAY);
    const { client } = bench;
    const row = bench.cell('20', 'Y').line;
    expect(client.resultOf(row)?.figures[0]?.word).toBe('within ·');
    const before = bench.said.length;
    bench.type(bench.cell('20', 'Y'), '25.4');
    await bench.settle();
    const after = bench.said.slice(before).filter(({ kind }) => kind !== 'ack');
    expect(after.map((said) => (said.kind === 'results' ? `${said.kind} ${said.quick}` : said.kind))).toEqual([
      'foreseen',
      'patch',
      'results true',
      'noticed',
      'results false',
    ]);
    expect(client.resultOf(row)?.figures[0]?.word).toBe('beyond ▲');
    const told = bench.said.length;
    bench.server.receive({ ...bench.asked.findLast(({ kind }) => kind === 'look')!, width: 1 });
    await bench.settle();
    expect(
      bench.said.slice(told).filter(({ kind }) => kind === 'noticed'),
      'the same is not told twice',
    ).toEqual([]);
    bench.type(bench.cell('40', 'Y'), 'n/a');
    await bench.settle();
    expect(client.known.findingsIn(bench.cell('40', 'x').line).map(({ severity }) => severity)).toEqual(['warning']);

    const last = bench.said.findLast((said) => said.kind === 'results')!;
    client.receive({ ...last, version: 1, rows: [] });
    expect(client.resultOf(row)?.figures[0]?.word).toBe('beyond ▲');
  });

  it('writes nothing into what cannot be written', async () => {
    const bench = new Bench(DAY);
    bench.document.isReadonly = true;
    await bench.settle();
    bench.type(bench.cell('30', 'Y'), '6.70');
    expect(bench.client.typed).toEqual([]);
    bench.client.again('addRepeat', bench.cell('20', 'Y').line as never);
    await bench.settle();
    expect(bench.document.text).toBe(DAY);
    expect(bench.client.notice).toContain('cannot be written');
  });

  it('two hundred readings at once all arrive, and are taken back one by one', async () => {
    const rows = Array.from({ length: 67 }, (_, i) => `        ${String(i).padStart(2)}  ?         ?        ?`).join('\n');
    const bench = await Bench.open(`nitbook 1\n\nsession 2026-03-14\ngreyscale grey\n    level   Y         x        y\n${rows}\n`);
    const before = bench.document.text;
    for (let n = 0; n < 200; n++) {
      const { client } = bench;
      const place = client.place!;
      client.type(place, String(1000 + n));
      expect(client.commit(place)).toBe('sent');
      client.go(client.nextOpenIn(client.block, place));
      // Some answers come in between, some do not.
      if (n % 7 === 0) await bench.settle();
    }
    await bench.settle();
    for (let n = 0; n < 200; n++) expect(bench.document.text).toContain(String(1000 + n));
    expect(bench.client.typed).toEqual([]);
    for (let n = 0; n < 200; n++) bench.client.undo('undo');
    await bench.settle();
    expect(bench.document.text).toBe(before);
    expect(bench.isTrue).toBe(true);
  });
});

describe('What is half typed', () => {
  const half = async (change: (bench: Bench) => void): Promise<{ bench: Bench; client: Client }> => {
    const bench = await Bench.open(DAY);
    const place = bench.cell('40', 'Y');
    bench.client.go(place);
    bench.client.type(place, '13.');
    change(bench);
    await bench.settle();
    return { bench, client: bench.client };
  };

  it('stays where it is while other lines change', async () => {
    const { bench, client } = await half((b) => b.document.write('        20  2.54', '        10  0.49      -        -\n        20  2.55'));
    expect(client.shown(bench.cell('40', 'Y'))).toBe('13.');
    expect(client.place?.line).toBe(bench.cell('40', 'Y').line);
  });

  it('is set beside what the file has by now, and neither is lost without a word', async () => {
    const { bench, client } = await half((b) => b.document.write('        40  ?', '        40  13.9'));
    const place = bench.cell('40', 'Y');
    expect(client.isContested(client.draft(place)!)).toBe(true);
    expect(client.commit(place)).toBe('asked');
    await bench.settle();
    expect(bench.document.text).toContain('        40  13.9');
    expect(client.commit(place)).toBe('sent');
    await bench.settle();
    expect(bench.document.text).toContain('        40  13.  ');
  });

  it('is let go of with Esc, and the file stands', async () => {
    const { bench, client } = await half((b) => b.document.write('        40  ?', '        40  13.9'));
    client.revert(bench.cell('40', 'Y'));
    expect(client.shown(bench.cell('40', 'Y'))).toBe('13.9');
  });

  it('goes on in a block that is called otherwise by now', async () => {
    const { bench, client } = await half((b) => b.document.write('greyscale grey', 'greyscale gray'));
    const place = client.place!;
    client.type(place, '13.3');
    client.commit(place);
    await bench.settle();
    expect(bench.document.text).toBe(edited(DAY, ['greyscale grey', 'greyscale gray'], row('40', '13.3      ?        ?')));
  });

  it('goes on in a file that was checked out anew', async () => {
    const { bench, client } = await half((b) => b.document.replace(edited(DAY, ['  # the lamp was on\n', ''], ['119.6 ', '119.9 '])));
    expect(client.shown(bench.cell('40', 'Y'))).toBe('13.');
    client.type(client.place!, '13.3');
    client.commit(client.place!);
    await bench.settle();
    expect(bench.document.text).toBe(edited(DAY, ['  # the lamp was on\n', ''], ['119.6 ', '119.9 '], row('40', '13.3      ?        ?')));
  });

  it('comes back after the page was hidden, with its place', async () => {
    const { bench, client } = await half(() => undefined);
    const kept = client.keep();
    bench.document.write('title: Halden', '| first\n  title: Halden');
    bench.load(kept);
    await bench.settle();
    expect(bench.client.shown(bench.cell('40', 'Y'))).toBe('13.');
    expect(bench.client.place).toEqual(bench.cell('40', 'Y'));
    bench.client.type(bench.client.place!, '13.3');
    bench.client.commit(bench.client.place!);
    await bench.settle();
    expect(bench.document.text).toContain('        40  13.3      ?        ?');
  });

  it('does not come back where the file has it', async () => {
    const { bench, client } = await half(() => undefined);
    const kept = client.keep();
    bench.document.write('        40  ?', '        40  13.');
    bench.load(kept);
    await bench.settle();
    expect(bench.client.typed).toEqual([]);
  });

  it('comes back without its line, as what was typed for one that is gone', async () => {
    const { bench, client } = await half(() => undefined);
    const kept = client.keep();
    bench.document.write('        40  ?         ?        ?\n', '');
    bench.load(kept);
    await bench.settle();
    expect(bench.client.typed.map(({ text, line }) => [text, line.gone])).toEqual([['13.', true]]);
    bench.load(bench.client.keep());
    await bench.settle();
    expect(bench.client.typed.map(({ text, line }) => [text, line.gone])).toEqual([['13.', true]]);
  });

  it('is taken from a page of this version alone', async () => {
    const { client } = await half(() => undefined);
    const state = { v: 1, kept: client.keep(), large: false };
    expect(readState(JSON.parse(JSON.stringify(state)))).toEqual(state);
    for (const other of [
      undefined,
      null,
      'v1',
      { ...state, v: 2 },
      { ...state, kept: undefined },
      { ...state, kept: { ...state.kept, v: 0 } },
      { ...state, kept: { ...state.kept, drafts: [{ text: '13.' }] } },
    ])
      expect(readState(other), JSON.stringify(other)).toBeUndefined();
  });

  it('is small to keep', async () => {
    const { client } = await half(() => undefined);
    expect(JSON.stringify(client.keep()).length).toBeLessThan(400);
  });
});
