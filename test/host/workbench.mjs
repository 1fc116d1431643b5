// A private VS Code server on a free port of 127.0.0.1, with a throw-away profile and no way out to a network.
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, openSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { paths, root } from './setup.mjs';

/** The workspace that the suites open, with the examples beside it; only ever as a throw-away copy. */
const fixtures = join(root, 'test/host/workspace');
export const examples = join(root, 'examples');

const quiet = {
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.enableExperiments': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.reduceMotion': 'on',
  'chat.disableAIFeatures': true,
  'telemetry.telemetryLevel': 'off',
  'update.mode': 'none',
  'extensions.autoCheckUpdates': false,
  'extensions.autoUpdate': false,
  'extensions.ignoreRecommendations': true,
  'git.enabled': false,
  'window.commandCenter': false,
  // Without the name of the server's program.
  // biome-ignore lint/suspicious/noTemplateCurlyInString: the workbench fills it in
  'window.title': '${dirty}${activeEditorShort}${separator}${rootName}',
  'window.dialogStyle': 'custom',
  // The web workbench saves by itself unless told not to: a test would then rewrite its file before it looks at it.
  'files.autoSave': 'off',
  'files.hotExit': 'off',
};

function freePort() {
  return new Promise((resolve, reject) => {
    const server = createServer()
      .on('error', reject)
      .listen(0, '127.0.0.1', () => {
        const { port } = server.address();
        server.close(() => resolve(port));
      });
  });
}

/** A folder of this name in a throw-away place. */
function scratchFolder(name) {
  const scratch = mkdtempSync(join(tmpdir(), 'nitbook-files-'));
  process.once('exit', () => rmSync(scratch, { recursive: true, force: true }));
  const folder = join(scratch, name);
  mkdirSync(folder);
  return folder;
}

/** A throw-away copy of the workspace and the examples, so that no test can change the originals. */
export function scratchWorkspace() {
  const folder = scratchFolder('workspace');
  cpSync(fixtures, folder, { recursive: true });
  for (const name of readdirSync(examples)) if (/\.(?:nitbook|md)$/.test(name)) cpSync(join(examples, name), join(folder, name));
  return folder;
}

/** The folder with a history of one commit, which holds all of it. */
export function underVersionControl(folder) {
  const git = (...args) => {
    const named = ['-c', 'user.name=bench', '-c', 'user.email=bench@localhost', '-c', 'commit.gpgsign=false'];
    const { status, error, stderr } = spawnSync('git', ['-C', folder, ...named, ...args], { encoding: 'utf8' });
    if (status !== 0) throw new Error(`git ${args.join(' ')}: ${error?.message ?? stderr}`);
  };
  git('init', '--quiet', '--initial-branch=main');
  git('add', '.');
  git('commit', '--quiet', '--message=A bench day');
  return folder;
}

/**
 * Starts a server. `vsix`: packages to install first. `settings`: user settings beside the quiet ones above. `trust`: whether a
 * folder has to be trusted first, as it is by default outside of tests.
 * Returns { base, authority, unpacked(id), log(), stop() }; `stop` ends the whole process group and removes the profile.
 */
export async function startHost({ vsix = [], settings = {}, trust = false } = {}) {
  const home = mkdtempSync(join(tmpdir(), 'nitbook-host-'));
  const data = join(home, 'data');
  const extensions = join(home, 'extensions');
  const logFile = join(home, 'server.log');
  mkdirSync(join(data, 'User'), { recursive: true });
  mkdirSync(extensions);

  writeFileSync(
    join(data, 'User/settings.json'),
    JSON.stringify({ ...quiet, 'security.workspace.trust.enabled': trust, ...settings }, null, 2),
  );

  // Inside a terminal of VS Code these variables would make the command line talk to the window around it.
  const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith('VSCODE_')));
  // No gallery: nothing is looked up outside.
  env.EXTENSIONS_GALLERY = JSON.stringify({ serviceUrl: '', itemUrl: '', resourceUrlTemplate: '', controlUrl: '', recommendationsUrl: '' });

  const entry = join(paths.codeServer, 'out/node/entry.js');
  const folders = ['--config', join(home, 'config.yaml'), '--user-data-dir', data, '--extensions-dir', extensions];
  for (const file of vsix) {
    const result = spawnSync(paths.node, [entry, ...folders, '--install-extension', file], { env, encoding: 'utf8', timeout: 60_000 });
    if (result.status !== 0) throw new Error(`Installing ${file} failed:\n${result.error?.message ?? ''}${result.stdout}${result.stderr}`);
  }

  const port = await freePort();
  const authority = `127.0.0.1:${port}`;
  const log = openSync(logFile, 'a');
  const flags = ['--auth', 'none', '--disable-telemetry', '--disable-update-check', '--disable-proxy'];
  if (!trust) flags.push('--disable-workspace-trust');
  flags.push('--disable-getting-started-override', '--reconnection-grace-time', '5', '--ignore-last-opened');
  // Detached: the server starts further processes, and the group is what can be ended as a whole.
  const child = spawn(paths.node, [entry, ...folders, '--bind-addr', authority, ...flags], {
    env,
    stdio: ['ignore', log, log],
    detached: true,
  });

  const kill = (signal) => {
    try {
      process.kill(-child.pid, signal);
      return true;
    } catch {
      return false;
    }
  };
  const atExit = () => kill('SIGKILL');
  process.once('exit', atExit);
  const host = {
    base: `http://${authority}`,
    authority,
    /** The folder of an installed extension. */
    unpacked(id) {
      const name = readdirSync(extensions).find((each) => each.startsWith(`${id}-`));
      if (!name) throw new Error(`${id} is not installed.`);
      return join(extensions, name);
    },
    log: () => readFileSync(logFile, 'utf8'),
    async stop() {
      kill('SIGTERM');
      // Signal 0 asks whether anything in the group is still there.
      for (let i = 0; i < 50 && kill(0); i++) await sleep(100);
      kill('SIGKILL');
      process.off('exit', atExit);
      rmSync(home, { recursive: true, force: true, maxRetries: 5 });
    },
  };

  const end = Date.now() + 60_000;
  for (;;) {
    const answer = await fetch(`${host.base}/healthz`).catch(() => undefined);
    if (answer?.ok) return host;
    if (Date.now() > end || child.exitCode !== null) {
      const why = host.log().slice(-2000);
      await host.stop();
      throw new Error(`The server did not start:\n${why}`);
    }
    await sleep(50);
  }
}
