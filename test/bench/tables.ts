/** A table of the bench: what it is called, and what is measured in it. */
export interface TableAbout {
  readonly title: string;
  /** What it is and how to read it, beside what the page says of all. */
  readonly about: string;
}

/** All tables, in the order in which they stand on the page; the bench ends with a mistake when it did not make one of them. */
export const TABLES = {
  parsing: {
    title: 'Reading the text of 10,000 readings',
    about:
      'The same rows of R, G, B, Y, x, y: as a session, as JSON and as YAML, each read into a tree that knows the place of every cell. Times are divided by that of Nitbook.',
  },
  judging: {
    title: 'Reading and judging 10,000 readings afresh',
    about: 'From a text that was never seen to its figures, and to all its findings.',
  },
  typing: {
    title: 'Typing',
    about:
      '200 edits as a reviewer makes them (a digit of a reading in the middle, a digit of the white row, letters of an id, a digit of the target), each from the change of the text to all figures and findings.',
  },
  editor: {
    title: 'What an editor asks for',
    about: 'Of 10,000 readings, each question right after a keystroke, when nothing has been asked of that version yet.',
  },
  intervals: {
    title: 'Intervals of all figures of 10,000 readings',
    about:
      'The second phase, after the point values, of a meter that states all it can. It pauses between pieces, so that an editor goes on typing in between; of each piece the shortest of all rounds counts, as what disturbs the machine hits another piece each time.',
  },
  growth: {
    title: 'Growth with the number of readings',
    about: 'The power p of time ~ readingsᵖ: 1 is linear.',
  },
  figures: {
    title: 'A drawn figure of 1,000 rows',
    about:
      'The balance of a greyscale as SVG, three lines, beside plotting libraries that make the same lines of the same numbers without a browser, each as its makers’ first example of a line chart does. Only Nitbook’s also words an answer as its title and draws limits and labels.',
  },
  figuresLong: { title: 'A drawn figure of 10,000 rows', about: 'The same.' },
  review: {
    title: 'Checking a review',
    about:
      'Claims of the examples in prose, held against sessions that are read already, as while the review is written: from its text to its findings.',
  },
  reviewGrowth: { title: 'Growth with the length of a review', about: 'One claim in 50 words. The power p of time ~ wordsᵖ: 1 is linear.' },
  colour: {
    title: '100,000 colours',
    about:
      'In a process of its own, each library by its most direct function for arrays or objects that are there already. Where a library has no such function there is a dash. Times are divided by that of Nitbook.',
  },
  folder: {
    title: 'A folder of 1,000 sessions, read cold',
    about:
      'Sessions of 100 readings. The command line is a process of its own, from its start to its end; beside it a process that only reads the bytes of the same files, and what is left of it in a process that has done it before.',
  },
  memory: {
    title: 'Memory of 50,000 readings',
    about:
      'What is still in use after the garbage was collected, in a process of its own that has read a short session before. Of the session each line holds all of those above it; after edits what was computed for the latest versions is kept as well, and no more after 800 edits than after 200.',
  },
  sizes: {
    title: 'Sizes of what ships',
    about:
      'Minified bundles, in kB of 1,024 bytes: what is read at once, and what later: in the next turn, or when it is first wanted. The package holds the extension, not the command line.',
  },
  activation: {
    title: 'Loading and activating in the workbench',
    about:
      'What the workbench itself reports ("Developer: Show Running Extensions"): code loaded and activated, in whole milliseconds, of an extension host that has just started, with a session opened. What Nitbook does in the turns after that, when it analyses what is open and registers hovers, completion and most commands, is not in it. Beside it the extensions that come with the workbench and were activated in the same rounds.',
  },
  painted: {
    title: 'From Enter in the reading sheet to the painted figure',
    about:
      'In the workbench: a reading is typed and committed, written into the document, computed and drawn. The page takes the time from Enter to the frame in which the figure of the row is painted. What a reading gives is computed while it is typed: with 40 ms between keys, which is faster than a hand, that is done before Enter; where all keys come at once it is waited for.',
  },
} as const satisfies Readonly<Record<string, TableAbout>>;

export type TableId = keyof typeof TABLES;
