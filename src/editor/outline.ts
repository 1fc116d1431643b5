import * as vscode from 'vscode';
import { type OutlineEntry, outline as outlineOf } from '../language/outline';
import { settledCurrent } from './current';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { rangeOf } from './translate';

const kinds: Readonly<Record<OutlineEntry['is'], vscode.SymbolKind>> = {
  block: vscode.SymbolKind.Struct,
  property: vscode.SymbolKind.Property,
  table: vscode.SymbolKind.Array,
};

/** The blocks with their properties and tables, for the outline, the breadcrumbs and the lines that stay in sight on scrolling. */
export function outline(documents: Documents): vscode.Disposable {
  const provider: vscode.DocumentSymbolProvider = {
    async provideDocumentSymbols(document) {
      const analysis = await settledCurrent(documents, document);
      return analysis && outlineOf(analysis, say).map((entry) => symbolOf(document, entry));
    },
  };
  const register = () => vscode.languages.registerDocumentSymbolProvider(LANGUAGE, provider, { label: 'Nitbook' });
  let registered = register();
  return vscode.Disposable.from(
    // The editor asks once for each version of a text, and again when somebody else can answer. The new one comes first, so that none is missed.
    documents.onDidSettle(({ late }) => {
      if (!late) return;
      const old = registered;
      registered = register();
      old.dispose();
    }),
    { dispose: () => registered.dispose() },
  );
}

function symbolOf(
  document: vscode.TextDocument,
  { is, name, detail, struck, span, selection, children }: OutlineEntry,
): vscode.DocumentSymbol {
  const symbol = new vscode.DocumentSymbol(name, detail, kinds[is], rangeOf(document, span), rangeOf(document, selection));
  if (struck) symbol.tags = [vscode.SymbolTag.Deprecated];
  symbol.children = children.map((child) => symbolOf(document, child));
  return symbol;
}
