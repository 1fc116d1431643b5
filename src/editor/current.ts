import type * as vscode from 'vscode';
import type { Analysis } from '../project/analysis';
import type { Documents } from './documents';

/** The same with its intervals, where they do not take too long: for what shows verdicts. */
export async function settledCurrent(documents: Documents, document: vscode.TextDocument): Promise<Analysis | undefined> {
  const { version } = document;
  const analysis = await documents.settled(document);
  return document.version === version ? analysis : undefined;
}

/** What is known of a document; undefined when it changed meanwhile, so that no answer means places of another text: the editor asks again. */
export async function current(documents: Documents, document: vscode.TextDocument): Promise<Analysis | undefined> {
  const { version } = document;
  const analysis = await documents.analysis(document);
  return document.version === version ? analysis : undefined;
}
