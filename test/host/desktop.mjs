// The in-host suite in a desktop VS Code, which @vscode/test-electron fetches: this needs the internet, and on Linux a display.
// NITBOOK_VSCODE names the program of an installed VS Code to use instead.
import { join } from 'node:path';
import { runTests } from '@vscode/test-electron';
import { buildExtension, bundleSuite, suite } from './build.mjs';
import { cache, root } from './setup.mjs';
import { scratchWorkspace } from './workbench.mjs';

buildExtension();
await bundleSuite();
const profile = join(cache, '../desktop-profile');
const program = process.env.NITBOOK_VSCODE;
try {
  await runTests({
    ...(program ? { vscodeExecutablePath: program } : { cachePath: join(cache, '../desktop') }),
    extensionDevelopmentPath: root,
    extensionTestsPath: join(suite, 'index.cjs'),
    launchArgs: [
      scratchWorkspace(),
      `--user-data-dir=${profile}/data`,
      `--extensions-dir=${profile}/extensions`,
      '--disable-extensions',
      '--disable-workspace-trust',
    ],
  });
} catch (error) {
  console.error(`The suite failed in the desktop: ${error.message}`);
  process.exitCode = 1;
}
