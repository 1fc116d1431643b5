/** One waiting turn for each key: asking again puts it off. */
export class Turns {
  private readonly timers = new Map<string, ReturnType<typeof setTimeout>>();

  /** Does `work` after `ms`, in place of what was waiting under this key; at once, before it returns, for 0. */
  take(key: string, ms: number, work: () => void): void {
    this.drop(key);
    if (ms === 0) {
      work();
      return;
    }
    this.timers.set(
      key,
      setTimeout(() => {
        this.timers.delete(key);
        work();
      }, ms),
    );
  }

  drop(key: string): void {
    clearTimeout(this.timers.get(key));
    this.timers.delete(key);
  }

  dispose(): void {
    for (const timer of this.timers.values()) clearTimeout(timer);
    this.timers.clear();
  }
}
