import * as vscode from 'vscode';
import type { Verdict } from '../judge/limits';
import { analyse, intervals } from '../project/analysis';
import { decoded } from '../project/files';
import { verdictText, visible } from '../report/format';
import { SessionText } from '../session/sessionText';
import type { Configurations } from './config';
import type { Documents } from './documents';
import { inSlices } from './intervals';
import { say } from './l10n';
import { cardOf, type Filter, filtered, filtersIn, type ModeCard, type Part, type SessionCard } from './sessionCards';
import { Turns } from './turns';

const VIEW = 'nitbook.sessions';
const PAUSE_MS = 500;
const MOST_FILES = 1000;
const AT_ONCE = 8;

/** Told apart by their shape; the word stands beside them. */
const ICONS: Readonly<Record<Verdict, string>> = {
  beyond: 'triangle-up',
  undecided: 'question',
  within: 'circle-small-filled',
  'no-number': 'dash',
};

type Place = { readonly uri: vscode.Uri };
export type Node =
  | { readonly is: 'folder'; readonly name: string; readonly children: Node[] }
  | (Place & { readonly is: 'session'; readonly card: SessionCard })
  | (Place & { readonly is: 'mode'; readonly card: ModeCard })
  | (Place & { readonly is: 'run'; readonly card: Part });

/** The sessions of the workspace, saved or not: folder, display, mode, run. Files are read when the view is first seen. */
export class Sessions implements vscode.TreeDataProvider<Node> {
  filter: Filter | undefined;
  private readonly changed = new vscode.EventEmitter<void>();
  private readonly pauses = new Turns();
  private readonly closed = new Map<string, Promise<SessionCard | undefined>>();
  /** Files of which the card goes by the numbers alone, until it is their turn. */
  private readonly unsettled = new Map<string, vscode.Uri>();
  private isSettling = false;
  private readonly subscriptions: vscode.Disposable[];
  readonly onDidChangeTreeData = this.changed.event;

  constructor(
    private readonly documents: Documents,
    private readonly configurations: Configurations,
  ) {
    const watcher = vscode.workspace.createFileSystemWatcher('**/*.nitbook');
    const forget = (uri: vscode.Uri) => {
      this.closed.delete(uri.toString());
      this.refresh(PAUSE_MS);
    };
    this.subscriptions = [
      this.changed,
      this.pauses,
      watcher,
      watcher.onDidChange(forget),
      watcher.onDidCreate(forget),
      watcher.onDidDelete(forget),
      documents.onDidChange(() => this.refresh(PAUSE_MS)),
      documents.onDidSettle(({ late }) => {
        if (late) this.refresh(PAUSE_MS);
      }),
      documents.onDidClose(({ uri }) => forget(uri)),
      vscode.window.tabGroups.onDidChangeTabs(({ opened, closed }) => {
        if (opened.length + closed.length > 0) this.refresh(PAUSE_MS);
      }),
      configurations.onDidChange(() => {
        this.closed.clear();
        this.refresh(0);
      }),
    ];
  }

  refresh(ms: number): void {
    this.pauses.take(VIEW, ms, () => this.changed.fire());
  }

  /** All sessions with their cards, the filter left aside. */
  async cards(): Promise<readonly { readonly uri: vscode.Uri; readonly card: SessionCard }[]> {
    const tabs = inTabs();
    const open = new Map(
      this.documents.all.flatMap((document) => (tabs.has(document.uri.toString()) ? [[document.uri.toString(), document] as const] : [])),
    );
    const files = await vscode.workspace.findFiles('**/*.nitbook', undefined, MOST_FILES);
    const uris = new Map([...files, ...[...open.values()].map(({ uri }) => uri)].map((uri) => [uri.toString(), uri]));
    const found: { uri: vscode.Uri; card: SessionCard }[] = [];
    const all = [...uris.values()].sort((a, b) => (a.path < b.path ? -1 : 1));
    for (let i = 0; i < all.length; i += AT_ONCE) {
      const some = all.slice(i, i + AT_ONCE);
      const cards = await Promise.all(
        some.map(async (uri) => {
          const document = open.get(uri.toString());
          return document ? cardOf(await this.documents.settled(document)) : this.cardOfFile(uri);
        }),
      );
      cards.forEach((card, j) => {
        if (card) found.push({ uri: some[j]!, card });
      });
    }
    return found;
  }

  async getChildren(node?: Node): Promise<Node[] | undefined> {
    switch (node?.is) {
      case undefined:
        return this.roots();
      case 'folder':
        return node.children;
      case 'session':
        return node.card.modes.flatMap((card): Node[] =>
          card.label === '' ? card.runs.map((run) => ({ is: 'run', uri: node.uri, card: run })) : [{ is: 'mode', uri: node.uri, card }],
        );
      case 'mode':
        return node.card.runs.map((card) => ({ is: 'run', uri: node.uri, card }));
      default:
        return undefined;
    }
  }

  getTreeItem(node: Node): vscode.TreeItem {
    const { None, Collapsed, Expanded } = vscode.TreeItemCollapsibleState;
    if (node.is === 'folder') {
      const item = new vscode.TreeItem(visible(node.name), Expanded);
      item.iconPath = vscode.ThemeIcon.Folder;
      return item;
    }
    const { card } = node;
    const state = node.is === 'run' || (node.is === 'mode' && node.card.runs.length === 0) ? None : this.filter ? Expanded : Collapsed;
    const file = node.uri.path.replace(/^.*\//, '');
    const item = new vscode.TreeItem(visible(card.label || file), state);
    item.description = [
      // First what a narrow view must not cut off: dates tell the sessions of a display apart.
      node.is === 'session' ? node.card.date : '',
      verdictText(card.verdict, say),
      card.toTake > 0 ? vscode.l10n.t('{0} to take', card.toTake) : '',
      node.is === 'session' ? '' : card.title,
    ]
      .filter((part) => part !== '')
      .map(visible)
      .join(', ');
    item.iconPath = new vscode.ThemeIcon(ICONS[card.verdict]);
    item.tooltip = [visible(vscode.workspace.asRelativePath(node.uri)), node.is === 'session' ? visible(card.title) : '', item.description]
      .filter((part) => part !== '')
      .join('\n');
    item.accessibilityInformation = { label: `${item.label}, ${item.description}` };
    const selection = new vscode.Range(card.line, 0, card.line, 0);
    item.command = { command: 'vscode.open', title: vscode.l10n.t('Show'), arguments: [node.uri, { selection }] };
    return item;
  }

  dispose(): void {
    this.closed.clear();
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private async roots(): Promise<Node[]> {
    const folders = new Map<string, Node[]>();
    for (const { uri, card } of await this.cards()) {
      const shown = this.filter ? filtered(card, this.filter) : card;
      if (!shown) continue;
      const name = uri.scheme === 'untitled' ? vscode.l10n.t('Not saved') : folderName(uri);
      folders.set(name, [...(folders.get(name) ?? []), { is: 'session', uri, card: shown }]);
    }
    if (folders.size === 1) return [...folders.values()][0]!;
    return [...folders].map(([name, children]): Node => ({ is: 'folder', name, children }));
  }

  private cardOfFile(uri: vscode.Uri): Promise<SessionCard | undefined> {
    const key = uri.toString();
    let card = this.closed.get(key);
    if (!card) {
      card = this.read(uri);
      this.closed.set(key, card);
      this.unsettled.set(key, uri);
      void this.settleFiles();
    }
    return card;
  }

  /** Reads files again with their intervals, one after the other: many are not kept, and nobody waits for all. */
  private async settleFiles(): Promise<void> {
    if (this.isSettling) return;
    this.isSettling = true;
    for (const [key, uri] of this.unsettled) {
      this.unsettled.delete(key);
      const before = this.closed.get(key);
      const isWanted = () => before !== undefined && this.closed.get(key) === before;
      const [old, card] = [await before, await this.read(uri, isWanted)];
      if (!card || !isWanted()) continue;
      this.closed.set(key, Promise.resolve(card));
      if (JSON.stringify(old) !== JSON.stringify(card)) this.refresh(PAUSE_MS);
    }
    this.isSettling = false;
  }

  /** @param isWanted where the intervals are wanted too: while they are */
  private async read(uri: vscode.Uri, isWanted?: () => boolean): Promise<SessionCard | undefined> {
    try {
      const read = decoded(await vscode.workspace.fs.readFile(uri));
      if (!read.ok) return undefined;
      const analysis = analyse(SessionText.read(read.text), await this.configurations.of(uri));
      return !isWanted || (await inSlices(intervals(analysis), isWanted)) ? cardOf(analysis) : undefined;
    } catch {
      // Gone in the meantime, or not ours to read.
      return undefined;
    }
  }
}

/** The files in tabs: a document stays open for minutes after its tab, even when its file is gone. */
const inTabs = (): ReadonlySet<string> =>
  new Set(
    vscode.window.tabGroups.all
      .flatMap(({ tabs }) => tabs)
      .flatMap(({ input }) => {
        if (input instanceof vscode.TabInputText || input instanceof vscode.TabInputCustom) return [input.uri.toString()];
        return input instanceof vscode.TabInputTextDiff ? [input.modified.toString()] : [];
      }),
  );

/** As the workspace names it; a folder of the workspace itself by its own name. */
function folderName(uri: vscode.Uri): string {
  const folder = vscode.Uri.joinPath(uri, '..');
  const root = vscode.workspace.getWorkspaceFolder(uri);
  return root?.uri.path === folder.path ? root.name : vscode.workspace.asRelativePath(folder);
}

/** The view in the Explorer, and what filters it. */
export function sessionsTree(documents: Documents, configurations: Configurations): vscode.Disposable {
  const sessions = new Sessions(documents, configurations);
  const view = vscode.window.createTreeView(VIEW, { treeDataProvider: sessions, showCollapseAll: true });
  // The view shows only where there is something to list: in folders with sessions, or once one is open.
  void vscode.commands.executeCommand('setContext', 'nitbook.active', true);
  return vscode.Disposable.from(
    sessions,
    view,
    vscode.commands.registerCommand('nitbook.filterSessions', async (of?: unknown) => {
      const filter = isFilter(of) ? of : await chosenFilter(sessions);
      if (filter === undefined) return;
      sessions.filter = filter === 'all' ? undefined : filter;
      view.description = sessions.filter ? filterName(sessions.filter) : '';
      sessions.refresh(0);
    }),
  );
}

const isFilter = (of: unknown): of is Filter | 'all' => typeof of === 'string';

async function chosenFilter(sessions: Sessions): Promise<Filter | 'all' | undefined> {
  const counts = filtersIn((await sessions.cards()).map(({ card }) => card));
  const all = { label: vscode.l10n.t('All sessions'), filter: 'all' as const };
  const items = counts.map(([filter, count]) => ({
    label: filterName(filter),
    description: vscode.l10n.t('sessions: {0}', count),
    filter,
  }));
  const title = vscode.l10n.t('Filter Sessions');
  return (await vscode.window.showQuickPick([all, ...items], { title, placeHolder: vscode.l10n.t('What is looked for?') }))?.filter;
}

function filterName(filter: Filter): string {
  if (filter === 'to-take') return vscode.l10n.t('readings to take');
  return filter === 'beyond' || filter === 'undecided' ? verdictText(filter, say) : filter;
}
