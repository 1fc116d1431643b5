import * as vscode from 'vscode';
import { formatEdits } from '../session/layout';
import { type Documents, LANGUAGE } from './documents';
import { textEditsOf } from './translate';

/** Lays out a line once Enter has left it; the new line is left to whoever types in it. */
export const onType = (documents: Documents): vscode.Disposable =>
  vscode.languages.registerOnTypeFormattingEditProvider(
    LANGUAGE,
    {
      provideOnTypeFormattingEdits: (document, { line }) =>
        line === 0 ? [] : textEditsOf(document, formatEdits(documents.source(document), line - 1, line)),
    },
    '\n',
  );
