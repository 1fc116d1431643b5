import type { Held, Paper } from './paper';
import type { FindingView, FromHost, Noticed, PatchMessage, Results, RowResult } from './protocol';

/** What the page knows of a file besides its text: what was computed and noticed. It hangs on lines, and goes where they go. */
export class Known {
  /** The main figures of the run that was in hand last, with their verdicts. */
  headline: Results['headline'] = [];
  standings: Extract<FromHost, { kind: 'standings' }> | undefined;
  /** Of the run that was in hand last; they come a little later than its numbers. */
  figures: Extract<FromHost, { kind: 'figures' }> | undefined;
  private results: Results | undefined;
  private resultsHead: Held | undefined;
  private rows = new Map<Held, RowResult>();
  /** Rows that have been written in since their results came. */
  private readonly stale = new Set<Held>();
  private noticed: Noticed | undefined;
  private noticedHead: Held | undefined;
  private findings = new Map<Held, FindingView[]>();

  constructor(private readonly paper: Paper) {}

  /** The file was told anew. */
  clear(): void {
    this.resultsHead = undefined;
    this.noticedHead = undefined;
    this.rows = new Map();
    this.findings = new Map();
    this.stale.clear();
    this.standings = undefined;
  }

  /** Blocks came and went: how the others stand goes with them, and of new ones nothing is known. */
  moved(splices: PatchMessage['blocks']): void {
    if (!this.standings || splices.length === 0) return;
    const blocks = [...this.standings.blocks];
    for (const { at, remove, put } of splices.toReversed()) {
      if (remove !== put.length) blocks.splice(at, remove, ...put.map(() => ({ verdict: 'no-number' as const, words: '', findings: 0 })));
    }
    this.standings = { ...this.standings, blocks };
  }

  /** Lines were written in, or are gone. */
  touched(lines: readonly Held[]): void {
    for (const line of lines) {
      this.findings.delete(line);
      this.stale.add(line);
    }
  }

  /** Results of a version that is over are dropped. Those that are told at once stand in for what is not known yet. */
  tellResults(message: Results): void {
    const { lines, version } = this.paper;
    if (message.version !== version) return;
    const { head, quick, rows, headline } = message;
    const isOther = lines[head] !== this.resultsHead;
    this.resultsHead = lines[head];
    this.results = message;
    if (isOther || !quick) this.headline = headline;
    const known = isOther || !quick ? new Map<Held, RowResult>() : this.rows;
    for (const row of rows) {
      const line = lines[row.line]!;
      if (!known.has(line) || this.stale.has(line)) known.set(line, row);
    }
    if (!quick) this.stale.clear();
    this.rows = known;
  }

  /** Findings hang on their lines, and stand until there are later ones. */
  tellNoticed(message: Noticed): void {
    const { lines, version } = this.paper;
    if (message.version !== version) return;
    this.noticed = message;
    this.noticedHead = lines[message.head];
    this.findings = new Map();
    for (const finding of message.findings) {
      const line = lines[finding.line]!;
      this.findings.set(line, [...(this.findings.get(line) ?? []), finding]);
    }
  }

  /** The version that results have come for. */
  get version(): number {
    return this.results?.version ?? -1;
  }

  resultOf(line: Held): RowResult | undefined {
    return this.rows.get(line);
  }

  /** What was noticed in a line. */
  findingsIn(line: Held): readonly FindingView[] {
    return this.findings.get(line) ?? NOTHING;
  }

  /** Whether what was computed last is of the block with this head. */
  isOf(head: Held | undefined): boolean {
    return head !== undefined && this.resultsHead === head;
  }

  /** What is computed of a run as a whole. */
  runOf(head: Held | undefined): Results['run'] {
    return this.isOf(head) ? this.results?.run : undefined;
  }

  /** What a block can have, and be measured again for. */
  offersOf(head: Held | undefined): Pick<Noticed, 'fields' | 'modes' | 'adjusted'> {
    return this.noticed && head !== undefined && this.noticedHead === head ? this.noticed : { fields: [] };
  }
}

const NOTHING: readonly never[] = [];
