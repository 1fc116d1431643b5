import * as vscode from 'vscode';
import { previews } from '../preview/host/previews';
import type { Reviewing } from '../review/host/reviewing';
import { sheet } from '../sheet/host/sheet';
import { compareCommit } from './compareCommit';
import { completion } from './completion';
import { Configurations } from './config';
import { decorations } from './decorations';
import { Diagnostics } from './diagnostics';
import { Documents } from './documents';
import { drop } from './drop';
import { folding } from './folding';
import { format } from './format';
import { gestures } from './gestures';
import { hints } from './hints';
import { hover } from './hover';
import { lens } from './lens';
import { mends } from './mends';
import { navigation } from './navigation';
import { newSessions } from './newSession';
import { onType } from './onType';
import { outline } from './outline';
import { paste } from './paste';
import { selection } from './selection';
import { semanticTokens } from './semanticTokens';
import { sessionsTree } from './sessionsTree';
import { statusBar } from './statusBar';
import { summaries } from './summary';

/**
 * Everything here goes again with the context's subscriptions; nothing is left for a `deactivate`. What is for reviews and the pages is read
 * when it is first wanted.
 */
export async function activate(context: vscode.ExtensionContext): Promise<Pick<Reviewing['preview'], 'extendMarkdownIt'>> {
  const { subscriptions } = context;
  const configurations = new Configurations();
  const documents = new Documents(configurations);
  let here: Reviewing | undefined;
  let coming: Promise<Reviewing> | undefined;
  const reviewing = (): Promise<Reviewing> => {
    coming ??= import('../review/host/reviewing').then((room) => {
      here = room.reviewing(documents, configurations);
      subscriptions.push(here);
      return here;
    });
    return coming;
  };
  subscriptions.push(
    configurations,
    documents,
    new Diagnostics(documents, configurations),
    mends(documents, configurations),
    lens(documents, configurations),
    summaries(documents, configurations),
    compareCommit(documents, configurations),
    format(documents),
    hover(documents),
    hints(documents, configurations),
    completion(documents),
    outline(documents),
    navigation(documents, async (session, id) => (await reviewing()).elsewhere(session, id)),
    selection(documents),
    onType(documents),
    decorations(documents),
    semanticTokens(documents),
    folding(documents),
    gestures(documents),
    statusBar(documents, configurations),
    paste(documents),
    drop(documents),
    newSessions(documents, configurations),
    sessionsTree(documents, configurations),
    previews(context, documents, configurations),
    sheet(context, documents, configurations),
    vscode.commands.registerCommand('nitbook.publish', async (of?: unknown) => (await reviewing()).publish(of)),
    vscode.workspace.onDidOpenTextDocument((document) => {
      if (isMarkdown(document)) void reviewing();
    }),
  );
  // Then a preview of it may be what waits for this.
  if (vscode.workspace.textDocuments.some(isMarkdown)) await reviewing();
  return {
    extendMarkdownIt(md) {
      if (here) return here.preview.extendMarkdownIt(md);
      void reviewing().then(({ preview }) => preview.extendLate(md));
      return md;
    },
  };
}

const isMarkdown = ({ languageId }: vscode.TextDocument): boolean => languageId === 'markdown';
