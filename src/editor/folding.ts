import * as vscode from 'vscode';
import { foldings } from '../language/folding';
import { type Documents, LANGUAGE } from './documents';

/** Blocks, the tables in them, and comments of several lines. */
export const folding = (documents: Documents): vscode.Disposable =>
  vscode.languages.registerFoldingRangeProvider(LANGUAGE, {
    provideFoldingRanges: (document) =>
      foldings(documents.source(document)).map(
        ({ from, to, is }) => new vscode.FoldingRange(from, to, is === 'comment' ? vscode.FoldingRangeKind.Comment : undefined),
      ),
  });
