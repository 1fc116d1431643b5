import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import { type Documents, LANGUAGE } from '../../editor/documents';
import { pageHtml, pageOptions } from '../../editor/webview';
import type { Panel } from './panel';

export const VIEW = 'nitbook.sheet';

/** The reading sheet: another editor of sessions beside the one for text, over the same text. */
export function sheet({ extensionUri }: vscode.ExtensionContext, documents: Documents, configurations: Configurations): vscode.Disposable {
  const panels = new Set<Panel>();
  /** Where sheets that are about to open are to begin, by document. */
  const places = new Map<string, vscode.Position>();

  const provider: vscode.CustomTextEditorProvider = {
    async resolveCustomTextEditor(document, webviewPanel, token) {
      const { Panel } = await import('./panel');
      if (token.isCancellationRequested) return;
      const { webview } = webviewPanel;
      const panel = new Panel(document, webviewPanel, documents, configurations, places.get(document.uri.toString()));
      places.delete(document.uri.toString());
      panels.add(panel);
      webviewPanel.onDidDispose(() => {
        panels.delete(panel);
        panel.dispose();
      });
      webview.options = pageOptions(extensionUri);
      webview.html = pageHtml(webview, extensionUri, { name: 'sheet', title: vscode.l10n.t('Reading Sheet') });
    },
  };

  const active = (): Panel | undefined => [...panels].find(({ isActive }) => isActive);

  return vscode.Disposable.from(
    vscode.window.registerCustomEditorProvider(VIEW, provider, { supportsMultipleEditorsPerDocument: true }),
    vscode.commands.registerCommand('nitbook.openSheet', async (of?: unknown) => {
      const editor = vscode.window.activeTextEditor;
      const uri = of instanceof vscode.Uri ? of : editor?.document.uri;
      if (!uri) return;
      if (editor?.document.uri.toString() === uri.toString() && editor.document.languageId === LANGUAGE) {
        const { active } = editor.selection;
        // A cursor that nobody has put anywhere means no place: the sheet begins where there is something to take.
        if (active.line > 0 || active.character > 0) {
          places.set(uri.toString(), active);
          for (const panel of panels) if (panel.uri === uri.toString()) panel.reveal(active);
        }
      }
      await vscode.commands.executeCommand('vscode.openWith', uri, VIEW);
      places.delete(uri.toString());
    }),
    vscode.commands.registerCommand('nitbook.openText', async (of?: unknown) => {
      const panel = active();
      const uri = of instanceof vscode.Uri ? of : panel && vscode.Uri.parse(panel.uri, true);
      if (!uri) return;
      const selection = panel?.uri === uri.toString() ? panel.selection : undefined;
      await vscode.window.showTextDocument(uri, selection ? { selection } : {});
    }),
  );
}
