import * as vscode from 'vscode';

/** What is used of the interface, version 1, of VS Code's own git extension. */
interface GitExtension {
  /** @throws Error while git is switched off or not there. */
  getAPI(version: 1): {
    readonly state: 'uninitialized' | 'initialized';
    readonly onDidChangeState: vscode.Event<unknown>;
    getRepository(uri: vscode.Uri): Repository | null;
  };
}

interface Repository {
  readonly state: { readonly HEAD: { readonly commit?: string } | undefined; readonly onDidChange: vscode.Event<void> };
  show(revision: string, path: string): Promise<string>;
}

export type Committed =
  | { readonly ok: true; readonly text: string; readonly commit: string }
  | { readonly ok: false; readonly why: string };

/** Git looks through the folders after it has started; without a limit nothing would be said where it does not come to an end. */
const START_MS = 10_000;

/** A file as it stands in the last commit, or why it cannot be had. */
export async function lastCommit(file: vscode.Uri): Promise<Committed> {
  const found = await repositoryOf(file);
  if ('why' in found) return { ok: false, why: found.why };
  const { repository } = found;
  const commit = repository.state.HEAD?.commit;
  if (commit === undefined) return { ok: false, why: vscode.l10n.t('There is no commit yet.') };
  try {
    return { ok: true, text: await repository.show(commit, file.fsPath), commit };
  } catch {
    return { ok: false, why: vscode.l10n.t('{0} is not in the last commit.', file.path.replace(/^.*\//, '')) };
  }
}

/** Tells when something is committed, or another commit is checked out. */
export async function onDidCommit(file: vscode.Uri, listener: () => void): Promise<vscode.Disposable | undefined> {
  const found = await repositoryOf(file);
  if ('why' in found) return undefined;
  const { state } = found.repository;
  let commit = state.HEAD?.commit;
  return state.onDidChange(() => {
    if (state.HEAD?.commit === commit) return;
    commit = state.HEAD?.commit;
    listener();
  });
}

async function repositoryOf(file: vscode.Uri): Promise<{ readonly repository: Repository } | { readonly why: string }> {
  const extension = vscode.extensions.getExtension<GitExtension>('vscode.git');
  if (!extension) {
    const why = vscode.workspace.isTrusted
      ? vscode.l10n.t(
          'There is no git here: in a browser, and where the built-in git support is switched off, the last commit cannot be read.',
        )
      : vscode.l10n.t('The folder is open in restricted mode, in which there is no git.');
    return { why };
  }
  if (file.scheme === 'untitled') return { why: vscode.l10n.t('The session was never saved, so it is in no commit.') };
  try {
    const api = (await extension.activate()).getAPI(1);
    if (api.state !== 'initialized') await once(api.onDidChangeState, START_MS);
    const repository = api.getRepository(file);
    return repository ? { repository } : { why: vscode.l10n.t('The session lies in no git repository that is open here.') };
  } catch {
    return { why: vscode.l10n.t('Git is not there, or the built-in git support is switched off.') };
  }
}

const once = (event: vscode.Event<unknown>, ms: number): Promise<void> =>
  new Promise((resolve) => {
    const end = () => {
      clearTimeout(timer);
      subscription.dispose();
      resolve();
    };
    const timer = setTimeout(end, ms);
    const subscription = event(end);
  });
