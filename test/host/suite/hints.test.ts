import { assert } from 'chai';
import * as vscode from 'vscode';
import { hints as hintsIn } from '../../../src/language/hints';
import { analysisOf, openFile, settledOf, until } from './tools';

const hints = (document: vscode.TextDocument, from: number, to: number): Thenable<vscode.InlayHint[]> =>
  vscode.commands.executeCommand('vscode.executeInlayHintProvider', document.uri, new vscode.Range(from, 0, to, 0));

const written = (document: vscode.TextDocument, all: readonly vscode.InlayHint[]): string[] =>
  all.map(({ position, label }) => `${document.offsetAt(position)} ${String(label)}`);

describe('Hints', () => {
  it('are those of the core, of the lines in view alone, and say what turns them off', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const analysis = analysisOf(document);
    const expected = (from: number, to: number) => hintsIn(analysis, from, to).map(({ offset, text }) => `${offset} ${text}`);
    const all = await hints(document, 0, document.lineCount - 1);
    assert.deepEqual(written(document, all), expected(0, document.lineCount));
    assert.isAbove(all.length, 10);
    const [from, to] = [all[2]!.position.line, all[5]!.position.line];
    assert.deepEqual(written(document, await hints(document, from, to)), expected(from, to));
    for (const { tooltip } of all) assert.match(String(tooltip), /\S\n\n.*nitbook\.hints\.enabled/);

    const tooltips = hintsIn(settledOf(document), 0, document.lineCount).map(({ tooltip }) => tooltip);
    await until('the intervals in their tooltips', async () =>
      (await hints(document, 0, document.lineCount - 1)).every(({ tooltip }, i) => String(tooltip).startsWith(tooltips[i]!)),
    );
  });

  it('follow the text', async () => {
    const editor = await openFile('aurora-55.nitbook');
    const { document } = editor;
    const before = await hints(document, 0, document.lineCount - 1);
    await editor.edit((edit) => edit.insert(new vscode.Position(1, 0), '# a line above\n'));
    const after = await hints(document, 0, document.lineCount - 1);
    assert.deepEqual(
      after.map(({ position, label }) => [position.line, label]),
      before.map(({ position, label }) => [position.line + 1, label]),
    );
  });

  it('can be switched off', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const settings = vscode.workspace.getConfiguration('nitbook');
    const count = async () => (await hints(document, 0, document.lineCount - 1)).length;
    try {
      await settings.update('hints.enabled', false, vscode.ConfigurationTarget.Global);
      await until('no hints', async () => (await count()) === 0);
    } finally {
      await settings.update('hints.enabled', undefined, vscode.ConfigurationTarget.Global);
    }
    await until('the hints again', async () => (await count()) > 0);
  });
});
