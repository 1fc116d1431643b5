import { NO_CONFIG } from '../config/config';
import { type FileReading, problemText } from '../project/files';
import { type ConfigFile, Folder } from '../project/folder';
import { findingsText } from '../report/said';
import { LONGEST_REVIEW, mayRefer, readReview } from '../review/markdown';
import { checkedReview } from '../review/sources';
import type { Severity } from '../text/codes';
import { counted, fill, worded } from '../text/message';
import { githubForm, jsonForm, textForm } from './checkForms';
import { CannotRun, complain, DiskFiles, rootOf, say, slashed, type TargetFile, unread } from './io';
import { type Located, located } from './located';
import { sarifForm } from './sarif';
import { isConfig, isMarkdown, isSession, targets, walk } from './targets';

export const CHECK_FORMS = ['text', 'json', 'sarif', 'github'] as const;
export const FAIL_ON = ['error', 'warning', 'info', 'never'] as const;

export interface CheckOptions {
  readonly format: (typeof CHECK_FORMS)[number];
  readonly failOn: (typeof FAIL_ON)[number];
  readonly root?: string;
}

const RANK: Readonly<Record<Severity, number>> = { error: 2, warning: 1, info: 0 };

/** What is noticed in sessions, in the configuration they are judged by, and in the reviews that refer to them. */
export async function check(paths: readonly string[], { format, failOn, root: given }: CheckOptions): Promise<number> {
  const root = await rootOf(given);
  const confined = given === undefined ? undefined : root;
  const checker = new Checker(root, confined);
  const wanted = (path: string) => isSession(path) || isConfig(path) || isMarkdown(path);
  const files = await targets(paths, wanted, { root: confined, holds: (path) => !isMarkdown(path) || checker.isReview(path) });
  for (const file of files.slice(0, AHEAD)) checker.begin(file);
  for (const [i, file] of files.entries()) {
    const next = files[i + AHEAD];
    if (next) checker.begin(next);
    await checker.check(file);
  }
  const { found, problems } = checker;
  const findings = [...found.values()].flat();
  if (format === 'text') say(textForm(findings, process.stdout));
  else if (format === 'json') say(jsonForm(findings));
  else if (format === 'github') say(githubForm(findings));
  else say(sarifForm(findings, root, problems));
  for (const problem of problems) complain(problem);
  if (format === 'text') {
    const counts = { error: 0, warning: 0, info: 0 };
    for (const { finding } of findings) counts[finding.severity]++;
    process.stderr.write(
      `${worded(counted(found.size, ['1 file', '{count} files']), fill)}: ${findings.length === 0 ? 'nothing to report' : findingsText(counts)}\n`,
    );
  }
  if (problems.length > 0) return 2;
  return failOn !== 'never' && findings.some(({ finding }) => RANK[finding.severity] >= RANK[failOn]) ? 1 : 0;
}

/** Files that are read before it is their turn: while one is analysed, the disk has others ready. */
const AHEAD = 16;

/** Sessions that are kept for reviews that refer to them, those read ahead among them; others are read again. */
const KEPT = 80;

/** Folders that are looked through for the name of a session that is not there. */
const MOST_FOLDERS = 1000;

class Checker {
  /** By the path of the file, in the order of the arguments. */
  readonly found = new Map<string, readonly Located[]>();
  readonly problems: string[] = [];
  private readonly files: DiskFiles;
  /** Of the root alone, wherever links lead: what a review refers to is read from here. */
  private readonly inside: Folder;
  /** For files that are named, and lie elsewhere. */
  private readonly anywhere: Folder;
  private readonly texts = new Map<string, Promise<FileReading>>();

  constructor(
    private readonly root: string,
    confined: string | undefined,
  ) {
    this.files = new DiskFiles(confined);
    this.inside = new Folder(new DiskFiles(root), root, KEPT);
    this.anywhere = new Folder(this.files, root, KEPT);
  }

  /** Reads a file that is to be checked later. What comes of it, mistakes of this program too, is said when it is its turn. */
  begin({ path }: TargetFile): void {
    const begun: Promise<unknown> = isConfig(path)
      ? this.anywhere.config(path)
      : isMarkdown(path)
        ? this.text(path)
        : this.inside.session(path);
    begun.catch(() => {});
  }

  async check({ path, shown }: TargetFile): Promise<void> {
    const problem = isConfig(path)
      ? await this.configuration(path, shown)
      : isMarkdown(path)
        ? await this.review(path, shown)
        : await this.session(path, shown);
    if (problem !== undefined && !this.problems.includes(problem)) this.problems.push(problem);
  }

  /** Whether a Markdown file refers to sessions. */
  async isReview(path: string): Promise<boolean> {
    const reading = await this.text(path);
    return reading.ok && mayRefer(reading.text) && (isTooLong(reading.text) || readReview(reading.text).mentions.length > 0);
  }

  private async session(path: string, shown: string): Promise<string | undefined> {
    const inside = await this.inside.session(path);
    const read = inside.ok || inside.problem.code !== 'outside' ? inside : await this.anywhere.session(path);
    if (!read.ok) return unread(read, read.path === path ? shown : shownBeside(read.path));
    const { analysis, config } = read;
    // Its mistakes change what the session is judged by, so they are told with it.
    if (config) this.tell(config, shownBeside(config.path));
    this.found.set(path, located(path, shown, analysis.source.text, analysis.findings));
    return undefined;
  }

  private async review(path: string, shown: string): Promise<string | undefined> {
    const reading = await this.text(path);
    if (!reading.ok) return `${shown}: ${problemText(reading.problem)}`;
    const { text } = reading;
    if (mayRefer(text) && isTooLong(text)) return `${shown}: it is too long to be read as a review`;
    const config = await this.anywhere.configOf(path);
    if (config && !config.ok) return unread(config, shownBeside(config.path));
    if (config) this.tell(config.file, shownBeside(config.file.path));
    const place = { path, root: this.root, config: config?.file.config ?? NO_CONFIG };
    const { findings } = await checkedReview(readReview(text), place, {
      session: (session) => this.inside.session(session),
      list: () => this.sessions(),
    });
    this.found.set(path, located(path, shown, text, findings));
    return undefined;
  }

  private async configuration(path: string, shown: string): Promise<string | undefined> {
    const read = await this.anywhere.config(path);
    if (!read.ok) return unread(read, shown);
    this.tell(read.file, shown);
    return undefined;
  }

  private tell({ path, text, findings }: ConfigFile, shown: string): void {
    if (!this.found.has(path)) this.found.set(path, located(path, shown, text, findings));
  }

  private async sessions(): Promise<readonly string[]> {
    try {
      return (await walk(this.root || '/', isSession, MOST_FOLDERS)).map((file) => `${this.root}/${file}`);
    } catch (error) {
      // A folder that cannot be read holds no neighbours.
      if (error instanceof CannotRun) return [];
      throw error;
    }
  }

  private text(path: string): Promise<FileReading> {
    let text = this.texts.get(path);
    if (!text) {
      text = this.files.read(path);
      this.texts.set(path, text);
    }
    return text;
  }
}

const isTooLong = ({ length }: string): boolean => length > LONGEST_REVIEW;

/** A file that nobody named: from here where it lies below, else whole. */
function shownBeside(path: string): string {
  const here = `${slashed('.')}/`;
  return path.startsWith(here) ? path.slice(here.length) : path;
}
