import assert from 'node:assert/strict';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { run } from '../../src/cli/program';
import { decoded } from '../../src/project/files';
import { isBlank } from '../../src/text/blanks';
import { checkFindingsJson, checkSarif, checkScreen, checkWorkflowCommands, readCsv } from './forms';
import type { CommandLine } from './inputs';
import type { Step } from './targets';

/** What lies above the folder of all that is tried: nothing may read or write it. What reads it says its last word. */
const ABOVE = Buffer.from('nitbook 1\n  session\nzenith\n');
/** What lies beside the folder that a command runs in. */
const BESIDE = Buffer.from('nitbook 1\n  a\n');

/** The command line in this process, in a folder of its own. */
export async function checkCommandLine({ args: given, session, config }: CommandLine, step: Step): Promise<void> {
  const above = realpathSync(mkdtempSync(join(tmpdir(), 'nitbook-fuzz-')));
  const scratch = join(above, 'scratch');
  const folder = join(scratch, 'folder');
  const args = given.map((arg) => (arg.startsWith('/') && !isReference(arg, given) ? scratch + arg : arg));
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(above, 'above.nitbook'), ABOVE);
  writeFileSync(join(scratch, 'beside.nitbook'), BESIDE);
  // The root where the folder has none: it is not sought further up.
  writeFileSync(join(scratch, 'nitbook.jsonc'), '{}');
  writeFileSync(join(folder, 'a.nitbook'), session);
  if (config) writeFileSync(join(folder, 'nitbook.jsonc'), config);
  const before = process.cwd();
  process.chdir(folder);
  try {
    // The command line does what it is told: it is told nothing of the disk of whoever tries it.
    if (!args.every((arg) => isReference(arg, args) || staysIn(scratch, arg))) return;
    const { code, out, err } = await captured(() => step(`nitbook ${args[0]}`, () => run(args)));
    assert.ok([0, 1, 2].includes(code), `ended with ${code}`);
    assert.doesNotMatch(err, /a mistake of this program/);
    checkScreen(err);
    checkOutput(args, code, out);
    checkFiles(folder, session, args);
    checkSession(join(scratch, 'beside.nitbook'), BESIDE, args);
    assert.deepEqual(readdirSync(scratch).sort(), ['beside.nitbook', 'folder', 'nitbook.jsonc']);
    assert.deepEqual(readdirSync(above).sort(), ['above.nitbook', 'scratch']);
    assert.deepEqual(readFileSync(join(above, 'above.nitbook')), ABOVE);
    assert.doesNotMatch(out + err, /zenith/, 'what lies above was read');
  } finally {
    process.chdir(before);
    rmSync(above, { recursive: true, force: true });
  }
}

/** What is understood from the root, and may not leave it: whether it does is tried with the others. */
const isReference = (arg: string, [command]: readonly string[]): boolean =>
  command === 'value' && arg.includes('#') && !arg.startsWith('-');

/** Whether an argument, or the value that it gives an option, leads nowhere but into a folder. */
const staysIn = (folder: string, arg: string): boolean =>
  [arg, arg.slice(arg.indexOf('=') + 1)].every((path) => `${resolve(path)}/`.startsWith(`${folder}/`));

async function captured(work: () => Promise<number>): Promise<{ code: number; out: string; err: string }> {
  const [out, err]: [string[], string[]] = [[], []];
  const { stdout, stderr } = process;
  const [writeOut, writeErr] = [stdout.write, stderr.write];
  stdout.write = (chunk: unknown) => out.push(String(chunk)) > 0;
  stderr.write = (chunk: unknown) => err.push(String(chunk)) > 0;
  try {
    return { code: await work(), out: out.join(''), err: err.join('') };
  } finally {
    stdout.write = writeOut;
    stderr.write = writeErr;
  }
}

/** Of the plain command lines the form of the output is known. */
function checkOutput([command, , option, form]: readonly string[], code: number, out: string): void {
  if (command === 'check' && option === '--format') {
    if (form === 'sarif' && out !== '') checkSarif(out);
    else if (form === 'json' && out !== '') checkFindingsJson(out);
    else if (form === 'github') checkWorkflowCommands(out);
    else if (form === 'text') checkScreen(out);
  } else if (command === 'summary' && option === '--format' && code === 0) {
    if (form === 'json') JSON.parse(out);
    else if (form === 'csv') assert.equal(new Set(readCsv(out).map((line) => line.length)).size, 1);
    else checkScreen(out);
  } else checkScreen(out);
}

const solid = (text: string): string => [...text].filter((c) => !isBlank(c.charCodeAt(0))).join('');

/** No file is left behind or lost. */
function checkFiles(folder: string, session: Buffer, args: readonly string[]): void {
  assert.deepEqual(
    readdirSync(folder).filter((name) => name !== 'nitbook.jsonc'),
    ['a.nitbook'],
  );
  checkSession(join(folder, 'a.nitbook'), session, args);
}

/** Nothing but `format` writes, and it moves blanks only. */
function checkSession(file: string, session: Buffer, args: readonly string[]): void {
  const after = readFileSync(file);
  if (after.equals(session)) return;
  assert.ok(args.includes('format'), 'the session was written');
  const [was, is] = [decoded(session), decoded(after)];
  assert.ok(was.ok && is.ok && solid(was.text) === solid(is.text), 'more than blanks was written');
}
