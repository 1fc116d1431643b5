import { assert } from 'chai';
import * as vscode from 'vscode';
import { dropProvider } from '../../../src/editor/drop';
import { pasteChoices } from '../../../src/editor/pastePreview';
import { SessionText } from '../../../src/session/sessionText';
import { applyEdits } from '../../../src/text/span';
import { openText, placeOf, until, workspaceFile } from './tools';

const open = `nitbook 1

session 2026-03-14
greyscale grey
    level   Y         x        y
        20  2.54      0.3130   0.3283
        40  ?         ?        ?
       100  ?         ?        ?
`;
const taken = open
  .replace('        40  ?         ?        ?', '        40  13.3      0.3121   0.3280')
  .replace('       100  ?         ?        ?', '       100  119.6     0.3089   0.3248');

async function inRun(text: string): Promise<vscode.TextEditor> {
  const editor = await openText(text);
  const { start } = placeOf(editor.document, 'greyscale');
  editor.selection = new vscode.Selection(start, start);
  return editor;
}

/** Says yes to whatever is asked until the document has changed. */
const accept = ({ document }: vscode.TextEditor, from: string) =>
  until('rows in the run', async () => {
    await vscode.commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
    return document.getText() !== from;
  });

// That the keys of pasting lead here is tested in a page (browser/bench.test.mjs): a host has no paste of its own.
describe('Rows of a spreadsheet', () => {
  it('fill the rows that wait for them, in one step', async () => {
    const editor = await inRun(open);
    await vscode.env.clipboard.writeText('level\tY\tx\ty\n40\t13.3\t0.3121\t0.3280\n100\t119.6\t0.3089\t0.3248\n');
    const done = vscode.commands.executeCommand('nitbook.pasteRows');
    await accept(editor, open);
    await done;
    assert.equal(editor.document.getText(), taken);
    await vscode.commands.executeCommand('undo');
    assert.equal(editor.document.getText(), open);
  });

  it('have their decimal commas asked about', async () => {
    const editor = await inRun(open);
    await vscode.env.clipboard.writeText('Level;Luminance;x;y\n40;13,3;0,3121;0,3280\n100;119,6;0,3089;0,3248\n');
    const done = vscode.commands.executeCommand('nitbook.pasteRows');
    await accept(editor, open);
    await done;
    assert.equal(editor.document.getText(), taken);
  });

  it('stay out when the look at them ends with Esc', async () => {
    const editor = await inRun(open);
    await vscode.env.clipboard.writeText('40\t13.3\t0.3121\t0.3280\n');
    const done = vscode.commands.executeCommand('nitbook.pasteRows');
    const ended = { yes: false };
    void done.then(() => {
      ended.yes = true;
    });
    await until('the end', async () => {
      await vscode.commands.executeCommand('workbench.action.closeQuickOpen');
      return ended.yes;
    });
    assert.equal(editor.document.getText(), open);
  });
});

describe('What rows can be pasted as', () => {
  const choices = (text: string) => {
    const source = SessionText.read(open);
    return pasteChoices(source, open.indexOf('greyscale'), text).map(({ title, edits }) => [title, applyEdits(open, edits)]);
  };

  it('is the rows in the run, where there is nothing to ask', () => {
    const text = 'level\tY\tx\ty\n40\t13.3\t0.3121\t0.3280\n100\t119.6\t0.3089\t0.3248\n';
    assert.deepEqual(choices(text), [['Put Rows into the Run (rows filled: 2)', taken]]);
  });

  it('is one thing for each answer to what is not clear', () => {
    const text = 'level;Y;x;y\n20;2,55;0,3130;0,3283\n40;13,3;0,3121;0,3280\n100;119,6;0,3089;0,3248\n';
    const repeated = taken.replace('        40', '        20  2.55      0.3130   0.3283\n        40');
    assert.deepEqual(choices(text), [
      ['Put Rows into the Run (Decimal commas: 6,70 is 6.70; Put them under it as repeats; rows filled: 2, repeats: 1)', repeated],
      ['Put Rows into the Run (Decimal commas: 6,70 is 6.70; Leave them out; rows filled: 2, left out: 1)', taken],
    ]);
  });

  it('is nothing where nothing could be put in', () => {
    assert.deepEqual(choices('a\tb\nc\td\n'), []);
  });
});

describe('A CSV file dropped on a run', () => {
  const provider = dropProvider({ source: (document) => SessionText.read(document.getText()) });
  const { token } = new vscode.CancellationTokenSource();
  const drop = async (editor: vscode.TextEditor, item: [string, vscode.DataTransferItem], marker = 'greyscale') => {
    const dataTransfer = new vscode.DataTransfer();
    dataTransfer.set(...item);
    return provider.provideDocumentDropEdits(editor.document, placeOf(editor.document, marker).start, dataTransfer, token);
  };

  it('is read from the workbench, and its rows put in after a look', async () => {
    const csv = workspaceFile('readings.CSV');
    await vscode.workspace.fs.writeFile(
      csv,
      new TextEncoder().encode('level,Y,x,y\r\n40,13.3,0.3121,0.3280\r\n100,119.6,0.3089,0.3248\r\n'),
    );
    try {
      const editor = await inRun(open);
      const dropped = drop(editor, ['text/uri-list', new vscode.DataTransferItem(csv.toString())]);
      const state = { done: false };
      void dropped.then(() => {
        state.done = true;
      });
      await until('the rows', async () => {
        await vscode.commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
        return state.done;
      });
      const { additionalEdit } = (await dropped) as vscode.DocumentDropEdit;
      assert.isTrue(await vscode.workspace.applyEdit(additionalEdit!));
      assert.equal(editor.document.getText(), taken);
    } finally {
      await vscode.workspace.fs.delete(csv);
    }
  });

  it('is left to the editor where there is no run, and for other files', async () => {
    const editor = await inRun(open);
    const uri = (name: string): [string, vscode.DataTransferItem] => [
      'text/uri-list',
      new vscode.DataTransferItem(workspaceFile(name).toString()),
    ];
    assert.isUndefined(await drop(editor, uri('aurora.nitbook')));
    assert.isUndefined(await drop(editor, uri('missing.csv')));
    assert.isUndefined(await drop(editor, uri('missing.csv'), 'session'));
    assert.equal(editor.document.getText(), open);
  });
});
