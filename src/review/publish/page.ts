import { fill } from '../../text/message';
import { type CheckedReview, checkReview } from '../check';
import { readFence } from '../fences/language';
import { html } from '../html';
import { readReview } from '../markdown';
import { notationOf } from '../notation';
import { showReferences } from '../plugin';
import type { Showing } from '../shown';
import { type Assets, newReading, plainText, publisher, withoutFrontMatter } from './document';
import { Evidence } from './evidence';
import { STYLE } from './style';

/** A review that is to be published. */
export interface Source {
  readonly text: string;
  /** Its file without the ending. */
  readonly name: string;
  readonly showing: Omit<Showing, 'say'>;
}

export interface Page {
  readonly html: string;
  /** Tags of HTML that are shown as text. */
  readonly tags: readonly string[];
  /** Paths and addresses of images and links that the page could not take with it. */
  readonly left: readonly string[];
}

/**
 * A review as one page that needs nothing else: figures drawn in it, its style in its head, no script. What it says is in English beside the
 * author's own words, whatever the language of the workbench.
 */
export function publishedPage({ text, name, showing }: Source, assets: Assets): Page {
  const whole: Showing = { ...showing, say: fill };
  const evidence = new Evidence({ say: fill, notation: notationOf(showing.place.config.language) });
  const md = showReferences(publisher(assets), {
    showing: () => whole,
    around: (told) => evidence.around(told, told.checked.mention.label.text),
    numbers: 'The numbers of this figure',
  });
  const reading = newReading();
  const tokens = md.parse(withoutFrontMatter(text), reading);
  const heading = tokens.findIndex(({ type, tag }) => type === 'heading_open' && tag === 'h1');
  const title = (heading < 0 ? '' : plainText(tokens[heading + 1]!).trim()) || name;
  const body = md.renderer.render(tokens, md.options, reading);
  const checked = checkReview(readReview(text), showing.place, showing.sessions);
  const end = evidence.html(checked.checked, methodsIn(checked));
  const language = showing.place.config.language;
  const page = `<!doctype html>
<html lang="${html(language)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${html(title)}</title>
<style>
${STYLE}</style>
</head>
<body>
<main>
<article>
${body}</article>
${end}
</main>
</body>
</html>
`;
  return { html: page, tags: [...reading.tags], left: [...reading.left] };
}

/** The sessions whose method a review tells by itself. */
function methodsIn({ review, checked }: CheckedReview): ReadonlySet<string> {
  const byPlace = new Map(checked.map((each) => [each.mention.targetSpan[0], each.path]));
  return new Set(
    review.fences.flatMap(({ content, starts }) =>
      readFence(content)
        .groups.flat()
        .filter(({ instruction }) => instruction === 'method')
        .flatMap(({ line, target }) => byPlace.get(starts[line]! + target!.span[0]) ?? []),
    ),
  );
}
