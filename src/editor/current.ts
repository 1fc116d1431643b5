import type * as vscode from 'vscode';
import type { Analysis } from '../project/analysis';
import type { Documents } from './documents';

/** What is known of a document; undefined when it changed meanwhile, so that no answer means places of another text: the editor asks again. */
export async function current(documents: Documents, document: vscode.TextDocument): Promise<Analysis | undefined> {
  const { version } = document;
  const analysis = await documents.analysis(document);
  return document.version === version ? analysis : undefined;
}
