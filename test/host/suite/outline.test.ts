import { assert } from 'chai';
import * as vscode from 'vscode';
import { foldings } from '../../../src/language/folding';
import { type OutlineEntry, outline } from '../../../src/language/outline';
import { SessionText } from '../../../src/session/sessionText';
import { openFile, settledOf, until } from './tools';

const symbols = (document: vscode.TextDocument): Thenable<vscode.DocumentSymbol[]> =>
  vscode.commands.executeCommand('vscode.executeDocumentSymbolProvider', document.uri);

describe('The outline', () => {
  // The command gives no tags: that what is struck out is struck through there as well shows in the workbench only.
  it('is that of the core, with the verdicts of runs', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const offsets = ({ start, end }: vscode.Range) => [document.offsetAt(start), document.offsetAt(end)];
    const shown = ({ name, detail, range, selectionRange, children }: vscode.DocumentSymbol): unknown => [
      name,
      detail,
      offsets(range),
      offsets(selectionRange),
      children.map(shown),
    ];
    const expected = ({ name, detail, span, selection, children }: OutlineEntry): unknown => [
      name,
      detail,
      [...span],
      [...selection],
      children.map(expected),
    ];
    const detail = (found: readonly vscode.DocumentSymbol[], of: string) => found.find(({ name }) => name === of)!.detail;
    const found = await until('verdicts with intervals', async () => {
      const all = await symbols(document);
      return detail(all, 'greyscale grey-tuned').includes('undecided') ? all : undefined;
    });
    assert.deepEqual(found.map(shown), outline(settledOf(document)).map(expected));
    assert.match(detail(found, 'greyscale grey'), /beyond/);
  });
});

describe('Folding of a whole session', () => {
  it('is that of the core', async () => {
    const { document } = await openFile('bench-mistakes.nitbook');
    const ranges = await vscode.commands.executeCommand<vscode.FoldingRange[]>('vscode.executeFoldingRangeProvider', document.uri);
    assert.deepEqual(
      ranges.map(({ start, end, kind }) => [start, end, kind === vscode.FoldingRangeKind.Comment]),
      foldings(SessionText.read(document.getText())).map(({ from, to, is }) => [from, to, is === 'comment']),
    );
  });
});
