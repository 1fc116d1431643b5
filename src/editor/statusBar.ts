import * as vscode from 'vscode';
import { shown } from '../language/markdown';
import { type Standing, standing } from '../language/standing';
import { verdictText } from '../report/format';
import type { Configurations } from './config';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { Turns } from './turns';

const ID = 'nitbook.standing';
const PAUSE_MS = 300;

/** How the active session stands: readings still to take, figures beyond their limit. A click goes to the next reading. */
export function statusBar(documents: Documents, configurations: Configurations): vscode.Disposable {
  const item = vscode.window.createStatusBarItem(ID, vscode.StatusBarAlignment.Left, 10);
  item.name = vscode.l10n.t('Nitbook: Readings to Take');
  item.command = 'nitbook.nextReading';
  const turns = new Turns();

  const show = async (): Promise<void> => {
    const document = vscode.window.activeTextEditor?.document;
    if (document?.languageId !== LANGUAGE) return item.hide();
    const { version } = document;
    const found = standing(await documents.settled(document));
    // What came meanwhile has its own turn.
    if (document !== vscode.window.activeTextEditor?.document || document.version !== version) return;
    if (found.runs.size === 0) return item.hide();
    const text = standingText(found);
    item.text = `$(checklist) ${text}`;
    item.tooltip = standingTooltip(found);
    item.accessibilityInformation = { label: `${item.name}: ${text}`, role: 'button' };
    item.show();
  };
  const later = (ms: number) => turns.take(ID, ms, () => void show());

  later(0);
  return vscode.Disposable.from(
    item,
    turns,
    vscode.window.onDidChangeActiveTextEditor(() => later(0)),
    documents.onDidChange(({ document, change }) => {
      if (document === vscode.window.activeTextEditor?.document) later(change ? PAUSE_MS : 0);
    }),
    configurations.onDidChange(() => later(0)),
    documents.onDidSettle(({ document, late }) => {
      if (late && document === vscode.window.activeTextEditor?.document) later(0);
    }),
  );
}

/** `12 to take, 2 beyond ▲`. */
export function standingText({ toTake, beyond }: Standing): string {
  const parts = [toTake > 0 ? vscode.l10n.t('{0} to take', toTake) : vscode.l10n.t('all taken')];
  if (beyond > 0) parts.push(say('{count} {verdict}', { count: beyond, verdict: verdictText('beyond', say) }));
  return parts.join(', ');
}

export function standingTooltip({ toTake, toNote, runs, findings }: Standing): vscode.MarkdownString {
  const tip = new vscode.MarkdownString();
  const lines = [...runs].map(([block, { verdict, toTake: open }]) => {
    const says = [verdictText(verdict, say), open > 0 ? vscode.l10n.t('{0} to take', open) : ''].filter((part) => part !== '');
    return says.length === 0 ? block.name : `${block.name}: ${says.join(', ')}`;
  });
  if (toNote > 0) lines.push(vscode.l10n.t('{0} still to be noted', toNote));
  const noticed = findings.error + findings.warning;
  if (noticed > 0) lines.push(vscode.l10n.t('{0} findings (errors and warnings)', noticed));
  for (const line of lines) tip.appendMarkdown(`- ${shown(line)}\n`);
  if (toTake + toNote > 0) tip.appendMarkdown(`\n${vscode.l10n.t('Click to go to the next one.')}`);
  return tip;
}
