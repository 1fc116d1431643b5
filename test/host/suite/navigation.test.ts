import { assert } from 'chai';
import * as vscode from 'vscode';
import { openText } from './tools';

const TEXT =
  'nitbook 1\nmode cinema\n  Gamma: 2.4\nmode tuned from cinema\n  Gamma: 2.2\ngreyscale grey\n  mode: cinema\n  # cinema in a comment\n~ greyscale old\n  mode: cinema\n';
const at = (line: number, character: number) => new vscode.Position(line, character);
const place = ({ start: { line, character }, end }: vscode.Range) => [line, character, end.character];

async function refused(work: Thenable<unknown>): Promise<string> {
  try {
    await work;
  } catch (error) {
    return String((error as Error).message ?? error);
  }
  throw new Error('This should have been refused.');
}

describe('An id', () => {
  it('leads to its block', async () => {
    const { document } = await openText(TEXT);
    const [link] = await vscode.commands.executeCommand<vscode.LocationLink[]>('vscode.executeDefinitionProvider', document.uri, at(6, 10));
    assert.deepEqual(place(link!.originSelectionRange!), [6, 8, 14]);
    assert.deepEqual(place(link!.targetSelectionRange!), [1, 5, 11]);
    assert.deepEqual(place(link!.targetRange), [1, 0, 11]);
  });

  it('is found wherever it is meant, and in comments not', async () => {
    const { document } = await openText(TEXT);
    const found = await vscode.commands.executeCommand<vscode.Location[]>('vscode.executeReferenceProvider', document.uri, at(1, 7));
    assert.deepEqual(
      found.map(({ range }) => place(range)),
      [
        [1, 5, 11],
        [3, 16, 22],
        [6, 8, 14],
        [9, 8, 14],
      ],
    );
  });

  it('is renamed throughout the file, in one step', async () => {
    const { document } = await openText(TEXT);
    const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
      'vscode.executeDocumentRenameProvider',
      document.uri,
      at(6, 10),
      'film',
    );
    assert.isTrue(await vscode.workspace.applyEdit(edit));
    assert.equal(document.getText(), TEXT.replaceAll('cinema', 'film').replace('film in a comment', 'cinema in a comment'));
    await vscode.commands.executeCommand('undo');
    assert.equal(document.getText(), TEXT);
  });

  it('can be asked for before it is renamed, and what is no id says so', async () => {
    const { document } = await openText(TEXT);
    const prepare = (position: vscode.Position) =>
      vscode.commands.executeCommand<{ range: vscode.Range; placeholder: string }>('vscode.prepareRename', document.uri, position);
    const found = await prepare(at(3, 18));
    assert.deepEqual([found.placeholder, ...place(found.range)], ['cinema', 3, 16, 22]);
    assert.match(await refused(prepare(at(2, 10))), /There is no id here/);
  });

  it('is not given a name that is taken, or that is no id', async () => {
    const { document } = await openText(TEXT);
    const rename = (to: string) => vscode.commands.executeCommand('vscode.executeDocumentRenameProvider', document.uri, at(1, 7), to);
    assert.match(await refused(rename('tuned')), /The id tuned is taken by the block in line 4/);
    assert.match(await refused(rename('two words')), /"two words" is no id/);
    assert.isFalse(document.getText() !== TEXT);
  });
});
