import * as vscode from 'vscode';
import { NO_CONFIG } from '../../config/config';
import type { Configurations } from '../../editor/config';
import { inSlices } from '../../editor/intervals';
import { writeWhole } from '../../editor/whole';
import { intervals } from '../../project/analysis';
import { folderOf, referredPath } from '../../project/paths';
import { checkReview, sessionsOf } from '../check';
import { readReview } from '../markdown';
import { type Assets, wantedBy } from '../publish/document';
import { baseOf, MOST_PICTURE_BYTES, mediaTypeOf } from '../publish/files';
import { publishedPage, type Source } from '../publish/page';
import { publishedMarkdown } from '../publish/plain';
import { standingOf } from '../publish/stale';
import { referredRuns } from '../referred';
import { type Home, homeOf, isMarkdown } from './reviews';
import { bytesIn, type ReviewSessions } from './sessions';

/** More files are counted and not named. */
const MOST_NAMED = 10;

interface Known {
  readonly sessions: ReviewSessions;
  readonly configurations: Configurations;
}

/** Publishes a review: as a page that needs nothing else, or as Markdown with the files of its figures. */
export async function publish(of: unknown, known: Known): Promise<void> {
  const document = await reviewOf(of);
  const home = document && homeOf(document.uri);
  if (document && home) await publishIn(document, home, known);
  else void vscode.window.showInformationMessage(vscode.l10n.t('Open a review (a Markdown file) first.'));
}

/** The review that a command means: the one it is called for, else the one in the active editor. */
async function reviewOf(uri: unknown): Promise<vscode.TextDocument | undefined> {
  const document = uri instanceof vscode.Uri ? await vscode.workspace.openTextDocument(uri) : vscode.window.activeTextEditor?.document;
  return document && isMarkdown(document) ? document : undefined;
}

async function publishIn(document: vscode.TextDocument, home: Home, known: Known): Promise<void> {
  // What is written meanwhile is not published.
  const text = document.getText();
  const source = await sourceOf(text, document.uri, home, known);
  const review = readReview(text);
  const check = () => checkReview(review, source.showing.place, source.showing.sessions);
  // Verdicts hang on intervals, and so do figures.
  for (const [analysis, runs] of referredRuns(check().checked)) await inSlices(intervals(analysis, runs), () => true);
  const { stale, findings } = standingOf(check());
  if (stale > 0 && !(await isMeant(stale))) return;
  const form = await vscode.window.showQuickPick(
    [
      { label: vscode.l10n.t('Page'), detail: vscode.l10n.t('One HTML file that needs nothing else'), to: page },
      { label: vscode.l10n.t('Markdown'), detail: vscode.l10n.t('Plain Markdown, and each figure as an SVG file'), to: plain },
    ],
    { title: vscode.l10n.t('Publish Review') },
  );
  const written = await form?.to(source, document, home).catch((error: unknown) => {
    void vscode.window.showErrorMessage(vscode.l10n.t('The review could not be published: {0}', String(error)));
    return undefined;
  });
  if (!written) return;
  const open = findings.length - stale;
  const words =
    open > 0
      ? vscode.l10n.t('{0} is published; what is still open in it is among the problems.', nameOf(written))
      : vscode.l10n.t('{0} is published.', nameOf(written));
  const show = vscode.l10n.t('Open');
  const isLocal = written.scheme === 'file' && written.path.endsWith('.html');
  const chosen = await vscode.window.showInformationMessage(words, ...(isLocal ? [show] : []));
  if (chosen === show) await vscode.env.openExternal(written);
}

/** Whether what does not hold is to be published all the same. */
async function isMeant(stale: number): Promise<boolean> {
  const words =
    stale === 1 ? vscode.l10n.t('One claim of this review does not hold.') : vscode.l10n.t('{0} claims of this review do not hold.', stale);
  const marked = vscode.l10n.t('Publish Marked');
  const problems = vscode.l10n.t('Show Problems');
  const detail = vscode.l10n.t('A published page can mark them, so that readers see it.');
  const chosen = await vscode.window.showWarningMessage(words, { modal: true, detail }, problems, marked);
  if (chosen === problems) await vscode.commands.executeCommand('workbench.actions.view.problems');
  return chosen === marked;
}

async function sourceOf(text: string, uri: vscode.Uri, { folder, place }: Home, { sessions, configurations }: Known): Promise<Source> {
  const sources = sessions.in(folder);
  const paths = sessionsOf(readReview(text), place);
  const read = new Map(await Promise.all(paths.map(async (path) => [path, await sources.session(path)] as const)));
  return {
    text,
    name: baseOf(uri.path),
    showing: {
      place: { ...place, config: (await configurations.of(uri)) ?? NO_CONFIG },
      sessions: { session: (path) => read.get(path), paths: [] },
    },
  };
}

/** @returns what was written; undefined when it was called off */
async function page(source: Source, document: vscode.TextDocument, home: Home): Promise<vscode.Uri | undefined> {
  const to = await vscode.window.showSaveDialog({
    ...(document.isUntitled ? {} : { defaultUri: vscode.Uri.joinPath(document.uri, '..', `${source.name}.html`) }),
    filters: { HTML: ['html'] },
    title: vscode.l10n.t('Publish Review'),
  });
  if (!to) return undefined;
  const { images, documents } = wantedBy(source.text);
  const taken: Assets = { images: await pictures(images, home), documents: await pages(documents, home, vscode.Uri.joinPath(to, '..')) };
  const { html, left, tags } = publishedPage(source, taken);
  await write(to, new TextEncoder().encode(html));
  const shown = [...left, ...tags];
  if (shown.length > 0)
    void vscode.window.showWarningMessage(vscode.l10n.t('Shown as text, as a page cannot take it along: {0}', shown.join(' ')));
  return to;
}

async function plain(source: Source, document: vscode.TextDocument, home: Home): Promise<vscode.Uri | undefined> {
  const [folder] =
    (await vscode.window.showOpenDialog({
      canSelectFolders: true,
      canSelectFiles: false,
      defaultUri: home.folder,
      openLabel: vscode.l10n.t('Publish Here'),
    })) ?? [];
  if (!folder) return undefined;
  const to = vscode.Uri.joinPath(folder, `${source.name}.md`);
  if (await isOne(to, document.uri)) {
    void vscode.window.showErrorMessage(vscode.l10n.t('The review itself would be written over: choose another folder.'));
    return undefined;
  }
  const { text, figures } = publishedMarkdown(source);
  const files: Made[] = [];
  const own = `${folderOf(home.place.path)}/`;
  for (const image of wantedBy(source.text).images) {
    const path = referredPath(image, folderOf(home.place.path), home.place.root);
    const bytes = path?.startsWith(own) && mediaTypeOf(path) ? await pictureAt(path, home) : undefined;
    if (bytes && path) files.push({ to: vscode.Uri.joinPath(folder, path.slice(own.length)), bytes });
  }
  for (const [name, svg] of figures) files.push({ to: vscode.Uri.joinPath(folder, name), bytes: new TextEncoder().encode(svg) });
  files.push({ to, bytes: new TextEncoder().encode(text) });
  if (clash(files) || !(await mayReplace(files))) return undefined;
  for (const { to, bytes } of files) {
    await write(to, bytes);
    written.set(to.toString(), bytes);
  }
  return to;
}

interface Made {
  readonly to: vscode.Uri;
  readonly bytes: Uint8Array;
}

/** What publishing has put where, since the workbench was started. */
const written = new Map<string, Uint8Array>();

/** Says so where one file would stand over another: names that part only by their case are one name on many disks. */
function clash(files: readonly Made[]): boolean {
  const found = new Map<string, Made>();
  for (const file of files) {
    const key = file.to.path.normalize('NFC').toLowerCase();
    const other = found.get(key);
    if (other && !isSame(other.bytes, file.bytes)) {
      void vscode.window.showErrorMessage(
        vscode.l10n.t('{0} and {1} would be one file on many disks: give one of them another name.', nameOf(other.to), nameOf(file.to)),
      );
      return true;
    }
    found.set(key, file);
  }
  return false;
}

/** Asks once where files stand already, but for those that are as they would be written, or as they were published before. */
async function mayReplace(files: readonly Made[]): Promise<boolean> {
  const others: string[] = [];
  for (const { to, bytes } of files) {
    if (!(await isThere(to))) continue;
    const there = await vscode.workspace.fs.readFile(to).then(undefined, () => undefined);
    const before = written.get(to.toString());
    if (!there || !(isSame(there, bytes) || (before && isSame(there, before)))) others.push(nameOf(to));
  }
  if (others.length === 0) return true;
  const words =
    others.length === 1
      ? vscode.l10n.t('A file of this name is there already.')
      : vscode.l10n.t('{0} files of these names are there already.', others.length);
  const more = others.length - MOST_NAMED;
  const detail = [...others.slice(0, MOST_NAMED), ...(more > 0 ? [vscode.l10n.t('… and {0} more', more)] : [])].join('\n');
  const replace = vscode.l10n.t('Replace');
  return (await vscode.window.showWarningMessage(words, { modal: true, detail }, replace)) === replace;
}

const isSame = (one: Uint8Array, other: Uint8Array): boolean => one.length === other.length && one.every((byte, i) => byte === other[i]);

async function pictures(images: readonly string[], home: Home): Promise<Assets['images']> {
  const found = new Map<string, string>();
  for (const image of images) {
    const path = referredPath(image, folderOf(home.place.path), home.place.root);
    const type = path === undefined ? undefined : mediaTypeOf(path);
    const bytes = type && path !== undefined ? await pictureAt(path, home) : undefined;
    if (bytes) found.set(image, `data:${type};base64,${base64(bytes)}`);
  }
  return found;
}

async function pictureAt(path: string, { folder }: Home): Promise<Uint8Array | undefined> {
  const read = await bytesIn(folder, folder.with({ path }));
  return read.ok && read.bytes.length <= MOST_PICTURE_BYTES ? read.bytes : undefined;
}

/** Arguments of one call: more than some tens of thousands are refused. */
const PIECE = 0x8000;

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += PIECE) text += String.fromCharCode(...bytes.subarray(at, at + PIECE));
  return btoa(text);
}

/** Pages of other reviews that stand in a folder. */
async function pages(documents: readonly string[], { place }: Home, folder: vscode.Uri): Promise<Assets['documents']> {
  const found = new Map<string, string>();
  for (const document of documents) {
    const path = referredPath(document, folderOf(place.path), place.root);
    const name = path && `${baseOf(path)}.html`;
    if (name && (await isThere(vscode.Uri.joinPath(folder, name)))) found.set(document, encodeURIComponent(name));
  }
  return found;
}

/** Whether two addresses are of one file: on many disks also where they part by case, and then all that is told of them is the same. */
async function isOne(one: vscode.Uri, other: vscode.Uri): Promise<boolean> {
  if (one.toString() === other.toString()) return true;
  if (one.scheme !== other.scheme || one.path.toLowerCase() !== other.path.toLowerCase()) return false;
  const stats = [one, other].map((uri) => vscode.workspace.fs.stat(uri).then(undefined, () => undefined));
  const [first, second] = await Promise.all(stats);
  return !!first && !!second && first.ctime === second.ctime && first.mtime === second.mtime && first.size === second.size;
}

const isThere = (uri: vscode.Uri): Thenable<boolean> =>
  vscode.workspace.fs.stat(uri).then(
    () => true,
    () => false,
  );

const write = (to: vscode.Uri, bytes: Uint8Array): Promise<void> => writeWhole(vscode.workspace.fs, to, bytes);

const nameOf = ({ path }: vscode.Uri): string => path.replace(/^.*\//, '');
