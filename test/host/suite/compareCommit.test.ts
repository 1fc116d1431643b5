import { assert } from 'chai';
import * as vscode from 'vscode';
import { settled } from '../../../src/project/analysis';
import { differenceNow } from '../../../src/report/difference';
import { differenceAsMarkdown } from '../../../src/report/differenceForms';
import { analysisOf, hostKind, openFile, openText, placeOf, until, workspaceFile } from './tools';

const compare = () => vscode.commands.executeCommand<string | undefined>('nitbook.compareCommit');
const comparisonOf = (session: vscode.TextDocument) =>
  vscode.workspace.textDocuments.find(({ uri }) => uri.scheme === 'nitbook-commit' && uri.query === session.uri.toString());

/** Only the suite in the host of Node has a folder that is trusted and under version control. */
const hasGit = hostKind === 'node' && vscode.workspace.isTrusted;

describe('What changed since the last commit', () => {
  (hasGit ? it : it.skip)('is shown beside the session as the core says it, and follows it', async () => {
    const editor = await openFile('aurora-55.nitbook');
    const { document } = editor;
    const committed = settled(analysisOf(document));
    // Without the versions, of which one has the number of the commit.
    const body = (text: string) => text.replace(/^.* → as it stands$/m, '');
    const expected = () =>
      body(
        differenceAsMarkdown(differenceNow(committed, settled(analysisOf(document))), {
          title: 'aurora-55.nitbook',
          before: '',
          after: 'as it stands',
        }),
      );
    assert.isUndefined(await compare());
    const shown = await until('the comparison', () => comparisonOf(document));
    assert.equal(shown.languageId, 'markdown');
    assert.match(shown.getText(), /^# aurora-55\.nitbook\n\nlast commit \([0-9a-f]{7}\) → as it stands\n\nNo differences\.\n$/);
    assert.match(vscode.window.tabGroups.all[1]!.activeTab!.label, /aurora-55 since the last commit\.md/);

    await editor.edit((edit) => edit.replace(placeOf(document, /Picture \/ Gamma: 2\.4/), 'Picture / Gamma: 2.2'));
    await editor.edit((edit) => edit.replace(placeOf(document, /(?<= 50 {2})22\.88(?= {5}0\.3114)/), '20.31'));
    await until('the change', () => body(shown.getText()) === expected());
    assert.include(shown.getText(), '- Picture / Gamma: 2.4 → 2.2');
    assert.include(shown.getText(), '- 50 %: Y 22.88 → 20.31');
  });

  (hasGit ? it : it.skip)('cannot be told of a session that is in no commit', async () => {
    await openText('nitbook 1\n');
    assert.equal(await compare(), 'The session was never saved, so it is in no commit.');
    const file = workspaceFile('new.nitbook');
    await vscode.workspace.fs.writeFile(file, new TextEncoder().encode('nitbook 1\n'));
    await openFile('new.nitbook');
    assert.equal(await compare(), 'new.nitbook is not in the last commit.');
    await vscode.workspace.fs.delete(file);
  });

  (hasGit ? it.skip : it)('cannot be told without git, and why is said', async () => {
    await openFile('aurora-55.nitbook');
    const why =
      hostKind === 'web' ? /^There is no git here: in a browser, / : /^The folder is open in restricted mode, in which there is no git\.$/;
    assert.match((await compare()) ?? '', why);
    assert.lengthOf(vscode.window.tabGroups.all, 1);
  });
});
