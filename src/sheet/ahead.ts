import type { Draft } from './client';
import type { Held, Place } from './paper';
import type { RowResult } from './protocol';

interface Asked extends Place {
  readonly text: string;
  /** The edit that had been sent last: what is sent after that is not reckoned with. */
  readonly after: number;
}

/**
 * What rows would give with readings that are typed and not written yet. It is asked for at each key, so that it is there when the reading
 * is committed and need not be waited for. One question is under way at a time; of those that come meanwhile the last is asked next. An answer
 * holds for the text as it is when it comes, and only until that changes.
 */
export class Ahead {
  private ids = 0;
  private asked: Asked | undefined;
  private next: Asked | undefined;
  private readonly known = new Map<Held, Asked & { readonly row: RowResult }>();

  constructor(private readonly ask: (id: number, asked: Asked) => void) {}

  want(asked: Asked): void {
    if (this.asked) this.next = asked;
    else this.put(asked);
  }

  private put(asked: Asked): void {
    this.asked = asked;
    this.ask(++this.ids, asked);
  }

  /** Takes an answer; without a row nothing is to be said of it. */
  answered(id: number, row: RowResult | undefined): void {
    const { asked, next } = this;
    if (!asked || id !== this.ids) return;
    if (row && !asked.line.gone) this.known.set(asked.line, { ...asked, row });
    this.asked = undefined;
    this.next = undefined;
    if (next) this.put(next);
  }

  /** What was typed there has been sent, or let go of: a question that has not been asked yet need not be. */
  drop({ line, slot }: Place): void {
    if (this.next?.line === line && this.next.slot === slot) this.next = undefined;
  }

  /** What the row gives with a draft that has been sent, and nothing else since it was asked about. */
  of({ line, slot, text, seq }: Draft): RowResult | undefined {
    const known = this.known.get(line);
    return known?.slot === slot && known.text === text && seq === known.after + 1 ? known.row : undefined;
  }

  /** The text is another one. */
  changed(): void {
    this.known.clear();
  }

  /** The host is another one, or has lost what it was asked. */
  clear(): void {
    this.changed();
    this.asked = undefined;
    this.next = undefined;
  }
}
