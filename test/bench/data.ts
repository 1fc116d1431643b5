/** A small generator of its own, so that every run of the bench sees the same numbers (Park and Miller, 1988). */
export function stream(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

export interface Reading {
  readonly cells: readonly string[];
}

/** Rows `R G B Y x y` of a display near BT.709 at 120 cd/m², power 2.4, with 1 % of noise: plausible, so that no finding stops the work. */
export function readings(count: number, seed = 20260314): Reading[] {
  const random = stream(seed);
  return Array.from({ length: count }, () => {
    const [r, g, b] = [0, 1, 2].map(() => Math.floor(random() * 240) + 16) as [number, number, number];
    const [lr, lg, lb] = [r, g, b].map((code) => (code / 255) ** 2.4) as [number, number, number];
    const X = 0.4124 * lr + 0.3576 * lg + 0.1805 * lb;
    const Y = 0.2126 * lr + 0.7152 * lg + 0.0722 * lb;
    const Z = 0.0193 * lr + 0.1192 * lg + 0.9505 * lb;
    const sum = X + Y + Z;
    const noise = () => 1 + 0.01 * (random() - 0.5);
    return {
      cells: [
        String(r),
        String(g),
        String(b),
        (120 * Y * noise()).toPrecision(4),
        ((X / sum) * noise()).toFixed(4),
        ((Y / sum) * noise()).toFixed(4),
      ],
    };
  });
}

const HEAD = `nitbook 1

session 2026-03-14
display aurora "Halden Aurora 55"
  firmware: 2.14.8
meter probe
  kind: colorimeter
  floor: 0.003 cd/m2
  spread: 0.0004 xy, 0.5 %
signal pc
  range: full
  depth: 8
mode cinema
  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2

`;

/** A session with one run of patches; the first row is full white. */
export function session(count: number, seed?: number): string {
  const rows = readings(count - 1, seed).map(
    ({ cells }) => `    ${cells[0]!.padStart(7)}  ${cells.slice(1, 3).join('      ')}      ${cells.slice(3).join('   ')}`,
  );
  return `${HEAD}patches colours\n    R[8bit]  G[8bit]  B[8bit]  Y         x        y\n        255  255      255      120.1     0.3127   0.3290\n${rows.join('\n')}\n`;
}

/** The same rows as JSON and YAML: one array a row, one row a line. */
export const asJson = (count: number): string =>
  `[\n${readings(count)
    .map(({ cells }) => `  [${cells.join(', ')}]`)
    .join(',\n')}\n]\n`;
export const asYaml = (count: number): string =>
  readings(count)
    .map(({ cells }) => `- [${cells.join(', ')}]\n`)
    .join('');

/** A session with one greyscale of very many levels, power 2.4 at 120 cd/m², with 1 % of noise. */
export function greys(count: number, seed = 20260314): string {
  const random = stream(seed);
  const noise = (size: number) => size * (random() - 0.5);
  const rows = Array.from({ length: count }, (_, i) => {
    const level = (100 * (i + 1)) / count;
    const Y = 120 * (level / 100) ** 2.4 * (1 + noise(0.01));
    return `    ${level.toFixed(3)}  ${Y.toPrecision(5)}  ${(0.3127 + noise(0.002)).toFixed(4)}  ${(0.329 + noise(0.002)).toFixed(4)}`;
  });
  return `${HEAD}greyscale grey\n    level  Y  x  y\n${rows.join('\n')}\n`;
}
