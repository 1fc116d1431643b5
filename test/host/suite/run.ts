// What the extension host calls.
import { workspace } from 'vscode';
import { hostKind } from './tools';

export function run(): Promise<void> {
  return new Promise((resolve, reject) => {
    // The browser build's own mocha.run wants the location of a page.
    const runner = Mocha.prototype.run.call(mocha, (failures: number) => {
      const { passes = 0 } = runner.stats ?? {};
      const trust = workspace.isTrusted ? 'trusted' : 'restricted';
      console.log(`suite: ${passes} passed, ${failures} failed, ${hostKind} host, ${trust}`);
      if (failures > 0) reject(new Error(`${failures} failed`));
      else if (passes === 0) reject(new Error('The suite ran no test.'));
      else resolve();
    });
  });
}
