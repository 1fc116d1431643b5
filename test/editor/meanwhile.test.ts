// What changes while the editor waits for something; workbench.ts stands for the workbench.
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type * as vscode from 'vscode';
import { type Config, NO_CONFIG } from '../../src/config/config';
import { Configurations } from '../../src/editor/config';
import { Documents } from '../../src/editor/documents';
import { previewedRows } from '../../src/editor/pastePreview';
import { SessionText } from '../../src/session/sessionText';
import { applyEdits } from '../../src/text/span';
import { cleared, type Document, EventEmitter, open, told, window } from './workbench';

vi.mock('vscode', async () => (await import('./workbench')).vscode);

beforeEach(cleared);

const RUNS = `nitbook 1

greyscale one
    level   Y         x        y
        30  ?         ?        ?
       100  119.6     0.3089   0.3248

greyscale two
    level   Y         x        y
        30  ?         ?        ?
       100  118.2     0.3089   0.3248
`;
const CHANGED = 'The session changed in the meantime, or cannot be written: nothing was changed.';

describe('Rows that are looked at before they go into a run', () => {
  /** @returns the text with the rows in it, or what else came of them */
  async function pasted(meanwhile: (document: Document) => void, rows = '30\t6.7') {
    const document = open('/home/day.nitbook', RUNS);
    const documents = { source: ({ getText }: Pick<vscode.TextDocument, 'getText'>) => SessionText.read(getText()) };
    window.createQuickPick.mockImplementationOnce(() => {
      const accept = new EventEmitter<void>();
      const pick = {
        items: [] as unknown[],
        selectedItems: [] as unknown[],
        onDidAccept: accept.event,
        onDidHide: () => undefined,
        show() {
          meanwhile(document);
          pick.selectedItems = [pick.items[0]];
          accept.fire();
        },
        dispose: () => undefined,
      };
      return pick;
    });
    const at = RUNS.lastIndexOf('30  ?');
    const edits = await previewedRows(documents, document as unknown as vscode.TextDocument, at, rows);
    return Array.isArray(edits) ? applyEdits(document.text, edits) : edits;
  }
  const FILLED = RUNS.replace(/(two\n.*\n {8}30 {2})\? {3}/, '$16.7 ');

  it('go there', async () => {
    expect(await pasted(() => {})).toBe(FILLED);
  });

  it.each([
    ['is written', 'nitbook 1\n', `nitbook 1\n${'# remark\n'.repeat(20)}`],
    ['is taken out', 'greyscale one\n    level   Y         x        y\n        30  ?         ?        ?\n', 'greyscale one\n'],
  ])('go there too when something above $0 meanwhile', async (_, from, to) => {
    expect(await pasted((document) => document.write(from, to))).toBe(FILLED.replace(from, to));
    expect(told).toEqual([]);
  });

  it('go nowhere when their place is written over, which is said', async () => {
    expect(await pasted((document) => document.write(RUNS, RUNS.replace('one', 'first')))).toBeUndefined();
    expect(told).toEqual([CHANGED]);
  });

  it('go nowhere when another run is there by then, which is said', async () => {
    expect(await pasted((document) => document.write('greyscale two', 'greyscale three'))).toBeUndefined();
    expect(told).toEqual([CHANGED]);
  });
});

it('The mends of a configuration are those of the text as it is being typed', async () => {
  const [before, now] = ['{ "limitz": {} }', '{ /* of ours */ "limitz": {} }'];
  const document = open('/home/nitbook.jsonc', before, 'jsonc');
  document.isDirty = true;
  const configurations = new Configurations();
  const spans = async () => {
    const found = await configurations.findings(document as unknown as vscode.TextDocument);
    return found.map(({ span }) => document.text.slice(...span));
  };
  await configurations.of(document.uri as unknown as vscode.Uri);
  expect(await spans()).toEqual(['"limitz"']);
  document.write(before, now);
  expect(await spans()).toEqual(['"limitz"']);
  configurations.dispose();
});

it('An analysis that waited for a configuration is of the newest one', async () => {
  const document = open('/home/day.nitbook', RUNS) as unknown as vscode.TextDocument;
  const [older, newer]: Config[] = [{ ...NO_CONFIG }, { ...NO_CONFIG }];
  const changed = new EventEmitter<void>();
  let late = (_: Config) => {};
  let answer: () => Promise<Config> = () => new Promise((resolve) => (late = resolve));
  const documents = new Documents({ of: () => answer(), onDidChange: changed.event } as unknown as Configurations);
  const waiting = documents.analysis(document);
  answer = async () => newer!;
  changed.fire();
  const now = await documents.analysis(document);
  expect(now.config).toBe(newer);
  late(older!);
  expect(await waiting).toBe(now);
  expect(await documents.analysis(document)).toBe(now);
});
