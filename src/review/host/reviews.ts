import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import { inSlices } from '../../editor/intervals';
import { diagnosticsOf } from '../../editor/translate';
import { Turns } from '../../editor/turns';
import { intervals } from '../../project/analysis';
import { folderOf } from '../../project/paths';
import { type CheckedReview, type ReviewPlace, sessionsOf } from '../check';
import { mayRefer, type ReviewText, readReview } from '../markdown';
import { checkedReview } from '../sources';
import type { ReviewSessions } from './sessions';

export const MARKDOWN = 'markdown';

/** While somebody types: long enough that a figure is mostly written out. */
const PAUSE_MS = 300;
/** After a session has changed, which a reader of the review does not wait for. */
const SETTLE_MS = 150;

interface Known {
  readonly version: number;
  readonly review: ReviewText;
  /** Held against the sessions as they were at a time. */
  checked?: { readonly time: number; readonly review: Promise<CheckedReview> };
}

/** Where a Markdown document stands, and what its references may not leave. */
export interface Home {
  readonly folder: vscode.Uri;
  readonly place: Pick<ReviewPlace, 'path' | 'root'>;
}

/** The open Markdown documents that refer to sessions: what holds in them, and what is noticed. */
export class Reviews {
  private readonly collection = vscode.languages.createDiagnosticCollection('nitbook reviews');
  private readonly known = new Map<string, Known>();
  /** The sessions that a review named when it was last checked. */
  private readonly named = new Map<string, readonly string[]>();
  private readonly turns = new Turns();
  /** How often a review was shown: one that was slow must not come over what is newer. */
  private readonly shows = new Map<string, number>();
  /** Goes on whenever a session or a configuration has changed. */
  private time = 0;
  private readonly subscriptions: vscode.Disposable[];

  constructor(
    private readonly sessions: ReviewSessions,
    private readonly configurations: Configurations,
  ) {
    this.subscriptions = [
      this.collection,
      this.turns,
      vscode.workspace.onDidOpenTextDocument((document) => this.follow(document, 0)),
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length > 0) this.follow(document, PAUSE_MS);
      }),
      vscode.workspace.onDidCloseTextDocument(({ uri }) => this.forget(uri)),
      sessions.onDidChange((uri) => this.followSession(uri)),
      vscode.workspace.onDidChangeWorkspaceFolders(() => this.showAll(0)),
    ];
    this.showAll(0);
  }

  /** The text of a document as it stands now. */
  review(document: vscode.TextDocument): ReviewText {
    return this.at(document).review;
  }

  /** A document with what it claims held against the sessions as they stand; undefined when it changed meanwhile, or refers to none. */
  async checked(document: vscode.TextDocument): Promise<CheckedReview | undefined> {
    const { version } = document;
    const home = homeOf(document.uri);
    if (!home || !mayRefer(document.getText())) return undefined;
    const known = this.at(document);
    if (known.checked?.time !== this.time) known.checked = { time: this.time, review: this.check(document, known.review, home) };
    const checked = await known.checked!.review;
    return document.version === version ? checked : undefined;
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private at(document: vscode.TextDocument): Known {
    const key = document.uri.toString();
    let known = this.known.get(key);
    if (known?.version !== document.version) {
      known = { version: document.version, review: readReview(document.getText()) };
      if (!document.isClosed) this.known.set(key, known);
    }
    return known;
  }

  private async check(document: vscode.TextDocument, review: ReviewText, { folder, place }: Home): Promise<CheckedReview> {
    const config = await this.configurations.of(document.uri);
    const { version } = document;
    return checkedReview(review, { ...place, config }, this.sessions.in(folder), (results) =>
      inSlices(intervals({ results }), () => document.version === version),
    );
  }

  private showAll(ms: number): void {
    for (const document of vscode.workspace.textDocuments) this.follow(document, ms);
  }

  private follow(document: vscode.TextDocument, ms: number): void {
    if (isMarkdown(document)) this.turns.take(document.uri.toString(), ms, () => void this.show(document));
  }

  private followSession(uri: vscode.Uri | undefined): void {
    this.time++;
    for (const document of vscode.workspace.textDocuments) {
      const named = this.named.get(document.uri.toString());
      if (named && (uri === undefined || named.includes(uri.path))) this.follow(document, SETTLE_MS);
    }
  }

  private async show(document: vscode.TextDocument): Promise<void> {
    const key = document.uri.toString();
    const { version } = document;
    const turn = (this.shows.get(key) ?? 0) + 1;
    this.shows.set(key, turn);
    const home = homeOf(document.uri);
    if (!home || !mayRefer(document.getText())) {
      this.collection.delete(document.uri);
      this.named.delete(key);
      return;
    }
    this.named.set(key, sessionsOf(this.review(document), home.place));
    const checked = await this.checked(document);
    // What changed meanwhile, in the review or in a session, has a turn of its own.
    if (checked && this.shows.get(key) === turn && document.version === version && !document.isClosed) {
      this.collection.set(document.uri, diagnosticsOf(document, checked.findings));
    }
  }

  private forget(uri: vscode.Uri): void {
    const key = uri.toString();
    this.turns.drop(key);
    this.known.delete(key);
    this.named.delete(key);
    this.shows.delete(key);
    this.collection.delete(uri);
  }
}

export const isMarkdown = ({ languageId, uri }: vscode.TextDocument): boolean => languageId === MARKDOWN && uri.scheme !== 'git';

/** The folder of the workspace that a document is in, else its own; none for one that is nowhere yet. */
export function homeOf(uri: vscode.Uri): Home | undefined {
  // Of an earlier version the sessions of that time are not at hand.
  if (uri.scheme === 'git') return undefined;
  const isUnsaved = uri.scheme === 'untitled';
  const folder = isUnsaved ? vscode.workspace.workspaceFolders?.[0]?.uri : vscode.workspace.getWorkspaceFolder(uri)?.uri;
  if (!folder && (isUnsaved || uri.path === '')) return undefined;
  const root = folder ?? uri.with({ path: folderOf(uri.path) });
  const path = root.path.replace(/\/$/, '');
  return { folder: root, place: { path: isUnsaved ? `${path}/${uri.path}` : uri.path, root: path } };
}
