// Runs the bundled in-host suite inside an extension host of the workbench: the remote one (Node) or the web one (a worker).
import { readFile } from 'node:fs/promises';
import { extname, join, normalize, sep } from 'node:path';
import { Workbench } from './browser.mjs';

const types = { '.js': 'text/javascript', '.cjs': 'text/javascript', '.json': 'application/json', '.svg': 'image/svg+xml' };

/** Answers requests below `prefix` with the files of `folder`. */
async function serve(page, prefix, folder) {
  await page.context().route(`${prefix}/**`, async (route) => {
    const path = decodeURIComponent(new URL(route.request().url()).pathname).slice(new URL(prefix).pathname.length);
    const file = normalize(join(folder, path));
    if (!file.startsWith(folder + sep)) return route.fulfill({ status: 403 });
    try {
      const body = await readFile(file);
      return route.fulfill({ body, contentType: types[extname(file)] ?? 'application/octet-stream' });
    } catch {
      return route.fulfill({ status: 404 });
    }
  });
}

/** Hands the workbench its development options in the page's own configuration, before it reads it: no server flag has to be set. */
function developmentOptions(options) {
  if (window.top !== window) return;
  const patch = () => {
    const meta = document.getElementById('vscode-workbench-web-configuration');
    if (!meta) return;
    const settings = JSON.parse(meta.dataset.settings);
    settings.developmentOptions = { ...settings.developmentOptions, ...options };
    meta.dataset.settings = JSON.stringify(settings);
    observer.disconnect();
  };
  const observer = new MutationObserver(patch);
  observer.observe(document, { childList: true, subtree: true });
}

/**
 * `kind`: 'node' or 'web'. `trust`: 'trusted' or 'restricted', as the server opens folders. `extension`: the unpacked extension's folder;
 * `suite`: the folder with the bundled suite, index.cjs.
 * Returns { passed, failed }; throws, with all that the console said, when the suite did not come to an end. `onFailure` takes the title
 * of a test that failed, and why.
 */
export async function runInHost(browser, host, { kind, trust = 'trusted', folder, extension, suite, seconds = 180, onFailure }) {
  let finish;
  const finished = new Promise((resolve) => {
    finish = resolve;
  });
  let counts;
  const lines = [];
  const prepare = async (page) => {
    // The two hooks by which the workbench tells what goes on in a test run.
    await page.exposeFunction('codeAutomationExit', (code) => finish(code));
    await page.exposeFunction('codeAutomationLog', (_level, args) => {
      const text = args.map((arg) => (typeof arg === 'string' ? arg : JSON.stringify(arg))).join(' ');
      const [, passed, failed, ran] = /^suite: (\d+) passed, (\d+) failed, (\w+ host, \w+)$/m.exec(text) ?? [];
      if (passed) counts = { passed: Number(passed), failed: Number(failed), ran };
      lines.push(text);
      if (/^ {2}(ok|FAIL) |^suite:/.test(text)) console.log(text);
      const [, title, why] = /^ {2}FAIL {2}([^\n]*)\n(.*)$/s.exec(text) ?? [];
      if (title) onFailure(title, why);
    });
    let place = (path) => ({ scheme: 'vscode-remote', authority: host.authority, path });
    let at = { extension, suite };
    if (kind === 'web') {
      // A development extension that is not on the remote runs where the browser is. It is served from the workbench's own origin, the
      // only one that the page may fetch from, and the suite from within the extension, since that is how its host is chosen.
      place = (path) => ({ scheme: 'http', authority: host.authority, path });
      at = { extension: '/under-test', suite: '/under-test/suite' };
      await serve(page, host.base + at.extension, extension);
      await serve(page, host.base + at.suite, suite);
    }
    await page.addInitScript(developmentOptions, { extensions: [place(at.extension)], extensionTestsPath: place(`${at.suite}/index.cjs`) });
  };
  const workbench = await Workbench.open(browser, host, { folder, prepare, waitFor: '.monaco-workbench' });
  try {
    let timer;
    const late = new Promise((_, reject) => {
      timer = setTimeout(() => reject(new Error(`The suite did not end within ${seconds} s.`)), seconds * 1000);
    });
    const code = await Promise.race([finished, late]).finally(() => clearTimeout(timer));
    if (!counts) throw new Error(`The suite ended with code ${code} and without its counts.`);
    if (counts.ran !== `${kind} host, ${trust}`) throw new Error(`The suite ran in the ${counts.ran}, not in the ${kind} host, ${trust}.`);
    if (counts.passed + counts.failed === 0) throw new Error('The suite ran no test.');
    if (code !== 0 && counts.failed === 0) throw new Error(`No test failed, yet the suite ended with code ${code}.`);
    return counts;
  } catch (error) {
    await workbench.screenshot(`failed-${kind}`).catch(() => undefined);
    throw new Error(`${error.message} The console said:\n${lines.join('\n')}`);
  } finally {
    await workbench.close();
  }
}
