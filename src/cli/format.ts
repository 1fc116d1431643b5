import { problemText } from '../project/files';
import { visible } from '../report/format';
import { formatEdits, refusesRewriting } from '../session/layout';
import { SessionText } from '../session/sessionText';
import { applyEdits } from '../text/span';
import { CannotRun, complain, DiskFiles, rootOf, say, writeText } from './io';
import { isSession, targets } from './targets';

export interface FormatOptions {
  readonly check?: boolean;
  readonly root?: string;
}

/**
 * Brings sessions into the canonical layout, which moves blanks only; or lists those that are not in it. As it writes, a folder outside the
 * root is not looked through: `/` or `..` by mistake would rewrite what belongs to others.
 */
export async function format(paths: readonly string[], { check, root: given }: FormatOptions): Promise<number> {
  const folders = await rootOf(given);
  const root = given === undefined ? undefined : folders;
  const files = new DiskFiles(root);
  let [changed, failed] = [0, 0];
  for (const file of await targets(paths, isSession, { root, folders })) {
    const { path, shown } = file;
    const refuse = (why: string) => {
      complain(`${shown}: ${why}`);
      failed++;
    };
    const reading = await files.read(path);
    if (!reading.ok) {
      refuse(problemText(reading.problem));
      continue;
    }
    const source = SessionText.read(reading.text);
    if (refusesRewriting(source)) {
      refuse(`its version ${source.version} of the format is newer than this program: it is not rewritten`);
      continue;
    }
    const edits = formatEdits(source);
    if (edits.length === 0) continue;
    changed++;
    if (!check) {
      try {
        await writeText(file, applyEdits(source.text, edits));
      } catch (error) {
        if (!(error instanceof CannotRun)) throw error;
        complain(error.message);
        failed++;
        continue;
      }
    }
    say(`${visible(shown)}\n`);
  }
  return failed > 0 ? 2 : check && changed > 0 ? 1 : 0;
}
