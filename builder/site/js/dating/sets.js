/** @typedef {import("./posterior.js").Posterior} Posterior */

/** How far a set's chance may fall short of its level through rounding. */
const SLACK = 1e-9;

/**
 * The smallest sets of admitted pairs that hold the levels of the odds, each in
 * the table's order. Pairs enter by falling chance and, where chances are
 * equal, in the table's order.
 * @param {Posterior} p
 * @param {number[]} levels  from 0 to 1
 * @returns {Int32Array[]}
 */
export function smallestSets(p, levels) {
  if (p.impossible) return levels.map(() => []);
  const bins = binned(p);
  return levels.map((level) => entering(p.rank, bins, level - SLACK, (bin) => bins.mass[bin], (c) => c));
}

/**
 * The smallest set that holds one level of the odds.
 * @param {Posterior} p
 * @param {number} level  from 0 to 1
 */
export function smallestSet(p, level) {
  return smallestSets(p, [level])[0];
}

/**
 * The likeliest admitted pairs, likeliest first, those above a chance of 1e-12.
 * @param {Posterior} p
 * @param {number} count
 * @returns {number[]}
 */
export function likeliest(p, count) {
  if (p.impossible) return [];
  const bins = binned(p);
  return Array.from(entering(p.rank, bins, count, (bin) => bins.count[bin], () => 1))
    .filter((i) => p.chance[i] > LEAST)
    .sort((a, b) => p.rank[b] - p.rank[a] || a - b);
}

/** The chance at which a pair is no longer listed. */
const LEAST = 1e-12;

/** How many bins there are: 64 an octave, down to a chance of 2^-64; smaller chances share the last. */
const BINS = 64 * 64 + 1;

/** The bin of a chance from the upper half of its bits: 0 for 1, rising as chances fall. */
function binOf(high) {
  return Math.min((0x3ff00000 - high) >> 14, BINS - 1);
}

/** How many pairs have a chance in each bin, and how much they hold together. */
function binned({ chance, rank }) {
  const bins = { high: new Uint32Array(rank.buffer), mass: new Float64Array(BINS), count: new Uint32Array(BINS) };
  for (let i = 0; i < chance.length; i++) {
    if (chance[i] === 0) continue;
    const bin = binOf(bins.high[2 * i + UPPER]);
    bins.mass[bin] += chance[i];
    bins.count[bin]++;
  }
  return bins;
}

/** Which half of a number's bits is the upper one on this machine. */
const UPPER = new Uint32Array(new Float64Array([1]).buffer)[1] === 0x3ff00000 ? 1 : 0;

/** The pairs that enter first, in the table's order, until their weights reach the need. */
function entering(rank, bins, need, weightOf, weight) {
  let edge = 0; // the bin in which the need is reached
  while (edge < BINS && weightOf(edge) < need) need -= weightOf(edge++);
  const rising = new Float64Array(bins.count[edge] ?? 0);
  for (let i = 0, n = 0; i < rank.length; i++) {
    if (rank[i] > 0 && binOf(bins.high[2 * i + UPPER]) === edge) rising[n++] = rank[i];
  }
  rising.sort();
  let k = rising.length;
  while (k > 0 && need > 0) need -= weight(rising[--k]);
  const least = k < rising.length ? rising[k] : Infinity;
  let alike = rising.slice(k).filter((c) => c === least).length;
  const set = new Int32Array(rank.length);
  let n = 0;
  for (let i = 0; i < rank.length; i++) {
    if (rank[i] === 0) continue;
    const bin = binOf(bins.high[2 * i + UPPER]);
    if (bin < edge || (bin === edge && (rank[i] > least || (rank[i] === least && alike-- > 0)))) set[n++] = i;
  }
  return set.subarray(0, n);
}
