import { assert } from 'chai';
import * as vscode from 'vscode';
import { lensText } from '../../../src/report/text';
import { openFile, settledOf, until } from './tools';

const lenses = (document: vscode.TextDocument): Thenable<vscode.CodeLens[]> =>
  vscode.commands.executeCommand('vscode.executeCodeLensProvider', document.uri, 1000);

describe('The line above a run', () => {
  it('says its main figures, for each run at its head', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const analysis = settledOf(document);
    // The answer of a busy machine may still be that of the numbers alone.
    const shownNow = async () =>
      (await lenses(document)).map(({ range, command }) => `${document.lineAt(range.start.line).text.split(' ')[1]}: ${command!.title}`);
    const expected = analysis.results.map(({ run }) => `${run.id}: ${lensText(analysis, run.id)}`);
    const shown = await until('verdicts with intervals', async () => {
      const lines = await shownNow();
      return lines.some((line) => line.includes('undecided')) ? lines : undefined;
    });
    assert.deepEqual(shown.sort(), expected.filter((line) => !line.endsWith(': ')).sort());
    assert.match(
      shown.find((line) => line.startsWith('grey:'))!,
      /^grey: ΔE 2000 average \d.*; ΔE 2000 maximum 3\.40 \([\d.]+ … [\d.]+\) undecided ≈/,
    );
  });

  it('follows the text', async () => {
    const editor = await openFile('aurora-55.nitbook');
    const [first] = await lenses(editor.document);
    await editor.edit((edit) => edit.insert(new vscode.Position(1, 0), '# a line above\n'));
    const [moved] = await lenses(editor.document);
    assert.equal(moved!.range.start.line, first!.range.start.line + 1);
    assert.equal(moved!.command!.title, first!.command!.title);
  });

  it('can be switched off', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const settings = vscode.workspace.getConfiguration('nitbook');
    try {
      await settings.update('lens.enabled', false, vscode.ConfigurationTarget.Global);
      await until('no lines', async () => (await lenses(document)).length === 0);
    } finally {
      await settings.update('lens.enabled', undefined, vscode.ConfigurationTarget.Global);
    }
    await until('the lines again', async () => (await lenses(document)).length > 0);
  });
});
