/**
 * The least number of letters to change, leave out, put in or swap with their
 * neighbour to make one word of the other (optimal string alignment). a and b
 * are lists of letters; limit + 1 stands for anything beyond limit.
 */
export function distance(a, b, limit) {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let before = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      let n = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + cost);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) n = Math.min(n, before[j - 2] + 1);
      next[j] = n;
      least = Math.min(least, n);
    }
    if (least > limit) return limit + 1;
    [before, row] = [row, next];
  }
  return Math.min(row[b.length], limit + 1);
}
