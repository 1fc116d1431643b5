import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../src/figure/layout';
import { svgOf } from '../../src/figure/svg';
import { DARK, LIGHT } from '../../src/figure/theme';
import { analysed, session, table } from '../measure/tools';
import { example, figure } from './tools';

const grey = (title = '') =>
  table(`greyscale grey${title}`, 'level Y x y', [
    [0, '<0.003', '-', '-'],
    [50, 22.74, 0.3127, 0.329],
    [100, 120, 0.31, 0.323],
  ]);

const drawn = (runs: string, ref = '#grey.balance', width = 720) => svgOf(figure(analysed(session(runs)), ref), { width, theme: LIGHT });

describe('a figure as SVG', () => {
  it('is the same text for the same figure and size', () => {
    const one = figure(example('aurora-55'), '#grey.balance');
    const again = figure(example('aurora-55'), '#grey.balance');
    expect(svgOf(one, { width: 640 })).toBe(svgOf(again, { width: 640 }));
    // A page may get it as data.
    expect(svgOf(JSON.parse(JSON.stringify(one)), { width: 640 })).toBe(svgOf(one, { width: 640 }));
    expect(svgOf(one, { width: 641 })).not.toBe(svgOf(one, { width: 640 }));
  });

  it('is a picture with a name and a summary, and has no style that a page could forbid', () => {
    const one = figure(example('aurora-55'), '#grey.balance');
    const svg = svgOf(one, { width: 640 });
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" viewBox="0 0 640 \d+" width="640" height="\d+" role="img" /);
    expect(svg).toContain(`<title>${one.title}</title><desc>${one.summary}</desc>`);
    expect(svg).not.toMatch(/style|class=|<script|href|url\(|\bid=|on[a-z]+=/);
  });

  it('takes its colours from the page it is in, or has those of a theme', () => {
    const one = figure(example('aurora-55'), '#grey.balance');
    const inPage = svgOf(one, { width: 640 });
    expect(inPage).toContain('stroke="var(--nitbook-blue,#0072b2)"');
    expect(inPage.match(/="#[0-9a-f]{6}"/g)).toBeNull();
    const dark = svgOf(one, { width: 640, theme: DARK });
    expect(dark).toContain(`stroke="${DARK.blue}"`);
    expect(dark).not.toContain('var(');
  });

  it('shows hostile texts as texts', () => {
    const svg = drawn(grey(' "</title><script>alert(1)</script> & \\" \u202E"'));
    expect(svg).not.toContain('<script');
    expect(svg).toContain('&lt;/title&gt;&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot; \uFFFD');
    const named = drawn(
      table('patches p', 'patch R G B Y x y', [
        ['"<b onload=x>"', 100, 0, 0, 25, 0.64, 0.33],
        ['white', 100, 100, 100, 120, 0.3127, 0.329],
      ]),
      '#p.de',
    );
    expect(named).toContain('&lt;b onload=x&gt;');
    expect(named).not.toContain('<b');
  });

  it('names each mark and the row that it shows, and the label at the end of each line', () => {
    const svg = drawn(grey());
    expect(svg).toMatch(/<g data-series="grey\/blue"/);
    expect(svg).toMatch(/<g data-mark="grey\/blue\/50" data-row="grey\/row\/1"><title>50 %: Blue 0\.0 % within ·<\/title>/);
    expect(svg).toMatch(/<text [^>]*data-end="grey\/blue">Blue<\/text>/);
    expect(svg.match(/data-mark="/g)!.length).toBe(6);
  });

  it('keeps the name of a mark when lines are put in above or below, and when other rows change', () => {
    const marks = (svg: string) => [...svg.matchAll(/data-mark="([^"]*)"/g)].map(([, id]) => id);
    const before = marks(drawn(grey()));
    const more = grey().replace('    50  22.74', '    25  4.2  0.3127  0.329\n    50  22.74');
    const after = marks(drawn(more));
    expect(after).toEqual(expect.arrayContaining(before));
    expect(after.length).toBe(before.length + 3);
  });

  it('puts a reading where its axes have it', () => {
    const one = figure(analysed(session(grey())), '#grey.balance');
    const { frame, x, y } = layoutOf(one, { width: 720 }).panels[0]!;
    const [from, to] = one.panels[0]!.y.domain;
    // Constructed: half of the frame across, and a neutral grey at 0 of the domain.
    expect(x.at(50)).toBeCloseTo(frame.x + frame.width / 2, 9);
    expect(y.at(0)).toBeCloseTo(frame.y + (frame.height * to) / (to - from), 9);
    const svg = svgOf(one, { width: 720 });
    const [, cx, cy] = /data-mark="grey\/green\/50"[^>]*><title>[^<]*<\/title><circle cx="([\d.]+)" cy="([\d.]+)"/.exec(svg)!;
    const green = one.panels[0]!.marks.flatMap((mark) => (mark.is === 'series' ? mark.points : [])).find(
      ({ id }) => id === 'grey/green/50',
    )!;
    expect(Number(cx)).toBeCloseTo(x.at(50), 2);
    expect(Number(cy)).toBeCloseTo(y.at(green.y), 1);
  });

  it('shows a reading far off at the edge, as an arrow that points to where it lies', () => {
    const svg = drawn(
      table('greyscale grey', 'level Y x y', [
        [5, 0.0953, 0.2, 0.2],
        [50, 22.74, 0.3127, 0.329],
        [100, 120, 0.3127, 0.329],
      ]),
    );
    expect(svg).toMatch(/data-mark="grey\/blue\/5"[^>]*><title>[^<]*<\/title><path d="M[^"]*Z" stroke="none"\/>/);
    expect(svg).toMatch(/data-mark="grey\/blue\/50"[^>]*><title>[^<]*<\/title><circle/);
  });

  it('draws the interval of a figure as a whisker', () => {
    const one = figure(analysed(session(grey())), '#grey.de');
    const panel = one.panels[0]!;
    const withInterval = {
      ...one,
      panels: [
        {
          ...panel,
          marks: panel.marks.map((mark) =>
            mark.is === 'series' ? { ...mark, points: mark.points.map((point) => ({ ...point, ci: [0, 2] as const })) } : mark,
          ),
        },
      ],
    };
    const { y } = layoutOf(withInterval, { width: 720 }).panels[0]!;
    const [, low, high] = /<path d="M[\d.]+ ([\d.]+)V([\d.]+)M/.exec(svgOf(withInterval, { width: 720 }))!;
    expect(Number(low)).toBeCloseTo(y.at(0), 1);
    expect(Number(high)).toBeCloseTo(y.at(2), 1);
  });
});
