import assert from 'node:assert/strict';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../../src/cli/program';
import { decoded } from '../../src/project/files';
import { isBlank } from '../../src/text/blanks';
import { checkFindingsJson, checkSarif, checkScreen, checkWorkflowCommands, readCsv } from './forms';
import type { CommandLine } from './inputs';
import type { Step } from './targets';

/** The command line in this process, in a folder of its own. */
export async function checkCommandLine({ args, session, config }: CommandLine, step: Step): Promise<void> {
  const outside = mkdtempSync(join(tmpdir(), 'nitbook-fuzz-'));
  const folder = join(outside, 'folder');
  const file = join(folder, 'a.nitbook');
  mkdirSync(folder);
  writeFileSync(join(outside, 'beside.nitbook'), 'nitbook 1\n  a\n');
  writeFileSync(file, session);
  if (config) writeFileSync(join(folder, 'nitbook.jsonc'), config);
  const before = process.cwd();
  process.chdir(folder);
  try {
    const { code, out, err } = await captured(() => step(`nitbook ${args[0]}`, () => run(args)));
    assert.ok([0, 1, 2].includes(code), `ended with ${code}`);
    assert.doesNotMatch(err, /a mistake of this program/);
    checkScreen(err);
    checkOutput(args, code, out);
    checkFiles(folder, session, args);
    assert.deepEqual(readdirSync(outside).sort(), ['beside.nitbook', 'folder']);
  } finally {
    process.chdir(before);
    rmSync(outside, { recursive: true, force: true });
  }
}

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

/** Nothing but `format` writes, and it moves blanks only; no file is left behind or lost. */
function checkFiles(folder: string, session: Buffer, args: readonly string[]): void {
  assert.deepEqual(
    readdirSync(folder).filter((name) => name !== 'nitbook.jsonc'),
    ['a.nitbook'],
  );
  const after = readFileSync(join(folder, 'a.nitbook'));
  if (after.equals(session)) return;
  assert.ok(args.includes('format'), 'the session was written');
  const [was, is] = [decoded(session), decoded(after)];
  assert.ok(was.ok && is.ok && solid(was.text) === solid(is.text), 'more than blanks was written');
}
