import * as vscode from 'vscode';
import { isRefusal, refusalText } from '../language/answers';
import { placeAt } from '../language/places';
import { decoded, problemText } from '../project/files';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { previewedRows } from './pastePreview';
import { workspaceEditOf } from './translate';

const KIND = vscode.DocumentDropOrPasteEditKind.Text.append('nitbook', 'rows');
const TABLE = /\.(csv|tsv)$/i;

/**
 * A CSV file dropped on a run (with Shift held, as the editor has it) puts its rows in, after a look at what goes where. The look belongs
 * to providing: not every workbench resolves the edits of a drop.
 */
export const dropProvider = (documents: Pick<Documents, 'source'>): vscode.DocumentDropEditProvider => ({
  async provideDocumentDropEdits(document, position, dataTransfer) {
    const offset = document.offsetAt(position);
    const { block } = placeAt(documents.source(document), offset);
    if (!block.spec?.table || block.void) return undefined;
    const bytes = await tableFile(dataTransfer);
    if (!bytes) return undefined;
    // Without text or edits nothing is dropped: the file's address, which the editor would put in, is no use in a run.
    const edit = new vscode.DocumentDropEdit('', vscode.l10n.t('Put Rows into the Run'), KIND);
    const read = decoded(bytes);
    if (!read.ok) {
      void vscode.window.showWarningMessage(vscode.l10n.t('The file was not read: {0}.', problemText(read.problem, say)));
      return edit;
    }
    const rows = await previewedRows(documents, document, offset, read.text);
    if (rows === 'text') edit.insertText = read.text;
    else if (rows && isRefusal(rows)) void vscode.window.showInformationMessage(refusalText(rows, say));
    else if (rows) edit.additionalEdit = workspaceEditOf(document, rows);
    return edit;
  },
});

export const drop = (documents: Documents): vscode.Disposable =>
  vscode.languages.registerDocumentDropEditProvider(LANGUAGE, dropProvider(documents), {
    providedDropEditKinds: [KIND],
    dropMimeTypes: ['text/uri-list', 'files'],
  });

/** The first file of a table: one of the workbench has an address, one from outside comes with its bytes. */
async function tableFile(dataTransfer: vscode.DataTransfer): Promise<Uint8Array | undefined> {
  for (const [, item] of dataTransfer) {
    const file = item.asFile();
    if (file && TABLE.test(file.name)) return file.data();
  }
  const uris = (await dataTransfer.get('text/uri-list')?.asString())?.split(/\r?\n/) ?? [];
  const uri = uris.find((line) => TABLE.test(line));
  if (uri === undefined) return undefined;
  try {
    return await vscode.workspace.fs.readFile(vscode.Uri.parse(uri, true));
  } catch {
    return undefined;
  }
}
