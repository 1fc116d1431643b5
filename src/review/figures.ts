/** What an image of a review can show of a run. */
export const FIGURES: readonly string[] = [
  'balance',
  'curve',
  'de',
  'chromaticity',
  'drift',
  'tracking',
  'map',
  'time',
  'angles',
  'spectrum',
  'change',
  'nearblack',
];
