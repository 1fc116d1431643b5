import * as vscode from 'vscode';
import type { Naming } from '../../editor/navigation';
import { placesIn } from '../../editor/translate';
import { idsIn } from '../../language/reviewIds';
import { decoded, MOST_BYTES } from '../../project/files';
import { mayRefer, readReview } from '../markdown';
import { homeOf, isMarkdown, type Reviews } from './reviews';

/** More Markdown files, or larger ones, are not looked through. */
const MOST_FILES = 5000;
const AT_ONCE = 8;

/** The reviews of the folder that a session is in, open or not, as far as they name a block of it. */
export async function reviewsNaming(session: vscode.Uri, id: string, reviews: Reviews): Promise<readonly Naming[]> {
  const folder = vscode.workspace.getWorkspaceFolder(session);
  if (!folder) return [];
  const files = await vscode.workspace.findFiles(new vscode.RelativePattern(folder, '**/*.md'), '**/node_modules/**', MOST_FILES);
  const open = new Map(vscode.workspace.textDocuments.filter(isMarkdown).map((document) => [document.uri.toString(), document]));
  const found: Naming[] = [];
  for (let i = 0; i < files.length; i += AT_ONCE) {
    const some = await Promise.all(files.slice(i, i + AT_ONCE).map((uri) => idsOf(uri, open.get(uri.toString()), reviews)));
    for (const review of some) {
      if (!review) continue;
      const { uri, places, ids } = review;
      const spans = ids.filter((each) => each.id === id && each.path === session.path).map(({ span }) => span);
      if (spans.length > 0) found.push({ uri, places, spans });
    }
  }
  return found;
}

async function idsOf(uri: vscode.Uri, open: vscode.TextDocument | undefined, reviews: Reviews) {
  const text = open?.getText() ?? (await textOf(uri));
  const home = homeOf(uri);
  if (text === undefined || !home || !mayRefer(text)) return undefined;
  return { uri, places: open ?? placesIn(text), ids: idsIn(open ? reviews.review(open) : readReview(text), home.place) };
}

async function textOf(uri: vscode.Uri): Promise<string | undefined> {
  try {
    if ((await vscode.workspace.fs.stat(uri)).size > MOST_BYTES) return undefined;
    const reading = decoded(await vscode.workspace.fs.readFile(uri));
    // A document of the workbench is without its byte order mark.
    return reading.ok ? reading.text.replace(/^\uFEFF/, '') : undefined;
  } catch {
    // Gone in the meantime, or not ours to read.
    return undefined;
  }
}
