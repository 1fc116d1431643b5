import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { SPACES } from '../../src/colour/spaces';
import { WHITE_SOURCES } from '../../src/colour/whites';
import { FIGURE_MISTAKES } from '../../src/figure/figures';
import { LANGUAGE_REFUSALS } from '../../src/language/answers';
import { REPEAT_REASONS } from '../../src/language/newSession';
import { PASTE_REASONS } from '../../src/language/paste';
import { BUILT_IN_PLANS } from '../../src/language/plans';
import { USUAL_PLANS } from '../../src/language/usual';
import { BETTER, COLUMN_TYPES, COLUMN_WORDS, FIELDS, LINKS, SEVERITIES } from '../../src/language/words';
import { SAYINGS } from '../../src/measure/sayings';
import { MEASURES, type MeasureSpec, ROW_LIMITS } from '../../src/measure/specs';
import { NO_INTERVAL } from '../../src/measure/told';
import { REASONS } from '../../src/measure/value';
import { PREVIEW_WORDS } from '../../src/preview/words';
import { FILE_PROBLEMS } from '../../src/project/files';
import { RESOLUTION_MISTAKES } from '../../src/project/resolve';
import { CHANGE_WORDS } from '../../src/report/changes';
import { EXPLAINED } from '../../src/report/explained';
import { kindTitle, NAMED, propertyTitle } from '../../src/report/said';
import { INSTRUCTIONS, type InstructionSpec } from '../../src/review/fences/language';
import { REFUSALS } from '../../src/session/plan';
import { REFERENCE_MISTAKES } from '../../src/session/reference';
import { BLOCKS, type BlockSpec, KEYWORDS } from '../../src/session/vocabulary';
import { SHEET_REFUSALS } from '../../src/sheet/ops';
import { SHEET_WORDS } from '../../src/sheet/words';
import { CODES } from '../../src/text/codes';
import { PLAIN_MEND } from '../../src/text/finding';
import { descriptionsOf, SCHEMA } from './schema';

/** Where the templates of all that the editor says are kept for translation. */
export const BUNDLE = 'l10n/bundle.l10n.json';

/** Languages that are there beside English, by the names that VS Code has for them, and where their words are kept. */
export const languages = (): readonly string[] => readdirSync('l10n').flatMap((name) => /^bundle\.l10n\.(.+)\.json$/.exec(name)?.[1] ?? []);
export const bundleIn = (language: string): string => BUNDLE.replace('.json', `.${language}.json`);
export const schemaPathIn = (language: string): string => SCHEMA.replace('.json', `.${language}.json`);

/**
 * What `BUNDLE` has to hold: each template of the core that the editor says, each text of the editor itself, and what the schema of
 * `nitbook.jsonc` says, under its own words.
 */
export function bundleText(): string {
  const all = [...inTables(), ...inCalls(), ...descriptionsOf(readFileSync(SCHEMA, 'utf8'))].filter((text) => text !== '');
  const sorted = [...new Set(all)].sort((a, b) => (a < b ? -1 : 1));
  return `${JSON.stringify(Object.fromEntries(sorted.map((text) => [text, text])), null, 2)}\n`;
}

/** Templates that are chosen by a code, or stand in a table beside what they are about. */
function inTables(): string[] {
  const byCode = [
    REFUSALS,
    LANGUAGE_REFUSALS,
    PASTE_REASONS,
    REPEAT_REASONS,
    REASONS,
    SAYINGS,
    FILE_PROBLEMS,
    RESOLUTION_MISTAKES,
    NO_INTERVAL,
    EXPLAINED,
    CHANGE_WORDS,
    FIGURE_MISTAKES,
    SHEET_REFUSALS,
    SHEET_WORDS,
    PREVIEW_WORDS,
  ];
  const words = [REFERENCE_MISTAKES, BETTER, COLUMN_TYPES, COLUMN_WORDS, ...Object.values(FIELDS), LINKS, SEVERITIES, WHITE_SOURCES];
  const blocks = Object.values(BLOCKS as Readonly<Record<string, BlockSpec>>).flatMap(({ about, properties, table }) => [
    about,
    ...Object.entries(properties).flatMap(([name, property]) => [name.startsWith('.') ? '' : propertyTitle(name), property.about]),
    table?.free ?? '',
  ]);
  const measures = Object.values(MEASURES)
    .flatMap((specs) => Object.values<MeasureSpec>(specs))
    .flatMap(({ title, unit, about, source }) => [title, unit, about, source ?? '']);
  const plans = [...BUILT_IN_PLANS].flatMap(([name, plan]) => [
    name,
    plan.about,
    ...[...plan.blocks, ...plan.runs].flatMap(({ title, properties }) => [title ?? '', properties.note ?? '']),
  ]);
  return [
    ...Object.values(CODES).flatMap(({ sentence, mend }) => [sentence, mend ?? '']),
    PLAIN_MEND,
    ...Object.values<InstructionSpec>(INSTRUCTIONS).map(({ takes }) => takes ?? ''),
    ...[...byCode, ...words].flatMap((table) => Object.values<string>(table)),
    ...Object.values(NAMED).flat(),
    ...KEYWORDS.map((keyword) => kindTitle(keyword)),
    ...blocks,
    ...measures,
    ...Object.values(ROW_LIMITS).map(({ source }) => source ?? ''),
    ...Object.values(SPACES).flatMap(({ title, source }) => [title, source]),
    ...Object.values(USUAL_PLANS).flatMap((list) => list.map(({ title }) => title)),
    ...plans,
  ];
}

/**
 * Templates that stand where they are said: in calls of `phrase`, of a `say` and of `vscode.l10n.t`, and as forms for one and several.
 * @throws Error for a call of `phrase` or `l10n.t` with anything else than one text, and of a `say` with a text that is put together: what it
 *   says could not be translated
 */
function inCalls(): string[] {
  return readdirSync('src', { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.startsWith('cli'))
    .map((name) => join('src', name))
    .flatMap((path) => {
      const source = readFileSync(path, 'utf8');
      const calls = [...source.matchAll(CALL)].flatMap((found) => {
        const rest = source.slice(found.index + found[0].length);
        const text = firstText(rest);
        if (text !== undefined) return [text];
        if (found[0] === 'say(' ? !/^\s*`/.test(rest) : path === 'src/editor/l10n.ts') return [];
        throw new Error(`${path}: ${found[0]}${rest.slice(0, 60)}… is not called with a text`);
      });
      return [...calls, ...[...source.matchAll(FORMS)].flatMap(([, one, several]) => [firstText(`${one},`)!, firstText(`${several},`)!])];
    });
}

const CALL = /(?<![.\w]|const |function )(?:phrase|say|vscode\.l10n\.t)\(/g;
const FORMS = /: Forms = \[\s*('[^']*'|"[^"]*"),\s*('[^']*'|"[^"]*"),?\s*\]/g;

/** The text in quotation marks that stands alone as the first argument of a call. */
function firstText(rest: string): string | undefined {
  const found = /^\s*(?:'((?:[^'\\\n]|\\.)*)'|("(?:[^"\\\n]|\\.)*"))\s*[,)]/.exec(rest);
  return found?.[1]?.replace(/\\(.)/g, '$1') ?? (found?.[2] === undefined ? undefined : (JSON.parse(found[2]) as string));
}
