import { type Phrase, phrase } from './message';

/** The word that was probably meant, as a sentence behind another. */
export const neighbour = (word: string): Phrase => phrase(' Perhaps {word}?', { word });

/**
 * The candidate that a mistyped word most likely meant: at most two single-character edits (one for words of up to four letters) away,
 * ignoring case. Undefined when none is near, or when the word is too long to have been mistyped.
 */
export function nearest(word: string, candidates: Iterable<string>, most = word.length <= 4 ? 1 : 2): string | undefined {
  if (word.length > 40) return undefined;
  const wanted = word.toLowerCase();
  let best: string | undefined;
  let bestDistance = most + 1;
  for (const candidate of candidates) {
    if (candidate === word || Math.abs(candidate.length - word.length) >= bestDistance) continue;
    const found = distance(wanted, candidate.toLowerCase());
    if (found < bestDistance) {
      best = candidate;
      bestDistance = found;
    }
  }
  return best;
}

/** Edit distance by insertion, deletion, substitution and swap of neighbours (optimal string alignment). */
function distance(a: string, b: string): number {
  let beforePrevious: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const current = [i];
    for (let j = 1; j <= b.length; j++) {
      const substituted = previous[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      let best = Math.min(substituted, previous[j]! + 1, current[j - 1]! + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, beforePrevious[j - 2]! + 1);
      current.push(best);
    }
    beforePrevious = previous;
    previous = current;
  }
  return previous[b.length]!;
}
