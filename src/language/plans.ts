import type { Config } from '../config/config';
import { type Plan, type PlanBlock, type PlanRun, planRun } from '../config/plans';
import { fill, type Say } from '../text/message';

/**
 * The plans that Nitbook brings along. Which runs, levels, windows and patches a bench day takes is common practice, no source; what only
 * the one at the bench can know is still to be noted.
 */

const HUES = ['red', 'green', 'blue', 'cyan', 'magenta', 'yellow'];

const meter: PlanBlock = {
  kind: 'meter',
  id: 'probe',
  properties: { kind: '?', checked: '?', floor: '?', spread: '?', accuracy: '?' },
};

const shipped = (scope: string): PlanBlock => ({
  kind: 'mode',
  id: 'shipped',
  title: 'As shipped',
  properties: { '.input': '?', '.scope': scope, '.preset': '?', '.automatic': '?' },
});

const SDR_BLOCKS: readonly PlanBlock[] = [
  meter,
  { kind: 'signal', id: 'sdr', properties: { range: '?', depth: '?', container: 'bt709', window: '10 %' } },
  shipped('SDR'),
  { kind: 'target', id: 'dark', properties: { space: 'bt709', curve: 'power 2.4', white: 'd65' } },
];

const SDR = { mode: 'shipped', target: 'dark', meter: 'probe', signal: 'sdr' };

const SDR_SHORT: Plan = {
  about: 'white, black, a greyscale of 11 levels, the gamut and saturations: about an hour',
  blocks: SDR_BLOCKS,
  runs: [
    planRun({ kind: 'contrast', id: 'contrast', patches: ['white', 'black'], properties: SDR }),
    planRun({ kind: 'greyscale', id: 'grey', like: 'contrast', levels: '100, 0..100 step 10' }),
    planRun({ kind: 'gamut', id: 'gamut', like: 'contrast', patches: [...HUES, 'white'], properties: { stimulus: '100 %' } }),
    planRun({ kind: 'saturation', id: 'sat', like: 'contrast', hues: HUES, saturations: '50, 100', properties: { stimulus: '75 %' } }),
  ],
};

const SDR_FULL: Plan = {
  about: 'the short plan with more steps, and near-black, everyday colours, windows, uniformity, angles, lag and power: a day',
  blocks: SDR_BLOCKS,
  runs: [
    planRun({ kind: 'contrast', id: 'contrast', patches: ['white', 'black', 'checker-white', 'checker-black'], properties: SDR }),
    // White first and last: what it lost in between is drift.
    planRun({ kind: 'greyscale', id: 'grey', like: 'contrast', levels: '100, 0..100 step 5' }),
    planRun({ kind: 'greyscale', id: 'near-black', like: 'contrast', levels: '100, near-black' }),
    planRun({ kind: 'gamut', id: 'gamut', like: 'contrast', patches: [...HUES, 'white'], properties: { stimulus: '100 %' } }),
    planRun({
      kind: 'saturation',
      id: 'sat',
      like: 'contrast',
      hues: HUES,
      saturations: '25..100 step 25',
      properties: { stimulus: '75 %' },
    }),
    planRun({
      kind: 'patches',
      id: 'colours',
      like: 'contrast',
      patches: [
        'white 100 100 100',
        'grey-40 40 40 40',
        'grey-70 70 70 70',
        'skin-pale 93 78 71',
        'skin-tan 78 57 44',
        'skin-deep 41 27 21',
        'sky 47 66 84',
        'sea 14 41 52',
        'leaf 33 46 20',
        'grass 49 66 24',
        'brick 62 27 21',
        'sand 84 75 57',
        'plum 37 19 35',
        'teal 16 55 53',
        'lemon 93 87 26',
      ],
    }),
    planRun({
      kind: 'window',
      id: 'windows',
      like: 'contrast',
      windows: '1, 2, 5, 10, 25, 50, 75, 100',
      properties: { stimulus: '100 %' },
    }),
    planRun({ kind: 'uniformity', id: 'field', like: 'contrast', grid: '5 x 5', properties: { level: '50 %', window: '100 %' } }),
    planRun({ kind: 'angles', id: 'angles', like: 'contrast', angles: '0..60 step 15', properties: { level: '100 %' } }),
    planRun({ kind: 'lag', id: 'lag', like: 'contrast', places: ['top', 'middle', 'bottom'] }),
    planRun({ kind: 'power', id: 'power', like: 'contrast', patches: ['white', 'grey-50', 'black'] }),
  ],
};

const HDR_PROPERTIES = { mode: 'shipped', target: 'hdr', meter: 'probe', signal: 'hdr-1000' };

const HDR: Plan = {
  about: 'peak by window size, PQ tracking for two mastering peaks, the gamut in P3, contrast, and what lasts',
  blocks: [
    meter,
    {
      kind: 'signal',
      id: 'hdr-1000',
      properties: { range: '?', depth: '?', container: 'bt2020', window: '10 %', 'mastering-peak': '1000 cd/m2' },
    },
    { kind: 'signal', id: 'hdr-4000', from: 'hdr-1000', properties: { 'mastering-peak': '4000 cd/m2' } },
    shipped('HDR'),
    { kind: 'target', id: 'hdr', properties: { space: 'bt2020', curve: 'pq', white: 'd65' } },
    { kind: 'target', id: 'p3', properties: { space: 'p3-d65', curve: 'pq', white: 'd65' } },
  ],
  runs: [
    planRun({
      kind: 'window',
      id: 'peak',
      title: 'Peak by window',
      windows: '1, 2, 5, 10, 18, 25, 50, 75, 100',
      properties: { ...HDR_PROPERTIES, stimulus: '100 %' },
    }),
    planRun({ kind: 'tracking', id: 'pq-1000', levels: '0..100 step 5', properties: HDR_PROPERTIES }),
    planRun({ kind: 'tracking', id: 'pq-4000', like: 'pq-1000', levels: '0..100 step 5', properties: { signal: 'hdr-4000' } }),
    planRun({
      kind: 'gamut',
      id: 'gamut-p3',
      title: 'P3 in BT.2020',
      like: 'pq-1000',
      patches: [...HUES, 'white'],
      properties: { target: 'p3', stimulus: '100 %' },
    }),
    planRun({ kind: 'contrast', id: 'contrast', like: 'pq-1000', patches: ['white', 'black', 'checker-white', 'checker-black'] }),
    planRun({
      kind: 'endurance',
      id: 'lasting',
      title: 'A bright window over time',
      like: 'pq-1000',
      times: '0, 1, 2, 5, 10, 15, 20, 30',
      properties: { level: '100 %', note: 'bright and still: heed what the maker says of image retention' },
    }),
  ],
};

export const BUILT_IN_PLANS: ReadonlyMap<string, Plan> = new Map([
  ['SDR short', SDR_SHORT],
  ['SDR full', SDR_FULL],
  ['HDR', HDR],
]);

export interface OfferedPlan extends Plan {
  /** What it is called on a screen; the name of one that Nitbook brings along is its own in every language. */
  readonly title: string;
}

/** The plans of a folder and those that Nitbook brings along, by name, in the order to be offered. */
export const plansOf = ({ plans }: Config, say: Say = fill): ReadonlyMap<string, OfferedPlan> =>
  new Map([
    ...[...BUILT_IN_PLANS].map(([name, plan]) => [name, { ...inWords(plan, say), title: say(name) }] as const),
    ...[...plans].map(([name, plan]) => [name, { ...plan, title: name }] as const),
  ]);

/** A plan with its titles and remarks in a language: they become texts of a session. */
const inWords = ({ about, blocks, runs }: Plan, say: Say): Plan => {
  const said = <T extends PlanBlock | PlanRun>(of: T): T => ({
    ...of,
    ...(of.title === undefined ? {} : { title: say(of.title) }),
    ...(of.properties.note === undefined ? {} : { properties: { ...of.properties, note: say(of.properties.note) } }),
  });
  return { about: say(about), blocks: blocks.map(said), runs: runs.map(said) };
};
