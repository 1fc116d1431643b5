import * as vscode from 'vscode';
import { isRefusal, refusal, refusalText } from '../language/answers';
import { definitionAt, referencesAt, rename } from '../language/ids';
import { definitionInReview, headOf, idInReview, type MentionedId } from '../language/reviewIds';
import type { Documents } from './documents';
import { say } from './l10n';
import { reviewsNaming } from './reviewNames';
import type { ReviewSessions } from './reviewSessions';
import { homeOf, MARKDOWN, type Reviews } from './reviews';
import { placesIn, rangeOf, workspaceEditOf } from './translate';

/** From a reference of a review to what it means, and to all places in sessions and reviews that name the same block; another id for it. */
export function reviewNavigation(documents: Documents, reviews: Reviews, sessions: ReviewSessions): vscode.Disposable {
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
        ...(await inReviews(session.uri, named.id, reviews)),
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
        return await renamedEverywhere(session, head, named.id, to, documents, reviews);
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

/** Where reviews name a block of a session. */
export async function inReviews(session: vscode.Uri, id: string, reviews: Reviews): Promise<vscode.Location[]> {
  const naming = await reviewsNaming(session, id, reviews);
  return naming.flatMap(({ uri, places, ids }) => ids.map(({ span }) => new vscode.Location(uri, rangeOf(places, span))));
}

/**
 * Another id for the block whose id stands at an offset of a session: there and, where it is the block that references mean, in the reviews
 * of its folder, as one edit.
 * @throws Error with the reason why not, for the person who asked
 */
export async function renamedEverywhere(
  session: vscode.TextDocument,
  offset: number,
  id: string,
  to: string,
  documents: Documents,
  reviews: Reviews,
): Promise<vscode.WorkspaceEdit> {
  const source = documents.source(session);
  const edits = rename(source, offset, to);
  if (isRefusal(edits)) throw new Error(refusalText(edits, say));
  const edit = workspaceEditOf(session, edits);
  // A second block of the same id is no reference's.
  if (edits.length === 0 || definitionAt(source, offset)?.span[0] !== headOf(source, id)) return edit;
  for (const { uri, places, ids } of await reviewsNaming(session.uri, id, reviews)) {
    edit.set(
      uri,
      ids.map(({ span }) => vscode.TextEdit.replace(rangeOf(places, span), to)),
    );
  }
  return edit;
}
