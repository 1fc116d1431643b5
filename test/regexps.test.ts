import { relative, resolve } from 'node:path';
import { analyse } from 'scslre';
import { isCallExpression, isNewExpression, type Node, SyntaxKind } from 'typescript/unstable/ast';
import { API } from 'typescript/unstable/sync';
import { describe, expect, it } from 'vitest';

const PROJECTS = ['tsconfig.core.json', 'tsconfig.editor.json', 'tsconfig.json'].map((name) => resolve(name));
const SRC = resolve('src');

interface Found {
  readonly place: string;
  readonly text: string;
}

/** The regular expressions of `src` as they are written, and the places where one is put together at run time. */
function expressionsOfSources(): { literals: Found[]; constructed: string[] } {
  const literals = new Map<string, Found>();
  const constructed = new Set<string>();
  const api = new API();
  try {
    for (const { program } of api.updateSnapshot({ openProjects: PROJECTS }).getProjects()) {
      for (const file of program.getSourceFileNames()) {
        if (!file.startsWith(`${SRC}/`)) continue;
        const source = program.getSourceFile(file)!;
        const walk = (node: Node): void => {
          const place = () => `${relative('.', file)}:${source.text.slice(0, node.end).split('\n').length}`;
          if (node.kind === SyntaxKind.RegularExpressionLiteral) {
            const text = source.text.slice(node.getStart(), node.end);
            literals.set(`${place()} ${text}`, { place: place(), text });
          } else if (isNewExpression(node) || isCallExpression(node)) {
            if (/^RegExp\b/.test(source.text.slice(node.expression.getStart(), node.expression.end))) constructed.add(place());
          }
          node.forEachChild(walk);
        };
        walk(source);
      }
    }
  } finally {
    api.close();
  }
  return { literals: [...literals.values()], constructed: [...constructed] };
}

/** Why the time of an expression grows faster than the text it is held against; empty where it does not. */
function superlinear(literal: string): string {
  const [, source, flags] = /^\/(.*)\/([a-z]*)$/s.exec(literal)!;
  return analyse({ source: source!, flags: flags! })
    .reports.map(({ type, exponential }) => `${type}: ${exponential ? 'exponential' : 'polynomial'}`)
    .join('; ');
}

describe('regular expressions', () => {
  const { literals, constructed } = expressionsOfSources();

  it('are found, all as literals', () => {
    expect(literals.length).toBeGreaterThan(50);
    expect(constructed).toEqual([]);
  });

  it('take time in proportion to the text, whatever it is', () => {
    const slow = literals.flatMap(({ place, text }) => {
      const why = superlinear(text);
      return why === '' ? [] : [`${place} ${text} (${why})`];
    });
    expect(slow).toEqual([]);
  });

  it.each([
    ['/^(a+)+$/', 'exponential'],
    ['/^\\d*\\.?\\d+x$/', 'polynomial'],
    // Not anchored: each blank of a long row of them is a new start.
    ['/ +$/', 'polynomial'],
  ])('such as %s would be noticed', (literal, degree) => {
    expect(superlinear(literal)).toContain(degree);
  });
});
