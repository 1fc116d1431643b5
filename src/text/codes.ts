export type Severity = 'error' | 'warning' | 'info';

/** What the notebook may notice. Everything that is said of a code anywhere (Problems, command line, documentation, tests) is made from here. */
export interface CodeSpec {
  readonly severity: Severity;
  /** When it is raised, for the documentation. */
  readonly trigger: string;
  /** What is underlined. */
  readonly range: string;
  /** What was expected and what to do, with `{arguments}`. */
  readonly sentence: string;
  /** The title of its mend, where there is one. */
  readonly mend?: string;
}

const table = {
  // The text as text
  'version-missing': {
    severity: 'warning',
    trigger: 'the first significant line does not say which version of the format follows',
    range: 'the first significant line',
    sentence: 'The file starts with "nitbook 1", so that later versions can read it.',
    mend: 'Put "nitbook 1" on top',
  },
  'version-newer': {
    severity: 'warning',
    trigger: 'the version is newer than this program knows',
    range: 'the version',
    sentence: 'Version {version} of the format is newer than 1: what is known is read, and nothing here is rewritten.',
  },
  'merge-conflict': {
    severity: 'error',
    trigger: 'a mark of a merge under way, at the start of a line',
    range: 'the mark',
    sentence: 'A merge is under way: the lines between the marks are kept as text and left out of every computation.',
  },
  'line-unread': {
    severity: 'warning',
    trigger: 'a line that is no property, row, column line, note or comment',
    range: 'the line',
    sentence: 'Expected {expected}. The line is kept and not read.',
  },
  'header-indented': {
    severity: 'warning',
    trigger: 'an indented line that looks like the head of a block',
    range: 'the keyword',
    sentence: 'A block starts at the beginning of the line: "{keyword}" here belongs to no block.',
    mend: 'Move to the start of the line',
  },
  'not-indented': {
    severity: 'warning',
    trigger: 'a row or property at the start of a line',
    range: 'the first word',
    sentence: 'Lines of a block are indented; this one is read as part of the block above.',
    mend: 'Indent',
  },
  'before-any-block': {
    severity: 'warning',
    trigger: 'a row or property before the first block',
    range: 'the line',
    sentence: 'Expected the head of a block (session, display, mode, greyscale …) before this line. It is kept and not read.',
  },
  'block-unknown': {
    severity: 'info',
    trigger: 'a block whose keyword is not one of the format',
    range: 'the keyword',
    sentence: '"{keyword}" is not a block of this format: it is kept and not read.{neighbour}',
    mend: 'Write {mended}',
  },
  'header-part': {
    severity: 'warning',
    trigger: 'a head with a part that its kind of block does not take',
    range: 'the part',
    sentence: '{expected}.',
    mend: 'Write {mended}',
  },
  'string-open': {
    severity: 'warning',
    trigger: 'a quotation mark without its partner',
    range: 'from the quotation mark to the end of the line',
    sentence: 'The quotation is not closed on this line.',
    mend: 'Close the quotation',
  },
  'colon-wide': {
    severity: 'warning',
    trigger: 'a full-width colon where a property has its colon',
    range: 'the colon',
    sentence: 'A property takes the plain colon and a blank: "{name}: …". The line is not read.',
    mend: 'Write the plain colon',
  },

  // Ids and references
  'id-missing': {
    severity: 'warning',
    trigger: 'a block that others refer to has no id',
    range: 'the keyword',
    sentence: 'A {keyword} needs an id of its own, such as "{keyword} {example}".',
  },
  'id-repeated': {
    severity: 'error',
    trigger: 'two blocks have the same id',
    range: 'the second id',
    sentence: 'The id {id} is taken by the block in line {line}: ids are unique in a file.',
  },
  'display-second': {
    severity: 'error',
    trigger: 'a second display block',
    range: 'the keyword',
    sentence: 'One display a file: rivals are compared across files. The display of this file is in line {line}.',
  },
  'reference-missing': {
    severity: 'error',
    trigger: 'a property or head names a block that is not in the file',
    range: 'the id',
    sentence: 'There is no {keyword} {id} in this file.{neighbour}',
    mend: 'Write {mended}',
  },
  'reference-kind': {
    severity: 'error',
    trigger: 'a property or head names a block of another kind',
    range: 'the id',
    sentence: '{id} is a {found}; expected a {keyword}.',
  },
  'reference-circle': {
    severity: 'error',
    trigger: 'blocks that take from each other in a circle, or through too many others',
    range: 'the id after from or like',
    sentence: 'What {id} takes over comes round in a circle, or through more than {most} blocks: nothing is taken over.',
  },
  'reference-unsaid': {
    severity: 'warning',
    trigger: 'a run that must say which target, mode, meter or signal it means, as there are several',
    range: 'the head of the run',
    sentence: 'Which {property}? There are several ({candidates}): write "{property}: …".',
    mend: 'Add {property}: {mended}',
  },

  // Properties
  'property-unknown': {
    severity: 'info',
    trigger: 'a property that its block does not know',
    range: 'the name',
    sentence: 'A {keyword} has no property "{name}": it is kept and not read. Names of your own start with x-.{neighbour}',
    mend: 'Write {mended}',
  },
  'property-repeated': {
    severity: 'warning',
    trigger: 'a property written twice in a block',
    range: 'the second name',
    sentence: '"{name}" stands above already, with the value {value}: that first one counts.',
  },
  'property-value': {
    severity: 'warning',
    trigger: 'a value that its property cannot take',
    range: 'the value',
    sentence: '{name} takes {expected}.',
    mend: 'Write {mended}',
  },
  'property-to-note': {
    severity: 'info',
    trigger: 'a property with the value ?',
    range: 'the ?',
    sentence: '{name} is still to be noted.',
  },
  'rating-unknown': {
    severity: 'warning',
    trigger: 'an observation that does not start with a word of the scale',
    range: 'the value',
    sentence: 'An observation starts with one of {words}; free text follows after a comma.',
  },

  // Columns and cells
  'columns-missing': {
    severity: 'warning',
    trigger: 'a row before the column line of its run',
    range: 'the row',
    sentence: 'Expected a line of column names first, such as "{example}". The row is kept and not read.',
    mend: 'Put "{example}" above',
  },
  'columns-second': {
    severity: 'warning',
    trigger: 'a second column line in a run',
    range: 'the line',
    sentence: 'A run has one column line. This one is kept and not read.',
  },
  'column-unknown': {
    severity: 'info',
    trigger: 'a column that the run does not know',
    range: 'the name',
    sentence: 'A {keyword} run has no column "{name}": it is kept and not read.{neighbour}',
    mend: 'Write {mended}',
  },
  'column-repeated': {
    severity: 'warning',
    trigger: 'a column name written twice',
    range: 'the second name',
    sentence: 'Column {name} stands twice (Y is luminance, y a chromaticity): only the first is read.',
    mend: 'Write {mended} first',
  },
  'column-spelling': {
    severity: 'warning',
    trigger: 'a column name with its unit in round brackets or apart, or with another prime',
    range: 'the name',
    sentence: 'Expected {mended}. The column is not read.',
    mend: 'Write {mended}',
  },
  'column-unit': {
    severity: 'warning',
    trigger: 'a unit that its column cannot have',
    range: 'the unit',
    sentence: '{name} takes {expected}, not [{unit}]. The column is not read.',
  },
  'column-needed': {
    severity: 'warning',
    trigger: 'a run without a column that its measures need',
    range: 'the column line',
    sentence: 'A {keyword} run needs {expected}: without it nothing is computed.',
  },
  'cell-surplus': {
    severity: 'warning',
    trigger: 'a row with more cells than columns',
    range: 'the cells without a column',
    sentence: '{found} cells under {expected} columns: a column is missing, or a blank too many.',
  },
  'cell-empty': {
    severity: 'warning',
    trigger: 'two tabs with nothing between them',
    range: 'the tabs',
    sentence: 'Nothing stands between two tabs: write ? for a reading to take, - for one not measured.',
    mend: 'Write {mended}',
  },
  'cell-number': {
    severity: 'warning',
    trigger: 'a cell of a number column that holds no number',
    range: 'the cell',
    sentence: '{name} takes a number, <n, >n, - or ?. "{found}" is not read.',
  },
  'decimal-comma': {
    severity: 'warning',
    trigger: 'a comma inside a number',
    range: 'the cell',
    sentence: 'Numbers take a decimal point: "{found}" is not read, as the comma may also part thousands.',
    mend: 'Write {mended}',
  },
  'sign-apart': {
    severity: 'warning',
    trigger: 'a sign or a < or > with a blank before its number',
    range: 'the sign and the number',
    sentence: '"{found}" reads as two cells: {mended} is one.',
    mend: 'Write {mended}',
  },
  'minus-sign': {
    severity: 'info',
    trigger: 'a minus sign or dash from a word processor',
    range: 'the sign',
    sentence: 'The sign is read as a minus; the plain - keeps the file searchable.',
    mend: 'Write {mended}',
  },
  'percent-in-cell': {
    severity: 'warning',
    trigger: 'a cell with a per cent sign',
    range: 'the cell',
    sentence: 'The column says the unit: "{found}" is not read.',
    mend: 'Write {mended}',
  },
  'readings-to-take': {
    severity: 'info',
    trigger: 'a run with readings still to take',
    range: 'the first ? or short row of the run',
    sentence: '{count} still to take in {run}, the first at {key}.',
  },

  // Readings that cannot be, or hardly
  'xy-sum': {
    severity: 'error',
    trigger: 'x + y is over 1',
    range: 'x and y',
    sentence: 'x + y is {sum}, and cannot be over 1.',
  },
  'xy-range': {
    severity: 'error',
    trigger: 'a chromaticity below 0, or y of 0',
    range: 'the cell',
    sentence: "{name} is {found}: a chromaticity lies between 0 and 1, and y (or v') above 0.",
  },
  'outside-locus': {
    severity: 'error',
    trigger: 'a chromaticity outside the spectrum locus',
    range: 'the chromaticity',
    sentence: '{found} lies outside the spectrum locus: no light has this colour.',
  },
  'reading-negative': {
    severity: 'error',
    trigger: 'a negative luminance or tristimulus value',
    range: 'the cell',
    sentence: '{name} is {found}: a luminance is not negative. Below the floor of the meter write <{floor}.',
  },
  'level-range': {
    severity: 'error',
    trigger: 'a level, code or saturation outside what a signal can carry',
    range: 'the cell',
    sentence: '{name} is {found}: expected {expected}.',
  },
  'patch-unknown': {
    severity: 'warning',
    trigger: 'a row whose key is not read: a mistyped hue or patch, one that the run does not know, or none',
    range: 'the cell',
    sentence: '{name} is {found}: expected {expected}. Figures that go by {name} leave the row out.{neighbour}',
    mend: 'Write {mended}',
  },
  'quantity-range': {
    severity: 'error',
    trigger: 'a window, angle, time, delay, power or illuminance that cannot be',
    range: 'the cell',
    sentence: '{name} is {found}: expected {expected}.',
  },
  'time-backwards': {
    severity: 'warning',
    trigger: 'a time of an endurance run that comes before that of the row above',
    range: 'the time',
    sentence: 't {found} comes after {before}: time runs forward from row to row. What hangs on it is not computed.',
  },
  'grid-hole': {
    severity: 'warning',
    trigger: 'a place of a uniformity grid without a row, or with a row that holds no reading and none to take',
    range: 'the head of the run',
    sentence:
      'The grid of {run} has no reading in row {row}, column {column}{others}: what is worst may lie there, and nothing is computed.',
  },
  'wavelength-order': {
    severity: 'warning',
    trigger: 'a wavelength that is not above that of the row before',
    range: 'the wavelength',
    sentence: '{found} nm does not lie above {before} nm: wavelengths rise from row to row. The spectra are not computed.',
  },
  'wavelength-range': {
    severity: 'warning',
    trigger: 'a wavelength outside the range of the standard observer',
    range: 'the wavelength',
    sentence: '{found} nm lies outside 360 to 830 nm, the range of the standard observer. The spectra are not computed.',
  },
  'power-negative': {
    severity: 'warning',
    trigger: 'a spectrum with a power below 0',
    range: 'the cell',
    sentence: 'The power of {name} is {found} at {nm} nm: expected 0 or more. The spectrum is not computed.',
  },
  'correction-refused': {
    severity: 'warning',
    trigger: 'a correction whose matrix cannot be computed',
    range: 'the head of the correction',
    sentence: '{correction} corrects nothing: {reason}.',
  },
  'xy-swapped': {
    severity: 'warning',
    trigger: 'x and y changed about bring the reading three times nearer to its target',
    range: 'x and y',
    sentence: "x {x} and y {y} lie Δu'v' {before} from {against}, changed about {after}: swapped?",
    mend: 'Swap x and y',
  },
  'decimal-slip': {
    severity: 'warning',
    trigger: 'a luminance, or an X or Z, off the trend of its neighbours that a moved decimal point brings back',
    range: 'the luminance',
    sentence: '{name} {found} at {key} is off the trend of its neighbours, {mended} would be on it: decimal point?',
    mend: 'Write {mended}',
  },
  'chromaticity-stray': {
    severity: 'warning',
    trigger: 'a chromaticity of a run of one colour that lies far off its neighbours, which agree',
    range: 'the cell',
    sentence: '{name} {found} at {key} is far off its neighbours: expected about {expected}.',
    mend: 'Write {mended}',
  },
  'chromaticity-form': {
    severity: 'warning',
    trigger: "the greys or whites of a run lie where white has its u' and v', under columns x and y, or the other way round",
    range: 'the names of the columns',
    sentence:
      '{first} and {second} of the run are about {a} and {b}: expected about {x} and {y}. Those are {mended} of white: other columns?',
    mend: 'Write {mended} as the columns',
  },
  'level-unit': {
    severity: 'warning',
    trigger: 'levels in per cent under a column of code values, or code values under one in per cent',
    range: 'the name of the column',
    sentence: '{name} goes from {low} to {high} as {like} do: expected the column {mended} for that.',
    mend: 'Write {mended}',
  },
  'code-reserved': {
    severity: 'warning',
    trigger: 'a code value that limited range keeps for timing, under a signal of limited range',
    range: 'the first such cell of the run',
    sentence: '{name} is {found}, and {signal} is of limited range: expected {least} to {most} (BT.709, BT.2100). Was it full range?',
  },
  'reading-copied': {
    severity: 'warning',
    trigger: 'a reading that agrees with the one above digit for digit, though what was shown differs',
    range: 'the reading',
    sentence: 'The reading at {key} is that at {other}, digit for digit: expected another for another patch. Copied?',
  },
  'white-dark': {
    severity: 'warning',
    trigger: 'a white of a contrast run that reads less than its black',
    range: 'the luminance of white',
    sentence: '{light} reads {white}, less than {dark} with {black}: expected it to be the brighter.',
    mend: 'Change the two about',
  },
  'luminance-falls': {
    severity: 'warning',
    trigger: 'luminance falls as the level rises, by more than the spread of the meter',
    range: 'the luminance',
    sentence: 'Y falls from {from} to {to} between {below} and {key}: expected it to rise.',
  },
  'below-floor': {
    severity: 'warning',
    trigger: 'a luminance below the floor of the meter, without a <',
    range: 'the luminance',
    sentence: 'Y {found} is below the floor of {meter} ({floor} cd/m²): write <{floor}.',
    mend: 'Write {mended}',
  },
  'repeats-disagree': {
    severity: 'warning',
    trigger: 'repeat readings that differ by more than the spread of the meter',
    range: 'the later reading',
    sentence: 'Repeats at {key} differ by {found}; the spread of the meter explains {expected}.',
  },
  'white-drift': {
    severity: 'warning',
    trigger: 'the white at the end is unlike the white at the start',
    range: 'the last white',
    sentence: 'White went from {from} to {to} cd/m² ({change} %) in the run: not warmed up, or dimming?',
  },
  'range-mismatch': {
    severity: 'warning',
    trigger: 'the greyscale fits a range mismatch better than the signal that is written',
    range: 'the head of the run',
    sentence:
      'The curve fits "{hypothesis}" far better than the signal as written (error {found} against {expected} stops): check the range setting of source and display.',
  },

  // Things unsaid or at odds
  'date-missing': {
    severity: 'warning',
    trigger: 'the session has no date',
    range: 'the head of the session, or the first line',
    sentence: 'The session has no date ("session 2026-03-14"): ages cannot be judged.',
  },
  'firmware-missing': {
    severity: 'warning',
    trigger: 'neither the display nor the run says the firmware',
    range: 'the head of the display',
    sentence: 'The firmware is not noted: results cannot be told from those after an update.',
    mend: 'Add firmware: ?',
  },
  'firmware-changed': {
    severity: 'warning',
    trigger: 'runs of one session under different firmware',
    range: 'the firmware of the run',
    sentence: '{run} was taken under firmware {found}, {other} under {expected}: compare them with care.',
  },
  'meter-check-old': {
    severity: 'warning',
    trigger: 'the last check of the meter is over a year before the session',
    range: 'the date of the check',
    sentence: 'The last check of {meter} was {days} days before the session; a year is customary (common practice, no source).',
  },
  'automatic-on': {
    severity: 'warning',
    trigger: 'a mode that was measured has an automatic function on',
    range: 'the function',
    sentence: '{feature} is on in {mode}: the display changes between readings.',
  },
  'automatic-unsaid': {
    severity: 'info',
    trigger: 'a mode that was measured does not say that an automatic function is off',
    range: 'the head of the mode',
    sentence: '{mode} does not say whether these are off: {features}.',
    mend: 'Add .automatic, all off',
  },
  'target-mismatch': {
    severity: 'warning',
    trigger: 'signal, mode and target of a run contradict each other',
    range: 'the head of the run',
    sentence: '{reason}.',
  },
  'not-computed': {
    severity: 'info',
    trigger: 'a run whose main measures cannot be computed',
    range: 'the head of the run',
    sentence: '{measure} of {run} is not computed: {reason}.',
  },
  'gamut-driven-narrow': {
    severity: 'warning',
    trigger: 'a coverage asked for of a wider space than the patches were driven in',
    range: 'the head of the run',
    sentence: 'The patches were driven in {driven}: coverage of {wider} cannot be seen from them.',
  },
  'limit-measure': {
    severity: 'warning',
    trigger: 'a limit for a measure that does not exist',
    range: 'the name',
    sentence: '"{name}" is not a measure with limits.{neighbour}',
    mend: 'Write {mended}',
  },
  'limit-aim': {
    severity: 'warning',
    trigger: 'an aim that is worse than its limit, or outside the range of it',
    range: 'the value',
    sentence: '{name} has {found}: expected {expected}.',
    mend: 'Write {mended}',
  },
  'limit-row': {
    severity: 'warning',
    trigger: 'a limit for a row that no run of its kind has',
    range: 'the name',
    sentence: '"{name}" is not judged: {reason}.',
  },

  // Claims of reviews
  'claim-wrong': {
    severity: 'error',
    trigger: 'a review says something else than the session that it refers to',
    range: 'the text of the link',
    sentence: '"{claim}" does not hold: {what} is {now}.',
    mend: 'Write {mended}',
  },
  'claim-undecided': {
    severity: 'warning',
    trigger: 'what is known of a figure does not tell whether a claim holds',
    range: 'the text of the link',
    sentence: '"{claim}" may hold or not: {what} is {now}{between}.',
    mend: 'Write {mended}',
  },
  'claim-unclear': {
    severity: 'warning',
    trigger:
      'a link with several figures, a denial, a condition, a tolerance or a difference, or with another unit or formula than the figure has',
    range: 'the text of the link',
    sentence: '{reason}: link only what says {what}, {now}.',
    mend: 'Link only "{mended}"',
  },
  'claim-notation': {
    severity: 'warning',
    trigger: 'a number that is none in the language of the folder',
    range: 'the number',
    sentence: '"{found}" is no number in the language of this folder ({language}), which writes {example}.',
    mend: 'Write {mended}',
  },
  'claim-none': {
    severity: 'info',
    trigger: 'a link to a figure without a number in its text',
    range: 'the text of the link, or the link where it has none',
    sentence: 'There is no number here to hold against {what}, which is {now}.',
    mend: 'Write {mended}',
  },
  'claim-not-computed': {
    severity: 'warning',
    trigger: 'a link to a figure that cannot be computed',
    range: 'the text of the link',
    sentence: '{what} is not computed: {reason}.',
  },
  'claim-unlinked': {
    severity: 'info',
    trigger: 'a figure with a unit of displays and no link, in a review',
    range: 'the figure',
    sentence: '"{figure}" is linked to no figure of a session.',
    mend: 'Link to {reference}: {title} {now}',
  },
  'link-unread': {
    severity: 'error',
    trigger: 'a reference of a review that cannot be read, or leads out of the folder',
    range: 'the mistaken part of the reference',
    sentence: '{reason}',
    mend: 'Write {mended}',
  },
  'link-file': {
    severity: 'error',
    trigger: 'a reference of a review to a session that is not there, cannot be read, or lies outside the folder',
    range: 'the path',
    sentence: '{path}: {problem}.{neighbour}',
    mend: 'Write {mended}',
  },
  'link-unknown': {
    severity: 'error',
    trigger: 'a reference of a review to a run, measure, property, row or figure that the session does not have',
    range: 'the mistaken part of the reference',
    sentence: '{reason}',
    mend: 'Write {mended}',
  },
  'fence-instruction': {
    severity: 'error',
    trigger: 'a line of a fenced block of a review that starts with no instruction',
    range: 'the first word',
    sentence: '"{found}" is no instruction: there is {instructions}.{neighbour}',
    mend: 'Write {mended}',
  },
  'fence-reference': {
    severity: 'error',
    trigger: 'an instruction of a review without the one reference that it takes, or with another word',
    range: 'the instruction, or what is one too many',
    sentence: '{reason}.',
  },
  'fence-block': {
    severity: 'error',
    trigger: 'an instruction of a review whose reference names something that it does not show',
    range: 'the line',
    sentence: '{instruction} does not show {found}: it takes {takes}.',
  },
  'fence-together': {
    severity: 'error',
    trigger: 'lines of a review that follow each other and make no table or figure together',
    range: 'the line that does not go with those before it',
    sentence: '{reason}: a blank line parts them.',
  },
  'fence-again': {
    severity: 'info',
    trigger: 'the cautions of a review a second time',
    range: 'the line',
    sentence: 'The {instruction} stand above already: they are shown once.',
  },

  // nitbook.jsonc
  'config-syntax': {
    severity: 'error',
    trigger: 'nitbook.jsonc is not JSON with comments',
    range: 'the place',
    sentence: '{expected}.',
  },
  'config-value': {
    severity: 'warning',
    trigger: 'a key or value that nitbook.jsonc does not take',
    range: 'the key or value',
    sentence: '{expected}. It is not used.{neighbour}',
  },
} as const satisfies Record<string, CodeSpec>;

export type Code = keyof typeof table;

export const CODES: Readonly<Record<Code, CodeSpec>> = table;
