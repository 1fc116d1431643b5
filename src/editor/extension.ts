import type * as vscode from 'vscode';
import { MarkdownPreview } from '../preview/host/markdown';
import { previews } from '../preview/host/previews';
import { publishing } from '../preview/host/publish';
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
import { reviewCompletion } from './reviewCompletion';
import { reviewHover } from './reviewHover';
import { reviewNavigation } from './reviewNavigation';
import { ReviewSessions } from './reviewSessions';
import { Reviews } from './reviews';
import { selection } from './selection';
import { semanticTokens } from './semanticTokens';
import { sessionsTree } from './sessionsTree';
import { statusBar } from './statusBar';
import { summaries } from './summary';

/** Everything here goes again with the context's subscriptions; nothing is left for a `deactivate`. */
export function activate(context: vscode.ExtensionContext): Pick<MarkdownPreview, 'extendMarkdownIt'> {
  const { subscriptions } = context;
  const configurations = new Configurations();
  const documents = new Documents(configurations);
  const sessions = new ReviewSessions(documents, configurations);
  const reviews = new Reviews(sessions, configurations);
  const markdownPreview = new MarkdownPreview(sessions, reviews, configurations);
  subscriptions.push(
    configurations,
    documents,
    sessions,
    reviews,
    new Diagnostics(documents, configurations),
    mends(documents, configurations, reviews),
    lens(documents, configurations),
    summaries(documents, configurations),
    compareCommit(documents, configurations),
    format(documents),
    hover(documents),
    hints(documents, configurations),
    completion(documents),
    outline(documents),
    navigation(documents, reviews),
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
    reviewHover(reviews),
    reviewCompletion(sessions, configurations),
    reviewNavigation(documents, reviews, sessions),
    previews(context, documents, configurations),
    sheet(context, documents, configurations),
    markdownPreview,
    publishing(reviews, sessions, configurations),
  );
  // The support of Markdown asks for it, and waits for nothing else.
  return { extendMarkdownIt: markdownPreview.extendMarkdownIt };
}
