import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { isMeasured } from '../../src/measure/specs';
import type { Value } from '../../src/measure/value';
import { type Analysis, analyse } from '../../src/project/analysis';
import { type Checked, type CheckedReview, checkReview } from '../../src/review/check';
import { readReview } from '../../src/review/markdown';
import { CellKind, cellKind, cellSpan } from '../../src/session/line';
import { SessionText } from '../../src/session/sessionText';
import { tableOf } from '../../src/session/table';
import { shifted, type TextEdit } from '../../src/text/span';

const NAMES = ['aurora-55', 'meadow-65'] as const;
type Name = (typeof NAMES)[number];
type Analyses = Readonly<Record<Name, Analysis>>;

const texts = NAMES.map((name) => readFileSync(`examples/${name}.md`, 'utf8'));
const original = Object.fromEntries(
  NAMES.map((name) => [name, analyse(SessionText.read(readFileSync(`examples/${name}.nitbook`, 'utf8')), NO_CONFIG)]),
) as Record<Name, Analysis>;
const documents = texts.map(readReview);

const checkedAgainst = (analyses: Analyses): readonly CheckedReview[] =>
  documents.map((review, i) =>
    checkReview(
      review,
      { path: `/w/${NAMES[i]}.md`, root: '/w', config: NO_CONFIG },
      {
        session(path) {
          const name = NAMES.find((each) => path === `/w/${each}.nitbook`);
          return name && { ok: true, analysis: analyses[name] };
        },
        paths: [],
      },
    ),
  );

/** The claims of figures in both reviews; what a link says of a property hangs on no reading. */
const figureClaims = (analyses: Analyses): readonly Checked[] =>
  checkedAgainst(analyses).flatMap(({ checked }) => checked.filter(({ mention, property }) => mention.is === 'link' && !property));

describe.each(NAMES.map((name, i) => [name, i] as const))('the review of %s', (_, i) => {
  const { checked, findings, review } = checkedAgainst(original)[i]!;
  const claims = checked.filter(({ mention }) => mention.is === 'link');

  it('claims nothing that does not hold, and leaves no figure without a link', () => {
    expect(findings).toEqual([]);
    expect(claims.map(({ status }) => status)).toEqual(claims.map(() => 'holds'));
    expect(checked.filter(({ mention }) => mention.is === 'image').length).toBeGreaterThan(1);
  });

  it('claims more than 25 measures', () => {
    const measures = new Set(
      claims.flatMap(({ analysis, reference, figure }) =>
        figure ? [`${analysis!.session.byName.get(reference!.ids[0]!)!.keyword}.${reference!.measure}`] : [],
      ),
    );
    expect(measures.size).toBeGreaterThan(25);
  });

  it('cites every kind of run of its display, and the other display', () => {
    const own = original[NAMES[i]!];
    const cited = new Set(
      claims.flatMap(({ analysis, reference }) => (analysis === own ? [own.session.byName.get(reference!.ids[0]!)!.keyword] : [])),
    );
    const kinds = new Set(own.session.runs.map(({ kind }) => kind).filter(isMeasured));
    expect([...kinds].filter((kind) => !cited.has(kind))).toEqual([]);
    expect(claims.filter(({ analysis }) => analysis !== own).length).toBeGreaterThan(5);
  });

  it('has as many references as its text has', () => {
    expect(review.mentions).toHaveLength(texts[i]!.match(/\.nitbook#/g)!.length);
  });
});

/**
 * Whether a figure supports the text of a link, worked out by hand for the words that these reviews use: at most half of the last digit away;
 * a comparison by its word; per cent of a share in hundredths; the dark side as a number below 0.
 */
function supports(text: string, unit: string, value: Value): boolean {
  if (!value.ok) return false;
  const plain = text.replace(/L\*/, '').replace(/,(?=\d{3})/, '');
  const [written, decimals = ''] = /\d+(?:\.(\d+))?/.exec(plain)!;
  const share = plain.includes('%') && unit === '' ? 100 : 1;
  const isDark = /dark/.test(plain);
  const [v, n] = [(isDark ? -1 : 1) * value.v * share, (/−/.test(plain) ? -1 : 1) * Number(written)];
  const half = 0.5 / 10 ** decimals.length;
  const known = value.ci ?? value.ends ?? [value.v, value.v];
  const [low, high] = [
    value.bound === 'at-most' ? Number.NEGATIVE_INFINITY : known[0],
    value.bound === 'at-least' ? Number.POSITIVE_INFINITY : known[1],
  ].map((end) => end * share) as [number, number];
  if (/\bover\b/.test(plain)) return low > n;
  if (/\b(?:under|less than)\b/.test(plain)) return high < n;
  if (/at least/.test(plain)) return low >= n - half;
  if (/at most/.test(plain)) return high <= n + half;
  if (value.bound) return false;
  if (/about/.test(plain)) return Math.abs(v - n) <= Math.max(half, n / 20);
  return Math.abs(v - n) <= half + 1e-9 * n && (!/cool/.test(plain) || v > 6504);
}

interface Alteration {
  readonly block: string;
  readonly edits: readonly TextEdit[];
}

/** Each reading, of a run or of a correction, with its numbers made `times` as large; keys of rows are none. */
function alterations(name: Name, times: number): Alteration[] {
  const { source, session } = original[name];
  const blocks = [...session.runs.map(({ block }) => block), ...session.all('correction')];
  return blocks.flatMap((block) => {
    const start = source.blockStarts[source.blocks.indexOf(block)]!;
    const { rows, lines, columns } = tableOf(block);
    const read = [...columns.values()].filter(({ name: column }) => !block.spec!.table!.keys.includes(column));
    return rows.map((row, i) => ({
      block: block.name,
      edits: read.flatMap(({ cell }): TextEdit[] => {
        const kind = cellKind(row, cell);
        if (kind !== CellKind.Number && kind !== CellKind.Below) return [];
        const number = String(Number((row.values[cell]! * times).toPrecision(5)));
        return [
          {
            span: shifted(cellSpan(row, cell), source.lineStart(start + lines[i]!)),
            text: kind === CellKind.Below ? `<${number}` : number,
          },
        ];
      }),
    }));
  });
}

describe('a reading that is altered', () => {
  const before = figureClaims(original);
  const valueNow = ({ analysis, reference }: Checked): Value =>
    analysis!.results.find(({ run }) => run.id === reference!.ids[0])!.value(reference!.measure, reference!.keys);

  /** What the claims are after an alteration, and which of them are not told as they stand. */
  function altered(name: Name, edits: readonly TextEdit[]) {
    const analysis = analyse(original[name].source.change(edits), NO_CONFIG);
    const claims = figureClaims({ ...original, [name]: analysis });
    const mistold = claims.flatMap((claim, i) => {
      const { text } = claim.mention.label;
      const value = valueNow(claim);
      const isHeld = supports(text, before[i]!.figure!.spec.unit, value);
      return isHeld === (claim.status === 'holds')
        ? []
        : [`"${text}" is ${claim.status} of ${claim.mention.target}, ${JSON.stringify(value)}`];
    });
    return { claims, mistold, fallen: claims.flatMap(({ status }, i) => (status === 'holds' ? [] : [i])) };
  }

  it.each(NAMES)(
    'of %s makes just those claims fall whose figure no longer rounds to them',
    (name) => {
      const fallen = new Set<number>();
      let evaluated = 0;
      const all = alterations(name, 1.05);
      for (const { block, edits } of all) {
        const { claims, mistold, ...rest } = altered(name, edits);
        expect(mistold, `${block}: ${JSON.stringify(edits)}`).toEqual([]);
        for (const i of rest.fallen) fallen.add(i);
        // What is claimed of a block whose readings have changed is computed anew, and that is no other's value.
        evaluated += claims.filter(
          ({ analysis, reference, figure }, i) =>
            analysis === claims.find(({ path }) => path === `/w/${name}.nitbook`)!.analysis &&
            reference!.ids[0] === block &&
            figure!.value !== before[i]!.figure!.value,
        ).length;
      }
      expect(all.length).toBeGreaterThan(400);
      // As many as the texts of both reviews hold of each block, once for each of its readings.
      const links = texts.join('\n').replace(/!\[[^\]]*\]\([^)]*\)/g, '');
      const counts = all.map(({ block }) => links.split(`](${name}.nitbook#${block}.`).length - 1);
      expect(evaluated).toBe(counts.reduce((sum, count) => sum + count, 0));

      // What stands so small a change falls with a larger one: but for how many readings there are, no claim stands whatever is read.
      const steady = () =>
        before.flatMap(({ path, mention }, i) => (path === `/w/${name}.nitbook` && !fallen.has(i) ? [mention.target] : []));
      for (const times of [0.3, 3]) {
        const blocks = new Set(steady().map((target) => /#([^.]+)/.exec(target)![1]));
        for (const { block, edits } of alterations(name, times)) {
          if (!blocks.has(block)) continue;
          const { mistold, ...rest } = altered(name, edits);
          expect(mistold, `${block}: ${JSON.stringify(edits)}`).toEqual([]);
          for (const i of rest.fallen) fallen.add(i);
        }
      }
      expect(steady()).toEqual([`${name}.nitbook#again.n`]);
    },
    300_000,
  );
});
