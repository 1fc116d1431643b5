import * as vscode from 'vscode';
import { isRefusal, refusalText } from '../language/answers';
import { definitionAt, headOf, referencesAt, rename, renameRange } from '../language/ids';
import type { Span } from '../text/span';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { type Places, rangeOf, workspaceEditOf } from './translate';

/** A file that is no session with the places where it names a block of one. */
export interface Naming {
  readonly uri: vscode.Uri;
  readonly places: Places;
  readonly spans: readonly Span[];
}

/** Finds the files of the folder of a session, open or not, that name a block of it. */
export type Elsewhere = (session: vscode.Uri, id: string) => Promise<readonly Naming[]>;

/** From an id to its block and to all places that name it, and another id for it throughout the file and the others of its folder. */
export function navigation(documents: Documents, elsewhere: Elsewhere): vscode.Disposable {
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
    async provideReferences(document, position, { includeDeclaration }) {
      const source = documents.source(document);
      const offset = document.offsetAt(position);
      const spans = referencesAt(source, offset, includeDeclaration);
      const found = definitionAt(source, offset);
      const isMeant = found && headOf(source, found.id) === found.span[0];
      return [
        ...spans.map((span) => new vscode.Location(document.uri, rangeOf(document, span))),
        ...(isMeant ? await locationsElsewhere(document.uri, found.id, elsewhere) : []),
      ];
    },
  };
  const renaming: vscode.RenameProvider = {
    prepareRename(document, position) {
      const found = renameRange(documents.source(document), document.offsetAt(position));
      if (isRefusal(found)) throw new Error(refusalText(found, say));
      return { range: rangeOf(document, found.span), placeholder: found.id };
    },
    provideRenameEdits(document, position, to) {
      const offset = document.offsetAt(position);
      const found = renameRange(documents.source(document), offset);
      if (isRefusal(found)) throw new Error(refusalText(found, say));
      return renamedEverywhere(document, offset, found.id, to, documents, elsewhere);
    },
  };
  return vscode.Disposable.from(
    vscode.languages.registerDefinitionProvider(LANGUAGE, definition),
    vscode.languages.registerReferenceProvider(LANGUAGE, references),
    vscode.languages.registerRenameProvider(LANGUAGE, renaming),
  );
}

/** Where other files name a block of a session. */
export async function locationsElsewhere(session: vscode.Uri, id: string, elsewhere: Elsewhere): Promise<vscode.Location[]> {
  const naming = await elsewhere(session, id);
  return naming.flatMap(({ uri, places, spans }) => spans.map((span) => new vscode.Location(uri, rangeOf(places, span))));
}

/**
 * Another id for the block whose id stands at an offset of a session: there and, where it is the block that references mean, in the other
 * files of its folder, as one edit.
 * @throws Error with the reason why not, for the person who asked
 */
export async function renamedEverywhere(
  session: vscode.TextDocument,
  offset: number,
  id: string,
  to: string,
  documents: Documents,
  elsewhere: Elsewhere,
): Promise<vscode.WorkspaceEdit> {
  const source = documents.source(session);
  const edits = rename(source, offset, to);
  if (isRefusal(edits)) throw new Error(refusalText(edits, say));
  const edit = workspaceEditOf(session, edits);
  // A second block of the same id is no reference's.
  if (edits.length === 0 || definitionAt(source, offset)?.span[0] !== headOf(source, id)) return edit;
  for (const { uri, places, spans } of await elsewhere(session.uri, id)) {
    edit.set(
      uri,
      spans.map((span) => vscode.TextEdit.replace(rangeOf(places, span), to)),
    );
  }
  return edit;
}
