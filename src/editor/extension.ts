import * as vscode from 'vscode';
import { previews } from '../preview/host/previews';
import type { Reviewing } from '../review/host/reviewing';
import { sheet } from '../sheet/host/sheet';
import { Configurations } from './config';
import { Diagnostics } from './diagnostics';
import { Documents } from './documents';
import { folding } from './folding';
import { hints } from './hints';
import { semanticTokens } from './semanticTokens';

/**
 * Everything here goes again with the context's subscriptions; nothing is left for a `deactivate`. What the first findings of a session
 * need is there at once. The code for the rest is read in the next turn, and a command waits for it, as the workbench runs none before this
 * has come to its end. What is for reviews and the pages is read when it is first wanted.
 */
export async function activate(context: vscode.ExtensionContext): Promise<Pick<Reviewing['preview'], 'extendMarkdownIt'>> {
  const { subscriptions } = context;
  const configurations = new Configurations();
  const documents = new Documents(configurations);
  const diagnostics = new Diagnostics(documents, configurations);
  let here: Reviewing | undefined;
  let coming: Promise<Reviewing> | undefined;
  const reviewing = (): Promise<Reviewing> => {
    coming ??= import('../review/host/reviewing').then(
      (room) => {
        here = room.reviewing(documents, configurations);
        subscriptions.push(here);
        return here;
      },
      (error) => {
        // Asked again it may be there: an update may have been under way.
        coming = undefined;
        throw error;
      },
    );
    return coming;
  };
  subscriptions.push(
    configurations,
    documents,
    diagnostics,
    hints(documents, configurations),
    semanticTokens(documents),
    folding(documents),
    previews(context, documents, configurations),
    sheet(context, documents, configurations),
    vscode.commands.registerCommand('nitbook.publish', async (of?: unknown) => (await reviewing()).publish(of)),
    vscode.workspace.onDidOpenTextDocument((document) => {
      if (isMarkdown(document)) void reviewing();
    }),
  );
  // The workbench waits for this call as far as here; even an import reads and compiles before it returns.
  await new Promise((resolve) => setTimeout(resolve));
  diagnostics.showAll();
  const { later } = await import('./later');
  subscriptions.push(later(documents, configurations, async (session, id) => (await reviewing()).elsewhere(session, id)));
  // Then a preview of it may be what waits for this.
  // Sessions work without reviews.
  if (vscode.workspace.textDocuments.some(isMarkdown)) await reviewing().catch((error) => console.error('nitbook.reviews', error));
  return {
    extendMarkdownIt(md) {
      if (here) return here.preview.extendMarkdownIt(md);
      void reviewing().then(({ preview }) => preview.extendLate(md));
      return md;
    },
  };
}

const isMarkdown = ({ languageId }: vscode.TextDocument): boolean => languageId === 'markdown';
