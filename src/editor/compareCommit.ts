import * as vscode from 'vscode';
import type { Config } from '../config/config';
import { type Analysis, analyse, intervals } from '../project/analysis';
import { type Difference, differenceOf } from '../report/difference';
import { differenceAsMarkdown } from '../report/differenceForms';
import { SessionText } from '../session/sessionText';
import { activeSession } from './active';
import { Beside, nameOf } from './beside';
import type { Configurations } from './config';
import type { Documents } from './documents';
import { inSlices } from './intervals';
import { say } from './l10n';
import { type Committed, lastCommit, onDidCommit } from './lastCommit';

/** Nothing is said of a change before it is known whether the meter can show it. */
const PATIENCE_MS = 60_000;

/** What changed in a session since the last commit, as Markdown beside it. */
export function compareCommit(documents: Documents, configurations: Configurations): vscode.Disposable {
  const followed = new Map<string, vscode.Disposable>();
  let last: { readonly commit: string; readonly uri: string; readonly config: Config; readonly analysis: Analysis } | undefined;

  const committed = async (uri: string, { text, commit }: Committed & { readonly ok: true }, config: Config): Promise<Analysis> => {
    if (last?.commit === commit && last.uri === uri && last.config === config) return last.analysis;
    const analysis = analyse(SessionText.read(text), config);
    await inSlices(intervals(analysis), () => true);
    last = { commit, uri, config, analysis };
    return analysis;
  };
  const text = async (document: vscode.TextDocument): Promise<string> => {
    const before = await lastCommit(document.uri);
    if (!before.ok) return `${before.why}\n`;
    const after = await documents.settled(document, PATIENCE_MS);
    const work = differenceOf(await committed(document.uri.toString(), before, after.config), after);
    const versions = {
      title: nameOf(document.uri),
      before: vscode.l10n.t('last commit ({0})', before.commit.slice(0, 7)),
      after: vscode.l10n.t('as it stands'),
    };
    return differenceAsMarkdown(await finished(work), versions, say);
  };
  const beside = new Beside(
    { scheme: 'nitbook-commit', title: (name) => vscode.l10n.t('{0} since the last commit', name), text },
    documents,
    configurations,
  );
  return vscode.Disposable.from(
    beside,
    { dispose: () => vscode.Disposable.from(...followed.values()).dispose() },
    // Returns why there is nothing to be shown, where that is so.
    vscode.commands.registerCommand('nitbook.compareCommit', async (uri?: unknown): Promise<string | undefined> => {
      const document = await activeSession(uri);
      if (!document) return undefined;
      const before = await lastCommit(document.uri);
      if (!before.ok) {
        void vscode.window.showInformationMessage(before.why);
        return before.why;
      }
      const key = document.uri.toString();
      if (!followed.has(key)) {
        const following = await onDidCommit(document.uri, () => beside.refresh(document.uri, 0));
        if (following) followed.set(key, following);
      }
      await beside.show(document.uri);
      return undefined;
    }),
  );
}

/** The result of work that pauses, without keeping the process from whatever else it has to do. */
async function finished(work: Generator<unknown, Difference>): Promise<Difference> {
  let result: Difference | undefined;
  await inSlices(
    {
      next: () => {
        const step = work.next();
        if (step.done) result = step.value;
        return step;
      },
    },
    () => true,
  );
  return result!;
}
