import { describe, expect, it } from 'vitest';
import { NONE, SECOND_PHASE, slowestOf } from './clock';

const run = (...ms: readonly number[]) => ms.map((each, i) => ({ name: `step ${i}`, ms: each }));

describe('the slowest step of a case', () => {
  it('is by the shortest time of each, so that what disturbed another step of each run counts for none', () => {
    expect(slowestOf([run(300, 20, 5), run(10, 400, 5), run(10, 30, 6)])).toEqual({ name: 'step 1', ms: 20, most: 200 });
    expect(slowestOf([run(300, 20), run(290, 20)])).toEqual({ name: 'step 0', ms: 290, most: 200 });
  });

  it('is by what each may take', () => {
    const steps = [
      { name: 'analyse', ms: 50 },
      { name: 'summary as CSV', ms: 70 },
      { name: 'nitbook summary', ms: 400 },
      { name: SECOND_PHASE, ms: 9 },
    ];
    expect(slowestOf([steps])).toEqual({ name: SECOND_PHASE, ms: 9, most: 20 });
    expect(slowestOf([steps.slice(0, 3)])).toEqual({ name: 'nitbook summary', ms: 400, most: 1000 });
    expect(slowestOf([steps.slice(0, 2)])).toEqual({ name: 'summary as CSV', ms: 70, most: 200 });
  });

  it('of a run that took another way is that of the first', () => {
    expect(slowestOf([run(30, 250), run(20)])).toEqual({ name: 'step 1', ms: 250, most: 200 });
    expect(slowestOf([[]])).toEqual(NONE);
  });
});
