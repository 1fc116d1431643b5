import * as vscode from 'vscode';
import { type Config, NO_CONFIG } from '../../config/config';
import type { Configurations } from '../../editor/config';
import { inSlices, PATIENCE_MS, within } from '../../editor/intervals';
import { say } from '../../editor/l10n';
import { Turns } from '../../editor/turns';
import { intervals } from '../../project/analysis';
import { checkReview } from '../check';
import { type PluginOptions, showReferences } from '../plugin';
import { referredRuns } from '../referred';
import type { Showing } from '../shown';
import type { ReadSession } from '../sources';
import { type Home, homeOf, type Reviews } from './reviews';
import type { ReviewSessions } from './sessions';

/** After a session has changed: somebody may be typing in it, and a preview that is refreshed is loaded as a whole. */
const PAUSE_MS = 600;

/** What has been read for a document; what has changed since is shown until it is read anew. */
interface Seen {
  readonly config: Config;
  readonly sessions: ReadonlyMap<string, ReadSession>;
}

/**
 * The built-in preview of Markdown shows what reviews refer to. It is rendered at once, from what has been read; what has not is read then,
 * and the preview rendered once more.
 */
export class MarkdownPreview {
  private readonly seen = new Map<string, Seen>();
  /** The sessions that each document was found to name. */
  private readonly wanted = new Map<string, Set<string>>();
  private readonly turns = new Turns();
  /** How many times each document has been read for: the latest counts. */
  private readonly times = new Map<string, number>();
  private readonly subscriptions: vscode.Disposable[];

  constructor(
    private readonly sessions: ReviewSessions,
    private readonly reviews: Reviews,
    private readonly configurations: Configurations,
  ) {
    this.subscriptions = [
      this.turns,
      sessions.onDidChange((uri) => this.follow(uri)),
      configurations.onDidChange(() => this.follow(undefined)),
      // A preview outlives the text that it is of: the workbench lets go of that some minutes after its editor is closed.
      vscode.workspace.onDidCloseTextDocument(({ uri }) => {
        if (!isPreviewOpen()) this.forget(uri.toString());
      }),
    ];
  }

  /** What the support of Markdown calls with its reader. */
  readonly extendMarkdownIt = (md: Parameters<typeof showReferences>[0]): typeof md =>
    showReferences(md, { showing: (env) => this.showing(env) });

  /** The same where it has already been rendering. */
  extendLate(md: Parameters<typeof showReferences>[0]): void {
    this.extendMarkdownIt(md);
    void refresh();
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  /** How a document is shown as far as its sessions are known; those that are not are asked for. */
  private showing(env: Parameters<PluginOptions['showing']>[0]): Showing | undefined {
    const uri = env?.currentDocument;
    const home = uri instanceof vscode.Uri ? homeOf(uri) : undefined;
    if (!(uri instanceof vscode.Uri) || !home) return undefined;
    const key = uri.toString();
    const seen = this.seen.get(key);
    const session = (path: string): ReadSession | undefined => {
      const found = seen?.sessions.get(path);
      if (!found) this.want(uri, home, path);
      return found;
    };
    return { place: { ...home.place, config: seen?.config ?? NO_CONFIG }, sessions: { session, paths: [] }, say };
  }

  private want(uri: vscode.Uri, home: Home, path: string): void {
    const key = uri.toString();
    const wanted = this.wanted.get(key) ?? new Set();
    if (wanted.has(path)) return;
    this.wanted.set(key, wanted.add(path));
    // All that a rendering asks for is read together.
    this.turns.take(key, 1, () => void this.read(uri, home));
  }

  private async read(uri: vscode.Uri, home: Home): Promise<void> {
    const key = uri.toString();
    const wanted = this.wanted.get(key);
    if (!wanted) return;
    const time = (this.times.get(key) ?? 0) + 1;
    this.times.set(key, time);
    const sources = this.sessions.in(home.folder);
    const paths = [...wanted];
    const config = await this.configurations.of(uri);
    const sessions = new Map(await Promise.all(paths.map(async (path) => [path, await sources.session(path)] as const)));
    const isLatest = () => this.times.get(key) === time;
    const settling = this.settle(uri, { config, sessions }, home, isLatest);
    await within(settling, PATIENCE_MS);
    if (!isLatest()) return;
    this.seen.set(key, { config, sessions });
    await refresh();
    // What is late comes once more.
    if ((await settling) === 'late' && isLatest()) await refresh();
  }

  /** Computes the intervals of the runs that a document refers to: verdicts hang on them. */
  private async settle(uri: vscode.Uri, { config, sessions }: Seen, { place }: Home, isWanted: () => boolean): Promise<'late' | undefined> {
    const document = await vscode.workspace.openTextDocument(uri).then(undefined, () => undefined);
    if (!document) return undefined;
    const started = performance.now();
    const known = { session: (path: string) => sessions.get(path), paths: [] };
    const { checked } = checkReview(this.reviews.review(document), { ...place, config }, known);
    for (const [analysis, runs] of referredRuns(checked)) await inSlices(intervals(analysis, runs), isWanted);
    return performance.now() - started > PATIENCE_MS ? 'late' : undefined;
  }

  private follow(session: vscode.Uri | undefined): void {
    for (const [key, wanted] of this.wanted) {
      if (session && !wanted.has(session.path)) continue;
      const uri = vscode.Uri.parse(key, true);
      const home = homeOf(uri);
      if (home && isPreviewOpen()) this.turns.take(key, PAUSE_MS, () => void this.read(uri, home));
      else this.forget(key);
    }
  }

  private forget(key: string): void {
    this.turns.drop(key);
    this.seen.delete(key);
    this.wanted.delete(key);
    this.times.delete(key);
  }
}

/** The support of Markdown can be switched off: then there is nothing to refresh. */
const refresh = (): Thenable<unknown> => vscode.commands.executeCommand('markdown.preview.refresh').then(undefined, () => undefined);

const isPreviewOpen = (): boolean =>
  vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs)
    .some(
      ({ input }) =>
        (input instanceof vscode.TabInputWebview || input instanceof vscode.TabInputCustom) && input.viewType.includes('markdown'),
    );
