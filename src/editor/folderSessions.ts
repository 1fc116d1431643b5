import * as vscode from 'vscode';
import { type FolderUse, folderUse, joined, NO_USE } from '../language/folderUse';
import { sessionOf } from '../session/session';
import { SessionText } from '../session/sessionText';

/** More files, or larger ones, add little to what is usual and cost time and memory. */
const MOST_FILES = 200;
const MOST_BYTES = 1_000_000;
const AT_ONCE = 8;

/** What the sessions of the workspace use, and those beside a file that is in none. */
export class FolderSessions {
  private readonly folders = new Map<string, Folder>();

  /** What the other sessions of a session's folder use; read when it is first asked for. */
  async use(session: vscode.Uri): Promise<FolderUse> {
    const { workspaceFolders } = vscode.workspace;
    const isUnsaved = session.scheme === 'untitled';
    const root = isUnsaved ? workspaceFolders?.[0]?.uri : vscode.workspace.getWorkspaceFolder(session)?.uri;
    if (root) return this.folder(root, true).use(session.toString());
    return isUnsaved || session.path === '' ? NO_USE : this.folder(vscode.Uri.joinPath(session, '..'), false).use(session.toString());
  }

  dispose(): void {
    for (const folder of this.folders.values()) folder.dispose();
    this.folders.clear();
  }

  private folder(root: vscode.Uri, isDeep: boolean): Folder {
    const key = root.toString();
    let folder = this.folders.get(key);
    if (!folder) {
      folder = new Folder(root, isDeep);
      this.folders.set(key, folder);
    }
    return folder;
  }
}

class Folder {
  private files: Promise<readonly vscode.Uri[]> | undefined;
  private uses = new Map<string, Promise<FolderUse>>();
  /** The latest answer, for the session that it leaves out. */
  private answer: { readonly without: string; readonly use: Promise<FolderUse> } | undefined;
  private readonly pattern: vscode.RelativePattern;
  private readonly watcher: vscode.FileSystemWatcher;

  constructor(
    private readonly root: vscode.Uri,
    private readonly isDeep: boolean,
  ) {
    this.pattern = new vscode.RelativePattern(root, isDeep ? '**/*.nitbook' : '*.nitbook');
    this.watcher = vscode.workspace.createFileSystemWatcher(this.pattern);
    const changed = (uri: vscode.Uri) => {
      this.uses.delete(uri.toString());
      this.answer = undefined;
    };
    const moved = (uri: vscode.Uri) => {
      this.files = undefined;
      changed(uri);
    };
    this.watcher.onDidChange(changed);
    this.watcher.onDidCreate(moved);
    this.watcher.onDidDelete(moved);
  }

  use(without: string): Promise<FolderUse> {
    if (this.answer?.without !== without) this.answer = { without, use: this.read(without) };
    return this.answer.use;
  }

  dispose(): void {
    this.watcher.dispose();
  }

  private async read(without: string): Promise<FolderUse> {
    this.files ??= this.list();
    const others = (await this.files).filter((uri) => uri.toString() !== without);
    const uses: FolderUse[] = [];
    for (let i = 0; i < others.length; i += AT_ONCE) {
      uses.push(...(await Promise.all(others.slice(i, i + AT_ONCE).map((uri) => this.useOf(uri)))));
    }
    return joined(uses);
  }

  private async list(): Promise<readonly vscode.Uri[]> {
    const found = this.isDeep ? await vscode.workspace.findFiles(this.pattern, undefined, MOST_FILES) : [];
    if (found.length > 0) return found;
    // Some virtual workspaces cannot be searched; what lies in the folder itself can still be listed.
    try {
      const entries = await vscode.workspace.fs.readDirectory(this.root);
      const names = entries.flatMap(([name, type]) => (type & vscode.FileType.File && name.endsWith('.nitbook') ? [name] : []));
      return names.slice(0, MOST_FILES).map((name) => vscode.Uri.joinPath(this.root, name));
    } catch {
      return [];
    }
  }

  private useOf(uri: vscode.Uri): Promise<FolderUse> {
    const key = uri.toString();
    let use = this.uses.get(key);
    if (!use) {
      use = readUse(uri);
      this.uses.set(key, use);
    }
    return use;
  }
}

async function readUse(uri: vscode.Uri): Promise<FolderUse> {
  try {
    const { size } = await vscode.workspace.fs.stat(uri);
    if (size > MOST_BYTES) return NO_USE;
    return folderUse([sessionOf(SessionText.read(new TextDecoder().decode(await vscode.workspace.fs.readFile(uri))))]);
  } catch {
    // Gone in the meantime, or not ours to read.
    return NO_USE;
  }
}
