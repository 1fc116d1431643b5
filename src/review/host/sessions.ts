import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import { type Documents, isSession } from '../../editor/documents';
import { analyse } from '../../project/analysis';
import { decoded, type FileReading, MOST_BYTES, refused, tooLarge } from '../../project/files';
import { isWithin } from '../../project/paths';
import { SessionText } from '../../session/sessionText';
import type { ReadSession, Sources } from '../sources';

/** Sessions that are listed, for neighbours of one that is missing and for choosing from. */
const MOST_LISTED = 1000;

/** The sessions that reviews refer to: as they are being typed, else as they stand on disk, read once until they change. */
export class ReviewSessions {
  private readonly changed = new vscode.EventEmitter<vscode.Uri | undefined>();
  private files = new Map<string, Promise<ReadSession>>();
  private lists = new Map<string, Promise<readonly string[]>>();
  private readonly subscriptions: vscode.Disposable[];
  /** The session that is another, or none for what is about all of them. */
  readonly onDidChange = this.changed.event;

  constructor(
    private readonly documents: Documents,
    private readonly configurations: Configurations,
  ) {
    const watcher = vscode.workspace.createFileSystemWatcher('**/*.nitbook');
    const forget = (uri: vscode.Uri) => {
      this.files.delete(uri.toString());
      this.changed.fire(uri);
    };
    const moved = (uri: vscode.Uri) => {
      this.lists = new Map();
      forget(uri);
    };
    this.subscriptions = [
      this.changed,
      watcher,
      watcher.onDidChange(forget),
      watcher.onDidCreate(moved),
      watcher.onDidDelete(moved),
      // A watcher is late, or sees nothing where there is none.
      vscode.workspace.onDidSaveTextDocument((document) => {
        if (isSession(document)) forget(document.uri);
      }),
      // Also where it was read anew from a disk that nothing watches.
      documents.onDidChange(({ document }) => forget(document.uri)),
      documents.onDidClose(({ uri }) => forget(uri)),
      configurations.onDidChange(() => {
        this.files = new Map();
        this.changed.fire(undefined);
      }),
    ];
  }

  /** Those of a folder: no file outside of it is read. */
  in(folder: vscode.Uri): Sources {
    return {
      session: (path) => this.session(folder, path),
      list: () => this.list(folder),
    };
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private async session(folder: vscode.Uri, path: string): Promise<ReadSession> {
    const uri = folder.with({ path });
    const key = uri.toString();
    // Only what is not saved: a document stays open for a while after its editor is closed, and even after its file is gone.
    const open = this.documents.all.find((document) => document.isDirty && document.uri.toString() === key);
    if (open) return { ok: true, analysis: await this.documents.analysis(open) };
    let file = this.files.get(key);
    if (!file) {
      file = this.read(folder, uri);
      this.files.set(key, file);
    }
    return file;
  }

  private async read(folder: vscode.Uri, uri: vscode.Uri): Promise<ReadSession> {
    const reading = await textOf(folder, uri);
    if (!reading.ok) return { ok: false, path: uri.path, problem: reading.problem };
    return { ok: true, analysis: analyse(SessionText.read(reading.text), await this.configurations.of(uri)) };
  }

  private list(folder: vscode.Uri): Promise<readonly string[]> {
    const key = folder.toString();
    let list = this.lists.get(key);
    if (!list) {
      list = listed(folder);
      this.lists.set(key, list);
    }
    return list;
  }
}

async function textOf(folder: vscode.Uri, uri: vscode.Uri): Promise<FileReading> {
  const read = await bytesIn(folder, uri);
  return read.ok ? decoded(read.bytes) : read;
}

type Bytes = { readonly ok: true; readonly bytes: Uint8Array } | Extract<FileReading, { ok: false }>;

/** A file that lies in a folder. */
export async function bytesIn(folder: vscode.Uri, uri: vscode.Uri): Promise<Bytes> {
  const root = folder.path.replace(/\/$/, '');
  if (!isWithin(root, uri.path)) return refused('outside', { root: folder.path });
  try {
    // Where links lead is not told here: none is followed, on the whole way from the folder.
    const parts = uri.path.slice(root.length + 1).split('/');
    for (let i = 1; i <= parts.length; i++) {
      const { type, size } = await vscode.workspace.fs.stat(folder.with({ path: `${root}/${parts.slice(0, i).join('/')}` }));
      if (type & vscode.FileType.SymbolicLink) return refused('linked');
      if (i < parts.length) continue;
      if (type & vscode.FileType.Directory) return refused('folder');
      if (size > MOST_BYTES) return tooLarge(size);
    }
    return { ok: true, bytes: await vscode.workspace.fs.readFile(uri) };
  } catch (error) {
    return error instanceof vscode.FileSystemError && error.code === 'NoPermissions'
      ? refused('unreadable', { reason: error.code })
      : refused('missing');
  }
}

async function listed(folder: vscode.Uri): Promise<readonly string[]> {
  const found = await vscode.workspace.findFiles(new vscode.RelativePattern(folder, '**/*.nitbook'), undefined, MOST_LISTED);
  return found.map(({ path }) => path).sort();
}
