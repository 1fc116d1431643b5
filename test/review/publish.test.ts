import { parseHTML } from 'linkedom';
import { describe, expect, it } from 'vitest';
import { checkReview } from '../../src/review/check';
import { readReview } from '../../src/review/markdown';
import { type Assets, wantedBy } from '../../src/review/publish/document';
import { publishedPage } from '../../src/review/publish/page';
import { publishedMarkdown } from '../../src/review/publish/plain';
import { standingOf } from '../../src/review/publish/stale';
import { mischiefIn } from './mischief';
import { exampleSource, HOSTILE, source } from './showings';

const REVIEW = `---
layout: review
---

# Halden Aurora 55: *bright* enough

The [55-inch](aurora.nitbook#aurora.size) set peaks at [505 nits](aurora.nitbook#hdr-window.peak). Once more: [about 500 nits](aurora.nitbook#hdr-window.peak).

![Balance as shipped](aurora.nitbook#grey.balance)

## Adjusted

| | as shipped | as adjusted |
|---|---|---|
| ΔE 2000 | [2.7](aurora.nitbook#grey.de.avg) | [0.0](aurora.nitbook#grey-tuned.de.avg) |

\`\`\`nitbook
settings aurora.nitbook#cinema-tuned

cautions
\`\`\`

See [the shop](https://shop.invalid/), [the other](meadow.md#adjusted), [what is gone](gone.md) and ![the bench](img/bench%201.jpg).
`;

const ASSETS: Assets = {
  images: new Map([['img/bench 1.jpg', 'data:image/jpeg;base64,AAAA']]),
  documents: new Map([['meadow.md', 'meadow.html']]),
};
const NONE: Assets = { images: new Map(), documents: new Map() };

const page = (text: string, assets = NONE, given: Parameters<typeof source>[1] = {}) => publishedPage(source(text, given), assets);

/** The body of a page without drawings and numbers. */
const bodyOf = (html: string): string =>
  html
    .slice(html.indexOf('<body>'))
    .replace(/<svg[^>]* data-figure="(\w+)"[\s\S]*?<\/svg>/g, '[$1]')
    .replace(/<details[\s\S]*?<\/details>/g, '[numbers]');

/** Its parts in lines of their own, to be read. */
const inLines = (html: string): string => bodyOf(html).replace(/(?<!\n)<(?=(?:tr|tbody|dl|dt|section|table|aside|li)\b)/g, '\n<');

const documentOf = (html: string) => parseHTML(html).document;

describe('A published page', () => {
  const { html, left, tags } = page(REVIEW, ASSETS);

  it('reads as the review does, its figures drawn, its claims led to their sources', async () => {
    await expect(inLines(html)).toMatchFileSnapshot('published/page.txt');
    expect([left, tags]).toEqual([['gone.md'], []]);
  });

  it('is called by its first heading, and is in the language of its folder', () => {
    expect(html).toContain('<title>Halden Aurora 55: bright enough</title>');
    expect(html).toContain('<html lang="en">');
    expect(page('No heading').html).toContain('<title>review</title>');
  });

  it('needs nothing from anywhere: no script, no address but in links, everything within its own policy', () => {
    expect(mischiefIn(html).filter((each) => each !== 'style')).toEqual([]);
    expect(html).toContain(`content="default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"`);
    expect(html.match(/<style>/g)).toHaveLength(1);
    expect(html.replace(/<a href="https:[^"]*"/g, '').replace(/xmlns="[^"]*"/g, '')).not.toMatch(/https?:|url\(|@import/);
  });

  it.each([
    ['the small review', html],
    ['the review of the Aurora', publishedPage(exampleSource('aurora-55'), NONE).html],
    ['the review of the Meadow', publishedPage(exampleSource('meadow-65'), NONE).html],
  ])('has every place once that it leads to: %s', (_, text) => {
    const document = documentOf(text);
    const ids = [...document.querySelectorAll('[id]')].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const targets = [...document.querySelectorAll('a[href^="#"]')].map((link) => link.getAttribute('href')!.slice(1));
    expect(targets.length).toBeGreaterThan(5);
    expect(targets.filter((target) => !ids.includes(target))).toEqual([]);
    const described = [...document.querySelectorAll('[aria-describedby]')].map((each) => each.getAttribute('aria-describedby')!);
    expect(described.filter((target) => !ids.includes(target))).toEqual([]);
  });

  it('draws each figure for a wide and for a narrow page, with its numbers as a table', () => {
    const document = documentOf(html);
    expect([...document.querySelectorAll('figure svg')].map((svg) => svg.getAttribute('width'))).toEqual(['720', '360']);
    expect(document.querySelector('figure figcaption details table')?.querySelectorAll('tr').length).toBeGreaterThan(2);
  });

  it('tells at its end how it was measured, of the runs that it refers to, unless it does so by itself', () => {
    const how = (text: string) => documentOf(page(text).html).querySelector('section[aria-labelledby=nitbook-how]')?.textContent ?? '';
    expect(how('[505 nits](aurora.nitbook#hdr-window.peak)')).toContain('Cinema, as shipped');
    expect(how('[505 nits](aurora.nitbook#hdr-window.peak)')).not.toContain('Cinema, as adjusted');
    expect(how('```nitbook\nsummary aurora.nitbook#session\n```')).toContain('Cinema, as adjusted');
    expect(how('[505 nits](aurora.nitbook#hdr-window.peak)\n\n```nitbook\nmethod aurora.nitbook#hdr-window\n```')).toBe('');
    expect(how('Nothing is measured here.')).toBe('');
  });

  it('shows the same page for the same review', () => {
    expect(page(REVIEW, ASSETS).html).toBe(html);
  });
});

describe('Claims that do not hold', () => {
  const stale = '[600 nits](aurora.nitbook#hdr-window.peak), [1](aurora.nitbook#gray.de.max), [505 nits](aurora.nitbook#hdr-window.peak)';

  it('count before a review is published, with lines of blocks that show nothing; open ones are told', () => {
    const standing = (text: string) => {
      const { showing } = source(text);
      const { stale: count, findings } = standingOf(checkReview(readReview(text), showing.place, showing.sessions));
      return [count, findings.map(({ code }) => code)];
    };
    expect(standing(stale)).toEqual([2, ['claim-wrong', 'link-unknown']]);
    expect(standing('```nitbook\nsetings aurora.nitbook#cinema\n```')).toEqual([1, ['fence-instruction']]);
    expect(standing('[505 nits when warm](aurora.nitbook#hdr-window.peak) and 300 nits')).toEqual([0, ['claim-unclear']]);
    expect(standing('![x](aurora.nitbook#spd.spectrum)')).toEqual([0, ['claim-not-computed']]);
  });

  it('are marked for every reader when they are published all the same', () => {
    const shown = documentOf(page(stale).html).querySelector('p')!;
    for (const hidden of shown.querySelectorAll('[aria-hidden]')) hidden.remove();
    const text = shown.textContent;
    expect(text).toContain('600 nits ▲ does not hold: it is 505 cd/m²');
    expect(text).toContain('1 ▲ its source is not there');
    expect(publishedMarkdown(source(stale)).text).toBe(
      '600 nits **(does not hold: it is 505 cd/m²)**, 1 **(its source is not there)**, 505 nits',
    );
    const broken = '```nitbook\nsetings aurora.nitbook#cinema\n```';
    expect(page(broken).html).toContain('class="nitbook-problem"');
    expect(publishedMarkdown(source(broken)).text).toMatch(/^\*\*"setings" is no instruction: .*\*\*$/);
  });
});

describe('What an author writes beside', () => {
  it('is looked for: pictures and other documents', () => {
    expect(wantedBy(REVIEW)).toEqual({ images: ['img/bench 1.jpg'], documents: ['meadow.md', 'gone.md'] });
    expect(
      wantedBy(
        '![a](/root.png) ![b](https://x.invalid/b.png) ![c](data:image/png;base64,AA) ![d](../up.png) ![e](%ff.png) ![f](a\\\\b.png)',
      ),
    ).toEqual({
      images: ['/root.png', '../up.png'],
      documents: [],
    });
  });

  it('is taken along or stands as text: nothing is fetched', () => {
    const { html, left } = page('![a](https://x.invalid/b.png) ![](gone.png) [c](notes.txt) [d](#adjusted) [e](mailto:a@b.invalid)');
    expect(bodyOf(html)).toContain(
      '<p><a href="https://x.invalid/b.png">a</a> gone.png c <a href="#adjusted">d</a> <a href="mailto:a@b.invalid">e</a></p>',
    );
    expect(left).toEqual(['https://x.invalid/b.png', 'gone.png', 'notes.txt']);
  });

  it.each([
    '[x](javascript:window.ran=1)',
    '[x](<java&#9;script:window.ran=1>)',
    '[x](<java&#10;script:window.ran=1>)',
    '[x](JaVaScRiPt:window.ran=1)',
    '[x](data:text/html,<script>window.ran=1</script>)',
    '[x](vbscript:x)',
    '<javascript:window.ran=1>',
    '[x](//nowhere.invalid/x)',
    '[x](file:///etc/passwd)',
    '![x](javascript:window.ran=1)',
    '![x](data:image/svg+xml,%3Csvg%20onload=1%3E)',
    '<script>window.ran = 1</script>',
    '<img src=x onerror="window.ran = 1">',
    'a <b onclick="window.ran = 1">b</b> <svg/onload=window.ran=1>',
    '<style>*{display:none}</style>',
    '<iframe src="https://nowhere.invalid"></iframe>',
    '<a href="javascript:window.ran=1">x</a>',
    '<!-- --><script>window.ran = 1</script><!-- -->',
    '<!--><script>window.ran = 1</script>-->',
    '<br onload=window.ran=1><br/ onload=x>',
    '# <script>window.ran = 1</script>',
    '```<script>\n<script>window.ran = 1</script>\n```',
    '[505 nits](aurora.nitbook#hdr-window.peak "<script>window.ran = 1</script>")',
    '[<script>window.ran = 1</script> 505 nits](aurora.nitbook#hdr-window.peak)',
    '![<script>window.ran = 1</script>](aurora.nitbook#grey.balance)',
    '| <script>window.ran = 1</script> |\n|---|\n| x |',
  ])('does nothing on a page: %s', (text) => {
    expect(mischiefIn(page(text).html).filter((each) => each !== 'style')).toEqual([]);
  });

  it('may set text with a few tags, and comments stay at home', () => {
    const { html, tags } = page('H<sub>2</sub>O<br>x<sup>2</sup> <!-- not yet --> <div class="wide">y</div>\n\n<!-- a\n\nb -->\n\nz');
    expect(bodyOf(html)).toContain('<p>H<sub>2</sub>O<br>x<sup>2</sup>  &lt;div class=&quot;wide&quot;&gt;y&lt;/div&gt;</p>');
    expect(html).not.toContain('not yet');
    expect(tags).toEqual(['<div class="wide">', '</div>']);
  });

  it('is led to by the words of its headings', () => {
    const ids = (text: string) => [...documentOf(page(text).html).querySelectorAll('article h2')].map(({ id }) => id);
    expect(ids('## The *screen*, in the room\n\n## Ränder & [x](y.md)\n\n## HDR\n\n## HDR\n\n## `code`')).toEqual([
      'the-screen-in-the-room',
      'ränder--x',
      'hdr',
      'hdr-1',
      'code',
    ]);
  });
});

describe('A session full of mischief', () => {
  const files = { '/w/aurora.nitbook': HOSTILE };
  const text =
    '[evil](aurora.nitbook#evil.firmware) [22](aurora.nitbook#grey.white.luminance)\n\n![x](aurora.nitbook#grey.curve)\n\n' +
    '```nitbook\nsettings aurora.nitbook#evil-mode\nsummary aurora.nitbook#session\ncompare aurora.nitbook#session\n```\n';

  it('does nothing on a page', () => {
    const { html } = page(text, NONE, { files });
    expect(mischiefIn(html).filter((each) => each !== 'style')).toEqual([]);
    expect(html).not.toContain('\u202e');
  });

  it('does nothing in Markdown, and its figures are pictures', () => {
    const { text: markdown, figures } = publishedMarkdown(source(text, { files }));
    const rendered = page(markdown).html;
    expect(mischiefIn(rendered).filter((each) => each !== 'style')).toEqual([]);
    expect([...figures.keys()]).toEqual(['review-grey.curve.svg']);
    for (const svg of figures.values()) expect(mischiefIn(svg)).toEqual([]);
  });
});

describe('Published Markdown', () => {
  it('is the review letter by letter but for what refers to sessions', async () => {
    const { text, figures } = publishedMarkdown(source(REVIEW));
    await expect(text).toMatchFileSnapshot('published/review.md');
    expect([...figures.keys()]).toEqual(['review-grey.balance.svg']);
    expect([...figures.values()][0]).toContain('fill="#ffffff"');
  });

  it('keeps line ends, quotations, nested links and references by label', () => {
    const of = (review: string) => publishedMarkdown(source(review)).text;
    expect(of('\uFEFFa [505 nits](aurora.nitbook#hdr-window.peak)\r\n\r\n> ```nitbook\r\n> cautions\r\n> ```\r\nb')).toMatch(
      /^\uFEFFa 505 nits\r\n\r\n> \*\*Care\*\*\r\n>\r\n> - Test patterns .*\r\n(?:> - .*\r\n){3}b$/,
    );
    expect(
      of('[**505** nits][pk] and [505 nits]\n\n[pk]: aurora.nitbook#hdr-window.peak\n[505 nits]: aurora.nitbook#hdr-window.peak'),
    ).toMatch(/^\*\*505\*\* nits and 505 nits\n/);
    expect(of('[![B](aurora.nitbook#grey.balance) 505](aurora.nitbook#hdr-window.peak)')).toBe('![B](review-grey.balance.svg) 505');
    expect(of('Nothing `[505](aurora.nitbook#hdr-window.peak)` here')).toBe('Nothing `[505](aurora.nitbook#hdr-window.peak)` here');
  });

  it('names each figure once', () => {
    const { text, figures } = publishedMarkdown(
      source('![a](aurora.nitbook#grey.balance) ![b](aurora.nitbook#grey.balance) ![c](meadow.nitbook#grey.balance)'),
    );
    expect(text).toBe('![a](review-grey.balance.svg) ![b](review-grey.balance.svg) ![c](review-grey.balance-2.svg)');
    expect([...figures.keys()]).toEqual(['review-grey.balance.svg', 'review-grey.balance-2.svg']);
  });
});
