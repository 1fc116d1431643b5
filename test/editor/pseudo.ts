import { CONFIG_KEYS, SEVERITIES } from '../../src/config/config';
import { PLAN_KINDS } from '../../src/config/plans';
import { MEASURE_IDS } from '../../src/measure/specs';
import { propertyType } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { UNITS } from '../../src/session/valueTypes';
import { AUTOMATIC, BLOCKS, type BlockSpec, RATINGS } from '../../src/session/vocabulary';
import { CODES } from '../../src/text/codes';
import { type Say, sayIn } from '../../src/text/message';
import { applyEdits, type TextEdit } from '../../src/text/span';

const PLAIN = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ';
const FOREIGN = 'áƀćđéƒǧħíĵķŀḿńóƥɋřšťúṽŵẋýžÁƁĆĐÉƑǦĦÍĴĶĿḾŃÓƤɊŘŠŤÚṼŴẊÝŽ';

/** A template in a language that nobody speaks: its letters are others, its arguments stay. */
export const pseudo = (template: string): string =>
  template.replace(/\{\w+\}|[A-Za-z]/g, (found) => (found.length > 1 ? found : FOREIGN[PLAIN.indexOf(found)]!));

export const PSEUDO: Say = sayIn(pseudo);

const words = (text: string): string[] => text.match(/[A-Za-z]{2,}/g) ?? [];

/** What stays as it is in every language: names of the format, units, and names that standards have given. */
const NAMES: ReadonlySet<string> = new Set(
  [
    ...Object.entries(BLOCKS as Readonly<Record<string, BlockSpec>>).flatMap(([keyword, { properties, table }]) => [
      keyword,
      ...Object.entries(properties).flatMap(([name, { type }]) => [name, ...(type.is === 'choice' ? type.of : [])]),
      ...Object.keys(table?.columns ?? {}),
      table?.example ?? '',
    ]),
    ...Object.values(UNITS).flatMap((units) => Object.keys(units)),
    ...RATINGS,
    ...AUTOMATIC,
    ...MEASURE_IDS,
    ...Object.keys(CODES),
    ...CONFIG_KEYS,
    ...Object.values(PLAN_KINDS).flatMap(({ fields }) => Object.keys(fields)),
    ...SEVERITIES,
    'nitbook from like aim limit Name low high step steps power over black bt hlg pq srgb dci on off bit',
    // Ids that are proposed for blocks; the user's own once they stand in the text.
    'windows uniform fix probe cinema dark colours hdr hold',
    'red green blue cyan magenta yellow white black',
    // The keys of a plan in nitbook.jsonc.
    'about blocks runs properties',
    'PQ HLG SDR HDR BT sRGB ITP GBP',
  ].flatMap(words),
);

/** The words of a text that no template said: none of them should be there but those of `own`. */
export const unsaid = (text: string, own: ReadonlySet<string> = new Set()): string[] =>
  words(text.replace(/data:[^)]*/g, '').replaceAll('&emsp;', ' ')).filter(
    (word) => ![word, word.charAt(0).toLowerCase() + word.slice(1)].some((each) => NAMES.has(each) || own.has(each)),
  );

export const ownWords = (text: string): ReadonlySet<string> => new Set(words(text));

/**
 * A session without a word of its user's, as far as they can be anything: texts are `q`s, remarks are gone. With the names that are left:
 * ids, and words in cells.
 */
export function anonymous(text: string): { readonly text: string; readonly names: ReadonlySet<string> } {
  const source = SessionText.read(text);
  const names: string[] = [];
  const edits: TextEdit[] = [];
  source.blocks.forEach((block, index) => {
    names.push(block.name);
    block.lines.forEach((line, i) => {
      const start = source.lineStart(source.blockStarts[index]! + i);
      const put = ([from, to]: readonly [number, number], instead: string) =>
        edits.push({ span: [start + from, start + to], text: instead });
      const q = (span: readonly [number, number]) => put(span, line.text.slice(...span).replace(/\p{L}/gu, 'q'));
      switch (line.kind) {
        case 'comment':
        case 'note':
        case 'other':
          put([0, line.text.length], '#');
          break;
        case 'header':
          if (line.title) q(line.title.span);
          break;
        case 'property': {
          const type = propertyType(block, line.name.text)?.is;
          if (block.spec?.names === 'user' && block.keyword !== 'limits' && !line.name.text.startsWith('.')) q(line.name.span);
          if (type === undefined) names.push(line.name.text);
          if (type === 'id' || line.name.text === 'spectra') names.push(line.text.slice(...line.value.span));
          else if (type === 'text' || type === 'path' || type === 'scope' || type === 'control') q(line.value.span);
          if (type === 'rating')
            q([line.value.span[0] + Math.max(0, line.text.slice(...line.value.span).search(/,|$/)), line.value.span[1]]);
          if (type === 'quantities') put(line.value.span, line.text.slice(...line.value.span).replace(/ (at|by|in) [^,]*/g, ''));
          break;
        }
        case 'row':
          if (line.remark) q(line.remark.span);
          names.push(line.text.replace(/\|.*/, ''));
          break;
        case 'columns':
          names.push(...line.columns.map(({ name }) => name));
          break;
      }
    });
  });
  return { text: applyEdits(text, edits), names: new Set(names.flatMap(words)) };
}
