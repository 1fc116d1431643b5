import * as vscode from 'vscode';
import { LEVELS_EXPECTED } from '../config/levels';
import { type Edits, isRefusal, refusalText } from '../language/answers';
import {
  addLevels,
  addRepeats,
  duplicateRun,
  insertTime,
  nextOpen,
  type OpenPlace,
  strikeAndTakeAgain,
  toggleStrike,
} from '../language/gestures';
import { sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import { worded } from '../text/message';
import type { Span } from '../text/span';
import { activeSession } from './active';
import { apply } from './apply';
import type { Documents } from './documents';
import { say } from './l10n';
import { rangeOf } from './translate';

/** What the hands do at the bench, each of them one step of undo. */
export function gestures(documents: Documents): vscode.Disposable {
  /** A command on the active session; it is read anew after every question, since the text may change under an open one. */
  const command = (id: string, work: (editor: vscode.TextEditor, source: () => SessionText, answer?: string) => Promise<unknown>) =>
    vscode.commands.registerCommand(`nitbook.${id}`, async (of?: unknown) => {
      const document = await activeSession(undefined);
      const editor = vscode.window.activeTextEditor;
      if (!document || editor?.document !== document) return;
      // Menus hand over the address of the file; a key may be bound with the answer to what would be asked.
      await work(editor, () => documents.source(document), typeof of === 'string' ? of : undefined);
    });

  /** Where there are rows to take after it, the cursor goes to the first of them. */
  const edited = async (editor: vscode.TextEditor, source: () => SessionText, edits: Edits, take = false): Promise<void> => {
    const isMade = await apply(editor.document, edits);
    if (!isMade || !take || isRefusal(edits) || !edits[0]) return;
    goTo(editor, nextOpen(source(), edits[0].span[0]));
  };

  return vscode.Disposable.from(
    command('nextReading', async (editor, source) => {
      const from = editor.document.offsetAt(editor.selection.active);
      const place = nextOpen(source(), from, 'reading') ?? nextOpen(source(), from);
      if (place) goTo(editor, place);
      else vscode.window.setStatusBarMessage(vscode.l10n.t('Nothing is left to take.'), 4000);
    }),
    command('strikeOut', (editor, source) => edited(editor, source, toggleStrike(source(), selected(editor)))),
    command('takeAgain', (editor, source) => edited(editor, source, strikeAndTakeAgain(source(), selected(editor)), true)),
    command('addRepeat', (editor, source) => edited(editor, source, addRepeats(source(), selected(editor)), true)),
    command('insertTime', (editor, source) => edited(editor, source, insertTime(source(), cursor(editor), now()))),

    command('addLevels', async (editor, source, answer) => {
      const added = (levels: string) => addLevels(source(), cursor(editor), levels);
      if (answer !== undefined) return edited(editor, source, added(answer), true);
      const refused = added('0');
      if (isRefusal(refused)) return edited(editor, source, refused);
      const levels = await vscode.window.showInputBox({
        title: vscode.l10n.t('Add Levels'),
        prompt: vscode.l10n.t('Levels: {0}', worded(LEVELS_EXPECTED, say)),
        validateInput: (text) => {
          const edits = added(text);
          if (isRefusal(edits)) return text === '' ? '' : refusalText(edits, say);
          const severity = vscode.InputBoxValidationSeverity.Info;
          return edits.length > 0 ? '' : { message: vscode.l10n.t('These levels are there already.'), severity };
        },
      });
      return levels ? edited(editor, source, added(levels), true) : undefined;
    }),

    command('duplicateRun', async (editor, source, answer) => {
      const copied = (mode: string) => {
        const copy = duplicateRun(source(), cursor(editor), mode);
        return isRefusal(copy) ? copy : copy.edits;
      };
      if (answer !== undefined) return edited(editor, source, copied(answer), true);
      const modes = sessionOf(source()).all('mode');
      const refused = copied(modes[0]?.name ?? '');
      if (modes.length === 0 && isRefusal(refused) && refused.code === 'no-mode') {
        return vscode.window.showInformationMessage(vscode.l10n.t('There is no mode in this file yet.'));
      }
      if (isRefusal(refused)) return edited(editor, source, refused);
      const chosen = await vscode.window.showQuickPick(
        modes.map(({ name, header }) => ({ label: name, description: header?.title?.text ?? '' })),
        { title: vscode.l10n.t('Duplicate Run for Another Mode'), placeHolder: vscode.l10n.t('Which mode is to be measured?') },
      );
      return chosen && edited(editor, source, copied(chosen.label), true);
    }),
  );
}

const cursor = ({ document, selection }: vscode.TextEditor): number => document.offsetAt(selection.active);

const selected = ({ document, selection }: vscode.TextEditor): Span => [
  document.offsetAt(selection.start),
  document.offsetAt(selection.end),
];

function goTo(editor: vscode.TextEditor, place: OpenPlace | undefined): void {
  if (!place) return;
  const range = rangeOf(editor.document, place.span);
  editor.selection = new vscode.Selection(range.start, range.end);
  editor.revealRange(range, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
}

/** As sessions write it, in local time: `2026-03-14 15:30`. */
export function now(): string {
  const at = new Date();
  const two = (n: number) => String(n).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
