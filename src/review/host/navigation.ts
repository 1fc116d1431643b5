import * as vscode from 'vscode';
import type { Documents } from '../../editor/documents';
import { say } from '../../editor/l10n';
import { type Elsewhere, locationsElsewhere, renamedEverywhere } from '../../editor/navigation';
import { placesIn, rangeOf } from '../../editor/translate';
import { refusal, refusalText } from '../../language/answers';
import { headOf, referencesAt } from '../../language/ids';
import { definitionInReview, idInReview, type MentionedId } from '../../language/reviewIds';
import { homeOf, MARKDOWN, type Reviews } from './reviews';
import type { ReviewSessions } from './sessions';

/** From a reference of a review to what it means, and to all places in sessions and reviews that name the same block; another id for it. */
export function navigation(documents: Documents, reviews: Reviews, sessions: ReviewSessions, elsewhere: Elsewhere): vscode.Disposable {
  const mentioned = (document: vscode.TextDocument, position: vscode.Position): MentionedId | undefined => {
    const home = homeOf(document.uri);
    return home && idInReview(reviews.review(document), home.place, document.offsetAt(position));
  };

  /** The session that a review names, as a document; none for one that may not be read. */
  const sessionOf = async (document: vscode.TextDocument, { path }: MentionedId): Promise<vscode.TextDocument | undefined> => {
    const home = homeOf(document.uri)!;
    const read = await sessions.in(home.folder).session(path);
    return read.ok ? vscode.workspace.openTextDocument(home.folder.with({ path })) : undefined;
  };

  const definition: vscode.DefinitionProvider = {
    async provideDefinition(document, position) {
      const home = homeOf(document.uri);
      const checked = await reviews.checked(document);
      const found = checked && definitionInReview(checked, document.offsetAt(position));
      if (!home || !found) return undefined;
      const places = placesIn(found.source.text);
      return [
        {
          originSelectionRange: rangeOf(document, found.from),
          targetUri: home.folder.with({ path: found.path }),
          targetRange: rangeOf(places, found.line),
          targetSelectionRange: rangeOf(places, found.span),
        },
      ];
    },
  };

  const references: vscode.ReferenceProvider = {
    async provideReferences(document, position, { includeDeclaration }) {
      const named = mentioned(document, position);
      const session = named && (await sessionOf(document, named));
      if (!named || !session) return [];
      const source = documents.source(session);
      const head = headOf(source, named.id);
      const inSession = head === undefined ? [] : referencesAt(source, head, includeDeclaration);
      return [
        ...inSession.map((span) => new vscode.Location(session.uri, rangeOf(session, span))),
        ...(await locationsElsewhere(session.uri, named.id, elsewhere)),
      ];
    },
  };

  const renaming: vscode.RenameProvider = {
    prepareRename(document, position) {
      const named = mentioned(document, position);
      // Others may have something to rename here.
      return named ? { range: rangeOf(document, named.span), placeholder: named.id } : undefined;
    },
    async provideRenameEdits(document, position, to) {
      const named = mentioned(document, position);
      const session = named && (await sessionOf(document, named));
      if (!named || !session) return undefined;
      const head = headOf(documents.source(session), named.id);
      try {
        if (head === undefined) throw new Error(refusalText(refusal('no-block', { id: named.id }), say));
        return await renamedEverywhere(session, head, named.id, to, documents, elsewhere);
      } catch (error) {
        // Thrown, it would let the editor's own Markdown support have a try, which knows nothing of sessions.
        void vscode.window.showErrorMessage(error instanceof Error ? error.message : String(error));
        return new vscode.WorkspaceEdit();
      }
    },
  };

  return vscode.Disposable.from(
    vscode.languages.registerDefinitionProvider(MARKDOWN, definition),
    vscode.languages.registerReferenceProvider(MARKDOWN, references),
    vscode.languages.registerRenameProvider(MARKDOWN, renaming),
  );
}
