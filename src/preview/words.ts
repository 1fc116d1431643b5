/** What the page of the preview shows beside figures, in English; it is told it in the language of the workbench. */
export const PREVIEW_WORDS = {
  run: 'Run',
  beside: 'Beside it',
  'beside-some': 'Beside it: {count}',
  'beside-none': 'There is no other run of this kind.',
  pin: 'Keep this run',
  'pin-about': 'Pressed: this run stays. Not pressed: the run of the cursor is shown.',
  wider: 'Wider',
  narrower: 'Narrower',
  'save-all': 'Save all…',
  save: 'Save…',
  'copy-picture': 'Copy picture',
  'copy-svg': 'Copy SVG',
  'copy-reference': 'Copy for a review',
  numbers: 'The numbers of this figure',
  measures: 'Measures',
  'more-views': 'Other views',
  'figure-keys': 'Figure. Arrow keys go from reading to reading, Enter goes to its row.',
  'no-run': 'Put the cursor into a run: its figures are shown here.',
  'no-figures': 'This run has no figures yet.',
  'row-go': 'Go to this row',
} as const;

export type PreviewWord = keyof typeof PREVIEW_WORDS;
export type Words = Readonly<Record<string, string>>;

/** All words of the page, put into a language; places in them stay open. */
export const pageWords = (translated: (template: string) => string): Words =>
  Object.fromEntries(Object.entries(PREVIEW_WORDS).map(([code, template]) => [code, translated(template)]));
