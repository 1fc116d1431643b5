// The page of figures between its page and the workbench; test/editor/workbench.ts stands for the workbench.
import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type * as vscode from 'vscode';
import { NO_CONFIG } from '../../src/config/config';
import type { Configurations } from '../../src/editor/config';
import { Documents } from '../../src/editor/documents';
import { Preview } from '../../src/preview/host/preview';
import { type FromHost, type FromPage, PROTO } from '../../src/preview/protocol';
import { cleared, type Document, disk, EventEmitter, events, open, put, told, Uri, window } from '../editor/workbench';

vi.mock('vscode', async () => (await import('../editor/workbench')).vscode);

const AURORA = readFileSync('examples/aurora-55.nitbook', 'utf8');
const OTHER = `nitbook 1

display other
  maker Halden

contrast sight
  patch  Y
  white  120
  black  0.1
`;

function page(of: Document, pinned = false, run?: string) {
  const configurations = { of: async () => NO_CONFIG, onDidChange: () => ({ dispose: () => undefined }) } as unknown as Configurations;
  const messages = new EventEmitter<unknown>();
  const said: FromHost[] = [];
  const titles: string[] = [];
  let isGone = false;
  const live = <T>(value: T): T => {
    if (isGone) throw new Error('Webview is disposed');
    return value;
  };
  const panel = {
    set title(words: string) {
      titles.push(live(words));
    },
    reveal: () => live(undefined),
    get webview() {
      return live({ onDidReceiveMessage: messages.event, postMessage: async (message: FromHost) => said.push(message) });
    },
  } as unknown as vscode.WebviewPanel;
  const place = { v: 1 as const, uri: String(of.uri), pinned, beside: [], zoom: 100, ...(run === undefined ? {} : { run }) };
  const preview = new Preview(panel, place, new Documents(configurations), configurations);
  const says = (message: FromPage) => messages.fire(message);
  return {
    preview,
    said,
    titles,
    says,
    ready: () => says({ kind: 'ready', proto: PROTO, width: 400 }),
    close: () => {
      isGone = true;
      preview.dispose();
    },
    last: () => said.filter((each) => each.kind === 'show').at(-1)!,
  };
}

const rejected: unknown[] = [];
const onRejected = (error: unknown) => rejected.push(error);
beforeEach(() => {
  cleared();
  put('/home/aurora.nitbook', AURORA);
  put('/home/other.nitbook', OTHER);
  process.on('unhandledRejection', onRejected);
});
afterEach(async () => {
  await settled();
  process.off('unhandledRejection', onRejected);
  expect(rejected.splice(0)).toEqual([]);
});
const settled = (ms = 20) => new Promise((resolve) => setTimeout(resolve, ms));
const shown = async (test: () => unknown) => vi.waitFor(test, { timeout: 5000, interval: 10 });

describe('A page of figures that turns to another session', () => {
  it('shows the first run of that, not one by the id that was shown before', async () => {
    const aurora = open('/home/aurora.nitbook', AURORA);
    const other = open('/home/other.nitbook', OTHER);
    const { preview, ready, last, close } = page(aurora, false, 'grey');
    ready();
    await shown(() => expect(last()?.view.run?.id).toBe('grey'));
    preview.reveal(other as unknown as vscode.TextDocument);
    await shown(() => expect(last().view.run?.id).toBe('sight'));
    expect(last().place).toMatchObject({ uri: 'file:///home/other.nitbook', run: 'sight' });
    close();
  });

  it('so too when the cursor goes there, outside of every run', async () => {
    const aurora = open('/home/aurora.nitbook', AURORA);
    const other = open('/home/other.nitbook', OTHER);
    const { ready, last, close } = page(aurora, false, 'grey');
    ready();
    await shown(() => expect(last()?.view.run?.id).toBe('grey'));
    events.active.fire({ document: other, selection: { active: other.positionAt(0) } });
    await shown(() => expect(last().view.run?.id).toBe('sight'));
    close();
  });
});

describe('A page whose session', () => {
  const moved = (from: string, to: string) => events.renamed.fire({ files: [{ oldUri: Uri.file(from), newUri: Uri.file(to) }] });

  it.each([
    ['is renamed', '/home/aurora.nitbook', '/home/dawn.nitbook', '/home/dawn.nitbook'],
    ['lies in a folder that is renamed', '/home', '/house', '/house/aurora.nitbook'],
  ])('%s goes on with it, pinned or not', async (_, from, to, now) => {
    const { ready, last, close } = page(open('/home/aurora.nitbook', AURORA), true, 'grey');
    ready();
    await shown(() => expect(last()?.view.run?.id).toBe('grey'));
    disk.delete('/home/aurora.nitbook');
    put(now, AURORA);
    moved(from, to);
    await shown(() => expect(last().place.uri).toBe(`file://${now}`));
    expect(last().view).toMatchObject({ file: now.slice(now.lastIndexOf('/') + 1), run: { id: 'grey' } });
    close();
  });

  it('is deleted says so, although the workbench still has its text, and shows it again when it is back', async () => {
    const { ready, last, titles, close } = page(open('/home/aurora.nitbook', AURORA), true, 'grey');
    ready();
    await shown(() => expect(last()?.view.run?.id).toBe('grey'));
    disk.delete('/home/aurora.nitbook');
    events.fileDeleted.fire(Uri.file('/home/aurora.nitbook'));
    await shown(() => expect(last().view.run).toBeUndefined());
    expect(last().words['no-run']).toBe('aurora.nitbook is not there any more.');
    expect(titles).toEqual(['Figures of grey', 'Figures']);
    put('/home/aurora.nitbook', AURORA);
    events.fileCreated.fire(Uri.file('/home/aurora.nitbook'));
    await shown(() => expect(last().view.run?.id).toBe('grey'));
    close();
  });

  it.each<FromPage>([
    { kind: 'point', row: 'grey/50' },
    { kind: 'go', row: 'grey/50' },
    { kind: 'save', figure: 'balance' },
    { kind: 'saveAll' },
    { kind: 'draw', figure: 'balance' },
    { kind: 'copyText', figure: 'balance' },
    { kind: 'copyReference', figure: 'balance' },
  ])('is gone says so in a word when it is asked to $kind', async (message) => {
    const { says, close } = page(open('/home/aurora.nitbook', AURORA), true, 'grey');
    disk.clear();
    says(message);
    await shown(() => expect(told).toEqual(['aurora.nitbook is not there any more.']));
    close();
  });
});

describe('A page that is closed', () => {
  it('while its session is read draws nothing and says nothing', async () => {
    const aurora = open('/home/aurora.nitbook', AURORA);
    for (const message of [
      { kind: 'ready', proto: PROTO, width: 400 },
      { kind: 'point', row: 'grey/50' },
      { kind: 'draw', figure: 'balance' },
    ] satisfies FromPage[]) {
      const { says, said, close } = page(aurora, true, 'grey');
      says(message);
      close();
      await settled(400);
      expect(said).toEqual([]);
    }
    expect(told).toEqual([]);
  });

  it('while somebody chooses where to save does not wait for a picture of it', async () => {
    let chosen = (_: Uri) => {};
    window.showSaveDialog.mockImplementationOnce(() => new Promise((resolve) => (chosen = resolve)));
    const { says, close } = page(open('/home/aurora.nitbook', AURORA), true, 'grey');
    says({ kind: 'save', figure: 'balance' });
    await shown(() => expect(window.showSaveDialog).toHaveBeenCalled());
    close();
    chosen(Uri.file('/home/x.png'));
    await shown(() => expect(told).toEqual(['The figure could not be drawn as PNG: save it as SVG instead.']));
  });
});

it('A picture that a page was asked for does not wait for one that has loaded anew', async () => {
  window.showSaveDialog.mockResolvedValueOnce(Uri.file('/home/x.png'));
  const { says, said, ready, close } = page(open('/home/aurora.nitbook', AURORA), true, 'grey');
  says({ kind: 'save', figure: 'balance' });
  await shown(() => expect(said.map(({ kind }) => kind)).toContain('draw'));
  ready();
  await shown(() => expect(told).toEqual(['The figure could not be drawn as PNG: save it as SVG instead.']));
  close();
});
