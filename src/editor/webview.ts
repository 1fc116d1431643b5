import * as vscode from 'vscode';

/** A page of the extension: `dist/NAME.js` and `media/NAME.css`, nothing else. */
export interface Page {
  readonly name: string;
  readonly title: string;
}

/** What a page may do: run its script, and read what the extension brings along. */
export const pageOptions = (extension: vscode.Uri): vscode.WebviewOptions => ({
  enableScripts: true,
  localResourceRoots: ['dist', 'media'].map((folder) => vscode.Uri.joinPath(extension, folder)),
});

/**
 * The document of a page: an empty one, which its script fills with what it is told. Nothing of a file is ever in it; what is not named
 * here is not loaded. The workbench sets the theme's colours as `--vscode-*` and its kind as a class of `body`: `vscode-light`,
 * `vscode-dark`, `vscode-high-contrast`, `vscode-high-contrast-light`, `vscode-reduce-motion`.
 */
export function pageHtml(webview: vscode.Webview, extension: vscode.Uri, { name, title }: Page): string {
  const nonce = newNonce();
  const file = (...path: string[]) => attribute(webview.asWebviewUri(vscode.Uri.joinPath(extension, ...path)).toString());
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${webview.cspSource}`,
    `img-src ${webview.cspSource} data:`,
    `font-src ${webview.cspSource}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<!DOCTYPE html>
<html lang="${attribute(vscode.env.language)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${attribute(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${attribute(title)}</title>
<link rel="stylesheet" href="${file('media', `${name}.css`)}">
</head>
<body>
<script nonce="${nonce}" src="${file('dist', `${name}.js`)}"></script>
</body>
</html>`;
}

/** 128 random bits. */
function newNonce(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

const attribute = (text: string): string =>
  text.replace(/[&<>"]/g, (mark) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[mark]!);
