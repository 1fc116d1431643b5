// A sheet between its page and a workbench that takes its time. The workbench is one of our own; its real one runs the suites of test/host.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type * as vscode from 'vscode';
import { NO_CONFIG } from '../../src/config/config';
import type { Configurations } from '../../src/editor/config';
import { Documents } from '../../src/editor/documents';
import { Panel } from '../../src/sheet/host/panel';
import type { FromHost, FromPage } from '../../src/sheet/protocol';
import { PROTO } from '../../src/sheet/protocol';
import { DAY } from './bench';

const bench = vi.hoisted(() => {
  class EventEmitter<T> {
    private readonly listeners = new Set<(event: T) => void>();
    readonly event = (listener: (event: T) => void) => {
      this.listeners.add(listener);
      return { dispose: () => this.listeners.delete(listener) };
    };
    fire(event: T): void {
      for (const listener of [...this.listeners]) listener(event);
    }
    dispose(): void {
      this.listeners.clear();
    }
  }
  const event = () => new EventEmitter<unknown>();
  return {
    EventEmitter,
    opened: event(),
    changed: event(),
    closed: event(),
    saved: event(),
    /** What the workbench does with an edit. */
    applyEdit: async (_edit: unknown): Promise<boolean> => true,
  };
});

vi.mock('vscode', () => ({
  EventEmitter: bench.EventEmitter,
  Disposable: {
    from: (...all: { dispose(): void }[]) => ({
      dispose: () => {
        for (const each of all) each.dispose();
      },
    }),
  },
  Range: class {},
  DiagnosticSeverity: {},
  WorkspaceEdit: class {
    edits: unknown;
    set(_uri: unknown, edits: unknown) {
      this.edits = edits;
    }
  },
  TextEdit: { replace: (_range: unknown, text: string) => text },
  EndOfLine: { LF: 1, CRLF: 2 },
  FilePermission: { Readonly: 1 },
  env: { language: 'en' },
  l10n: { t: (text: string) => text },
  commands: { executeCommand: async () => undefined, getCommands: async () => [] },
  languages: { match: () => 0 },
  workspace: {
    textDocuments: [],
    fs: { isWritableFileSystem: () => true, stat: async () => ({}) },
    getConfiguration: () => ({ get: (_name: string, value: unknown) => value }),
    getWorkspaceFolder: () => undefined,
    applyEdit: (edit: unknown) => bench.applyEdit(edit),
    onDidOpenTextDocument: bench.opened.event,
    onDidChangeTextDocument: bench.changed.event,
    onDidCloseTextDocument: bench.closed.event,
    onDidSaveTextDocument: bench.saved.event,
    onWillSaveTextDocument: () => ({ dispose: () => undefined }),
    onDidChangeConfiguration: () => ({ dispose: () => undefined }),
  },
}));

const FROM = '        30  ?         ?        ?';
const TO = '        30  6.7       ?        ?';

class Document {
  version = 1;
  text = DAY;
  isClosed = false;
  isDirty = false;
  readonly isUntitled = false;
  readonly languageId = 'nitbook';
  readonly eol = 1;
  readonly uri = { scheme: 'file', path: '/day.nitbook', toString: () => 'file:///day.nitbook' };
  getText = () => this.text;
  positionAt = (offset: number) => offset;

  /** The workbench tells of a change, with the state that it has then. */
  write(from: string, to: string, isDirty: boolean): void {
    const rangeOffset = this.text.indexOf(from);
    if (rangeOffset < 0) throw new Error(`"${from}" does not stand there`);
    this.text = this.text.replace(from, to);
    this.version++;
    this.isDirty = isDirty;
    bench.changed.fire({ document: this, contentChanges: [{ rangeOffset, rangeLength: from.length, text: to }] });
  }
}

function open(readConfig = async () => NO_CONFIG) {
  const document = new Document();
  let reads = 0;
  const configurations = {
    of: async () => {
      if (++reads > 1000) throw new Error('asked for ever');
      return readConfig();
    },
    onDidChange: () => ({ dispose: () => undefined }),
  } as unknown as Configurations;
  const [messages, views] = [new bench.EventEmitter<unknown>(), new bench.EventEmitter<unknown>()];
  const said: FromHost[] = [];
  const webviewPanel = {
    active: true,
    visible: true,
    webview: { onDidReceiveMessage: messages.event, postMessage: async (all: FromHost[]) => said.push(...all) },
    onDidChangeViewState: views.event,
  } as unknown as vscode.WebviewPanel;
  const panel = new Panel(
    document as unknown as vscode.TextDocument,
    webviewPanel,
    new Documents(configurations),
    configurations,
    undefined,
  );
  const says = (message: FromPage) => messages.fire(message);
  says({ kind: 'ready', proto: PROTO });
  const line = DAY.split('\n').indexOf(FROM);
  const look = () => says({ kind: 'look', epoch: '1', version: document.version, at: line, from: line, to: line + 1, width: 0 });
  const commit = () =>
    says({
      ...{ kind: 'edit', epoch: '1', base: document.version, seq: 1 },
      op: { do: 'setCell', at: { block: 'grey', line, text: FROM }, column: 'Y', text: '6.7' },
    } as FromPage);
  const of = <K extends FromHost['kind']>(kind: K) => said.filter((each): each is Extract<FromHost, { kind: K }> => each.kind === kind);
  return { document, panel, views, look, commit, of, reads: () => reads };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});
const pass = (ms = 50) => vi.advanceTimersByTimeAsync(ms);
const after = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

describe('A reading that the workbench writes', () => {
  it('after seconds is written', async () => {
    const { document, commit, of } = open();
    bench.applyEdit = async () => {
      await after(5000);
      document.write(FROM, TO, true);
      return true;
    };
    commit();
    await pass(6000);
    expect(of('ack')).toHaveLength(1);
    expect(document.text).toBe(DAY.replace(FROM, TO));
  });

  it('and says only later that it is to be saved is written', async () => {
    const { document, commit, of } = open();
    bench.applyEdit = async () => {
      document.write(FROM, TO, false);
      setTimeout(() => {
        document.isDirty = true;
        bench.changed.fire({ document, contentChanges: [] });
      }, 900);
      return true;
    };
    commit();
    await pass(2000);
    expect(of('ack')).toHaveLength(1);
  });

  it('and saves by itself at once is written', async () => {
    const { document, commit, of } = open();
    bench.applyEdit = async () => {
      document.write(FROM, TO, false);
      bench.saved.fire(document);
      return true;
    };
    commit();
    await pass(2000);
    expect(of('ack')).toHaveLength(1);
    expect(of('settings')).toEqual([]);
  });

  it('and would never save is taken back, and tried anew when the sheet is looked at again', async () => {
    const { document, views, commit, of } = open();
    bench.applyEdit = async () => {
      if (document.text === DAY) document.write(FROM, TO, false);
      else document.write(TO, FROM, false);
      return true;
    };
    commit();
    await pass(2000);
    expect(of('nack')).toHaveLength(1);
    expect(document.text).toBe(DAY);
    expect(of('settings').map(({ readonly }) => readonly)).toEqual([true]);
    views.fire(undefined);
    await pass();
    expect(of('settings').map(({ readonly }) => readonly)).toEqual([true, false]);
  });

  it('and would never save is left where somebody else wrote since', async () => {
    const { document, commit, of } = open();
    bench.applyEdit = async () => {
      document.write(FROM, TO, false);
      setTimeout(() => document.write('119.6', '119.7', false), 500);
      return true;
    };
    commit();
    await pass(2000);
    expect(of('nack')).toHaveLength(1);
    expect(document.text).toContain('119.7');
  });
});

describe('The computing of a sheet', () => {
  it('comes to an end when its document was closed and opened under it, as another language does', async () => {
    const { document, look, of, reads } = open();
    look();
    await pass();
    const before = reads();
    bench.closed.fire(document);
    bench.opened.fire(document);
    look();
    await pass(2000);
    expect(reads() - before).toBeLessThan(20);
    expect(of('results').length).toBeGreaterThan(0);
  });

  it('comes to an end when the sheet is closed while the configuration is read, and says nothing then', async () => {
    const { document, panel, look, of, reads } = open(async () => {
      await after(60);
      return NO_CONFIG;
    });
    await pass(5);
    look();
    panel.dispose();
    document.isClosed = true;
    bench.closed.fire(document);
    await pass(2000);
    expect(reads()).toBeLessThan(20);
    expect(of('results')).toEqual([]);
  });
});
