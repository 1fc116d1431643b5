import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { textFindings } from '../../src/session/findings';
import { formatEdits } from '../../src/session/layout';
import { cellCount, cellSpan, type Line } from '../../src/session/line';
import { SessionText } from '../../src/session/sessionText';
import { splitLines } from '../../src/session/splitLines';
import { isBlank } from '../../src/text/blanks';
import { CODES } from '../../src/text/codes';
import type { Finding } from '../../src/text/finding';
import { applyEdits, type Span, type TextEdit } from '../../src/text/span';
import { CANONICAL, examples, sessionLike } from './sessions';

/** Fixed seeds: what passes once passes always. */
function check<T>(property: fc.IProperty<T>, numRuns = 250): void {
  fc.assert(property, { seed: 20260314, numRuns });
}

const joined = (source: SessionText): string => source.lines.map((line) => line.text + line.eol).join('');
const solid = (text: string): string => [...text].filter((c) => !isBlank(c.charCodeAt(0))).join('');
const places = (findings: readonly Finding[]): string[] => findings.map((f) => `${f.code} at ${f.at}`);

/** The parts of a line in their order, and parts inside parts. */
function parts(line: Line): readonly Span[] {
  switch (line.kind) {
    case 'version':
      return [line.at];
    case 'header':
      return [line.keyword, line.id, line.date, line.title, line.link && { span: line.link.at }, line.link?.id].flatMap((p) =>
        p ? [p.span] : [],
      );
    case 'property':
      return [line.name.span, line.value.span];
    case 'columns':
      return line.columns.map((column) => column.span);
    case 'row':
      return [...Array.from({ length: cellCount(line) }, (_, i) => cellSpan(line, i)), ...(line.remark ? [line.remark.span] : [])];
    default:
      return [];
  }
}

describe('reading', () => {
  it('loses no character, whatever the text', () => {
    check(
      fc.property(sessionLike, (text) => {
        expect(joined(SessionText.read(text))).toBe(text);
        expect(
          splitLines(text)
            .map((l) => l.text)
            .join(''),
        ).not.toMatch(/[\r\n]/);
      }),
    );
  });

  it('gives parts inside their line, in order and apart', () => {
    check(
      fc.property(sessionLike, (text) => {
        for (const line of SessionText.read(text).lines) {
          let end = 0;
          for (const span of parts(line)) {
            expect(span[0]).toBeGreaterThanOrEqual(end);
            expect(span[1]).toBeGreaterThanOrEqual(span[0]);
            end = span[1];
          }
          expect(end).toBeLessThanOrEqual(line.text.length);
        }
      }),
    );
  });

  it('gives findings inside the text, in its order, with edits that can be applied', () => {
    check(
      fc.property(sessionLike, (text) => {
        let last = 0;
        for (const finding of textFindings(SessionText.read(text))) {
          expect(finding.span[0]).toBeGreaterThanOrEqual(last);
          expect(finding.span[1]).toBeGreaterThanOrEqual(finding.span[0]);
          expect(finding.span[1]).toBeLessThanOrEqual(text.length);
          last = finding.span[0];
          for (const mend of finding.mends) expect(applyEdits(text, mend.edits)).not.toBe(text);
        }
      }),
    );
  });

  it('gives findings whose sentences are complete', () => {
    check(
      fc.property(sessionLike, (text) => {
        for (const finding of textFindings(SessionText.read(text))) {
          for (const [, name] of CODES[finding.code].sentence.matchAll(/\{(\w+)\}/g))
            expect(finding.args, finding.code).toHaveProperty(name!);
          for (const mend of finding.mends) expect(mend.title).not.toMatch(/\{(mended|example|property)\}/);
        }
      }),
    );
  });

  it('says nothing twice', () => {
    check(
      fc.property(sessionLike, (text) => {
        const all = textFindings(SessionText.read(text)).map(
          (f) => `${f.code} ${f.span}${f.code === 'reference-unsaid' ? f.args.property : ''}`,
        );
        expect(all).toEqual([...new Set(all)]);
      }),
    );
  });

  it('does not depend on which line ends a file has', () => {
    check(
      fc.property(sessionLike, (text) => {
        const lf = text.replace(/\r\n|\r/g, '\n');
        const crlf = lf.replace(/\n/g, '\r\n');
        const [a, b] = [SessionText.read(lf), SessionText.read(crlf)];
        expect(b.lines.map(({ eol: _, ...line }) => line)).toEqual(a.lines.map(({ eol: _, ...line }) => line));
        expect(places(textFindings(b))).toEqual(places(textFindings(a)));
      }),
    );
  });
});

describe('the canonical layout', () => {
  const formatted = (text: string): string => applyEdits(text, formatEdits(SessionText.read(text)));

  it('of a text laid out already is the text', () => {
    check(
      fc.property(sessionLike, (text) => {
        const once = formatted(text);
        expect(formatted(once)).toBe(once);
      }),
    );
  });

  it('changes nothing but blanks, and keeps lines and their ends', () => {
    check(
      fc.property(sessionLike, (text) => {
        const after = formatted(text);
        expect(solid(after)).toBe(solid(text));
        expect(splitLines(after).map((l) => l.eol)).toEqual(splitLines(text).map((l) => l.eol));
      }),
    );
  });

  it('changes no finding but those of layout', () => {
    const meant = (text: string): string[] => places(textFindings(SessionText.read(text)).filter((f) => f.code !== 'not-indented'));
    check(
      fc.property(sessionLike, (text) => {
        expect(meant(formatted(text))).toEqual(meant(text));
      }),
    );
  });

  it('of a line is the same alone and with the others', () => {
    check(
      fc.property(sessionLike, fc.nat(), (text, n) => {
        const source = SessionText.read(text);
        const line = n % source.lines.length;
        const within = (edit: TextEdit): boolean => source.lineAt(edit.span[0]) === line;
        expect(formatEdits(source, line, line + 1)).toEqual(formatEdits(source).filter(within));
      }),
    );
  });

  it('leaves the canonical session and the examples as they are', () => {
    for (const text of [CANONICAL, ...examples.filter((e) => !e.includes('a bad day'))])
      expect(formatEdits(SessionText.read(text))).toEqual([]);
  });
});

describe('a changed version', () => {
  /** Edits of a text, sorted and apart, made from any numbers: more often than not at a line end. */
  function editsOf(text: string, raw: readonly (readonly [number, number, string])[]): TextEdit[] {
    const ends = [...text.matchAll(/\r\n|\r|\n/g)].flatMap((m) => [m.index, m.index + 1, m.index + m[0].length]);
    const spans = raw.map(([at, length, put]) => {
      const start = Math.min(text.length, at % 2 && ends.length > 0 ? ends[(at >> 1) % ends.length]! : at % (text.length + 1));
      return { span: [start, Math.min(text.length, start + length)] as const, text: put };
    });
    const sorted = spans.sort((a, b) => a.span[0] - b.span[0]);
    let end = -1;
    return sorted.filter(({ span }) => {
      const apart = span[0] > end;
      if (apart) end = span[1];
      return apart;
    });
  }

  const put = fc.oneof(
    fc.constantFrom(
      '',
      '\n',
      '\r',
      '\r\n',
      ' ',
      '~ ',
      '"',
      '    ',
      'mode m\n',
      '\n    30 5\n',
      '    level Y\n',
      '<<<<<<< a\n',
      '>>>>>>> b\n',
      'x',
    ),
    sessionLike,
  );
  const changes = fc.array(fc.array(fc.tuple(fc.nat(), fc.nat(9), put), { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 5 });

  const starts = (source: SessionText): number[] => [...source.lines.keys(), source.lines.length].map((line) => source.lineStart(line));

  it('is what reading it anew would give, after any edits', () => {
    check(
      fc.property(sessionLike, changes, (text, rounds) => {
        let source = SessionText.read(text);
        for (const round of rounds) {
          source = source.change(editsOf(source.text, round));
          const fresh = SessionText.read(source.text);
          expect(source.lines).toEqual(fresh.lines);
          expect(starts(source)).toEqual(starts(fresh));
          expect(source.blockStarts).toEqual(fresh.blockStarts);
          expect(source.blocks).toEqual(fresh.blocks);
          expect(textFindings(source)).toEqual(textFindings(fresh));
        }
      }),
      150,
    );
  });

  it('keeps the blocks whose lines have not changed', () => {
    check(
      fc.property(sessionLike, fc.tuple(fc.nat(), fc.nat(9), put), (text, edit) => {
        const before = SessionText.read(text);
        const after = before.change(editsOf(text, [edit]));
        const old = new Map(before.blocks.map((block) => [block.lines[0], block]));
        for (const block of after.blocks) {
          const was = old.get(block.lines[0]);
          if (was && was.lines.length === block.lines.length && was.lines.every((line, i) => line === block.lines[i]))
            expect(block).toBe(was);
        }
      }),
    );
  });

  it('reads one line anew for an edit in a cell, and one block', () => {
    const before = SessionText.read(CANONICAL);
    const at = CANONICAL.indexOf('6.70');
    const after = before.change([{ span: [at, at + 4], text: '6.71' }]);
    expect(after.lines.filter((line, i) => line !== before.lines[i])).toHaveLength(1);
    expect(after.blocks.filter((block, i) => block !== before.blocks[i])).toHaveLength(1);
  });
});

describe('a mend', () => {
  /** Of these mends nothing else is touched, but for findings that only the mended line can have. */
  const LOCAL: Readonly<Partial<Record<Finding['code'], readonly Finding['code'][]>>> = {
    'not-indented': [],
    'decimal-comma': [],
    'percent-in-cell': [],
    'minus-sign': [],
    'property-value': [],
    // The empty cell becomes a reading to take.
    'cell-empty': ['readings-to-take'],
    // A level takes no < and no >, and says so once there is one cell.
    'sign-apart': ['cell-number'],
  };

  it('takes its own finding away', () => {
    check(
      fc.property(sessionLike, fc.nat(), (text, n) => {
        const before = textFindings(SessionText.read(text));
        // Where a name is written twice, renaming the first makes the second the one that counts, with the same to say of it.
        const twice = new Set(before.filter((f) => f.code.endsWith('-repeated')).map((f) => f.at));
        const mendable = before.filter((f) => f.mends.length > 0 && !twice.has(f.at));
        if (mendable.length === 0) return;
        const finding = mendable[n % mendable.length]!;
        // `< + 5`: the sign nearer to the number comes first, and leaves the other one before it.
        if (finding.code === 'sign-apart' && /[<>]\s*$/.test(text.slice(0, finding.span[0]))) return;
        const place = `${finding.code} at ${finding.at}`;
        const times = (findings: readonly Finding[]): number => places(findings).filter((p) => p === place).length;
        for (const mend of finding.mends) {
          const after = textFindings(SessionText.read(applyEdits(text, mend.edits)));
          expect(times(after), place).toBeLessThan(times(before));
          const revealed = LOCAL[finding.code];
          if (!revealed) continue;
          const others = (findings: readonly Finding[]): string[] =>
            places(findings.filter((f) => !revealed.includes(f.code))).filter((p) => p !== place);
          expect(others(after)).toEqual(others(before));
        }
      }),
      800,
    );
  });
});
