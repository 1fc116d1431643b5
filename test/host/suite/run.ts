// What the extension host calls.
import { hostKind } from './tools';

export function run(): Promise<void> {
  return new Promise((resolve, reject) => {
    // The browser build's own mocha.run wants the location of a page.
    const runner = Mocha.prototype.run.call(mocha, (failures: number) => {
      const { passes = 0 } = runner.stats ?? {};
      console.log(`suite: ${passes} passed, ${failures} failed, ${hostKind} host`);
      if (failures > 0) reject(new Error(`${failures} failed`));
      else if (passes === 0) reject(new Error('The suite ran no test.'));
      else resolve();
    });
  });
}
