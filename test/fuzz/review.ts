import assert from 'node:assert/strict';
import { checkReview } from '../../src/review/check';
import { readReview } from '../../src/review/markdown';
import { publishedPage } from '../../src/review/publish/page';
import { publishedMarkdown } from '../../src/review/publish/plain';
import { sentence } from '../../src/text/finding';
import { applyEdits, type Span } from '../../src/text/span';
import { mischiefIn } from '../review/mischief';
import { source } from '../review/showings';
import { examples } from '../session/sessions';
import type { Step } from './targets';

const [AURORA, , , MEADOW] = examples;

/** A review, of the examples or of a hostile session: read, held against it, and published. */
export function checkReviewed({ text, session }: { readonly text: string; readonly session: string | undefined }, step: Step): void {
  const files = { '/w/aurora-55.nitbook': session ?? AURORA!, '/w/meadow-65.nitbook': MEADOW! };
  const given = source(text, { files });
  const { place, sessions } = given.showing;
  const review = step('read a review', () => readReview(text));
  for (const { span, targetSpan, labelSpan } of review.mentions) for (const each of [span, targetSpan, labelSpan]) checkSpan(each, text);
  const { checked, findings } = step('check a review', () => checkReview(review, place, sessions));
  assert.equal(checked.length, review.mentions.length);
  let last = 0;
  for (const finding of findings) {
    checkSpan(finding.span, text);
    assert.ok(finding.span[0] >= last, 'findings are in order');
    last = finding.span[0];
    assert.doesNotMatch(sentence(finding), /undefined|NaN|\[object/);
    for (const mend of finding.mends) applyEdits(text, mend.edits);
  }
  const page = step('publish a page', () => publishedPage(given, { images: new Map(), documents: new Map() }));
  assert.deepEqual(mischiefIn(page.html), []);
  step('publish Markdown', () => publishedMarkdown(given));
}

const checkSpan = ([start, end]: Span, text: string): void => assert.ok(0 <= start && start <= end && end <= text.length);
