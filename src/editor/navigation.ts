import * as vscode from 'vscode';
import { isRefusal, refusalText } from '../language/answers';
import { definitionAt, referencesAt, renameRange } from '../language/ids';
import { headOf } from '../language/reviewIds';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { inReviews, renamedEverywhere } from './reviewNavigation';
import type { Reviews } from './reviews';
import { rangeOf } from './translate';

/** From an id to its block and to all places that name it, and another id for it throughout the file and the reviews of its folder. */
export function navigation(documents: Documents, reviews: Reviews): vscode.Disposable {
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
        ...(isMeant ? await inReviews(document.uri, found.id, reviews) : []),
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
      return renamedEverywhere(document, offset, found.id, to, documents, reviews);
    },
  };
  return vscode.Disposable.from(
    vscode.languages.registerDefinitionProvider(LANGUAGE, definition),
    vscode.languages.registerReferenceProvider(LANGUAGE, references),
    vscode.languages.registerRenameProvider(LANGUAGE, renaming),
  );
}
