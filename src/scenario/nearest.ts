/**
 * The word of a list that a misspelt one most likely means: the least number of letters changed, added, left out or swapped with
 * their neighbour (Damerau's count, letter case set aside), no more than a third of the word or two; or the one word that it begins.
 *
 * `azimutDeg` among `tiltDeg` and `azimuthDeg` means `azimuthDeg`.
 */
export function nearest(word: string, known: readonly string[]): string | null {
  if (word.length < 3) return null;
  const begun = known.filter((candidate) => candidate.toLowerCase().startsWith(word.toLowerCase()));
  if (begun.length === 1) return begun[0] ?? null;
  let best: string | null = null;
  let least = Math.max(2, Math.floor(word.length / 3)) + 1;
  for (const candidate of known) {
    const cost = Math.max(word.length, candidate.length) > 60 ? least : editsBetween(word.toLowerCase(), candidate.toLowerCase());
    if (cost < least) {
      best = candidate;
      least = cost;
    }
  }
  return best;
}

/** Edits between two words, swaps of neighbours counted once (optimal string alignment). */
function editsBetween(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
    }
    before = last;
    last = row;
  }
  return last[b.length] ?? 0;
}
