/** How long the editor's process may be busy with intervals in one go. */
const SLICE_MS = 8;

/**
 * Drives work that pauses: in slices of a few milliseconds, between which whatever else the process has to do gets its turn. Work that is
 * not wanted any more is dropped where it stands. Whether it came to its end.
 */
export async function inSlices(work: Iterator<unknown>, isWanted: () => boolean): Promise<boolean> {
  for (;;) {
    // A timer, not a promise: those would keep typing waiting as well.
    await new Promise((resolve) => setTimeout(resolve, 0));
    if (!isWanted()) return false;
    const end = performance.now() + SLICE_MS;
    do {
      if (work.next().done) return true;
    } while (performance.now() < end);
  }
}

/**
 * What shows a verdict waits so long for its interval, while the editor keeps showing what it has: so a keystroke changes a verdict once, and
 * not to what the number alone would say and then back. In a session that takes longer the verdict of the number comes first.
 */
export const PATIENCE_MS = 250;

/** A promise, or nothing when it takes too long. */
export const within = (promise: Promise<unknown>, ms: number): Promise<unknown> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    void promise.then(() => {
      clearTimeout(timer);
      resolve(undefined);
    });
  });
