import Markdown, { type MarkdownIt } from 'markdown-it';
import { describe, expect, it } from 'vitest';
import { type PluginOptions, showReferences } from '../../src/review/plugin';
import { mischiefIn } from './mischief';
import { HOSTILE, showing } from './showings';

const reader = (options: Partial<PluginOptions> = {}, given: Parameters<typeof showing>[0] = {}): MarkdownIt =>
  showReferences(new Markdown({ html: true }), { showing: () => showing(given), ...options });

/** Without the marks of drawings. */
const plain = (page: string): string => page.replace(/<svg[^>]* data-figure="(\w+)"[\s\S]*?<\/svg>/g, '[$1]');

const rendered = (text: string, given: Parameters<typeof showing>[0] = {}): string => plain(reader({}, given).render(text)).trim();

const DRAWN = '<span class="nitbook-wide">[balance]</span><span class="nitbook-narrow">[balance]</span>';

describe('A claim in a document that is shown', () => {
  it.each([
    ['505 nits', 'hdr-window.peak', 'holds', 'Peak of hdr-window is 505 cd/m².'],
    ['**505** nits', 'hdr-window.peak', 'holds', 'Peak of hdr-window is 505 cd/m².'],
    ['600 nits', 'hdr-window.peak', 'wrong', '"600 nits" does not hold: Peak of hdr-window is 505 cd/m².'],
    ['peaks', 'hdr-window.peak', 'pointing', 'There is no number here to hold against Peak of hdr-window, which is 505 cd/m².'],
    ['505 nits', 'hdr-window.peaks', 'broken', 'A window run has no measure "peaks". Perhaps peak?'],
    ['2.14.8', 'aurora.firmware', 'holds', 'firmware of aurora is 2.14.8.'],
    ['105.5 %', 'grey.balance', 'holds', 'Balance of grey is 105.5 % (beyond ▲; limit 100 ±5 %, aim 100 ±2 %).'],
  ])('%s of %s: %s, with words', (text, of, status, words) => {
    const [, classes, title] = /<a href="[^"]*" class="([^"]*)" title="([^"]*)">/.exec(rendered(`[${text}](aurora.nitbook#${of})`))!;
    expect(classes).toBe(`nitbook-claim nitbook-${status}`);
    expect(title!.replaceAll('&quot;', '"')).toBe(words);
  });

  it('is pending while its session is to be read', () => {
    expect(rendered('[505 nits](aurora.nitbook#hdr-window.peak)', { unread: ['/w/aurora.nitbook'] })).toContain(
      'class="nitbook-claim nitbook-pending" title="aurora.nitbook is being read"',
    );
  });

  it('keeps a title of its own, and other links are left alone', () => {
    expect(rendered('[505 nits](aurora.nitbook#hdr-window.peak "In the dark")')).toContain(
      'title="In the dark\nPeak of hdr-window is 505 cd/m²."',
    );
    const others = '[a](x.md#y) <https://nowhere.invalid/a.nitbook#b> [b](#c "d")';
    expect(rendered(others)).toBe(new Markdown({ html: true }).render(others).trim());
  });

  it('is rendered again from the same tokens as it was, as previews keep them', () => {
    const md = reader();
    const tokens = md.parse('[505 nits](aurora.nitbook#hdr-window.peak)', {});
    const first = md.renderer.render(tokens, md.options, {});
    expect(md.renderer.render(tokens, md.options, {})).toBe(first);
  });
});

describe('The rules of others', () => {
  it('are kept: those there before, and those put round later', () => {
    const md = new Markdown();
    const before: string[] = [];
    md.renderer.rules.link_open = (tokens, i, options, _, self) => {
      before.push(String(tokens[i]!.attrGet('href')));
      return self.renderToken(tokens, i, options);
    };
    showReferences(md, { showing: () => showing() });
    const inner = md.renderer.rules.link_open!;
    md.renderer.rules.link_open = (tokens, i, options, env, self) => {
      tokens[i]!.attrSet('data-href', String(tokens[i]!.attrGet('href')));
      return inner(tokens, i, options, env, self);
    };
    // As the preview of VS Code marks what it scrolls by.
    md.core.ruler.push('lines', ({ tokens }) => {
      for (const token of tokens) if (token.map && token.type !== 'inline') token.attrSet('data-line', String(token.map[0]));
    });
    const page = plain(
      md.render('[505](aurora.nitbook#hdr-window.peak) [b](c.md)\n\n![x](aurora.nitbook#grey.balance)\n\n```nitbook\ncautions\n```\n'),
    );
    expect(before).toEqual(['aurora.nitbook#hdr-window.peak', 'c.md']);
    expect(page).toContain('data-href="c.md"');
    expect(page).toContain('data-href="aurora.nitbook#hdr-window.peak"');
    expect([...page.matchAll(/<(figure|div)(?= [^>]*class="nitbook)[^>]* data-line="(\d+)"/g)].map(([, tag, line]) => [tag, line])).toEqual(
      [
        ['figure', '2'],
        ['div', '4'],
      ],
    );
  });

  it('show a document of which nothing is known as it is', () => {
    const text = '[505](aurora.nitbook#hdr-window.peak)\n\n```nitbook\ncautions\n```\n';
    expect(reader({ showing: () => undefined }).render(text)).toBe(new Markdown().render(text));
    expect(reader({ showing: () => undefined }).render('![x & y](aurora.nitbook#grey.balance)')).toContain('>x &amp; y<');
  });
});

describe('A figure in a document that is shown', () => {
  const image = '![Balance](aurora.nitbook#grey.balance)';

  it('stands by itself where it is all of its paragraph, with its alternative text as caption', () => {
    expect(rendered(`a\n\n${image}\n\nb`)).toBe(
      `<p>a</p>\n<figure class="nitbook-figure">${DRAWN}<figcaption>Balance</figcaption></figure>\n<p>b</p>`,
    );
    expect(rendered('![](aurora.nitbook#grey.balance)')).toBe(`<figure class="nitbook-figure">${DRAWN}</figure>`);
  });

  it('stands in a line, in a list, in a cell and in a link', () => {
    const inline = `<span class="nitbook-figure">${DRAWN}</span>`;
    expect(rendered(`see ${image}`)).toBe(`<p>see ${inline}</p>`);
    expect(rendered(`- ${image}`)).toBe(`<ul>\n<li>${inline}</li>\n</ul>`);
    expect(rendered(`|a|\n|---|\n|${image}|`)).toContain(`<td>${inline}</td>`);
    expect(rendered(`[${image}](x.md)`)).toBe(`<p><a href="x.md">${inline}</a></p>`);
  });

  it('that cannot be drawn says why, and one to be read keeps its place', () => {
    expect(rendered('![Spectrum](aurora.nitbook#spd.spectrum)')).toBe(
      '<figure class="nitbook-figure"><span class="nitbook-problem"><code>Spectrum</code> The figure &quot;spectrum&quot; of &quot;spd&quot; is not computed: there is no complete row for it.</span></figure>',
    );
    const pending = rendered(image, { unread: ['/w/aurora.nitbook'] });
    expect(pending).toMatch(
      /<svg class="nitbook-pending" viewBox="0 0 720 430" width="720" height="430" role="img"><title>aurora\.nitbook is being read/,
    );
    expect(pending.match(/<svg/g)).toHaveLength(2);
  });

  it('of the built-in preview takes no size, style or script from anywhere but itself', () => {
    const page = reader().render(`${image}\n\n\`\`\`nitbook\nsettings aurora.nitbook#cinema\nmethod aurora.nitbook#grey\ncautions\n\`\`\``);
    expect(page).not.toMatch(/<(?:script|style|link|iframe|foreignObject)|\sstyle=|\son\w+=|url\(|href=/i);
    expect(page).toContain('fill="var(--nitbook-text,#1f2328)"');
  });
});

describe('A fenced block in a document that is shown', () => {
  it('shows the cautions where they come first', () => {
    const page = rendered('```nitbook\ncautions\n```\n\n> ```nitbook\n> cautions\n> settings aurora.nitbook#cinema\n> ```\n');
    expect(page.match(/nitbook-care/g)).toHaveLength(1);
    expect(page).toContain('<blockquote>\n<div class="nitbook"><div class="nitbook-scroll"');
  });

  it('of a session text, and of another language, is code', () => {
    const text = '```nitbook\nsession 2026-03-14\n```\n\n```js\ncautions\n```\n';
    expect(rendered(text)).toBe(new Markdown().render(text).trim());
  });

  it('tells what is mistaken in the place of its line', () => {
    expect(rendered('```nitbook\nsetings <b>.nitbook#x\n```')).toBe(
      '<div class="nitbook"><p><span class="nitbook-problem"><code>setings &lt;b&gt;.nitbook#x</code> ' +
        '&quot;setings&quot; is no instruction: there is settings, summary, compare, figure, method, cautions. Perhaps settings?</span></p>' +
        '<p><span class="nitbook-problem"><code>setings &lt;b&gt;.nitbook#x</code> &quot;&lt;&quot; cannot stand here as it is: write %3C.</span></p></div>',
    );
  });
});

describe('A session full of mischief', () => {
  const files = { '/w/aurora.nitbook': HOSTILE };
  const text = [
    '[x](aurora.nitbook#evil.firmware) [1](aurora.nitbook#grey.de.max) [2](aurora.nitbook#evil-mode.input)',
    '![<b>](aurora.nitbook#grey.curve)',
    '```nitbook\nsettings aurora.nitbook#evil-mode\nsummary aurora.nitbook#session\nmethod aurora.nitbook#session\ncompare aurora.nitbook#session\n```',
  ].join('\n\n');

  it('would be noticed', () => {
    expect(mischiefIn('<p onclick="x">a<script>1</script><img src="https://x"><a href="javascript:x">b</a></p>')).toEqual([
      'p onclick',
      'script',
      'img src=https://x',
      'a href=javascript:x',
    ]);
  });

  it('is text, wherever it is shown', () => {
    const page = reader({}, { files }).render(text);
    expect(mischiefIn(page)).toEqual([]);
    expect(page).not.toContain('\u202e');
    expect(page).toContain('&lt;script&gt;window.ran = 4&lt;/script&gt;');
  });
});
