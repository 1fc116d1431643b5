import * as vscode from 'vscode';
import { activeSession } from '../../editor/active';
import type { Configurations } from '../../editor/config';
import type { Documents } from '../../editor/documents';
import { pageHtml, pageOptions } from '../../editor/webview';
import { runAt } from '../places';
import { type Place, readPlace } from '../protocol';
import type { Preview } from './preview';

export const VIEW = 'nitbook.preview';

/** Figures beside the text: one preview that follows the cursor, and as many more as have their run kept. */
export function previews(
  { extensionUri }: vscode.ExtensionContext,
  documents: Documents,
  configurations: Configurations,
): vscode.Disposable {
  const open = new Set<Preview>();

  const fill = ({ Preview }: typeof import('./preview'), panel: vscode.WebviewPanel, place: Place): void => {
    const preview = new Preview(panel, place, documents, configurations);
    open.add(preview);
    panel.onDidDispose(() => {
      open.delete(preview);
      preview.dispose();
    });
    panel.iconPath = {
      light: vscode.Uri.joinPath(extensionUri, 'media', 'figures-light.svg'),
      dark: vscode.Uri.joinPath(extensionUri, 'media', 'figures-dark.svg'),
    };
    panel.webview.options = pageOptions(extensionUri);
    panel.webview.html = pageHtml(panel.webview, extensionUri, { name: 'preview', title: vscode.l10n.t('Figures') });
  };

  return vscode.Disposable.from(
    vscode.commands.registerCommand('nitbook.showFigures', async (of?: unknown) => {
      const document = await activeSession(of);
      if (!document) return;
      const code = await import('./preview');
      const following = [...open].find(({ place }) => !place.pinned);
      if (following) return following.reveal(document);
      const panel = vscode.window.createWebviewPanel(
        VIEW,
        vscode.l10n.t('Figures'),
        { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
        { enableFindWidget: true },
      );
      fill(code, panel, placeOf(document, documents));
    }),
    vscode.window.registerWebviewPanelSerializer(VIEW, {
      async deserializeWebviewPanel(panel, kept) {
        const place = readPlace(kept);
        if (place) fill(await import('./preview'), panel, place);
        else panel.dispose();
      },
    }),
    new vscode.Disposable(() => {
      for (const preview of open) preview.dispose();
    }),
  );
}

/** The run of the cursor, nothing beside it. */
function placeOf(document: vscode.TextDocument, documents: Documents): Place {
  const editor = vscode.window.visibleTextEditors.find((each) => each.document === document);
  const run = editor && runAt(documents.source(document), document.offsetAt(editor.selection.active));
  return { v: 1, uri: document.uri.toString(), ...(run === undefined ? {} : { run }), pinned: false, beside: [], zoom: 100 };
}
