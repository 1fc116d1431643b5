import { expect } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { readConfig } from '../../src/config/readConfig';
import { MEASURE_IDS } from '../../src/measure/specs';
import { refused } from '../../src/project/files';
import { Folder } from '../../src/project/folder';
import type { CheckedReview } from '../../src/review/check';
import { readReview } from '../../src/review/markdown';
import { checkedReview } from '../../src/review/sources';
import { sentence } from '../../src/text/finding';
import { applyEdits } from '../../src/text/span';
import { ownWords, PSEUDO, unsaid } from '../editor/pseudo';

export const SESSION = `nitbook 1

session 2026-03-14
display aurora "Halden Aurora 55"
  size: 55 in
  firmware: 2.14.8
  price: 1899 GBP
meter probe
  floor: 0.003 cd/m2
  spread: 0.0004 xy, 0.5 %
signal sdr
  range: limited
  depth: 10
mode cinema "Cinema, as shipped"
  .input: HDMI #2
  .preset: Filmmaker-like
  Picture / Gamma: 2.4
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2

greyscale grey
    level   Y         x        y
         0  <0.003    -        -
        50  22.0      0.3127   0.3290
       100  120.0     0.3127   0.3290

window hdr-window
    window  Y
         1  400
        10  505
       100  163

contrast pair
    patch   Y
    white   120.0
    black   0.115

contrast deep
    patch   Y
    white   120.0
    black   <0.003

spectrum spd
    nm      white
       400  ?
`;

export interface Given {
  readonly files?: Readonly<Record<string, string>>;
  readonly config?: string;
  readonly path?: string;
  /** Takes the paths that are read. */
  readonly asked?: string[];
}

/** A review of a folder in memory, `/w`, that holds `aurora.nitbook`. */
export async function reviewed(
  text: string,
  { files = {}, config, path = '/w/review.md', asked = [] }: Given = {},
): Promise<CheckedReview> {
  const all: Readonly<Record<string, string>> = { '/w/aurora.nitbook': SESSION, ...files };
  const folder = new Folder(
    {
      read: async (file) => {
        asked.push(file);
        return Object.hasOwn(all, file) ? { ok: true, text: all[file]! } : refused('missing');
      },
    },
    '/w',
  );
  const measures = new Set(MEASURE_IDS);
  return checkedReview(
    readReview(text),
    { path, root: '/w', config: config === undefined ? NO_CONFIG : readConfig(config, { measures }).config },
    { session: (file) => folder.session(file), list: async () => Object.keys(all) },
  );
}

/** Of figures, of fenced blocks, of the language of a folder, and of a run in another file. */
const NAMES = 'chromaticity compare figure method en peek';

/** Each finding in a line: code, what is underlined, sentence. */
export const saidOf = ({ review, findings }: CheckedReview): string[] =>
  findings.map((finding) => {
    expect(unsaid(sentence(finding, PSEUDO), ownWords(`${review.text} ${SESSION} ${NAMES}`))).toEqual([]);
    return `${finding.code} "${review.text.slice(...finding.span)}": ${sentence(finding)}`;
  });

/** What the document is after each mend, by its title. */
export const mendsOf = ({ review, findings }: CheckedReview): Record<string, string> =>
  Object.fromEntries(findings.flatMap(({ mends }) => mends.map(({ title, edits }) => [title, applyEdits(review.text, edits)])));

export const statusesOf = ({ checked }: CheckedReview): string[] => checked.map(({ status }) => status);
