import * as vscode from 'vscode';
import { hoverAt } from '../language/hover';
import { settledCurrent } from './current';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { rangeOf, untrusted } from './translate';

/** What is known of the row, property, column or block under the pointer. */
export const hover = (documents: Documents): vscode.Disposable =>
  vscode.languages.registerHoverProvider(LANGUAGE, {
    async provideHover(document, position) {
      const analysis = await settledCurrent(documents, document);
      const found = analysis && hoverAt(analysis, document.offsetAt(position), say);
      return found && new vscode.Hover(untrusted(found.parts.join('\n\n')), rangeOf(document, found.span));
    },
  });
