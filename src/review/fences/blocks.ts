import type { RunResult } from '../../measure/result';
import type { Analysis } from '../../project/analysis';
import { kindTitle } from '../../report/said';
import { type Figure, writtenValue } from '../../report/summary';
import type { Block } from '../../session/block';
import { propertyType, type Session } from '../../session/session';
import { phrase, type Say, tabled } from '../../text/message';
import { nameOf } from '../places';
import { INSTRUCTIONS, type Instruction } from './language';
import { type Cell, type Led, type Mistaken, mistaken } from './parts';

/** What a block is called: by its title, else by its name. */
export const titleOf = (block: Block): string => block.header?.title?.text || block.name;

/** A property as a reader of a review sees it, with its unit; undefined where it is not noted. */
export function written(session: Session, block: Block | undefined, name: string): string | undefined {
  const property = block && session.properties(block).get(name);
  const text = property ? writtenValue(property.line) : '';
  if (!property || text === '' || text === '?') return undefined;
  const type = propertyType(property.block, name);
  const bare = type?.is === 'quantity' && /^[\d.]+$/.test(text) ? type.bare : undefined;
  return (bare === undefined ? text : `${text} ${bare}`).replace(/(?<=cd\/m)2(?!\d)/g, '²');
}

/** What each session is called beside the others: by its display, and by its file where several are of one display. */
export function sessionTitles(leds: readonly Pick<Led, 'path' | 'analysis'>[]): ReadonlyMap<string, string> {
  const displays = new Map(
    leds.map(({ path, analysis: { session } }) => {
      const display = session.first('display');
      return [path, display ? titleOf(display) : nameOf(path)];
    }),
  );
  const titles = [...displays.values()];
  return new Map(
    [...displays].map(([path, title]) => [
      path,
      titles.filter((other) => other === title).length > 1 ? `${title} (${nameOf(path)})` : title,
    ]),
  );
}

/** Whether a line means the whole of its session: it names the session, or its display. */
export const isWhole = ({ reference: { ids, measure }, analysis: { session } }: Led): boolean =>
  ids.length === 1 && measure === '' && ['session', 'display'].includes(session.byName.get(ids[0]!)?.keyword ?? '');

/** The runs that a line means, all of them for the whole session. */
export function runsOf(
  led: Led,
  at: number,
  instruction: 'summary' | 'method',
): { readonly ok: true; readonly runs: readonly RunResult[] } | Mistaken {
  const { reference, analysis } = led;
  if (isWhole(led)) return { ok: true, runs: analysis.results };
  if (reference.measure !== '') return wrongBlock(at, instruction, `${reference.ids.join('+')}.${reference.measure}`);
  const runs: RunResult[] = [];
  for (const id of reference.ids) {
    const result = analysis.results.find(({ run }) => run.id === id);
    if (!result) return wrongBlock(at, instruction, id, analysis.session.byName.get(id)?.keyword);
    runs.push(result);
  }
  return { ok: true, runs };
}

/** An instruction does not show what a line names. */
export const wrongBlock = (at: number, instruction: Exclude<Instruction, 'cautions'>, id: string, keyword?: string): Mistaken =>
  mistaken(at, 'fence-block', {
    instruction,
    found: keyword === undefined || keyword === id ? phrase('"{id}"', { id }) : phrase('the {keyword} "{id}"', { keyword, id }),
    takes: tabled(INSTRUCTIONS[instruction].takes),
  });

/** How a figure that does not keep its limit stands out. */
export const lookOf = ({ judgement: { verdict } }: Figure): Pick<Cell, 'look'> =>
  verdict === 'beyond' || verdict === 'undecided' ? { look: verdict } : {};

export const runTitle = ({ run }: RunResult): string => (run.title === '' ? run.id : run.title);

/** Its kind and title; its id too where that is not enough. */
export function runHeading({ run }: RunResult, { results }: Pick<Analysis, 'results'>, say: Say): string {
  const { kind, id, title } = run;
  const name = kindTitle(kind, say);
  if (title === '') return id === kind ? name : `${name}: ${id}`;
  const isOwn = !results.some(({ run: other }) => other !== run && other.kind === kind && other.title === title);
  return `${name}: ${title}${isOwn ? '' : ` (${id})`}`;
}

export const againstLine = (result: RunResult, say: Say): string => {
  const against = result.againstText(say);
  return against === '' ? '' : say('Against {against}.', { against });
};
