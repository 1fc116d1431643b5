import { assert } from 'chai';
import * as vscode from 'vscode';
import { readConfig } from '../../../src/config/readConfig';
import { MEASURE_IDS } from '../../../src/measure/specs';
import { findings, mends, openFile, openText, placeOf, showsAll, until, workspaceFile, written } from './tools';

const file = () => workspaceFile('nitbook.jsonc');
const write = (text: string) => vscode.workspace.fs.writeFile(file(), new TextEncoder().encode(text));
const config = (text: string) => readConfig(text, { measures: new Set(MEASURE_IDS) }).config;
const ours = (all: readonly vscode.Diagnostic[]) => all.filter(({ source }) => source === 'nitbook');

describe('nitbook.jsonc', () => {
  afterEach(async () => {
    await vscode.commands.executeCommand('workbench.action.closeAllEditors');
    await vscode.workspace.fs.delete(file()).then(undefined, () => undefined);
  });

  it('says how grave findings are, in its folder, while it is there', async () => {
    const { document } = await openFile('bench-mistakes.nitbook');
    await showsAll(document);
    const text = '{ "findings": { "decimal-slip": "error", "minus-sign": "off" } }';
    await write(text);
    await showsAll(document, config(text), 15_000);
    assert.isEmpty(vscode.languages.getDiagnostics(file()));
    await write('{\n  "limits": {},,\n  "findngs": {}\n}');
    const told = await findings(file(), (all) => all.length > 1);
    assert.deepEqual(
      told.map(({ code, range }) => `${range.start.line + 1} ${String(code)}`),
      ['2 config-syntax', '3 config-value'],
    );
    await write(text);
    await findings(file(), (all) => all.length === 0);
    await showsAll(document, config(text));
    const unsaved = await openText('nitbook 1\nsession 2026-03-14\nmode m\n  Gain: −3\n');
    await showsAll(unsaved.document, config(text));
    await vscode.workspace.fs.delete(file());
    await showsAll(document, undefined, 15_000);
  });

  it('counts as it is typed, and is told its mistakes', async () => {
    const session = await openFile('bench-mistakes.nitbook');
    await write('{}');
    const { document } = await openFile('nitbook.jsonc');
    const text = '{ "findings": { "minus-sing": "off", "decimal-slip": "info" } }';
    const edit = new vscode.WorkspaceEdit();
    edit.replace(document.uri, new vscode.Range(0, 0, 0, 2), text);
    await vscode.workspace.applyEdit(edit);
    await showsAll(session.document, config(text));
    const [mistake] = ours(await findings(document.uri, (all) => ours(all).length === 1));
    assert.equal(
      written(mistake!),
      '1:17-1:29 warning config-value "minus-sing" is not the code of a finding. It is not used. Perhaps minus-sign?',
    );
    const mend = (await mends(document.uri, placeOf(document, '"minus-sing"'))).find(({ title }) => title.includes('minus-sign'));
    assert.isTrue(await vscode.workspace.applyEdit(mend!.edit!));
    assert.equal(document.getText(), text.replace('sing', 'sign'));
    await showsAll(session.document, config(document.getText()));
    await until('no mistakes', () => ours(vscode.languages.getDiagnostics(document.uri)).length === 0);
    await document.save();
  });
});
