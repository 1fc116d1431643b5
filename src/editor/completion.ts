import * as vscode from 'vscode';
import { type Completion, type CompletionKind, completions } from '../language/complete';
import { NO_USE } from '../language/folderUse';
import { current } from './current';
import { type Documents, LANGUAGE } from './documents';
import { FolderSessions } from './folderSessions';
import { say } from './l10n';
import { rangeOf, untrusted } from './translate';

/** How long a list waits for other files of the folder; what they use then joins it while one types on. */
const PATIENCE_MS = 200;

const kinds: Readonly<Record<CompletionKind, vscode.CompletionItemKind>> = {
  block: vscode.CompletionItemKind.Struct,
  property: vscode.CompletionItemKind.Property,
  setting: vscode.CompletionItemKind.Variable,
  measure: vscode.CompletionItemKind.Function,
  value: vscode.CompletionItemKind.Value,
  unit: vscode.CompletionItemKind.Unit,
  id: vscode.CompletionItemKind.Reference,
  column: vscode.CompletionItemKind.Field,
  row: vscode.CompletionItemKind.Event,
};

/** What may be written: blocks as snippets, names, values, ids, columns and rows, and what the other sessions of the folder use. */
export function completion(documents: Documents): vscode.Disposable {
  const sessions = new FolderSessions();
  const provider: vscode.CompletionItemProvider = {
    async provideCompletionItems(document, position) {
      const offset = document.offsetAt(position);
      const patience = new Promise<undefined>((resolve) => setTimeout(resolve, PATIENCE_MS));
      const used = sessions.use(document.uri);
      const analysis = await current(documents, document);
      const use = await Promise.race([used, patience]);
      if (!analysis || analysis.source !== documents.source(document)) return undefined;
      const items = completions(analysis, offset, use ?? NO_USE, say).map((each) => itemOf(document, each));
      return new vscode.CompletionList(items, use === undefined);
    },
  };
  return vscode.Disposable.from(sessions, vscode.languages.registerCompletionItemProvider(LANGUAGE, provider, ':', ',', '.', '['));
}

function itemOf(document: vscode.TextDocument, completion: Completion): vscode.CompletionItem {
  const { label, insert, snippet, replace, kind, detail, documentation, sortText } = completion;
  const item = new vscode.CompletionItem(label, kinds[kind]);
  item.insertText = snippet ? new vscode.SnippetString(insert) : insert;
  item.range = rangeOf(document, replace);
  item.sortText = sortText;
  // It is laid out already, wherever it is asked for.
  item.keepWhitespace = true;
  if (detail) item.detail = detail;
  if (documentation) item.documentation = untrusted(documentation);
  // Behind a name and its colon its values are wanted next.
  if (!snippet && insert.endsWith(' ')) item.command = { command: 'editor.action.triggerSuggest', title: '' };
  return item;
}
