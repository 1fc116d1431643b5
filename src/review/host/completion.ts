import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import { say } from '../../editor/l10n';
import { rangeOf, untrusted } from '../../editor/translate';
import {
  fragmentParts,
  type NamedSession,
  type OpenTarget,
  type ReferencePart,
  sessionParts,
  targetAround,
} from '../../language/reviewComplete';
import { folderOf, referredPath } from '../../project/paths';
import { readReference } from '../../session/reference';
import { notationOf } from '../notation';
import { relativePath } from '../places';
import { type Home, homeOf, MARKDOWN } from './reviews';
import type { ReviewSessions } from './sessions';

const kinds: Readonly<Record<ReferencePart['kind'], vscode.CompletionItemKind>> = {
  session: vscode.CompletionItemKind.File,
  block: vscode.CompletionItemKind.Reference,
  measure: vscode.CompletionItemKind.Function,
  figure: vscode.CompletionItemKind.Color,
  property: vscode.CompletionItemKind.Property,
  row: vscode.CompletionItemKind.Event,
};

/** What may be written in the target of a link: sessions, behind `#` their runs, behind `.` the measures with what they are now, rows. */
export function completion(sessions: ReviewSessions, configurations: Configurations): vscode.Disposable {
  const provider: vscode.CompletionItemProvider = {
    async provideCompletionItems(document, position) {
      const { version } = document;
      const target = targetAround(document.getText(), document.offsetAt(position));
      const home = homeOf(document.uri);
      if (!target || !home) return undefined;
      const config = await configurations.of(document.uri);
      const parts = target.typed.includes('#')
        ? await inSession(target, home, sessions, config.language)
        : sessionParts(target, await named(home, sessions));
      if (document.version !== version || parts.length === 0) return undefined;
      return parts.map((part) => itemOf(document, part));
    },
  };
  return vscode.languages.registerCompletionItemProvider(MARKDOWN, provider, '(', '/', '#', '+', '.', '@', ',');
}

async function named({ folder, place }: Home, sessions: ReviewSessions): Promise<readonly NamedSession[]> {
  const from = folderOf(place.path);
  return (await sessions.in(folder).list()).map((path) => ({ path: relativePath(from, path), detail: '' }));
}

async function inSession(target: OpenTarget, { folder, place }: Home, sessions: ReviewSessions, language: string) {
  // Any id will do, as only the path is wanted.
  const reading = readReference(`${target.typed.slice(0, target.typed.indexOf('#'))}#x`);
  const path = reading.ok ? referredPath(reading.reference.path, folderOf(place.path), place.root) : undefined;
  const read = path === undefined ? undefined : await sessions.in(folder).session(path);
  return read?.ok ? fragmentParts(read.analysis, target, notationOf(language), say) : [];
}

function itemOf(document: vscode.TextDocument, part: ReferencePart): vscode.CompletionItem {
  const { label, insert, replace, kind, detail, documentation, sortText, goesOn } = part;
  // Beside every label, not of the chosen one alone: what a measure is now is what one chooses by.
  const item = new vscode.CompletionItem(detail === '' ? label : { label, description: detail }, kinds[kind]);
  item.insertText = insert;
  item.range = rangeOf(document, replace);
  item.filterText = insert;
  item.sortText = sortText;
  if (documentation) item.documentation = untrusted(documentation);
  if (goesOn) item.command = { command: 'editor.action.triggerSuggest', title: '' };
  return item;
}
