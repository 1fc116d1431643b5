import { writtenValue } from '../../report/summary';
import type { Block } from '../../session/block';
import type { PropertyLine } from '../../session/line';
import type { Session } from '../../session/session';
import { type Phrase, phrase, worded } from '../../text/message';
import { isWhole, sessionTitles, titleOf, wrongBlock } from './blocks';
import { type Cell, type Group, type LedGroup, type Making, type Manner, made, type Row } from './parts';

interface Mode {
  readonly session: Session;
  readonly block: Block;
  readonly title: string;
}

/** The settings of modes, a column each; of one mode with what it changes. */
export function settings(leds: LedGroup, manner: Manner): Making {
  const modes: Mode[] = [];
  const titles = sessionTitles(leds);
  for (const [at, led] of leds.entries()) {
    const { reference, analysis, path } = led;
    if (reference.measure !== '' || isWhole(led))
      return wrongBlock(at, 'settings', reference.ids.join('+') + (reference.measure && `.${reference.measure}`));
    for (const id of reference.ids) {
      const block = analysis.session.byName.get(id)!;
      if (block.keyword !== 'mode') return wrongBlock(at, 'settings', id, block.keyword);
      const title = titles.size > 1 ? `${titles.get(path)!}: ${titleOf(block)}` : titleOf(block);
      modes.push({ session: analysis.session, block, title });
    }
  }
  return made(modes.length === 1 ? one(modes[0]!, manner) : several(modes, manner));
}

const one = (mode: Mode, { say }: Manner) => {
  const before = fromOf(mode);
  const rows = namesOf([mode]).map((name): Row => {
    const setting = settingOf(mode, name);
    return { ...named(name, say), cells: [cellOf(setting, say), ...(before ? [{ text: changeText(setting, say) }] : [])] };
  });
  return {
    is: 'table' as const,
    caption: say('Settings of {mode}', { mode: mode.title }),
    head: [say('Setting'), mode.title, ...(before ? [say('Change from {mode}', { mode: titleOf(before) })] : [])],
    groups: grouped(rows),
    notes: [],
  };
};

const several = (modes: readonly Mode[], { say }: Manner) => ({
  is: 'table' as const,
  caption: say('Settings'),
  head: [say('Setting'), ...modes.map(({ title }) => title)],
  groups: grouped(
    namesOf(modes).map((name): Row => ({ ...named(name, say), cells: modes.map((mode) => cellOf(settingOf(mode, name), say)) })),
  ),
  notes: modes.some((mode) => fromOf(mode)) ? [say('Bold: changed from the mode that it is from.')] : [],
});

type Setting =
  | { readonly is: 'none' | 'same' | 'new'; readonly now: string }
  /** `now` is empty where the setting was taken out. */
  | { readonly is: 'changed'; readonly now: string; readonly then: string };

/** The mode that a mode is from. */
const fromOf = ({ session, block }: Mode): Block | undefined => session.lineage(block)[1];

function settingOf(mode: Mode, name: string): Setting {
  const { session, block } = mode;
  const from = fromOf(mode);
  const now = settingText(session.properties(block).get(name)?.line);
  const then = from && settingText(session.properties(from).get(name)?.line);
  if (then === undefined) return now === undefined ? { is: 'none', now: '' } : { is: from ? 'new' : 'same', now };
  return now === then ? { is: 'same', now } : { is: 'changed', now: now ?? '', then };
}

const settingText = (line: PropertyLine | undefined): string | undefined => line && writtenValue(line);

function cellOf({ is, now }: Setting, say: Manner['say']): Cell {
  if (now === '') return { text: '—', look: 'absent' };
  const text = now === '?' ? say('still to note') : now;
  return is === 'changed' || is === 'new' ? { text, look: 'changed' } : { text };
}

function changeText(setting: Setting, say: Manner['say']): string {
  switch (setting.is) {
    case 'changed': {
      if (setting.now === '') return setting.then === '?' ? say('taken out') : say('taken out, was {value}', { value: setting.then });
      return say('was {value}', { value: setting.then === '?' ? phrase('not noted') : setting.then });
    }
    case 'new':
      return say('was not there');
    default:
      return '';
  }
}

/** All that the modes set, or take out of what they are from, the format's own first. */
function namesOf(modes: readonly Mode[]): readonly string[] {
  const names = new Set(
    modes.flatMap((mode) =>
      [mode, ...(fromOf(mode) ? [{ ...mode, block: fromOf(mode)! }] : [])]
        .toReversed()
        .flatMap(({ session, block }) => [...session.properties(block).keys()]),
    ),
  );
  const all = [...names];
  return [...all.filter(isOwn), ...all.filter((name) => !isOwn(name))];
}

const isOwn = (name: string): boolean => name.startsWith('.');

/** What the format's own properties are called for a reader. */
const OWN: ReadonlyMap<string, Phrase> = new Map([
  ['.input', phrase('Input')],
  ['.scope', phrase('Holds for')],
  ['.preset', phrase('Preset')],
  ['.automatic', phrase('Automatic functions')],
  ['.note', phrase('Note')],
]);

/** Between a menu and what stands in it. */
const LEVEL = ' / ';

function named(name: string, say: Manner['say']): Pick<Row, 'name' | 'whole'> {
  const own = OWN.get(name);
  if (own) return { name: worded(own, say) };
  const at = name.indexOf(LEVEL);
  return at < 0 ? { name } : { name: name.slice(at + LEVEL.length), whole: name };
}

/** Settings by their menu, those without one first. */
function grouped(rows: readonly Row[]): readonly Group[] {
  const menus = new Map<string, Row[]>();
  for (const row of rows) {
    const menu = row.whole === undefined ? '' : row.whole.slice(0, row.whole.length - row.name.length - LEVEL.length);
    const group = menus.get(menu);
    if (group) group.push(row);
    else menus.set(menu, [row]);
  }
  return [...menus]
    .sort(([a], [b]) => Number(a !== '') - Number(b !== ''))
    .map(([title, members]) => (title === '' ? { rows: members } : { title, rows: members }));
}
