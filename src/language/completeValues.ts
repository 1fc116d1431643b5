import { SPACES, spaceOf } from '../colour/spaces';
import { WHITE_SOURCES, WHITES, type WhiteId } from '../colour/whites';
import { typeInWords } from '../report/manual';
import { type PropertyLine, quoted } from '../session/line';
import { leadingNumber } from '../session/number';
import { readLine } from '../session/readLine';
import { propertyType, type Session } from '../session/session';
import { UNITS, type ValueType } from '../session/valueTypes';
import { AUTOMATIC, RATINGS } from '../session/vocabulary';
import { skipBlanks } from '../text/blanks';
import type { Say } from '../text/message';
import type { Span } from '../text/span';
import { boundSnippet, currentText, usedText } from './completeNames';
import { type Item, idItems, type Site } from './completion';
import { type Counts, makerOf, mostUsed, together } from './folderUse';
import { shown } from './markdown';
import { measureOf } from './measureCard';
import { stop } from './snippets';
import { USUAL_CURVES, USUAL_VALUES } from './usual';

type Offer = Omit<Item, 'replace' | 'kind'> & { readonly kind?: Item['kind'] };

/** What a property may take, by its type, and what it took elsewhere. */
export function valueItems(site: Site, line: PropertyLine, colon: number): readonly Item[] {
  const { block, on, at } = site;
  const { value } = line;
  if (value.is === 'string') return [];
  const type = propertyType(block, line.name.text);
  if (!type) return [];
  const { text } = on;
  const valueAt = value.is === 'absent' ? at : value.span[0];
  const end = Math.max(at, value.span[1]);
  // A list is written item by item.
  const isList = type.is === 'switches' || type.is === 'quantities' || type.is === 'scope' || type.is === 'limit';
  const comma = isList ? text.slice(valueAt, at).lastIndexOf(',') : -1;
  const from = Math.min(comma < 0 ? valueAt : skipBlanks(text, valueAt + comma + 1, at), at);
  const nextComma = isList ? text.indexOf(',', at) : -1;
  const replace: Span = [from, nextComma >= 0 && nextComma < end ? nextComma : end];
  const gap = from === colon + 1 ? ' ' : '';
  const offers = [...offersOf(site, line, type, text.slice(from, at), text.slice(valueAt, from)), ...markOffers(site, line, comma < 0)];
  return offers.map((offer): Item => ({ kind: 'value', ...offer, replace, insert: gap + (offer.insert ?? offer.label) }));
}

/** `?` for what is still to be noted; `~` where something is taken over that can be taken out. */
function markOffers({ analysis: { session }, block, say }: Site, line: PropertyLine, isWhole: boolean): Offer[] {
  if (!isWhole) return [];
  const parent = session.lineage(block)[1];
  const taken = parent && session.properties(parent).get(line.name.text);
  return [
    { label: '?', detail: say('still to be noted') },
    ...(taken ? [{ label: '~', detail: say('takes out what is taken over from {id}', { id: taken.block.name }) }] : []),
  ];
}

function offersOf(site: Site, line: PropertyLine, type: ValueType, typed: string, before: string): readonly Offer[] {
  const { analysis, block, say } = site;
  const { session } = analysis;
  const name = line.name.text;
  const documentation = say('Takes {type}.', { type: typeInWords(type) });
  switch (type.is) {
    case 'choice':
      return type.of.map((word) => ({ label: word, documentation: spaceText(word, say) }));
    case 'id':
      return idItems(session.all(type.of), [0, 0]);
    case 'curve':
      return USUAL_CURVES.map((curve) => ({ label: curve, documentation }));
    case 'white':
      return Object.entries(WHITES).map(([id, [x, y]]) => ({
        label: id,
        detail: `x ${Number(x.toFixed(5))}, y ${Number(y.toFixed(5))}`,
        documentation: shown(say(WHITE_SOURCES[id as WhiteId])),
      }));
    case 'rating':
      return RATINGS.map((rating) => ({ label: rating, documentation }));
    case 'switches':
      return AUTOMATIC.filter((word) => !`${before}, `.includes(`${word} o`)).flatMap((word) => [
        { label: `${word} off` },
        { label: `${word} on` },
      ]);
    case 'date':
      return session.date ? [{ label: session.date.text, detail: 'session' }] : [];
    case 'limit': {
      const measure = measureOf(name);
      if (!measure) return [];
      const detail = currentText(analysis, measure, false, say);
      const bound = (which: 'aim' | 'limit', n: number) => boundSnippet(analysis, measure, name, which, n);
      const offer = (label: string, insert: string): Offer => ({ label, insert, snippet: true, detail });
      if (before !== '')
        return (['aim', 'limit'] as const).filter((which) => !before.includes(which)).map((which) => offer(which, bound(which, 1)));
      return [
        offer('aim, limit', `${bound('aim', 1)}, ${bound('limit', 2)}`),
        offer('limit', bound('limit', 1)),
        offer('aim', bound('aim', 1)),
      ];
    }
    case 'control':
      return [
        {
          label: '"Name" low..high step s',
          insert: `"${stop(1, say('Gain red'))}" ${stop(2, '-50')}..${stop(3, '50')} step ${stop(4, '1')}`,
          snippet: true,
        },
      ];
    case 'quantity':
      return quantityOffers(site, name, [type.dimension], typed);
    case 'quantities':
      return quantityOffers(site, name, type.dimensions, typed);
    case 'text':
      return used(textCounts(site, name), line, say);
    case 'scope':
    case 'path':
      return used(elsewhere(session, block, name), line, say);
  }
}

const spaceText = (word: string, say: Say): string => {
  const space = spaceOf(word);
  return space && Object.hasOwn(SPACES, word) ? `${shown(say(space.title))} (${shown(say(space.source))})` : '';
};

/** Units behind a number; before one, what is usual and what the session has elsewhere. */
function quantityOffers(site: Site, name: string, dimensions: readonly (keyof typeof UNITS)[], typed: string): Offer[] {
  const { say } = site;
  const number = leadingNumber(typed);
  if (number) {
    const digits = typed.slice(0, number.end);
    const units = dimensions.flatMap((dimension) => Object.keys(UNITS[dimension]));
    return units.map((unit) => ({ label: `${digits} ${unit}`, kind: 'unit' as const }));
  }
  const key = `${site.block.isRun ? 'run' : site.block.keyword}.${name}`;
  const usual = Object.hasOwn(USUAL_VALUES, key) ? USUAL_VALUES[key]! : [];
  const others = mostUsed(elsewhere(site.analysis.session, site.block, name)).filter(([value]) => !usual.includes(value));
  return [
    ...others.map(([label, times]) => ({ label, detail: usedText(times, say) })),
    ...usual.map((label) => ({ label, detail: say('usual') })),
  ];
}

/** What a text is elsewhere: firmware and settings in the folder's sessions of the maker, and whatever this session says. */
function textCounts({ analysis: { session }, use, block }: Site, name: string): Counts {
  const maker = makerOf(session);
  const of = maker === undefined ? undefined : use.makers.get(maker);
  const here = elsewhere(session, block, name);
  if (block.keyword === 'mode' && !name.startsWith('.')) return together(of?.settings.get(name) ?? new Map(), here);
  if (name === 'firmware') return together(of?.firmware ?? new Map(), here);
  return here;
}

/** The values of a property in the other blocks that have one of its kind: runs alike, else blocks of the same keyword. */
function elsewhere(session: Session, except: Site['block'], name: string): Counts {
  const counts = new Map<string, number>();
  for (const block of session.live) {
    if (block === except || !(name === 'firmware' || block.keyword === except.keyword || (block.isRun && except.isRun))) continue;
    const value = block.find(name)?.value;
    if (value?.is === 'text' || value?.is === 'string') counts.set(value.text, (counts.get(value.text) ?? 0) + 1);
  }
  return counts;
}

/** Texts as values, in quotation marks where they would else be read as something other. */
function used(counts: Counts, line: PropertyLine, say: Say): Offer[] {
  return mostUsed(counts).flatMap(([value, times]): Offer[] => {
    const insert = [value, quoted(value)].find((written) => {
      const read = readLine(`  x: ${written}`, '\n', line.before);
      return read.kind === 'property' && (read.value.is === 'text' || read.value.is === 'string') && read.value.text === value;
    });
    return insert === undefined ? [] : [{ label: value, insert, detail: usedText(times, say) }];
  });
}
