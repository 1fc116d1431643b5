import * as vscode from 'vscode';
import { selectionAt } from '../language/selection';
import { type Documents, LANGUAGE } from './documents';
import { rangeOf } from './translate';

/** What a selection widens to, step by step. */
export const selection = (documents: Documents): vscode.Disposable =>
  vscode.languages.registerSelectionRangeProvider(LANGUAGE, {
    provideSelectionRanges: (document, positions) =>
      positions.map(
        (position) =>
          selectionAt(documents.source(document), document.offsetAt(position)).reduceRight<vscode.SelectionRange | undefined>(
            (wider, span) => new vscode.SelectionRange(rangeOf(document, span), wider),
            undefined,
          )!,
      ),
  });
