import * as vscode from 'vscode';
import { type SemanticMark, semanticMarks } from '../language/marks';
import { type Documents, LANGUAGE } from './documents';
import { rangeOf } from './translate';

/** What a grammar colours rightly has no type here: columns that hold readings, and ids. */
const types: Readonly<Partial<Record<SemanticMark['is'], string>>> = {
  format: 'nitbookProperty',
  own: 'nitbookOwnName',
  key: 'nitbookKey',
  unread: 'nitbookUnread',
  unknown: 'nitbookUnread',
};
const modifiers: Readonly<Record<NonNullable<SemanticMark['instead']>, string>> = { overrides: 'overriding', removes: 'removing' };
const legend = new vscode.SemanticTokensLegend([...new Set(Object.values(types))], Object.values(modifiers));

/** Colours where a grammar cannot tell: names of the user's own from those of the format, and what is not read at all. */
export const semanticTokens = (documents: Documents): vscode.Disposable =>
  vscode.languages.registerDocumentSemanticTokensProvider(
    LANGUAGE,
    {
      provideDocumentSemanticTokens(document) {
        const builder = new vscode.SemanticTokensBuilder(legend);
        for (const { span, is, instead } of semanticMarks(documents.source(document))) {
          const type = types[is];
          if (type) builder.push(rangeOf(document, span), type, instead ? [modifiers[instead]] : []);
        }
        return builder.build();
      },
    },
    legend,
  );
