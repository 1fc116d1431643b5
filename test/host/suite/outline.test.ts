import { assert } from 'chai';
import * as vscode from 'vscode';
import { foldings } from '../../../src/language/folding';
import { type OutlineEntry, outline } from '../../../src/language/outline';
import { SessionText } from '../../../src/session/sessionText';
import { analysisOf, openFile } from './tools';

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
    const found = await symbols(document);
    assert.deepEqual(found.map(shown), outline(analysisOf(document)).map(expected));
    assert.match(found.find(({ name }) => name === 'greyscale grey')!.detail, /beyond/);
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
