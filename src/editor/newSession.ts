import * as vscode from 'vscode';
import { isRefusal, refusalText } from '../language/answers';
import { freeId } from '../language/gestures';
import { continueSession, type NewSession, newSession, repeatReasonText, runsToRepeat } from '../language/newSession';
import { plansOf } from '../language/plans';
import { visible } from '../report/format';
import { sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import type { Message } from '../text/message';
import type { Configurations } from './config';
import { type Documents, isSession, LANGUAGE } from './documents';
import { now } from './gestures';
import { say } from './l10n';

/** More sessions than this are not offered to go on from. */
const MOST_OFFERED = 1000;

/** What would be asked, for tasks and keys that know the answers. */
interface Answers {
  readonly plan?: string;
  readonly display?: string;
  /** The address of an earlier session to go on from, instead of a plan. */
  readonly earlier?: string;
  readonly firmware?: string;
}

/** A new session: the rows of a plan, or of an earlier session, to be taken. */
export const newSessions = (documents: Documents, configurations: Configurations): vscode.Disposable =>
  vscode.commands.registerCommand('nitbook.newSession', async (of?: unknown) => {
    const answers: Answers = typeof of === 'object' && of !== null && !(of instanceof vscode.Uri) ? of : {};
    const folder = of instanceof vscode.Uri ? of : await chosenFolder();
    if (folder === 'none') return;
    const date = now().slice(0, 10);
    const config = await configurations.of(folder ? vscode.Uri.joinPath(folder, 'new.nitbook') : vscode.Uri.parse('untitled:new'));
    const plans = plansOf(config, say);
    const planName = answers.earlier === undefined ? (answers.plan ?? (await chosenPlan(plans))) : undefined;
    if (planName === undefined && answers.earlier === undefined) return;

    const plan = planName === undefined ? undefined : plans.get(planName);
    if (plan) {
      const display = answers.display ?? (await askedDisplay());
      if (display !== undefined) await write(newSession({ date, display, plan }), folder, `${fileName(display)}-${date}`);
      return;
    }
    const earlier = answers.earlier === undefined ? await chosenSession() : vscode.Uri.parse(answers.earlier, true);
    if (!earlier) return;
    const source = documents.source(await vscode.workspace.openTextDocument(earlier));
    const firmware = answers.firmware ?? (await askedFirmware(source));
    if (firmware === undefined || (answers.firmware === undefined && !(await agreedRuns(source, firmware)))) return;
    const path = earlier.path.slice(earlier.path.lastIndexOf('/') + 1);
    const name = path.replace(/\.nitbook$/, '').replace(/-\d{4}-\d{2}-\d{2}(?:-\d+)?$/, '');
    const made = continueSession(source, { date, path, ...(firmware === '' ? {} : { firmware }) });
    // Beside the earlier one, which it names by its path.
    await write(made, earlier.scheme === 'untitled' ? folder : vscode.Uri.joinPath(earlier, '..'), `${name}-${date}`);
  });

async function chosenFolder(): Promise<vscode.Uri | undefined | 'none'> {
  const active = vscode.window.activeTextEditor?.document;
  const own = active && isSession(active) && vscode.workspace.getWorkspaceFolder(active.uri);
  if (own) return vscode.Uri.joinPath(active.uri, '..');
  const { workspaceFolders: folders = [] } = vscode.workspace;
  if (folders.length < 2) return folders[0]?.uri;
  return (await vscode.window.showWorkspaceFolderPick())?.uri ?? 'none';
}

/** The name of a plan; empty for a retest. */
async function chosenPlan(plans: ReturnType<typeof plansOf>): Promise<string | undefined> {
  const items = [...plans].map(([name, { title, about }]) => ({ label: visible(title), detail: visible(about), name }));
  const retest = {
    label: `$(history) ${vscode.l10n.t('Retest of an earlier session…')}`,
    detail: vscode.l10n.t('the same display, modes and runs, to be taken again; after a firmware update those that it can change'),
    name: '',
  };
  const line = { label: '', kind: vscode.QuickPickItemKind.Separator, name: '' };
  const chosen = await vscode.window.showQuickPick([...items, line, retest], {
    title: vscode.l10n.t('New Session'),
    placeHolder: vscode.l10n.t('Which plan?'),
    matchOnDetail: true,
  });
  return chosen?.name;
}

const askedDisplay = (): Thenable<string | undefined> =>
  vscode.window.showInputBox({
    title: vscode.l10n.t('New Session'),
    prompt: vscode.l10n.t('What is the display called? It may be left empty.'),
    placeHolder: 'Halden Aurora 55',
  });

async function chosenSession(): Promise<vscode.Uri | undefined> {
  const uris = await vscode.workspace.findFiles('**/*.nitbook', undefined, MOST_OFFERED);
  if (uris.length === 0) {
    void vscode.window.showInformationMessage(vscode.l10n.t('There is no session in this folder to go on from.'));
    return undefined;
  }
  const active = vscode.window.activeTextEditor?.document.uri.toString();
  const items = uris
    .map((uri) => ({ label: visible(vscode.workspace.asRelativePath(uri)), uri, isActive: uri.toString() === active }))
    .sort((a, b) => Number(b.isActive) - Number(a.isActive) || (a.label < b.label ? -1 : 1));
  const title = vscode.l10n.t('Retest of an Earlier Session');
  return (await vscode.window.showQuickPick(items, { title, placeHolder: vscode.l10n.t('Which session is to be gone on from?') }))?.uri;
}

function askedFirmware(source: SessionText): Thenable<string | undefined> {
  const session = sessionOf(source);
  const before = session.text(session.first('display'), 'firmware');
  const prompt =
    before === undefined
      ? vscode.l10n.t('The firmware of the display now; leave it empty when it is still to be noted.')
      : vscode.l10n.t('The firmware of the display now (it was {0}); leave it empty when it is still to be noted.', visible(before));
  return vscode.window.showInputBox({ title: vscode.l10n.t('Retest of an Earlier Session'), prompt, ignoreFocusOut: true });
}

/** Shows the runs that an update calls for, with the reasons; without an update all runs are repeated and there is nothing to show. */
async function agreedRuns(source: SessionText, firmware: string): Promise<boolean> {
  const session = sessionOf(source);
  if (firmware === '' || firmware === session.text(session.first('display'), 'firmware')) return true;
  const runs = runsToRepeat(source);
  const go = { label: `$(check) ${vscode.l10n.t('Write the session with these {0} runs', runs.length)}` };
  const line = { label: vscode.l10n.t('To repeat under {0}', visible(firmware)), kind: vscode.QuickPickItemKind.Separator };
  const items = runs.map(({ id, kind, why }) => ({ label: visible(`${kind} ${id}`), description: repeatReasonText(why, say) }));
  const title = vscode.l10n.t('Retest of an Earlier Session');
  return (await vscode.window.showQuickPick([go, line, ...items], { title, ignoreFocusOut: true })) !== undefined;
}

/** Letters and digits of any script, for the name of a file. */
const fileName = (title: string): string =>
  title
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .slice(0, 60)
    .replace(/^-|-$/g, '') || 'session';

/** Writes the session as a new file, or unsaved where nothing can be written, and puts the cursor on the first thing to note. */
async function write(made: NewSession | Message, folder: vscode.Uri | undefined, name: string): Promise<void> {
  if (isRefusal(made)) {
    void vscode.window.showWarningMessage(refusalText(made, say));
    return;
  }
  const document = (folder && (await written(made.text, folder, name))) ?? (await unsaved(made.text));
  const editor = await vscode.window.showTextDocument(document);
  const at = document.positionAt(made.cursor);
  editor.selection = new vscode.Selection(at, at.translate(0, 1));
  editor.revealRange(editor.selection);
}

const unsaved = (content: string): Thenable<vscode.TextDocument> => vscode.workspace.openTextDocument({ content, language: LANGUAGE });

async function written(text: string, folder: vscode.Uri, name: string): Promise<vscode.TextDocument | undefined> {
  try {
    const taken = new Set((await vscode.workspace.fs.readDirectory(folder)).map(([file]) => file.toLowerCase()));
    const free = freeId(name, (tried) => taken.has(`${tried}.nitbook`.toLowerCase()));
    const uri = vscode.Uri.joinPath(folder, `${free}.nitbook`);
    const edit = new vscode.WorkspaceEdit();
    // Refused where the file has come to be in the meantime.
    edit.createFile(uri, { contents: new TextEncoder().encode(text) });
    return (await vscode.workspace.applyEdit(edit)) ? await vscode.workspace.openTextDocument(uri) : undefined;
  } catch {
    // A folder that cannot be written to, or is gone.
    return undefined;
  }
}
