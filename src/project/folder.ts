import { type Config, NO_CONFIG } from '../config/config';
import { readConfig } from '../config/readConfig';
import { MEASURE_IDS } from '../measure/specs';
import type { Reference } from '../session/reference';
import { SessionText } from '../session/sessionText';
import type { Finding } from '../text/finding';
import { type Analysis, analyse } from './analysis';
import { type FileProblem, type Files, refused } from './files';
import { configPaths, referredPath } from './paths';
import { type Resolution, resolveReference } from './resolve';

export interface ConfigFile {
  readonly path: string;
  readonly text: string;
  readonly config: Config;
  readonly findings: readonly Finding[];
}

/** A file that could not be read, and why. */
export interface Unread {
  readonly ok: false;
  readonly path: string;
  readonly problem: FileProblem;
}

export type Read<T> = ({ readonly ok: true } & T) | Unread;

/** The sessions of a folder as they stand, each judged by the nearest `nitbook.jsonc`. Every file is read once, as long as not more than `most` sessions are. */
export class Folder {
  private readonly sessions = new Map<string, Promise<Read<{ readonly analysis: Analysis; readonly config?: ConfigFile }>>>();
  private readonly configs = new Map<string, Promise<Read<{ readonly file: ConfigFile }>>>();

  constructor(
    private readonly files: Files,
    readonly root: string,
    /** So many sessions are kept, those that were asked for last: an analysis is a hundred times its file. */
    private readonly most = Number.POSITIVE_INFINITY,
  ) {}

  session(path: string): Promise<Read<{ readonly analysis: Analysis; readonly config?: ConfigFile }>> {
    const known = this.sessions.get(path);
    if (known) {
      this.sessions.delete(path);
      this.sessions.set(path, known);
    } else if (this.sessions.size >= this.most) this.sessions.delete(this.sessions.keys().next().value!);
    return remembered(this.sessions, path, async () => {
      const config = await this.configOf(path);
      if (config && !config.ok) return config;
      const reading = await this.files.read(path);
      if (!reading.ok) return { ok: false, path, problem: reading.problem };
      const analysis = analyse(SessionText.read(reading.text), config?.file.config ?? NO_CONFIG);
      return { ok: true, analysis, ...(config ? { config: config.file } : {}) };
    });
  }

  config(path: string): Promise<Read<{ readonly file: ConfigFile }>> {
    return remembered(this.configs, path, async () => {
      const reading = await this.files.read(path);
      if (!reading.ok) return { ok: false, path, problem: reading.problem };
      return { ok: true, file: { path, text: reading.text, ...readConfig(reading.text, { measures: MEASURES }) } };
    });
  }

  /** What a reference means that stands in a text of a folder. */
  async resolve(reference: Reference, folder: string): Promise<Read<{ readonly resolution: Resolution; readonly analysis: Analysis }>> {
    const path = referredPath(reference.path, folder, this.root);
    if (path === undefined) return { ...refused('outside', { root: this.root || '/' }), path: reference.path };
    const read = await this.session(path);
    return read.ok ? { ok: true, resolution: resolveReference(read.analysis, reference), analysis: read.analysis } : read;
  }

  /** The nearest configuration; one that is there but cannot be read is no reason to judge by another. */
  async configOf(path: string): Promise<Read<{ readonly file: ConfigFile }> | undefined> {
    for (const candidate of configPaths(path, this.root)) {
      const read = await this.config(candidate);
      if (read.ok || (read.problem.code !== 'missing' && read.problem.code !== 'folder')) return read;
    }
    return undefined;
  }
}

const MEASURES: ReadonlySet<string> = new Set(MEASURE_IDS);

function remembered<T>(known: Map<string, Promise<T>>, key: string, make: () => Promise<T>): Promise<T> {
  let found = known.get(key);
  if (!found) {
    found = make();
    known.set(key, found);
  }
  return found;
}
