import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { isRefusal } from '../../src/language/answers';
import { analyse, settled } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { opEdits } from '../../src/sheet/ops';
import { type HeldRow, isRow } from '../../src/sheet/paper';
import { quickResultsOf, resultsOf } from '../../src/sheet/results';
import { fill } from '../../src/text/message';
import { Bench, DAY } from './bench';

const SLOTS = ['Y', 'x', 'y'] as const;

/** What two hands and a wire can do, in any order: rows and lines are counted round. */
const step = fc.oneof(
  { weight: 4, arbitrary: fc.record({ do: fc.constant('key'), row: fc.nat(4), slot: fc.nat(2) }) },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('reading'), row: fc.nat(4), slot: fc.nat(2), count: fc.nat(4) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('enter'), row: fc.nat(4), slot: fc.nat(2) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('revert'), row: fc.nat(4), slot: fc.nat(2) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constantFrom('strike', 'addRepeat', 'look'), row: fc.nat(4) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constantFrom('outside', 'insert', 'remove'), row: fc.nat(4) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constantFrom('refuse', 'undo', 'undoOutside') }) },
  { weight: 5, arbitrary: fc.record({ do: fc.constant('arrive'), count: fc.nat(4) }) },
);
type Step = { readonly do: string; readonly row?: number; readonly slot?: number; readonly count?: number };

/** A bench that notes each text that the document had, and what was committed where. */
class Noted {
  readonly texts: string[] = [];
  /** What was committed last in each slot. */
  readonly committed = new Map<string, string>();
  foreseen = 0;
  private values = 0;

  private constructor(readonly bench: Bench) {
    const { document } = bench;
    const { onChange } = document;
    document.onChange = () => {
      this.texts.push(document.text);
      onChange();
    };
  }

  static async open(): Promise<Noted> {
    return new Noted(await Bench.looking(DAY));
  }

  private row(n: number) {
    const { client } = this.bench;
    const rows = client.linesOf(client.blocks.findIndex(({ label }) => label === 'grey')).filter(isRow);
    return rows.length === 0 ? undefined : rows[n % rows.length]!;
  }

  async take({ do: does, row: n = 0, slot: s = 0, count = 0 }: Step): Promise<void> {
    const { bench } = this;
    const { client, document } = bench;
    const row = this.row(n);
    const slot = SLOTS[s]!;
    if (does === 'arrive') await bench.deliver(count);
    else if (does === 'refuse') document.refuses = 1;
    else if (does === 'undo') client.undo('undo');
    else if (does === 'undoOutside') document.undo();
    else if (!row) return;
    else if (does === 'key') this.type(row, slot);
    else if (does === 'reading') {
      this.type(row, slot);
      // A hand is slower than the wire, mostly.
      await (count === 0 ? bench.settle() : bench.deliver(count));
      this.enter(row, slot);
    } else if (does === 'enter') this.enter(row, slot);
    else if (does === 'revert') client.revert({ line: row, slot });
    else if (does === 'strike') client.send({ do: 'strike', at: client.at(row), on: !row.view.struck });
    else if (does === 'addRepeat') client.again('addRepeat', row);
    else if (does === 'look') {
      client.go({ line: row, slot });
      client.see(0, 100 + n, 0);
    } else this.outside(does, n);
  }

  private type(line: HeldRow, slot: string): void {
    // No two values are alike.
    this.bench.client.type({ line, slot }, `0.${1000 + this.values++}`);
  }

  private enter(line: HeldRow, slot: string): void {
    const { client } = this.bench;
    const text = client.draft({ line, slot })?.text;
    if (text === undefined || client.commit({ line, slot }) !== 'sent') return;
    this.committed.set(`${line.id} ${slot}`, text);
    if (client.isForeseen(client.sent)) this.checkForeseen(line, slot, text);
  }

  /** What is shown before the host has heard of a reading is what it gives in the text that the page has. */
  private checkForeseen(row: HeldRow, slot: string, text: string): void {
    const { client } = this.bench;
    const source = SessionText.read(client.lines.map(({ view }) => view.text).join('\n'));
    const line = client.indexOf(row);
    const edits = opEdits({ source }, { do: 'setCell', at: client.at(row), column: slot, text }, line);
    if (isRefusal(edits)) throw new Error('what is refused is not foreseen');
    const given = quickResultsOf(source.change(edits), NO_CONFIG, { at: line, from: line, to: line + 1 }, fill);
    expect(client.resultOf(row)?.figures).toEqual(given?.rows[0]?.figures);
    this.foreseen++;
  }

  /** Someone else writes in the same file. */
  private outside(does: string, n: number): void {
    const { document } = this.bench;
    const lines = document.source.lines.flatMap(({ kind }, i) => (kind === 'row' ? [i] : []));
    const line = lines[n % lines.length]!;
    const start = document.source.lineStart(line);
    const { text } = document.source.lines[line]!;
    if (does === 'insert') document.change([{ span: [start, start], text: '        50  22.7      0.3100   0.3280\n' }]);
    else if (does === 'remove' && lines.length > 3) document.change([{ span: [start, start + text.length + 1], text: '' }]);
    else document.change([{ span: [start + text.length, start + text.length], text: ' # seen' }]);
  }
}

describe('Whatever comes when', () => {
  it('page and file end alike, with the figures of the file, and nothing that was committed is lost', async () => {
    let foreseen = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 30 }), async (steps: readonly Step[]) => {
        const noted = await Noted.open();
        const { bench, committed, texts } = noted;
        for (const each of steps) await noted.take(each);
        await bench.settle();
        foreseen += noted.foreseen;
        const { client, document } = bench;
        expect(client.isWaiting).toBe(false);
        expect(client.inStep).toBe(true);
        expect(bench.isTrue).toBe(true);
        expect(client.typed.filter(({ is }) => is === 'sent')).toEqual([]);

        // Written once, or still there to be seen over its cell.
        for (const [key, text] of committed) {
          const draft = client.typed.find(({ line, slot }) => `${line.id} ${slot}` === key);
          expect(draft !== undefined || texts.some((each) => each.includes(text)), `${text} of ${key}`).toBe(true);
        }

        const at = client.place ? client.indexOf(client.place.line) : 0;
        const fresh = resultsOf(settled(analyse(document.source, NO_CONFIG)), { at, from: 0, to: 200 }, fill);
        client.see(0, 200, 0);
        await bench.settle();
        for (const row of fresh.rows) expect(client.resultOf(client.lines[row.line]!)).toEqual(row);
      }),
      { numRuns: 300, seed: 20260314 },
    );
    expect(foreseen, 'readings that were foreseen').toBeGreaterThan(50);
  });
});
