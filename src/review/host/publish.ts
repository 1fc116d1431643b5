import * as vscode from 'vscode';
import { NO_CONFIG } from '../../config/config';
import type { Configurations } from '../../editor/config';
import { inSlices } from '../../editor/intervals';
import { writeWhole } from '../../editor/whole';
import { intervals } from '../../project/analysis';
import { folderOf, referredPath } from '../../project/paths';
import { checkReview, sessionsOf } from '../check';
import { type Assets, wantedBy } from '../publish/document';
import { baseOf, MOST_PICTURE_BYTES, mediaTypeOf } from '../publish/files';
import { publishedPage, type Source } from '../publish/page';
import { publishedMarkdown } from '../publish/plain';
import { standingOf } from '../publish/stale';
import { referredRuns } from '../referred';
import { type Home, homeOf, isMarkdown, type Reviews } from './reviews';
import { bytesIn, type ReviewSessions } from './sessions';

interface Known {
  readonly reviews: Reviews;
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
  const source = await sourceOf(document, home, known);
  const check = () => checkReview(known.reviews.review(document), source.showing.place, source.showing.sessions);
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

async function sourceOf(
  document: vscode.TextDocument,
  { folder, place }: Home,
  { reviews, sessions, configurations }: Known,
): Promise<Source> {
  const sources = sessions.in(folder);
  const paths = sessionsOf(reviews.review(document), place);
  const read = new Map(await Promise.all(paths.map(async (path) => [path, await sources.session(path)] as const)));
  return {
    text: document.getText(),
    name: baseOf(document.uri.path),
    showing: {
      place: { ...place, config: (await configurations.of(document.uri)) ?? NO_CONFIG },
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
  if (to.toString() === document.uri.toString()) {
    void vscode.window.showErrorMessage(vscode.l10n.t('The review itself would be written over: choose another folder.'));
    return undefined;
  }
  const { text, figures } = publishedMarkdown(source);
  const own = `${folderOf(home.place.path)}/`;
  for (const image of wantedBy(source.text).images) {
    const path = referredPath(image, folderOf(home.place.path), home.place.root);
    const bytes = path?.startsWith(own) && mediaTypeOf(path) ? await pictureAt(path, home) : undefined;
    if (bytes && path) await write(vscode.Uri.joinPath(folder, path.slice(own.length)), bytes);
  }
  for (const [name, svg] of figures) await write(vscode.Uri.joinPath(folder, name), new TextEncoder().encode(svg));
  await write(to, new TextEncoder().encode(text));
  return to;
}

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

const isThere = (uri: vscode.Uri): Thenable<boolean> =>
  vscode.workspace.fs.stat(uri).then(
    () => true,
    () => false,
  );

const write = (to: vscode.Uri, bytes: Uint8Array): Promise<void> => writeWhole(vscode.workspace.fs, to, bytes);

const nameOf = ({ path }: vscode.Uri): string => path.replace(/^.*\//, '');
