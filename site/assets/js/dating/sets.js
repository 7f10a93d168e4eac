import { rankOf } from "./posterior.js";

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
  const bins = binsOf(p);
  return levels.map((level) => entering(p, bins, `set ${level}`, { need: level - SLACK, weightOf: (bin) => bins.mass[bin], weight: (c) => c }));
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
  const bins = binsOf(p);
  return Array.from(entering(p, bins, "list", { need: count, weightOf: (bin) => bins.count[bin], weight: () => 1 }))
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

/** The bin of every pair, and how many pairs each bin has and what they hold together; kept with the posterior. */
function binsOf(p) {
  if (p.bins) return p.bins;
  const { chance, rank } = p;
  const high = new Uint32Array(rank.buffer);
  const bins = { of: p.room.array("bins", Uint16Array, rank.length), mass: p.room.array("bin mass", Float64Array, BINS + 1).fill(0), count: p.room.array("bin count", Uint32Array, BINS + 1).fill(0) };
  for (let i = 0; i < rank.length; i++) {
    const bin = rank[i] === 0 ? BINS : binOf(high[2 * i + UPPER]); // the bin after the last holds what has no chance
    bins.of[i] = bin;
    bins.mass[bin] += chance[i];
    bins.count[bin]++;
  }
  p.bins = bins;
  return bins;
}

/** Which half of a number's bits is the upper one on this machine. */
const UPPER = new Uint32Array(new Float64Array([1]).buffer)[1] === 0x3ff00000 ? 1 : 0;

/** The pairs that enter first, in the table's order, until their weights reach the need; an array of the room under the name. */
function entering({ rank, room }, bins, name, { need, weightOf, weight }) {
  let edge = 0; // the bin in which the need is reached
  while (edge < BINS && weightOf(edge) < need) need -= weightOf(edge++);
  const rising = new Float64Array(edge < BINS ? bins.count[edge] : 0);
  const { of } = bins;
  for (let i = 0, n = 0; n < rising.length; i++) if (of[i] === edge) rising[n++] = rank[i];
  rising.sort();
  let k = rising.length;
  while (k > 0 && need > 0) need -= weight(rising[--k]);
  const least = k < rising.length ? rising[k] : Infinity;
  let alike = 0;
  for (let j = k; j < rising.length && rising[j] === least; j++) alike++;
  const set = room.array(name, Int32Array, rank.length);
  let n = 0;
  for (let i = 0; i < rank.length; i++) {
    if (of[i] < edge || (of[i] === edge && edge < BINS && (rank[i] > least || (rank[i] === least && alike-- > 0)))) set[n++] = i;
  }
  return set.subarray(0, n);
}

/**
 * The places of chances in the order in which they are told: by falling rank
 * and, where ranks are alike, as they stand.
 * @param {ArrayLike<number>} chances
 * @param {import("./room.js").Room} room  to work in
 * @returns {Uint32Array}
 */
export function fallingOrder(chances, room) {
  const n = chances.length;
  const ranks = room.array("ranks", Float64Array, n);
  const rising = room.array("ranks rising", Float64Array, n);
  for (let i = 0; i < n; i++) rising[i] = ranks[i] = rankOf(chances[i]);
  rising.sort();
  const told = room.array("told", Uint32Array, n).fill(0); // by the first place of a rank in `rising`: how many of that rank are placed
  const order = room.array("order", Uint32Array, n);
  for (let i = 0; i < n; i++) {
    const first = lowerBound(rising, ranks[i]);
    order[first + told[first]++] = i;
  }
  // Ranks rise in order, places within a rank too: turn the ranks round and leave the places.
  const falling = room.array("falling", Uint32Array, n);
  for (let from = 0, at = n; from < n; ) {
    const count = told[from];
    falling.set(order.subarray(from, from + count), (at -= count));
    from += count;
  }
  return falling;
}

/** The first place of a value in a rising list that holds it. */
function lowerBound(rising, value) {
  let low = 0;
  let high = rising.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (rising[mid] < value) low = mid + 1;
    else high = mid;
  }
  return low;
}
