import { assert } from 'chai';
import * as vscode from 'vscode';
import { openFile, openText, placeOf, until } from './tools';

const bench = `nitbook 1

session 2026-03-14
display aurora
  firmware: ?
mode cinema "As shipped"
mode game "Game"

greyscale grey
  mode: cinema
    level   Y         x        y
        20  2.54      0.3130   0.3283
        40  ?         ?        ?
       100  119.6     0.3089   0.3248

contrast deep
  mode: cinema
    patch   Y
    black   ?
`;

/** The name of an unsaved session is free again at once, and its text a moment later. */
async function openBench(text: string): Promise<vscode.TextEditor> {
  await openText(text);
  return until('the session', () => {
    const editor = vscode.window.activeTextEditor;
    return editor?.document.getText() === text ? editor : undefined;
  });
}

const marked = ({ document, selection }: vscode.TextEditor) =>
  `${selection.start.line + 1}:${selection.start.character + 1} ${document.getText(selection)}`;

/** Puts the cursor on a text that stands once. */
function at(editor: vscode.TextEditor, marker: string): void {
  const { start } = placeOf(editor.document, marker);
  editor.selection = new vscode.Selection(start, start);
}

async function inOneStep(editor: vscode.TextEditor, command: string, ...answer: string[]): Promise<string> {
  const before = editor.document.getText();
  await vscode.commands.executeCommand(command, ...answer);
  const after = editor.document.getText();
  assert.notEqual(after, before);
  await vscode.commands.executeCommand('undo');
  assert.equal(editor.document.getText(), before);
  await vscode.commands.executeCommand('redo');
  assert.equal(editor.document.getText(), after);
  return after;
}

describe('At the bench', () => {
  it('the next reading to take is marked, round and round, and nothing is changed', async () => {
    const editor = await openBench(bench);
    const marks: string[] = [];
    for (let i = 0; i < 5; i++) {
      await vscode.commands.executeCommand('nitbook.nextReading');
      marks.push(marked(editor));
    }
    assert.deepEqual(marks, ['13:13 ?', '13:23 ?', '13:32 ?', '19:13 ?', '13:13 ?']);
    assert.equal(editor.document.getText(), bench);
  });

  it('what is to be noted comes when all readings are taken', async () => {
    const editor = await openText(
      bench.replace('40  ?         ?        ?', '40  13.3      -        -').replace('black   ?', 'black   0.02'),
    );
    await vscode.commands.executeCommand('nitbook.nextReading');
    assert.equal(marked(editor), '5:13 ?');
  });

  it('a file is left clean by going through it', async () => {
    const { document } = await openFile('aurora.nitbook');
    await vscode.commands.executeCommand('nitbook.nextReading');
    assert.isFalse(document.isDirty);
  });

  it('a row is struck out and brought back', async () => {
    const editor = await openBench(bench);
    at(editor, '2.54');
    const struck = await inOneStep(editor, 'nitbook.strikeOut');
    assert.equal(struck, bench.replace('        20  2.54', '  ~     20  2.54'));
    await vscode.commands.executeCommand('nitbook.strikeOut');
    assert.equal(editor.document.getText(), bench);
  });

  it('a row is struck out and taken again, the cursor on its first reading', async () => {
    const editor = await openBench(bench);
    at(editor, '2.54');
    const row = '        20  2.54      0.3130   0.3283\n';
    const again = '        20  ?         ?        ?\n';
    assert.equal(await inOneStep(editor, 'nitbook.takeAgain'), bench.replace(row, row.replace('        20', '  ~     20') + again));
    at(editor, '0.3283');
    await vscode.commands.executeCommand('undo');
    at(editor, '0.3283');
    await vscode.commands.executeCommand('nitbook.takeAgain');
    assert.equal(marked(editor), '13:13 ?');
  });

  it('a repeat comes under its row', async () => {
    const editor = await openBench(bench);
    at(editor, '119.6');
    const row = '       100  119.6     0.3089   0.3248\n';
    assert.equal(await inOneStep(editor, 'nitbook.addRepeat'), bench.replace(row, `${row}       100  ?         ?        ?\n`));
  });

  it('levels come in their order', async () => {
    const editor = await openBench(bench);
    at(editor, 'greyscale');
    const text = await inOneStep(editor, 'nitbook.addLevels', '30, 20, 60');
    const levels = text.split('\n').slice(11, 16);
    assert.deepEqual(
      levels.map((line) => line.trim().split(/ +/)[0]),
      ['20', '30', '40', '60', '100'],
    );
  });

  it('a run is laid out for another mode', async () => {
    const editor = await openBench(bench);
    at(editor, '2.54');
    const text = await inOneStep(editor, 'nitbook.duplicateRun', 'game');
    assert.include(
      text,
      '\n\ngreyscale grey-game "Game" like grey\n  mode: game\n    level   Y         x        y\n        20  ?         ?        ?\n',
    );
  });

  it('the mode is asked for', async () => {
    const editor = await openBench(bench);
    at(editor, '2.54');
    const done = vscode.commands.executeCommand('nitbook.duplicateRun');
    await until('the first mode', async () => {
      await vscode.commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
      return editor.document.getText().includes('grey-cinema');
    });
    await done;
  });

  it('the time is written where it belongs', async () => {
    const editor = await openBench(bench);
    at(editor, 'greyscale');
    const text = await inOneStep(editor, 'nitbook.insertTime');
    assert.match(text, /greyscale grey\n {2}mode: cinema\n {2}taken: \d{4}-\d\d-\d\d \d\d:\d\d\n/);
  });

  it('Windows line ends are kept', async () => {
    const editor = await openBench(bench.replaceAll('\n', '\r\n'));
    at(editor, '119.6');
    await vscode.commands.executeCommand('nitbook.addRepeat');
    assert.notMatch(editor.document.getText(), /(?<!\r)\n/);
  });

  it('nothing is done where there is nothing to do it to', async () => {
    const editor = await openBench(bench);
    at(editor, 'session');
    for (const id of ['takeAgain', 'addRepeat', 'insertTime', 'addLevels', 'duplicateRun']) {
      await vscode.commands.executeCommand(`nitbook.${id}`, ...(id === 'addLevels' ? ['20'] : id === 'duplicateRun' ? ['game'] : []));
      if (id !== 'insertTime') assert.equal(editor.document.getText(), bench, id);
      else await vscode.commands.executeCommand('undo');
    }
  });
});
