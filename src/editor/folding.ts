import * as vscode from 'vscode';
import { type Documents, LANGUAGE } from './documents';

/** Blocks and the tables in them fold, and their heads and column lines stay in sight above a long table. */
export function folding(documents: Documents): vscode.Disposable {
  return vscode.languages.registerFoldingRangeProvider(LANGUAGE, {
    provideFoldingRanges(document) {
      const { blocks, blockStarts } = documents.source(document);
      return blocks.flatMap((block, b) => {
        if (!block.header) return [];
        const start = blockStarts[b]!;
        const last = start + block.lines.findLastIndex(({ kind }) => kind !== 'blank');
        const columns = start + block.lines.findIndex(({ kind }) => kind === 'columns');
        const heads = columns < start ? [start] : [start, columns];
        return heads.filter((head) => head < last).map((head) => new vscode.FoldingRange(head, last));
      });
    },
  });
}
