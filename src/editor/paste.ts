import * as vscode from 'vscode';
import { isRefusal } from '../language/answers';
import { previewPaste } from '../language/paste';
import { pastedTable } from '../language/pasteText';
import type { SessionText } from '../session/sessionText';
import { activeSession } from './active';
import { apply } from './apply';
import { type Documents, LANGUAGE } from './documents';
import { type PasteChoice, pasteChoices, previewedRows } from './pastePreview';
import { workspaceEditOf } from './translate';

const KIND = vscode.DocumentDropOrPasteEditKind.Text.append('nitbook', 'rows');
/** Marks what was copied out of a session: that goes into another as it is. */
const OWN = 'application/vnd.nitbook.session';

class RowsEdit extends vscode.DocumentPasteEdit {
  constructor(
    readonly document: vscode.TextDocument,
    readonly offset: number,
    readonly text: string,
  ) {
    super('', vscode.l10n.t('Put Rows into the Run'), KIND);
  }
}

/** Rows of a spreadsheet, pasted into a run after a look at what goes where. */
export function paste(documents: Documents): vscode.Disposable {
  const provider: vscode.DocumentPasteEditProvider = {
    prepareDocumentPaste(_document, _ranges, dataTransfer) {
      dataTransfer.set(OWN, new vscode.DataTransferItem(''));
    },
    async provideDocumentPasteEdits(document, ranges, dataTransfer, context) {
      const text = await dataTransfer.get('text/plain')?.asString();
      const isAsked = context.triggerKind === vscode.DocumentPasteTriggerKind.PasteAs;
      if (text === undefined || ranges.length !== 1 || (dataTransfer.get(OWN) && !isAsked)) return undefined;
      const offset = document.offsetAt(ranges[0]!.start);
      const source = documents.source(document);
      if (!isForRun(source, offset, text, isAsked)) return undefined;
      // What is chosen from the list of "Paste As" is not resolved: it has to be whole.
      return isAsked
        ? pasteChoices(source, offset, text).map((choice) => chosen(document, choice))
        : [new RowsEdit(document, offset, text)];
    },
    async resolveDocumentPasteEdit(edit) {
      if (!(edit instanceof RowsEdit)) return edit;
      const rows = await previewedRows(documents, edit.document, edit.offset, edit.text);
      if (rows === 'text') edit.insertText = edit.text;
      else if (rows && !isRefusal(rows)) {
        edit.additionalEdit = workspaceEditOf(edit.document, rows);
      }
      return edit;
    },
  };
  return vscode.Disposable.from(
    vscode.languages.registerDocumentPasteEditProvider(LANGUAGE, provider, {
      providedPasteEditKinds: [KIND],
      copyMimeTypes: [OWN],
      pasteMimeTypes: ['text/plain'],
    }),
    vscode.commands.registerCommand('nitbook.pasteRows', async () => {
      const document = await activeSession(undefined);
      const editor = vscode.window.activeTextEditor;
      if (!document || editor?.document !== document) return;
      const offset = document.offsetAt(editor.selection.active);
      const rows = await previewedRows(documents, document, offset, await vscode.env.clipboard.readText());
      if (rows === 'text') await vscode.commands.executeCommand('editor.action.clipboardPasteAction');
      else if (rows) await apply(document, rows);
    }),
  );
}

function chosen(document: vscode.TextDocument, { title, edits }: PasteChoice): vscode.DocumentPasteEdit {
  const edit = new vscode.DocumentPasteEdit('', title, KIND);
  edit.additionalEdit = workspaceEditOf(document, edits);
  return edit;
}

/** Whether a pasted text is rows for the run at an offset; a word, a line of text or a block of a session goes in as it is. */
function isForRun(source: SessionText, offset: number, text: string, isAsked: boolean): boolean {
  const { separator, rows, isUnclear } = pastedTable(text, undefined);
  const cells = rows.reduce((most, row) => Math.max(most, row.cells.length), 0);
  if (rows.length * cells < 2 || (separator === 'blanks' && !isUnclear && !isAsked)) return false;
  const preview = previewPaste(source, offset, text);
  return !isRefusal(preview) && (isAsked || preview.questions.length > 0 || preview.edits.length > 0);
}
