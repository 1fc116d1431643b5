import { type Change, moved } from './lines';

/** More versions back than this nothing is known of a line. */
const LONGEST = 1024;

interface Step {
  readonly from: number;
  readonly to: number;
  readonly changes: readonly Change[];
  /** Whether the sheet itself made it. */
  readonly own: boolean;
}

/** Where lines went, from version to version. */
export class Trail {
  private steps: Step[] = [];

  constructor(private latest: number) {}

  add(step: Step): void {
    this.latest = step.to;
    this.steps.push(step);
    if (this.steps.length > 2 * LONGEST) this.steps = this.steps.slice(-LONGEST);
  }

  /**
   * Where a line of a version stands in the latest, and whether anyone but the sheet wrote in it since: `lost` when it is not there any
   * more, undefined when that version is not known.
   */
  follow(
    version: number,
    line: number,
  ): { readonly line: number; readonly elsewhere: boolean; readonly own: boolean } | 'lost' | undefined {
    const first = this.steps.findIndex(({ from }) => from === version);
    if (first < 0) return version === this.latest ? { line, elsewhere: false, own: false } : undefined;
    let at = line;
    const by = { own: false, elsewhere: false };
    for (const step of this.steps.slice(first)) {
      const next = moved(at, step.changes);
      if (!next) return 'lost';
      at = next.line;
      if (next.changed) by[step.own ? 'own' : 'elsewhere'] = true;
    }
    return { line: at, ...by };
  }
}
