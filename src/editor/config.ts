import * as vscode from 'vscode';
import { type Config, NO_CONFIG } from '../config/config';
import { MEASURE_IDS } from '../measure/specs';
import type { Finding } from '../text/finding';
import { diagnosticsOf, placesIn } from './translate';
import { Turns } from './turns';

const FILE = 'nitbook.jsonc';
const SETTLE_MS = 150;
const measures: ReadonlySet<string> = new Set(MEASURE_IDS);

/** `nitbook.jsonc` as it is being typed, else as it stands in its folder. */
export interface ConfigFile {
  readonly uri: vscode.Uri;
  readonly config: Config;
}

export const isConfig = (document: vscode.TextDocument): boolean => document.uri.path.endsWith(`/${FILE}`) && document.uri.scheme !== 'git';

/** What the nearest `nitbook.jsonc` says to each session, and what is wrong in those files. */
export class Configurations {
  /** By folder, until any of the files changes. */
  private nearest = new Map<string, Promise<ConfigFile | undefined>>();
  private readonly changed = new vscode.EventEmitter<void>();
  private readonly collection = vscode.languages.createDiagnosticCollection('nitbook.jsonc');
  private readonly turns = new Turns();
  private readonly subscriptions: vscode.Disposable[];
  readonly onDidChange = this.changed.event;

  constructor() {
    const watcher = vscode.workspace.createFileSystemWatcher(`**/${FILE}`);
    const changed = (ms: number) => this.turns.take(FILE, ms, () => this.forget());
    const whenConfig = (document: vscode.TextDocument, ms = 0) => {
      if (isConfig(document)) changed(ms);
    };
    this.subscriptions = [
      this.changed,
      this.collection,
      this.turns,
      watcher,
      watcher.onDidCreate(() => changed(SETTLE_MS)),
      watcher.onDidChange(() => changed(SETTLE_MS)),
      watcher.onDidDelete(() => changed(SETTLE_MS)),
      vscode.workspace.onDidOpenTextDocument((document) => whenConfig(document)),
      vscode.workspace.onDidCloseTextDocument((document) => whenConfig(document)),
      vscode.workspace.onDidChangeTextDocument(({ document }) => whenConfig(document, SETTLE_MS)),
      vscode.workspace.onDidChangeWorkspaceFolders(() => changed(0)),
    ];
    this.showOpen();
  }

  /** What holds for a session: the nearest file upwards from its folder, as on the command line; for an unsaved one, from the workspace's. */
  async of(session: vscode.Uri): Promise<Config> {
    // What Git's support reads is the file that the query names, whatever the path says: so the folder is that of the present file.
    const at = session.scheme === 'git' ? session.with({ scheme: 'file', query: '' }) : session;
    const start = at.scheme === 'untitled' || at.path === '' ? vscode.workspace.workspaceFolders?.[0]?.uri : vscode.Uri.joinPath(at, '..');
    return (start && (await this.upwards(start)))?.config ?? NO_CONFIG;
  }

  /** What is wrong in a file of this name as it is being typed: what is known of its folder may be of the text before. */
  async findings(document: vscode.TextDocument): Promise<readonly Finding[]> {
    const { readConfig } = await import('../config/readConfig');
    return readConfig(document.getText(), { measures }).findings;
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private forget(): void {
    this.nearest = new Map();
    this.collection.clear();
    this.changed.fire();
    this.showOpen();
  }

  private showOpen(): void {
    for (const document of vscode.workspace.textDocuments) {
      if (isConfig(document)) void this.upwards(vscode.Uri.joinPath(document.uri, '..'));
    }
  }

  private upwards(folder: vscode.Uri): Promise<ConfigFile | undefined> {
    const key = folder.toString();
    let found = this.nearest.get(key);
    if (!found) {
      found = this.read(folder);
      this.nearest.set(key, found);
    }
    return found;
  }

  private async read(folder: vscode.Uri): Promise<ConfigFile | undefined> {
    const asOf = this.nearest;
    const uri = vscode.Uri.joinPath(folder, FILE);
    const open = vscode.workspace.textDocuments.find((document) => document.uri.toString() === uri.toString());
    // Only then: a document stays open for a while after its editor is closed, and even after its file is gone.
    const text = open?.isDirty ? open.getText() : await textOf(uri);
    if (text === undefined) {
      const parent = vscode.Uri.joinPath(folder, '..');
      return parent.path === folder.path ? undefined : this.upwards(parent);
    }
    const { readConfig } = await import('../config/readConfig');
    const { config, findings } = readConfig(text, { measures });
    // Mistakes of JSON itself are underlined by the editor's own JSON support where the file is open.
    const shown = open ? findings.filter(({ code }) => code !== 'config-syntax') : findings;
    if (asOf === this.nearest) this.collection.set(uri, diagnosticsOf(placesIn(text), shown));
    return { uri, config };
  }
}

async function textOf(uri: vscode.Uri): Promise<string | undefined> {
  try {
    return new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
  } catch {
    // Not there, or not ours to read.
    return undefined;
  }
}
