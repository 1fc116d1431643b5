import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

interface HowTo {
  /** A folder of `howto` with a patch for each step, by its number. */
  readonly folder: string;
  /** Whether the pages and templates that are made from tables are made anew in the end, and what is new is said in German: one step more. */
  readonly isMade: boolean;
  /** What the compiler asks for after the first step. */
  readonly asked?: readonly RegExp[];
  /** What fails while the last patch lacks. */
  readonly refused: RegExp;
}

const HOW_TOS: Readonly<Record<string, HowTo>> = {
  'a finding': { folder: 'finding', isMade: true, refused: /the schema lists the codes of findings/ },
  'a measure': {
    folder: 'measure',
    isMade: true,
    asked: [/src\/measure\/luminances\.ts.*Property 'least' is missing/s],
    refused: /every measure of the table has its case/,
  },
  'a property': { folder: 'property', isMade: true, refused: /types every property of display/ },
  'a type of value': {
    folder: 'type',
    isMade: true,
    asked: [/src\/session\/values\.ts/, /src\/report\/manual\.ts/, /src\/language\/completeValues\.ts/],
    refused: /types every property of meter/,
  },
  'a block': { folder: 'block', isMade: true, refused: /the head of a block tripod/ },
  'a language feature': { folder: 'feature', isMade: false, refused: /keeps no file that nothing leads to/ },
};
const MADE = /syntaxes\/\w+\.md is what the tables say|are all in the bundle/g;

/** Where the steps are told of; and what belongs to them, so that nothing else has to be run. */
const TESTS = [
  'test/session/codes.test.ts',
  'test/session/values.test.ts',
  'test/config/schema.test.ts',
  'test/measure/measures.test.ts',
  'test/language/complete.test.ts',
  'test/syntaxes',
  'test/report/manual.test.ts',
  'test/editor/l10n.test.ts',
  'test/rooms.test.ts',
];
const PROJECTS = ['tsconfig.core.json', 'tsconfig.editor.json', 'tsconfig.json', 'test/host'];

const project = resolve('.');
const patches = (folder: string): string[] => readdirSync(join(project, 'test/howto', folder)).sort();
let copy: string;

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), 'nitbook-howto-'));
  for (const name of readdirSync(project)) {
    if (!['node_modules', '.git', '.cache', 'dist'].includes(name)) cpSync(join(project, name), join(copy, name), { recursive: true });
  }
  symlinkSync(join(project, 'node_modules'), join(copy, 'node_modules'));
});

afterAll(() => rmSync(copy, { recursive: true, force: true }));

function ran(...args: string[]): { ok: boolean; said: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, args, {
    cwd: copy,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1' },
  });
  return { ok: status === 0, said: stdout + stderr };
}

const compiled = (...projects: string[]) => projects.map((each) => ran('node_modules/typescript/lib/tsc.js', '-p', each));

/** The names of the tests that fail. */
function failed(): string {
  const { ok, said } = ran('node_modules/vitest/vitest.mjs', 'run', '--reporter=json', ...TESTS);
  const report = JSON.parse(said.slice(said.indexOf('{"'), said.lastIndexOf('}') + 1)) as {
    readonly numTotalTests: number;
    readonly testResults: readonly {
      readonly message: string;
      readonly assertionResults: readonly { readonly status: string; readonly title: string }[];
    }[];
  };
  expect(report.numTotalTests).toBeGreaterThan(100);
  const names = report.testResults.flatMap(({ message, assertionResults }) => [
    ...(message === '' ? [] : [message]),
    ...assertionResults.filter(({ status }) => status === 'failed').map(({ title }) => title),
  ]);
  expect(ok).toBe(names.length === 0);
  return names.join('\n');
}

function apply(folder: string, names: readonly string[]): void {
  for (const name of names) {
    // Little of what stands around is needed, so that a patch outlives changes nearby.
    const { status, stderr } = spawnSync('git', ['apply', '-C1', join(project, 'test/howto', folder, name)], {
      cwd: copy,
      encoding: 'utf8',
    });
    expect(status, `${folder}/${name} can be applied no more: mend it by hand. ${stderr}`).toBe(0);
  }
}

/** Says in German what is new: just that is what it lacks. */
function translated() {
  const path = join(copy, 'l10n/bundle.l10n.de.json');
  const german = readFileSync(path, 'utf8');
  const said = JSON.parse(readFileSync(join(project, 'test/howto/german.json'), 'utf8')) as Readonly<Record<string, string>>;
  const lacks = ran('test/l10n.mjs').said.split('de lacks:')[1] ?? '';
  expect(lacks.match(/"(?:[^"\\]|\\.)*"/g)?.map((template) => JSON.parse(template))).toEqual(Object.keys(said));
  writeFileSync(path, JSON.stringify({ ...JSON.parse(german), ...said }));
  return ran('test/l10n.mjs');
}

describe('The steps that DEVELOPERS.md tells', () => {
  it('are as many as are tried here', () => {
    const text = readFileSync('DEVELOPERS.md', 'utf8');
    for (const [name, { folder, isMade }] of Object.entries(HOW_TOS)) {
      const told = text.split(`**${name}.**`)[1]?.split('\n\n')[0] ?? '';
      const numbers = [...told.matchAll(/(?<=^|\s)(\d)\. (?=[A-Z`])/g)].map(([, number]) => Number(number));
      const steps = patches(folder).length + (isMade ? 1 : 0);
      expect([name, numbers]).toEqual([name, Array.from({ length: steps }, (_, i) => i + 1)]);
      expect([name, told.includes('npm run docs')]).toEqual([name, isMade]);
    }
  });

  it('are asked for by the compiler after the first, refused by a test before the last, and enough', () => {
    const all = Object.values(HOW_TOS);
    for (const { folder } of all) apply(folder, patches(folder).slice(0, 1));
    const said = compiled('tsconfig.core.json')[0]!.said;
    for (const asked of all.flatMap((each) => each.asked ?? [])) expect(said).toMatch(asked);

    for (const { folder } of all) apply(folder, patches(folder).slice(1, -1));
    const before = failed();
    for (const { refused } of all) expect(before).toMatch(refused);
    expect(before.match(MADE)?.length).toBeGreaterThan(2);

    for (const { folder } of all) apply(folder, patches(folder).slice(1).slice(-1));
    for (const script of ['test/docs.mjs', 'test/l10n.mjs']) expect(ran(script)).toMatchObject({ ok: true });
    expect(translated()).toMatchObject({ ok: true, said: expect.not.stringContaining('lacks') });
    expect(failed()).toBe('');
    expect(compiled(...PROJECTS).map(({ said: errors }) => errors)).toEqual(PROJECTS.map(() => ''));
  }, 300_000);
});
