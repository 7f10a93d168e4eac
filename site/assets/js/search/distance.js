/** The letters of a word as numbers, as distance takes them. */
export function letters(word) {
  const list = [];
  for (let i = 0; i < word.length; i++) {
    const c = word.codePointAt(i);
    if (c > 0xffff) i++;
    list.push(c);
  }
  return list;
}

let rows = [new Int32Array(64), new Int32Array(64), new Int32Array(64)];

/**
 * The least number of letters to change, leave out, put in or swap with their
 * neighbour to make one word of the other (optimal string alignment). a and b
 * are lists of letters; limit + 1 stands for anything beyond limit.
 */
export function distance(a, b, limit) {
  const beyond = limit + 1;
  if (Math.abs(a.length - b.length) > limit) return beyond;
  if (b.length >= rows[0].length) rows = rows.map(() => new Int32Array(2 * b.length + 1));
  let [before, row, next] = rows;
  for (let j = 0; j <= b.length; j++) row[j] = j;
  for (let i = 1; i <= a.length; i++) {
    // Only cells within limit of the diagonal can count.
    const from = Math.max(1, i - limit), to = Math.min(b.length, i + limit);
    next[from - 1] = from === 1 ? i : beyond;
    let least = next[from - 1];
    for (let j = from; j <= to; j++) {
      const up = j < i + limit ? row[j] : beyond;
      let n = Math.min(up + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) n = Math.min(n, before[j - 2] + 1);
      next[j] = n;
      if (n < least) least = n;
    }
    if (least > limit) return beyond;
    [before, row, next] = [row, next, before];
  }
  return Math.min(row[b.length], beyond);
}
