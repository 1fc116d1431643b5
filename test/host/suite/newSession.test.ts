import { assert } from 'chai';
import * as vscode from 'vscode';
import { continueSession, newSession, runsToRepeat } from '../../../src/language/newSession';
import { BUILT_IN_PLANS } from '../../../src/language/plans';
import { SessionText } from '../../../src/session/sessionText';
import { openFile, until, workspaceFile } from './tools';

const today = new Date().toLocaleDateString('sv-SE');
const made: vscode.Uri[] = [];

const active = () => vscode.window.activeTextEditor!;
async function create(answers: object): Promise<vscode.TextDocument> {
  const before = active()?.document;
  await vscode.commands.executeCommand('nitbook.newSession', answers);
  const { document } = await until('a new session', () => (active()?.document === before ? undefined : active()));
  made.push(document.uri);
  return document;
}

describe('A new session', () => {
  afterEach(async () => {
    await vscode.commands.executeCommand('workbench.action.closeAllEditors');
    for (const uri of made.splice(0)) await vscode.workspace.fs.delete(uri);
  });

  for (const plan of BUILT_IN_PLANS.keys()) {
    it(`of the plan ${plan} is a file of its own, saved, the cursor on the first thing to note`, async () => {
      const document = await create({ plan, display: 'Halden Brook 48' });
      assert.equal(document.uri.toString(), workspaceFile(`halden-brook-48-${today}.nitbook`).toString());
      const expected = newSession({ date: today, display: 'Halden Brook 48', plan: BUILT_IN_PLANS.get(plan)! });
      assert.equal(document.getText(), (expected as { text: string }).text);
      assert.isFalse(document.isDirty);
      assert.equal(document.languageId, 'nitbook');
      assert.equal(document.getText(active().selection), '?');
    });
  }

  it('never takes the name of another', async () => {
    await create({ plan: 'SDR short', display: 'Halden Brook 48' });
    const second = await create({ plan: 'SDR short', display: 'Halden Brook 48' });
    assert.match(second.uri.path, /halden-brook-48-[-\d]+-2\.nitbook$/);
  });

  it('goes on from an earlier one, with the runs that an update can change', async () => {
    const { document: earlier } = await openFile('aurora-55.nitbook');
    const source = SessionText.read(earlier.getText());
    const document = await create({ earlier: earlier.uri.toString(), firmware: '9.9.9' });
    assert.equal(document.uri.toString(), workspaceFile(`aurora-55-${today}.nitbook`).toString());
    const expected = continueSession(source, { date: today, path: 'aurora-55.nitbook', firmware: '9.9.9' });
    assert.equal(document.getText(), (expected as { text: string }).text);
    assert.include(document.getText(), '\n  continues: aurora-55.nitbook\n');
    for (const { id } of runsToRepeat(source)) assert.include(document.getText(), ` ${id}`);
    assert.isFalse(earlier.isDirty);
  });

  it('asks which plan', async () => {
    const ended = { yes: false };
    void vscode.commands.executeCommand('nitbook.newSession', { display: '' }).then(() => {
      ended.yes = true;
    });
    await until('the first plan', async () => {
      await vscode.commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
      return ended.yes;
    });
    made.push(active().document.uri);
    assert.include(active().document.uri.path, `/session-${today}`);
  });
});
