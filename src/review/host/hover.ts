import * as vscode from 'vscode';
import { inSlices, PATIENCE_MS, within } from '../../editor/intervals';
import { say } from '../../editor/l10n';
import { rangeOf, untrusted } from '../../editor/translate';
import { hoverInReview, referenceAt, runOf } from '../../language/reviewHover';
import { intervals } from '../../project/analysis';
import { MARKDOWN, type Reviews } from './reviews';

/** What a claim is held against: the figure as it is now, its limits, and what it is against. */
export const hover = (reviews: Reviews): vscode.Disposable =>
  vscode.languages.registerHoverProvider(MARKDOWN, {
    async provideHover(document, position) {
      const { version } = document;
      const checked = await reviews.checked(document);
      if (!checked) return undefined;
      const offset = document.offsetAt(position);
      const at = referenceAt(checked, offset);
      const result = at && runOf(at);
      if (result)
        await within(
          inSlices(intervals({ results: [result] }), () => document.version === version),
          PATIENCE_MS,
        );
      const found = document.version === version ? hoverInReview(checked, offset, say) : undefined;
      return found && new vscode.Hover(untrusted(found.parts.join('\n\n')), rangeOf(document, found.span));
    },
  });
