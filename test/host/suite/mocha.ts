// Mocha's browser build runs wherever JavaScript does: the same bundle serves the Node and the web extension host.
// Imported before the tests, because it defines describe and it.
import 'mocha/mocha.js';
import { closeAll } from './tools';

/** One line a test on the console, which all three hosts pass on. */
class Lines {
  constructor(runner: Mocha.Runner) {
    runner.on('pass', (test) => console.log(`  ok    ${test.fullTitle()} (${test.duration} ms)`));
    runner.on('fail', (test, error) => console.log(`  FAIL  ${test.fullTitle()}\n${error.stack ?? error.message}`));
  }
}

// The type of the global asks for a Base reporter; Mocha itself only constructs it with the runner.
mocha.setup({ ui: 'bdd', timeout: 20_000, reporter: Lines as never });

afterEach(closeAll);
