import { withInterval } from '../measure/intervals';
import { settled } from '../project/analysis';
import { Folder } from '../project/folder';
import { mistakeText } from '../project/resolve';
import { visible, whyText } from '../report/format';
import { figureOf } from '../report/summary';
import { figureLine } from '../report/text';
import { readReference, referenceSentence } from '../session/reference';
import { CannotRun, complain, DiskFiles, rootOf, say, slashed, unread } from './io';
import { isSession } from './targets';

export interface ValueOptions {
  readonly raw?: boolean;
  readonly root?: string;
}

/** What one reference means. 1 when there is such a figure, and it has no number. */
export async function value(text: string, { raw, root: given }: ValueOptions): Promise<number> {
  const reading = readReference(text);
  if (!reading.ok) throw new CannotRun(`${text}: ${reading.mistakes.map((mistake) => referenceSentence(mistake)).join(' ')}`);
  const { reference } = reading;
  if (reference.path === '') throw new CannotRun(`${text}: expected a session file before the #, such as aurora.nitbook#grey.de.max`);
  const root = await rootOf(given);
  const read = await new Folder(new DiskFiles(root), root).resolve(reference, slashed('.'));
  if (!read.ok) {
    const hint = reference.path.startsWith('/') && read.problem.code === 'missing' ? `; a leading / means ${root || '/'}` : '';
    throw new CannotRun(unread(read, isSession(read.path) ? reference.path : read.path) + hint);
  }
  const { resolution, analysis } = read;
  if (!resolution.ok) throw new CannotRun(`${text}: ${mistakeText(resolution.mistake)}`);
  if (resolution.is === 'text') {
    say(`${visible(resolution.text)}\n`);
    return 0;
  }
  const { result, id } = resolution;
  settled({ results: [result] });
  const figure = figureOf(analysis, result, id, reference.keys, withInterval(result, id, reference.keys, result.value(id, reference.keys)));
  if (figure.value.ok) {
    say(`${raw ? figure.value.v : figureLine(figure, result)}\n`);
    return 0;
  }
  complain(`${text}: not computed: ${whyText(figure.value.why)}`);
  return 1;
}
