import type { Node } from 'jsonc-parser';
import { type Phrase, phrase } from '../text/message';
import { LEVELS_EXPECTED, readLevels } from './levels';

/**
 * Plans of a bench day: which runs a new session has, and the rows to take in each. Names of properties and values are those of the
 * session format; whether a block takes them is found when the session is read.
 */
export interface Plan {
  readonly about: string;
  /** Signals, targets, modes, meters that the runs name. */
  readonly blocks: readonly PlanBlock[];
  readonly runs: readonly PlanRun[];
}

export type Properties = Readonly<Record<string, string>>;

export interface PlanBlock {
  readonly kind: (typeof PLAN_BLOCKS)[number];
  readonly id: string;
  readonly title?: string;
  /** A block of the same kind that stands above. */
  readonly from?: string;
  readonly properties: Properties;
}

export interface PlanRun {
  readonly kind: PlanKind;
  readonly id: string;
  readonly title?: string;
  /** A run that stands above. */
  readonly like?: string;
  readonly properties: Properties;
  /** Column line, with units where they are not the usual ones. */
  readonly columns: string;
  /** The columns that the cells of `rows` belong to. */
  readonly keys: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export const PLAN_BLOCKS = ['meter', 'signal', 'mode', 'target'] as const;

type Field = 'levels' | 'words' | 'rows' | 'grid';

interface KindSpec {
  readonly columns: string;
  /** What says the rows: each combination of the fields is one. */
  readonly fields: Readonly<Record<string, Field>>;
  readonly keys: readonly string[];
}

/** Kinds of runs that a plan can hold, and by what their rows are said. */
export const PLAN_KINDS = {
  greyscale: { columns: 'level Y x y', fields: { levels: 'levels' }, keys: ['level'] },
  tracking: { columns: 'level Y x y', fields: { levels: 'levels' }, keys: ['level'] },
  saturation: { columns: 'hue sat Y x y', fields: { hues: 'words', saturations: 'levels' }, keys: ['hue', 'sat'] },
  patches: { columns: 'patch R G B Y x y', fields: { patches: 'rows' }, keys: ['patch', 'R', 'G', 'B'] },
  volume: { columns: 'patch R G B Y x y', fields: { patches: 'rows' }, keys: ['patch', 'R', 'G', 'B'] },
  gamut: { columns: 'patch Y x y', fields: { patches: 'words' }, keys: ['patch'] },
  contrast: { columns: 'patch Y', fields: { patches: 'words' }, keys: ['patch'] },
  repeats: { columns: 'patch Y x y', fields: { patches: 'words' }, keys: ['patch'] },
  window: { columns: 'window Y', fields: { windows: 'levels' }, keys: ['window'] },
  uniformity: { columns: 'row col Y x y', fields: { grid: 'grid' }, keys: ['row', 'col'] },
  endurance: { columns: 't[min] Y', fields: { times: 'levels' }, keys: ['t'] },
  angles: { columns: 'angle Y x y', fields: { angles: 'levels' }, keys: ['angle'] },
  reflectance: { columns: 'patch illuminance Y', fields: { patches: 'words', illuminances: 'levels' }, keys: ['patch', 'illuminance'] },
  lag: { columns: 'place lag[ms]', fields: { places: 'words' }, keys: ['place'] },
  power: { columns: 'patch power', fields: { patches: 'words' }, keys: ['patch'] },
} as const satisfies Record<string, KindSpec>;

export type PlanKind = keyof typeof PLAN_KINDS;

const specOf = (kind: string): KindSpec | undefined =>
  Object.hasOwn(PLAN_KINDS, kind) ? (PLAN_KINDS as Readonly<Record<string, KindSpec>>)[kind] : undefined;

/** A plan may hold as many rows in a run; more are a slip. */
export const MOST_PLANNED = 2000;

type Cells = readonly (readonly string[])[];

const EXPECTED: Readonly<Record<Field, Phrase>> = {
  levels: phrase('a text or a list of numbers: {levels}', { levels: LEVELS_EXPECTED }),
  words: phrase('a list of names such as ["red", "green"]'),
  rows: phrase('a list of a name and its red, green and blue in per cent, such as ["skin 78 59 49"]'),
  grid: phrase('a text such as "5 x 5", at most 21 each way'),
};

/** The cells that one field of a run means; undefined when it is not read. */
function cellsOf(field: Field, value: unknown): Cells | undefined {
  switch (field) {
    case 'levels': {
      const levels = typeof value === 'string' ? readLevels(value) : isList(value, isLevel) ? value : undefined;
      return levels?.map((level) => [String(level)]);
    }
    case 'words':
      return isList(value, isWord) ? value.map((word) => [word]) : undefined;
    case 'rows': {
      if (!isList(value, (item): item is string => typeof item === 'string')) return undefined;
      const rows = value.map((item) => item.split(' ').filter((cell) => cell !== ''));
      return rows.every(([name = '', ...drive]) => isWord(name) && drive.length === 3 && drive.every((cell) => DRIVE.test(cell)))
        ? rows
        : undefined;
    }
    case 'grid': {
      const [, down, across] = (typeof value === 'string' && /^(\d{1,2}) *x *(\d{1,2})$/.exec(value)) || [];
      const [rows, columns] = [Number(down), Number(across)];
      if (!(rows >= 1 && rows <= 21 && columns >= 1 && columns <= 21)) return undefined;
      return Array.from({ length: rows * columns }, (_, i) => [String(Math.floor(i / columns) + 1), String((i % columns) + 1)]);
    }
  }
}

const DRIVE = /^\d{1,3}(?:\.\d{1,4})?$/;
const isList = <T>(value: unknown, is: (item: unknown) => item is T): value is T[] =>
  Array.isArray(value) && value.length > 0 && value.every(is);
const isLevel = (item: unknown): item is number => typeof item === 'number' && readLevels(String(item)) !== undefined;
/** A name that is one cell as it is. */
const isWord = (item: unknown): item is string => typeof item === 'string' && /^\p{L}[\p{L}\p{N}-]*$/u.test(item);

/** Each combination of the rows of fields, the last changing fastest. */
const combined = (parts: readonly Cells[]): string[][] =>
  parts.reduce<string[][]>((rows, part) => rows.flatMap((row) => part.map((cells) => [...row, ...cells])), [[]]);

/** What a run of a plan is written like in code: the fields of `PLAN_KINDS` say its rows. */
export type RunSource = { readonly kind: PlanKind; readonly id: string; readonly title?: string; readonly like?: string } & {
  readonly properties?: Properties;
} & Readonly<Record<string, unknown>>;

/**
 * A run of a plan, its rows made from its fields.
 * @throws RangeError for a field that is not read: plans in code are checked by their tests.
 */
export function planRun({ kind, id, title, like, properties = {}, ...fields }: RunSource): PlanRun {
  const spec = specOf(kind)!;
  const rows = combined(
    Object.entries(spec.fields).map(([name, field]) => {
      const cells = cellsOf(field, fields[name]);
      if (!cells) throw new RangeError(`${name} of ${id}`);
      return cells;
    }),
  );
  const { columns, keys } = spec;
  return { kind, id, ...(title === undefined ? {} : { title }), ...(like === undefined ? {} : { like }), properties, columns, keys, rows };
}

/** A member of an object of the file. */
export interface Member {
  readonly name: string;
  readonly at: string;
  readonly key: Node;
  readonly value: Node;
}

/** What reads the file that plans stand in: its members, and a finding for what is not taken. */
export interface NodeReader {
  members(node: Node, at: string, expected: Phrase): Iterable<Member>;
  say(at: string, node: Node, expected: Phrase, candidates?: { readonly word: string; readonly of: Iterable<string> }): void;
}

/** Reads the value of `plans`. A plan with a mistake in it is left out, as half a plan would be a bench day with gaps. */
export function readPlans(reader: NodeReader, { value, at }: Member): ReadonlyMap<string, Plan> {
  const plans = new Map<string, Plan>();
  for (const member of reader.members(value, at, phrase('plans takes an object such as { "Quick look": { "runs": [ … ] } }'))) {
    if (member.name === '' || /[\p{Cc}\p{Zl}\p{Zp}]/u.test(member.name))
      reader.say(member.at, member.key, phrase('A plan needs a name, in one line'));
    else {
      const plan = new PlanReader(reader).plan(member);
      if (plan) plans.set(member.name, plan);
    }
  }
  return plans;
}

const ID = /^[A-Za-z][A-Za-z0-9-]*$/;
const PLAN_FIELDS = ['about', 'blocks', 'runs'];

class PlanReader {
  private isWhole = true;
  private readonly ids = new Set<string>();

  constructor(private readonly reader: NodeReader) {}

  plan(member: Member): Plan | undefined {
    let about = '';
    let blocks: readonly PlanBlock[] = [];
    let runs: readonly PlanRun[] | undefined;
    for (const part of this.members(member.value, member.at, phrase('A plan takes an object such as { "runs": [ … ] }'))) {
      if (part.name === 'about') about = this.text(part) ?? '';
      else if (part.name === 'blocks') blocks = this.list(part, (item, at) => this.block(item, at));
      else if (part.name === 'runs') runs = this.list(part, (item, at) => this.run(item, at));
      else this.unknown(part, phrase('A plan'), PLAN_FIELDS);
    }
    if (this.isWhole && !runs) this.say(member.at, member.key, phrase('"{name}" needs "runs"', { name: member.name }));
    return this.isWhole && runs ? { about, blocks, runs } : undefined;
  }

  private block(node: Node, at: string): PlanBlock | undefined {
    const fields = this.fields(node, at, phrase('A block of a plan takes an object such as { "kind": "signal", "id": "sdr" }'));
    if (!fields) return undefined;
    const kind = this.oneOf(node, at, fields.get('kind'), PLAN_BLOCKS);
    const common = kind && this.common(node, at, fields, 'from');
    for (const field of fields.values()) if (kind) this.unknown(field, phrase('A {kind} of a plan', { kind }), [...COMMON, 'from']);
    return kind && common && { kind, ...common };
  }

  private run(node: Node, at: string): PlanRun | undefined {
    const fields = this.fields(
      node,
      at,
      phrase('A run of a plan takes an object such as { "kind": "greyscale", "id": "grey", "levels": "21 steps" }'),
    );
    if (!fields) return undefined;
    const kind = this.oneOf(node, at, fields.get('kind'), Object.keys(PLAN_KINDS) as PlanKind[]);
    const common = kind && this.common(node, at, fields, 'like');
    if (!kind || !common) return undefined;
    const spec = specOf(kind)!;
    const columnsAt = fields.get('columns');
    const columns = (columnsAt && this.text(columnsAt)) ?? spec.columns;
    const parts = Object.entries(spec.fields).map(([name, field]) => {
      const member = fields.get(name);
      const expected = EXPECTED[field];
      if (!member) this.say(at, node, phrase('A {kind} run of a plan needs "{name}": {expected}', { kind, name, expected }));
      const cells = member && cellsOf(field, plain(member.value));
      if (member && !cells) this.say(member.at, member.value, phrase('{name} takes {expected}', { name, expected }));
      return cells ?? [];
    });
    for (const field of fields.values())
      this.unknown(field, phrase('A {kind} run of a plan', { kind }), [...COMMON, 'like', 'columns', ...Object.keys(spec.fields)]);
    if (parts.reduce((product, { length }) => product * length, 1) > MOST_PLANNED)
      this.say(at, node, phrase('A run of a plan has at most {most} rows', { most: MOST_PLANNED }));
    return this.isWhole ? { kind, ...common, columns, keys: spec.keys, rows: combined(parts) } : undefined;
  }

  /** Id, title, link and properties, which blocks and runs have alike. */
  private common<L extends 'from' | 'like'>(node: Node, at: string, fields: ReadonlyMap<string, Member>, link: L) {
    const id = this.written(fields.get('id'));
    if (id === undefined || !ID.test(id)) {
      this.say(
        fields.get('id')?.at ?? at,
        fields.get('id')?.value ?? node,
        phrase('Expected an "id": a letter, then letters, digits and hyphens'),
      );
      return undefined;
    }
    if (this.ids.has(id))
      this.say(fields.get('id')!.at, fields.get('id')!.value, phrase('The id {id} is taken by a block or run above', { id }));
    const parent = fields.get(link);
    const parentId = this.written(parent);
    if (parent && (parentId === undefined || !this.ids.has(parentId))) {
      this.say(parent.at, parent.value, phrase('{link} takes the id of a block or run above', { link }));
    }
    this.ids.add(id);
    const properties: Record<string, string> = Object.create(null);
    const own = fields.get('properties');
    for (const property of own
      ? this.members(own.value, own.at, phrase('properties takes an object such as { "range": "limited" }'))
      : []) {
      const value = this.text(property);
      if (value !== undefined) properties[property.name] = value;
    }
    const title = fields.get('title') && this.text(fields.get('title')!);
    return {
      id,
      ...(title === undefined ? {} : { title }),
      ...((parentId === undefined ? {} : { [link]: parentId }) as { readonly [K in L]?: string }),
      properties: { ...properties } as Properties,
    };
  }

  private *members(node: Node, at: string, expected: Phrase): Generator<Member> {
    if (node.type !== 'object') this.isWhole = false;
    yield* this.reader.members(node, at, expected);
  }

  private fields(node: Node, at: string, expected: Phrase): ReadonlyMap<string, Member> | undefined {
    const fields = new Map<string, Member>();
    for (const member of this.members(node, at, expected)) fields.set(member.name, member);
    return node.type === 'object' ? fields : undefined;
  }

  private list<T>({ value, at, name }: Member, read: (item: Node, at: string) => T | undefined): readonly T[] {
    if (value.type !== 'array' || value.children!.length > 256) {
      this.say(at, value, phrase('{name} takes a list of at most {most} objects', { name, most: 256 }));
      return [];
    }
    return value.children!.flatMap((item, i) => read(item, `${at}/${i + 1}`) ?? []);
  }

  private text(member: Member): string | undefined {
    const text = this.written(member);
    if (text === undefined || /[\r\n]/.test(text)) {
      this.say(member.at, member.value, phrase('{name} takes a text in one line', { name: member.name }));
      return undefined;
    }
    return text;
  }

  private written(member: Member | undefined): string | undefined {
    return member?.value.type === 'string' ? member.value.value : undefined;
  }

  private oneOf<T extends string>(node: Node, at: string, member: Member | undefined, of: readonly T[]): T | undefined {
    const written = this.written(member);
    const found = of.find((each) => each === written);
    if (found === undefined) {
      const candidates = written === undefined ? undefined : { word: written, of };
      this.say(member?.at ?? at, member?.value ?? node, phrase('Expected a "kind" of {kinds}', { kinds: of }), candidates);
    }
    return found;
  }

  private unknown({ name, at, key }: Member, what: Phrase, known: readonly string[]): void {
    if (!known.includes(name))
      this.say(at, key, phrase('{what} takes {known}, not "{name}"', { what, known, name }), { word: name, of: known });
  }

  private say(at: string, node: Node, expected: Phrase, candidates?: { readonly word: string; readonly of: Iterable<string> }): void {
    this.isWhole = false;
    this.reader.say(at, node, expected, candidates);
  }
}

const COMMON = ['kind', 'id', 'title', 'properties'];

/** A text, a number, or a list of them; undefined for anything else. */
const plain = (node: Node): unknown => (node.type === 'array' ? node.children!.map(({ value }) => value) : node.value);
