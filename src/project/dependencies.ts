import type { Block } from '../session/block';
import type { Run, Session } from '../session/session';

type Blocks = readonly (Block | undefined)[];

/** What the figures of one run hang on. */
export interface HangsOn {
  /** What runs of its kind have in common: the same list for all of them. */
  readonly shared: Blocks;
  /** The blocks it takes over from, itself the first, with how many of the shared ones stand before each; and what it means by its properties. */
  readonly own: readonly (Block | number | undefined)[];
}

/**
 * What the figures of runs can hang on in a version of a session: all blocks that are no runs (modes, targets, meters, signals and what they
 * are from), the run itself, the runs that may lend it something, those that all these are like, and what each of them means by its
 * properties. There may be thousands of runs, and all but what is a run's own is gathered once.
 */
export class Dependencies {
  private readonly shared = new Map<boolean, { readonly blocks: Blocks; readonly before: ReadonlyMap<Block, number> }>();
  private readonly compared = new Map<Blocks, boolean>();

  constructor(private readonly session: Session) {}

  of(run: Run): HangsOn {
    const { blocks, before } = this.sharedBy(run.kind === 'tracking');
    const own = this.session.lineage(run.block).flatMap((block) => [block, before.get(block)]);
    return { shared: blocks, own: [...own, ...meant(run)] };
  }

  /** Whether nothing has changed since an earlier version that a run's figures can hang on. */
  areAs(old: HangsOn, now: HangsOn): boolean {
    if (!isSame(old.own, now.own)) return false;
    if (old.shared === now.shared) return true;
    let same = this.compared.get(old.shared);
    if (same === undefined) {
      same = isSame(old.shared, now.shared);
      this.compared.set(old.shared, same);
    }
    return same;
  }

  /**
   * Greyscales lend white and black, spectra can be the reference of a correction, and HDR levels are compared under other metadata.
   */
  private sharedBy(isTracking: boolean) {
    let found = this.shared.get(isTracking);
    if (!found) {
      const { session } = this;
      const lenders = session.runs.filter(({ kind }) => kind === 'greyscale' || kind === 'spectrum' || (kind === 'tracking' && isTracking));
      const taken = new Set(lenders.flatMap(({ block }) => session.lineage(block)));
      const blocks: Block[] = [];
      const before = new Map<Block, number>();
      for (const block of session.live) {
        before.set(block, blocks.length);
        if (!block.isRun || taken.has(block)) blocks.push(block);
      }
      found = { blocks: [...blocks, ...lenders.flatMap(meant)], before };
      this.shared.set(isTracking, found);
    }
    return found;
  }
}

const meant = ({ mode, target, meter, signal }: Run): Blocks => [mode, target, meter, signal];

const isSame = (a: readonly unknown[], b: readonly unknown[]): boolean => a.length === b.length && a.every((one, i) => one === b[i]);
