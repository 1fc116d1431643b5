import { stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { NO_CONFIG } from '../config/config';
import { settled } from '../project/analysis';
import { problemText } from '../project/files';
import { Folder } from '../project/folder';
import { folderOf, isWithin, referredPath } from '../project/paths';
import { visible } from '../report/format';
import { sessionsOf } from '../review/check';
import { LONGEST_REVIEW, readReview } from '../review/markdown';
import { type Assets, type Wanted, wantedBy } from '../review/publish/document';
import { baseOf, MOST_PICTURE_BYTES, mediaTypeOf } from '../review/publish/files';
import { publishedPage, type Source } from '../review/publish/page';
import { publishedMarkdown } from '../review/publish/plain';
import { standingOf } from '../review/publish/stale';
import { referredRuns } from '../review/referred';
import { checkedReview } from '../review/sources';
import { textForm } from './checkForms';
import { bytesInside, CannotRun, complain, DiskFiles, exists, makeFolder, rootOf, say, slashed, unread, writeNew } from './io';
import { located } from './located';
import { isMarkdown } from './targets';

export const PUBLISH_FORMS = ['html', 'md'] as const;

export interface PublishOptions {
  readonly output: string;
  readonly to: (typeof PUBLISH_FORMS)[number];
  readonly allowStale?: boolean;
  readonly root?: string;
}

/** A review on disk, read and held against its sessions. */
interface Review extends Source {
  readonly path: string;
  readonly shown: string;
  readonly stale: number;
}

/** A file to be written, beside the others. */
interface Written {
  readonly name: string;
  readonly data: string | Uint8Array;
}

/** Publishes reviews as pages of their own, or as plain Markdown with the files of their figures. Nothing is written unless all of it can be. */
export async function publish(paths: readonly string[], options: PublishOptions): Promise<number> {
  const root = await rootOf(options.root);
  const publisher = new Publisher(root, options.root === undefined ? undefined : root);
  const reviews: Review[] = [];
  for (const path of paths) reviews.push(await publisher.read(path));
  const stale = reviews.reduce((sum, review) => sum + review.stale, 0);
  if (stale > 0 && !options.allowStale) {
    complain(
      `${stale === 1 ? '1 claim or line does' : `${stale} claims or lines do`} not hold, so that nothing is published: mend that, or publish it marked with --allow-stale`,
    );
    return 1;
  }
  const { folder, file } = await placeOf(options, reviews);
  const form = options.to;
  const files = (await Promise.all(reviews.map((review) => publisher[form](review, reviews, folder)))).flat();
  const named = files.map(({ name, data }) => ({
    to: file !== undefined && name === files.at(-1)!.name ? file : join(folder, name),
    data,
  }));
  const written = await refuseClashes(named, reviews);
  for (const { to, data } of written) {
    await makeFolder(dirname(to));
    await writeNew(to, data);
    say(`${visible(to)}\n`);
  }
  return 0;
}

class Publisher {
  private readonly files: DiskFiles;
  /** Of the root alone, wherever links lead: what a review refers to is read from here. */
  private readonly inside: Folder;
  private readonly anywhere: Folder;

  constructor(
    private readonly root: string,
    private readonly confined: string | undefined,
  ) {
    this.files = new DiskFiles(confined);
    this.inside = new Folder(new DiskFiles(root), root);
    this.anywhere = new Folder(this.files, root);
  }

  async read(given: string): Promise<Review> {
    const path = slashed(given);
    if (!isMarkdown(path)) throw new CannotRun(`${given}: expected a Markdown file (.md)`);
    if (this.confined !== undefined && !isWithin(this.confined, path))
      throw new CannotRun(`${given}: it lies outside the folder ${this.confined}`);
    const reading = await this.files.read(path);
    if (!reading.ok) throw new CannotRun(`${given}: ${problemText(reading.problem)}`);
    const { text } = reading;
    if (text.length > LONGEST_REVIEW) throw new CannotRun(`${given}: it is too long to be read as a review`);
    const config = await this.anywhere.configOf(path);
    if (config && !config.ok) throw new CannotRun(unread(config));
    const place = { path, root: this.root, config: config?.file.config ?? NO_CONFIG };
    const review = readReview(text);
    const checked = await checkedReview(review, place, { session: (session) => this.inside.session(session), list: async () => [] });
    // Verdicts hang on intervals, and so do figures.
    for (const [analysis, runs] of referredRuns(checked.checked)) settled(analysis, runs);
    const { stale, findings } = standingOf(checked);
    process.stderr.write(textForm(located(path, given, text, findings), process.stderr));
    const read = new Map(
      await Promise.all(sessionsOf(review, place).map(async (session) => [session, await this.inside.session(session)] as const)),
    );
    const showing = { place, sessions: { session: (session: string) => read.get(session), paths: [] } };
    return { path, shown: given, text, name: baseOf(path), showing, stale };
  }

  async html(review: Review, all: readonly Review[], folder: string): Promise<Written[]> {
    const wanted = wantedBy(review.text);
    const page = publishedPage(review, {
      images: await this.pictures(review, wanted),
      documents: await this.pages(review, wanted, all, folder),
    });
    for (const left of page.left) complain(`${review.shown}: ${left} is not taken along: it stands there as text`);
    if (page.tags.length > 0) complain(`${review.shown}: HTML is shown as text: ${page.tags.join(' ')}`);
    return [{ name: `${review.name}.html`, data: page.html }];
  }

  async md(review: Review): Promise<Written[]> {
    const { text, figures } = publishedMarkdown(review);
    const beside = await Promise.all(
      wantedBy(review.text).images.map(async (image): Promise<Written[]> => {
        const path = this.pathOf(image, review);
        const own = `${folderOf(review.path)}/`;
        const data = path?.startsWith(own) && mediaTypeOf(path) ? await bytesInside(this.root, path, MOST_PICTURE_BYTES) : undefined;
        if (!data) complain(`${review.shown}: ${image} is not copied: it is no picture in the folder of the review`);
        return data ? [{ name: path!.slice(own.length), data }] : [];
      }),
    );
    return [...beside.flat(), ...[...figures].map(([name, data]) => ({ name, data })), { name: `${review.name}.md`, data: text }];
  }

  private pathOf(written: string, { path }: Review): string | undefined {
    return referredPath(written, folderOf(path), this.root);
  }

  /** Pictures in the text of the page, as data. */
  private async pictures(review: Review, { images }: Wanted): Promise<Assets['images']> {
    const found = new Map<string, string>();
    for (const image of images) {
      const path = this.pathOf(image, review);
      const type = path && mediaTypeOf(path);
      const bytes = type ? await bytesInside(this.root, path, MOST_PICTURE_BYTES) : undefined;
      if (bytes) found.set(image, `data:${type};base64,${bytes.toString('base64')}`);
    }
    return found;
  }

  /** Other reviews: published with this one, or lying there from before. */
  private async pages(review: Review, { documents }: Wanted, all: readonly Review[], folder: string): Promise<Assets['documents']> {
    const found = new Map<string, string>();
    for (const document of documents) {
      const path = this.pathOf(document, review);
      if (path === undefined) continue;
      const page = `${baseOf(path)}.html`;
      if (all.some((other) => other.path === path) || (await exists(join(folder, page)))) found.set(document, encodeURIComponent(page));
    }
    return found;
  }
}

/** Where files go: into a folder, or one review into a file that is named. */
async function placeOf(
  { output, to }: PublishOptions,
  reviews: readonly Review[],
): Promise<{ readonly folder: string; readonly file?: string }> {
  const isFolder = /[\\/]$/.test(output) || ((await stat(output).catch(() => undefined))?.isDirectory() ?? false);
  if (isFolder) return { folder: output };
  if (!output.toLowerCase().endsWith(`.${to}`))
    throw new CannotRun(`${output}: expected a file that ends in .${to}, or a folder that ends in /`);
  if (reviews.length > 1)
    throw new CannotRun(
      `${reviews.length} reviews make as many files, and ${output} is one: name a folder that ends in /, such as -o out/`,
    );
  return { folder: dirname(output), file: output };
}

/** Each file once: what several reviews show is the same. @throws CannotRun where one file would stand over another, or over a review */
async function refuseClashes<T extends { readonly to: string; readonly data: string | Uint8Array }>(
  files: readonly T[],
  reviews: readonly Review[],
): Promise<T[]> {
  const found = new Map<string, T>();
  for (const file of files) {
    const path = slashed(file.to);
    const other = found.get(path);
    if (other && !Buffer.from(other.data).equals(Buffer.from(file.data)))
      throw new CannotRun(`${file.to}: two reviews would be written here: publish them into folders of their own`);
    found.set(path, other ?? file);
  }
  // Another path may lead to it: by a link, or in other case.
  const placed = async (path: string) => {
    const at = await stat(path).catch(() => undefined);
    return at && `${at.dev} ${at.ino}`;
  };
  const there = new Set(await Promise.all([...found.keys()].map(placed)));
  const real = await Promise.all(reviews.map(({ path }) => placed(path)));
  const own = reviews.find(({ path }, i) => found.has(path) || (real[i] !== undefined && there.has(real[i])));
  if (own) throw new CannotRun(`${own.shown}: the review itself would be written over: name another folder`);
  return [...found.values()];
}
