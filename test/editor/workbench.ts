// A workbench of our own for tests without one: what `vscode` is to the code that they look at. The real one runs the suites of test/host.
import { vi } from 'vitest';

export class EventEmitter<T> {
  private readonly listeners = new Set<(event: T) => unknown>();
  readonly event = (listener: (event: T) => unknown) => {
    this.listeners.add(listener);
    return { dispose: () => void this.listeners.delete(listener) };
  };
  fire(event: T): void {
    for (const listener of [...this.listeners]) listener(event);
  }
  dispose(): void {
    this.listeners.clear();
  }
}

export class Uri {
  constructor(
    readonly scheme: string,
    readonly path: string,
    readonly query = '',
  ) {}
  static file = (path: string) => new Uri('file', path);
  static parse(text: string): Uri {
    const [, scheme, path] = /^(\w+):(?:\/\/)?(.*)$/.exec(text)!;
    return new Uri(scheme!, path!);
  }
  static joinPath({ scheme, path }: Uri, ...parts: string[]): Uri {
    return new Uri(scheme, new URL(parts.join('/'), `file://${path}/`).pathname.replace(/(.)\/$/, '$1'));
  }
  with({ scheme = this.scheme, path = this.path, query = this.query }): Uri {
    return new Uri(scheme, path, query);
  }
  toString = () => `${this.scheme}:${this.scheme === 'file' ? '//' : ''}${this.path}`;
}

export class Document {
  version = 1;
  isClosed = false;
  isDirty = false;
  readonly eol = 1;
  constructor(
    readonly uri: Uri,
    public text: string,
    readonly languageId = 'nitbook',
  ) {}
  get isUntitled(): boolean {
    return this.uri.scheme === 'untitled';
  }
  getText = () => this.text;
  positionAt = (offset: number) => new Position(0, offset);
  offsetAt = ({ character }: Position) => character;
  lineAt = () => ({ text: this.text });

  /** What is typed; the workbench tells of it. */
  write(from: string, to: string): void {
    const rangeOffset = this.text.indexOf(from);
    if (rangeOffset < 0) throw new Error(`"${from}" does not stand there`);
    this.text = this.text.replace(from, () => to);
    this.version++;
    this.isDirty = true;
    events.changed.fire({ document: this, contentChanges: [{ rangeOffset, rangeLength: from.length, text: to }] });
  }
}

/** Places are offsets, all on one line. */
class Position {
  constructor(
    readonly line: number,
    readonly character: number,
  ) {}
}
class Range {
  constructor(
    readonly start: Position,
    readonly end: Position,
  ) {}
}
class FileSystemError extends Error {
  constructor(readonly code: string) {
    super(code);
  }
}

const event = () => new EventEmitter<unknown>();
export const events = {
  opened: event(),
  changed: event(),
  closed: event(),
  saved: event(),
  renamed: event(),
  deleted: event(),
  selected: event(),
  active: event(),
  fileCreated: event(),
  fileChanged: event(),
  fileDeleted: event(),
};

/** What lies on the disk, by path. */
export const disk = new Map<string, Uint8Array>();
/** Whether the disk takes names that part by their case for one, as most of Windows and macOS do. */
export const disks = { foldCase: false };
const named = (path: string): string =>
  disks.foldCase ? ([...disk.keys()].find((each) => each.toLowerCase() === path.toLowerCase()) ?? path) : path;
export const documents: Document[] = [];
/** What the person at the workbench was told, and answers. */
export const told: string[] = [];
export const put = (path: string, text: string): void => void disk.set(path, new TextEncoder().encode(text));
export const onDisk = (path: string): string | undefined => {
  const bytes = disk.get(path);
  return bytes && new TextDecoder().decode(bytes);
};

/** A document that is open in the workbench. */
export function open(path: string, text: string, languageId?: string): Document {
  const document = new Document(Uri.file(path), text, languageId);
  documents.push(document);
  return document;
}

const tell = (words: string) => {
  told.push(words);
  return Promise.resolve(undefined as unknown);
};
/** Answers of the person: each may be replaced by a test. */
export const window = {
  visibleTextEditors: [] as { document: Document; selection: { active: Position }; viewColumn?: number; setDecorations(): void }[],
  activeTextEditor: undefined as unknown,
  tabGroups: { all: [] as { tabs: { input: unknown }[] }[] },
  createTextEditorDecorationType: () => ({ dispose: () => undefined }),
  onDidChangeTextEditorSelection: events.selected.event,
  onDidChangeActiveTextEditor: events.active.event,
  setStatusBarMessage: vi.fn(tell),
  showErrorMessage: vi.fn(tell),
  showInformationMessage: vi.fn(tell),
  showWarningMessage: vi.fn(async (words: string, ..._more: unknown[]): Promise<unknown> => tell(words)),
  showSaveDialog: vi.fn(async (): Promise<Uri | undefined> => undefined),
  showOpenDialog: vi.fn(async (): Promise<Uri[] | undefined> => undefined),
  showQuickPick: vi.fn(async (_items: unknown): Promise<unknown> => undefined),
  createQuickPick: vi.fn((): unknown => undefined),
  showTextDocument: vi.fn(async () => undefined),
};

const missing = () => new FileSystemError('FileNotFound');
export const workspace = {
  textDocuments: documents,
  workspaceFolders: [{ uri: Uri.file('/home') }],
  getWorkspaceFolder: ({ path }: Uri) => (path.startsWith('/home/') ? { uri: Uri.file('/home') } : undefined),
  openTextDocument: vi.fn(async (uri: Uri): Promise<unknown> => {
    const found = documents.find((document) => String(document.uri) === String(uri));
    if (found) return found;
    const text = onDisk(uri.path);
    if (text === undefined) throw missing();
    return open(uri.path, text);
  }),
  findFiles: vi.fn(async (): Promise<Uri[]> => []),
  fs: {
    async stat({ path }: Uri) {
      const file = disk.get(named(path));
      if (file) return { type: 1, size: file.length, ctime: 1, mtime: 1 };
      if ([...disk.keys()].some((each) => each.startsWith(`${path}/`))) return { type: 2, size: 0 };
      throw missing();
    },
    async readFile({ path }: Uri) {
      const file = disk.get(named(path));
      if (!file) throw missing();
      return file;
    },
    writeFile: vi.fn(async ({ path }: Uri, bytes: Uint8Array) => void disk.set(path, bytes)),
    async rename(from: Uri, to: Uri) {
      disk.set(to.path, disk.get(from.path)!);
      disk.delete(from.path);
    },
    async delete({ path }: Uri) {
      disk.delete(path);
    },
  },
  createFileSystemWatcher: () => ({
    onDidCreate: events.fileCreated.event,
    onDidChange: events.fileChanged.event,
    onDidDelete: events.fileDeleted.event,
    dispose: () => undefined,
  }),
  onDidOpenTextDocument: events.opened.event,
  onDidChangeTextDocument: events.changed.event,
  onDidCloseTextDocument: events.closed.event,
  onDidSaveTextDocument: events.saved.event,
  onDidRenameFiles: events.renamed.event,
  onDidDeleteFiles: events.deleted.event,
  onDidChangeWorkspaceFolders: event().event,
};

/** The workbench as it is when a test begins. */
export function cleared(): void {
  disk.clear();
  disks.foldCase = false;
  documents.length = 0;
  told.length = 0;
  window.visibleTextEditors.length = 0;
  window.tabGroups.all.length = 0;
  for (const emitter of Object.values(events)) emitter.dispose();
}

/** For `vi.mock('vscode', …)`. */
export const vscode = {
  EventEmitter,
  Uri,
  Position,
  Range,
  FileSystemError,
  FileType: { File: 1, Directory: 2, SymbolicLink: 64 },
  RelativePattern: class {},
  Location: class {},
  ThemeColor: class {},
  MarkdownString: class {},
  TabInputWebview: class {
    constructor(readonly viewType: string) {}
  },
  TabInputCustom: class {},
  Disposable: {
    from: (...all: { dispose(): void }[]) => ({
      dispose: () => {
        for (const each of all) each.dispose();
      },
    }),
  },
  Diagnostic: class {
    constructor(readonly range: Range) {}
  },
  DiagnosticSeverity: {},
  QuickPickItemKind: { Separator: -1 },
  TextEditorRevealType: {},
  ViewColumn: { One: 1, Beside: -2 },
  env: { language: 'en', clipboard: { writeText: vi.fn(async () => undefined) }, openExternal: vi.fn(async () => true) },
  l10n: { t: (text: string, ...args: unknown[]) => text.replace(/\{(\d)\}/g, (_, i) => String(args[Number(i)])) },
  commands: { executeCommand: vi.fn(async () => undefined) },
  languages: { createDiagnosticCollection: () => ({ set: vi.fn(), delete: vi.fn(), clear: vi.fn(), dispose: () => undefined }) },
  window,
  workspace,
};
