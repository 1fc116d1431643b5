import type { Block } from './block';
import type { PropertyLine } from './line';
import type { SessionText } from './sessionText';
import { type Table, tableOf } from './table';
import { type DateValue, type Quantity, readDate, readValue, type TypedValue } from './values';
import type { Dimension } from './valueTypes';
import type { Keyword } from './vocabulary';

/** A property as it holds for a block: its own, or taken over through `from` or `like`. */
export interface EffectiveProperty {
  readonly line: PropertyLine;
  /** The block it is written in. */
  readonly block: Block;
}

/** The blocks a run is read against. Undefined where the file has none, or several and the run does not say which. */
export interface Run {
  readonly block: Block;
  readonly kind: Keyword;
  readonly id: string;
  readonly title: string;
  readonly table: Table;
  readonly mode?: Block;
  readonly target?: Block;
  readonly meter?: Block;
  readonly signal?: Block;
}

/** How many blocks may take over from each other in a line. */
export const MAX_GENERATIONS = 64;

/** What a run property refers to, resolved or not; the judge of references speaks from these. */
export type RunReference = 'mode' | 'target' | 'meter' | 'signal';
export const RUN_REFERENCES: readonly RunReference[] = ['mode', 'target', 'meter', 'signal'];

export type Resolution =
  | { readonly is: 'found'; readonly block: Block; readonly property?: EffectiveProperty }
  | { readonly is: 'none' }
  | { readonly is: 'missing' | 'kind'; readonly property: EffectiveProperty }
  | { readonly is: 'several'; readonly candidates: readonly Block[] };

/** The typed reading of one version of a session: blocks by name, inheritance, what each run means by its properties. */
export class Session {
  /** The first live block of each name. */
  readonly byName: ReadonlyMap<string, Block>;
  readonly live: readonly Block[];
  readonly runs: readonly Run[];
  private readonly byKeyword = new Map<Keyword, Block[]>();
  private readonly effective = new Map<Block, ReadonlyMap<string, EffectiveProperty>>();
  private readonly lineages = new Map<Block, readonly Block[]>();

  constructor(readonly source: SessionText) {
    const byName = new Map<string, Block>();
    this.live = source.blocks.filter((block) => block.keyword !== undefined && !block.void);
    for (const block of this.live) {
      if (!byName.has(block.name)) byName.set(block.name, block);
      const alike = this.byKeyword.get(block.keyword!);
      if (alike) alike.push(block);
      else this.byKeyword.set(block.keyword!, [block]);
    }
    this.byName = byName;
    this.runs = this.live.filter((block) => block.isRun).map((block) => this.run(block));
  }

  first(keyword: Keyword): Block | undefined {
    return this.byKeyword.get(keyword)?.[0];
  }

  all(keyword: Keyword): readonly Block[] {
    return this.byKeyword.get(keyword) ?? [];
  }

  /** The date in the session's head; undefined when there is none or no calendar has it. */
  get date(): DateValue | undefined {
    const written = this.first('session')?.header?.date;
    return written && readDate(written.text);
  }

  /**
   * A block and those it takes over from, nearest first. Only the block itself where the line goes in a circle or is longer than
   * `MAX_GENERATIONS`; cut before a block that is missing or of another kind.
   */
  lineage(block: Block): readonly Block[] {
    let line = this.lineages.get(block);
    if (!line) {
      const found = [block];
      for (let at = block.header?.link; at; at = found[found.length - 1]!.header?.link) {
        const parent = this.byName.get(at.id.text);
        if (!parent || !this.mayTakeFrom(found[found.length - 1]!, parent)) break;
        if (found.includes(parent) || found.length >= MAX_GENERATIONS) {
          found.length = 1;
          break;
        }
        found.push(parent);
      }
      line = found;
      this.lineages.set(block, line);
    }
    return line;
  }

  /** `from` takes over within one kind of block, `like` between runs of any kind. */
  mayTakeFrom(block: Block, parent: Block): boolean {
    return block.header?.link?.word === 'like' ? block.isRun && parent.isRun : block.keyword === parent.keyword;
  }

  /** The properties that hold for a block, those taken over first: a name with `~` is taken out. */
  properties(block: Block): ReadonlyMap<string, EffectiveProperty> {
    let found = this.effective.get(block);
    if (!found) {
      const merged = new Map<string, EffectiveProperty>();
      for (const from of this.lineage(block).toReversed()) {
        const written = new Set<string>();
        for (const i of from.propertyLines) {
          const line = from.property(i);
          const name = line.name.text;
          if (line.struck || written.has(name)) continue;
          written.add(name);
          if (line.value.is === 'removed') merged.delete(name);
          else merged.set(name, { line, block: from });
        }
      }
      found = merged;
      this.effective.set(block, found);
    }
    return found;
  }

  /** The typed value of a property that holds for a block; undefined when it is not there, still to note, or unreadable. */
  value(block: Block | undefined, name: string): TypedValue | undefined {
    if (!block) return undefined;
    const property = this.properties(block).get(name);
    return property && typedValue(property);
  }

  text(block: Block | undefined, name: string): string | undefined {
    const value = this.value(block, name);
    return value?.is === 'text' ? value.text : undefined;
  }

  /** In the base unit of the property's dimension. */
  number(block: Block | undefined, name: string): number | undefined {
    const value = this.value(block, name);
    return value?.is === 'quantity' ? value.quantity.value : undefined;
  }

  quantityOf(block: Block | undefined, name: string, dimension: Dimension): Quantity | undefined {
    const value = this.value(block, name);
    return value?.is === 'quantities' ? value.list.find((q) => q.dimension === dimension) : undefined;
  }

  /** Which block a property of a run means: the one it names, or the only one there is; none while the run says it is still to be noted. */
  resolve(block: Block, reference: RunReference): Resolution {
    const property = this.properties(block).get(reference);
    if (property) {
      if (property.line.value.is !== 'text' && property.line.value.is !== 'string') return { is: 'none' };
      const found = this.byName.get(property.line.value.text);
      if (!found) return { is: 'missing', property };
      return found.keyword === reference ? { is: 'found', block: found, property } : { is: 'kind', property };
    }
    const candidates = this.all(reference);
    if (candidates.length === 1) return { is: 'found', block: candidates[0]! };
    return candidates.length === 0 ? { is: 'none' } : { is: 'several', candidates };
  }

  private run(block: Block): Run {
    const found: { -readonly [K in RunReference]?: Block } = {};
    for (const reference of RUN_REFERENCES) {
      const resolution = this.resolve(block, reference);
      if (resolution.is === 'found') found[reference] = resolution.block;
    }
    return { block, kind: block.keyword!, id: block.name, title: block.header?.title?.text ?? '', table: tableOf(block), ...found };
  }
}

const typed = new WeakMap<PropertyLine, { readonly block: string; readonly value: TypedValue | undefined }>();

function typedValue({ line, block }: EffectiveProperty): TypedValue | undefined {
  const keyword = block.keyword ?? '';
  let known = typed.get(line);
  if (known?.block !== keyword) {
    const type = propertyType(block, line.name.text);
    const reading = type && (line.value.is === 'text' || line.value.is === 'string') ? readValue(type, line.value.text) : undefined;
    known = { block: keyword, value: reading?.ok ? reading.value : undefined };
    typed.set(line, known);
  }
  return known.value;
}

/** The type of a name in a block: the format's own property, else what the block's user names take; undefined for an unknown name. */
export function propertyType(block: Block, name: string) {
  const { spec } = block;
  if (!spec) return undefined;
  if (Object.hasOwn(spec.properties, name)) return spec.properties[name]!.type;
  if (name.startsWith('x-')) return undefined;
  return spec.names === 'user' && !name.startsWith('.') ? spec.userNames : undefined;
}

const sessions = new WeakMap<SessionText, Session>();

export function sessionOf(source: SessionText): Session {
  let session = sessions.get(source);
  if (!session) {
    session = new Session(source);
    sessions.set(source, session);
  }
  return session;
}
