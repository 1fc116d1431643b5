import * as vscode from 'vscode';
import { isRefusal, refusalText } from '../language/answers';
import { definitionAt, referencesAt, rename, renameRange } from '../language/ids';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { rangeOf, textEditsOf } from './translate';

/** From an id to its block and to all places that name it, and another id for it throughout the file. */
export function navigation(documents: Documents): vscode.Disposable {
  const definition: vscode.DefinitionProvider = {
    provideDefinition(document, position) {
      const found = definitionAt(documents.source(document), document.offsetAt(position));
      return (
        found && [
          {
            originSelectionRange: rangeOf(document, found.from),
            targetUri: document.uri,
            targetRange: rangeOf(document, found.head),
            targetSelectionRange: rangeOf(document, found.span),
          },
        ]
      );
    },
  };
  const references: vscode.ReferenceProvider = {
    provideReferences: (document, position, { includeDeclaration }) =>
      referencesAt(documents.source(document), document.offsetAt(position), includeDeclaration).map(
        (span) => new vscode.Location(document.uri, rangeOf(document, span)),
      ),
  };
  const renaming: vscode.RenameProvider = {
    prepareRename(document, position) {
      const found = renameRange(documents.source(document), document.offsetAt(position));
      if (isRefusal(found)) throw new Error(refusalText(found, say));
      return { range: rangeOf(document, found.span), placeholder: found.id };
    },
    provideRenameEdits(document, position, to) {
      const edits = rename(documents.source(document), document.offsetAt(position), to);
      if (isRefusal(edits)) throw new Error(refusalText(edits, say));
      const edit = new vscode.WorkspaceEdit();
      edit.set(document.uri, textEditsOf(document, edits));
      return edit;
    },
  };
  return vscode.Disposable.from(
    vscode.languages.registerDefinitionProvider(LANGUAGE, definition),
    vscode.languages.registerReferenceProvider(LANGUAGE, references),
    vscode.languages.registerRenameProvider(LANGUAGE, renaming),
  );
}
