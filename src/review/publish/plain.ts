import type { Figure } from '../../figure/figure';
import { figureFor } from '../../figure/figures';
import { svgOf } from '../../figure/svg';
import { LIGHT } from '../../figure/theme';
import { escaped } from '../../report/markdown';
import { fill } from '../../text/message';
import { applyEdits, type TextEdit } from '../../text/span';
import { type Checked, checkReview } from '../check';
import { WIDE } from '../fences/htmlForm';
import { readFence } from '../fences/language';
import { partMarkdown } from '../fences/markdownForm';
import type { Manner } from '../fences/parts';
import { readReview } from '../markdown';
import type { Mention } from '../mention';
import { notationOf } from '../notation';
import { type Showing, type Shown, shownOf } from '../shown';
import { staleText } from './evidence';
import type { Source } from './page';

/** A review as plain Markdown, with the files of the figures that it shows by their names. */
export interface PlainReview {
  readonly text: string;
  readonly figures: ReadonlyMap<string, string>;
}

/**
 * A review as plain Markdown: claims without their links, images as files, fenced blocks as tables. All else stays as it is written, letter
 * by letter.
 */
export function publishedMarkdown({ text, name, showing }: Source): PlainReview {
  const whole: Showing = { ...showing, say: fill };
  const review = readReview(text);
  const { checked } = checkReview(review, showing.place, showing.sessions);
  const figures = new Figures(name);
  const manner: Manner = { say: fill, notation: notationOf(showing.place.config.language) };
  const edits = checked.flatMap((each) => {
    if (!isInPlace(each.mention, text)) return [];
    return each.mention.is === 'image' ? imageEdits(each, figures) : claimEdits(each, manner);
  });
  let isCautioned = false;
  const end = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
  for (const { content, span, inside } of review.fences) {
    const shown = shownOf(content, whole, isCautioned).map((each) => shownMarkdown(each, figures));
    const lines = shown.join('\n\n').split('\n');
    edits.push({ span, text: lines.map((line) => (inside + line).trimEnd()).join(end) });
    isCautioned ||= readFence(content).groups.some(([{ instruction }]) => instruction === 'cautions');
  }
  return { text: applyEdits(text, disjoint(edits)), figures: figures.files };
}

/** Whether a link or an image stands where its span says: in some cells of tables it cannot be told, and the link stays. */
const isInPlace = ({ is, span, labelSpan }: Mention, text: string): boolean =>
  text.startsWith(is === 'image' ? '![' : '[', span[0]) && labelSpan[0] > span[0] && labelSpan[1] < span[1] && is !== 'instruction';

/** In order, without those that lie in another. */
function disjoint(edits: readonly TextEdit[]): readonly TextEdit[] {
  const sorted = [...edits].sort((a, b) => a.span[0] - b.span[0] || b.span[1] - a.span[1]);
  let end = 0;
  return sorted.filter(({ span }) => {
    const isFree = span[0] >= end;
    if (isFree) end = span[1];
    return isFree;
  });
}

/** The files of figures, each under a name of its own. */
class Figures {
  readonly files = new Map<string, string>();

  constructor(private readonly review: string) {}

  /** @returns the address of its file, beside the review */
  add(figure: Figure): string {
    const svg = svgOf(figure, { width: WIDE, theme: LIGHT });
    const name = `${this.review}-${figure.runs.join('-').replaceAll('/', '-')}.${figure.id}`;
    let file = `${name}.svg`;
    for (let n = 2; this.files.has(file) && this.files.get(file) !== svg; n++) file = `${name}-${n}.svg`;
    this.files.set(file, svg);
    return encodeURIComponent(file);
  }
}

/** The words of a link stay, with whatever marks they have. */
function claimEdits(checked: Checked, manner: Manner): TextEdit[] {
  const { span, labelSpan } = checked.mention;
  const stale = staleText(checked, manner);
  return [
    { span: [span[0], labelSpan[0]], text: '' },
    { span: [labelSpan[1], span[1]], text: stale === '' ? '' : ` **(${escaped(stale)})**` },
  ];
}

function imageEdits({ mention, analysis, reference, status }: Checked, figures: Figures): TextEdit[] {
  const reading = status === 'pointing' && analysis && reference ? figureFor(analysis, reference) : undefined;
  const { span, label } = mention;
  return [{ span, text: reading?.ok ? `![${label.text}](${figures.add(reading.figure)})` : label.text }];
}

function shownMarkdown(shown: Shown, figures: Figures): string {
  switch (shown.is) {
    case 'part':
      return partMarkdown(shown.part, ({ figure }) => figures.add(figure));
    case 'problem':
      return `**${escaped(shown.sentence)}**`;
    case 'pending':
      return '';
  }
}
