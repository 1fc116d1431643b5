import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { inSlices, within } from '../../src/editor/intervals';

let clock = 0;

/** Work of so many pieces, each of which takes some milliseconds of a clock that stands still else. */
function* work(pieces: number, ms: number, done: number[]): Generator<number, void> {
  for (let i = 0; i < pieces; i++) {
    clock += ms;
    done.push(i);
    yield i;
  }
}

describe('work in slices', () => {
  beforeEach(() => {
    clock = 0;
    vi.spyOn(performance, 'now').mockImplementation(() => clock);
  });
  afterEach(() => vi.restoreAllMocks());

  it('lets others have their turn after 8 ms, and comes to its end', async () => {
    const done: number[] = [];
    const before: number[] = [];
    const ended = inSlices(work(10, 3, done), () => {
      before.push(done.length);
      return true;
    });
    expect(done).toEqual([]);
    expect(await ended).toBe(true);
    // Three pieces of 3 ms go over the 8 ms, and no fourth is begun.
    expect(before).toEqual([0, 3, 6, 9]);
    expect(done).toHaveLength(10);
  });

  it('is dropped when it is not wanted any more', async () => {
    const done: number[] = [];
    expect(await inSlices(work(10, 5, done), () => done.length < 4)).toBe(false);
    expect(done).toEqual([0, 1, 2, 3]);
  });
});

describe('patience', () => {
  afterEach(() => vi.useRealTimers());

  it('ends with what is waited for, or without it', async () => {
    vi.useFakeTimers();
    let waited = false;
    const never = within(new Promise(() => {}), 250).then(() => {
      waited = true;
    });
    await vi.advanceTimersByTimeAsync(249);
    expect(waited).toBe(false);
    await vi.advanceTimersByTimeAsync(1);
    await never;
    await within(Promise.resolve(), 250);
    expect(vi.getTimerCount()).toBe(0);
  });
});
