import { assert } from 'chai';
import * as vscode from 'vscode';
import { extensionId, hostKind } from './tools';

/** Reached by name, so that neither the compiler nor the bundler supplies it. */
const ambient = globalThis as { process?: { versions?: { node?: string } } };

describe('The host', () => {
  it('is the same for the suite and for the extension, which activates', async () => {
    // getExtension only sees the extensions of the host it is called in.
    const extension = vscode.extensions.getExtension(extensionId);
    assert.isDefined(extension);
    await extension!.activate();
    assert.isTrue(extension!.isActive);
  });

  it('has every command that the manifest names', async () => {
    const { contributes } = vscode.extensions.getExtension(extensionId)!.packageJSON;
    const commands = await vscode.commands.getCommands(true);
    assert.includeMembers(
      commands,
      contributes.commands.map(({ command }: { command: string }) => command),
    );
  });

  if (hostKind === 'web') {
    it('is a worker of the browser, without Node', () => {
      assert.equal(vscode.env.uiKind, vscode.UIKind.Web);
      assert.isUndefined(ambient.process?.versions?.node);
      assert.match(vscode.extensions.getExtension(extensionId)!.extensionUri.scheme, /^https?$/);
    });
  } else {
    it('is a process of Node', () => {
      assert.isString(ambient.process?.versions?.node);
    });
  }
});
