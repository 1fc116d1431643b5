import type { Session } from '../session/session';

/** How often each of some names or values is used. */
export type Counts = ReadonlyMap<string, number>;

/** What the sessions of one maker's displays say. */
export interface MakerUse {
  /** The values of each setting of a picture mode. */
  readonly settings: ReadonlyMap<string, Counts>;
  readonly firmware: Counts;
}

/** What the other sessions of a folder say, for what may be written in this one. */
export interface FolderUse {
  /** By `makerOf`. */
  readonly makers: ReadonlyMap<string, MakerUse>;
  /** The topics of observations. */
  readonly topics: Counts;
}

export const NO_USE: FolderUse = { makers: new Map(), topics: new Map() };

/** Longer texts are no settings to be offered. */
const LONGEST = 120;

/**
 * The maker of a session's display, for comparing: what it says, else the first word of the display's title. Undefined where there is
 * neither.
 */
export function makerOf(session: Session): string | undefined {
  const display = session.first('display');
  const written = session.text(display, 'maker') ?? /^[^ ]+/.exec(display?.header?.title?.text ?? '')?.[0];
  return written === undefined || written === '' ? undefined : written.normalize('NFC').toLowerCase();
}

/** Counts what sessions say, a property once each time it is written; sessions without a maker give their topics alone. */
export function folderUse(sessions: Iterable<Session>): FolderUse {
  const makers = new Map<string, { readonly settings: Map<string, Map<string, number>>; readonly firmware: Map<string, number> }>();
  const topics = new Map<string, number>();
  for (const session of sessions) {
    for (const name of writtenIn(session, 'observations')) count(topics, name.name);
    const maker = makerOf(session);
    if (maker === undefined) continue;
    const use = makers.get(maker) ?? { settings: new Map(), firmware: new Map() };
    makers.set(maker, use);
    for (const { name, value } of writtenIn(session, 'mode')) {
      const values = use.settings.get(name) ?? new Map<string, number>();
      use.settings.set(name, values);
      if (value !== undefined) count(values, value);
    }
    for (const block of session.live) {
      if (block.keyword !== 'display' && !block.isRun) continue;
      const value = block.find('firmware')?.value;
      if (value && (value.is === 'text' || value.is === 'string') && value.text.length <= LONGEST) count(use.firmware, value.text);
    }
  }
  return { makers, topics };
}

interface Written {
  readonly name: string;
  readonly value?: string;
}

/** The user's own names in blocks of a kind, with their values as far as they have one. */
function writtenIn(session: Session, keyword: 'mode' | 'observations'): Written[] {
  return session.all(keyword).flatMap((block) =>
    block.propertyLines.flatMap((i) => {
      const { name, value, struck } = block.property(i);
      if (struck || name.text === '' || name.text.startsWith('.') || name.text.startsWith('x-') || name.text.length > LONGEST) return [];
      const isValue = (value.is === 'text' || value.is === 'string') && value.text.length <= LONGEST;
      return [{ name: name.text, ...(isValue ? { value: value.text } : {}) }];
    }),
  );
}

const count = (counts: Map<string, number>, key: string): void => void counts.set(key, (counts.get(key) ?? 0) + 1);

/** Names by how often they are used, the most frequent first; those used alike in the order of their letters. */
export const mostUsed = (counts: Iterable<readonly [string, number]>): readonly (readonly [string, number])[] =>
  [...counts].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : a > b ? 1 : 0));

/** How often something is used in several folders or files together. */
export function together(...all: readonly Counts[]): Map<string, number> {
  const sum = new Map<string, number>();
  for (const counts of all) for (const [key, n] of counts) sum.set(key, (sum.get(key) ?? 0) + n);
  return sum;
}

/** What several files or folders use, as one. */
export function joined(uses: readonly FolderUse[]): FolderUse {
  const makers = new Map<string, { settings: Map<string, Counts>; firmware: Counts }>();
  for (const [maker, { settings, firmware }] of uses.flatMap((use) => [...use.makers])) {
    const sum = makers.get(maker) ?? { settings: new Map<string, Counts>(), firmware: new Map() };
    makers.set(maker, sum);
    for (const [name, values] of settings) sum.settings.set(name, together(sum.settings.get(name) ?? new Map(), values));
    sum.firmware = together(sum.firmware, firmware);
  }
  return { makers, topics: together(...uses.map(({ topics }) => topics)) };
}
