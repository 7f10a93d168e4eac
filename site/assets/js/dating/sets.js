import { rankOf } from "./posterior.js";

/** @typedef {import("./posterior.js").Posterior} Posterior */

/** How far a set's chance may fall short of its level through rounding, and how far apart two chances may be that count as tied. */
const SLACK = 1e-9;

/**
 * The smallest set of admitted pairs that holds the level of the odds, in the
 * table's order. Pairs enter by falling chance; those tied with the last one
 * taken all belong to the set.
 * @param {Posterior} p
 * @param {number} level  from 0 to 1
 * @returns {number[]}
 */
export function smallestSet({ chance, impossible }, level) {
  if (impossible || level <= SLACK) return [];
  // Pairs below their share of what is left over hold less than that together.
  const floor = (1 - level) / chance.length;
  const rising = chance.filter((c) => c > 0 && c >= floor).sort();
  let least = Infinity;
  for (let i = rising.length - 1, need = level - SLACK; i >= 0 && need > 0; i--) {
    least = rising[i];
    need -= least;
  }
  const set = [];
  for (let i = 0; i < chance.length; i++) if (chance[i] > 0 && chance[i] >= least - SLACK) set.push(i);
  return set;
}

/** The chance at which a pair is no longer listed. */
const LEAST = 1e-12;

/**
 * The likeliest admitted pairs, likeliest first, those above a chance of 1e-12.
 * @param {Posterior} p
 * @param {number} count
 * @returns {number[]}
 */
export function likeliest({ chance, rank, impossible }, count) {
  const best = [];
  for (let i = 0; !impossible && i < chance.length; i++) {
    if (chance[i] <= LEAST || (best.length === count && rank[i] <= rank[best[count - 1]])) continue;
    let at = best.length;
    while (at > 0 && rank[best[at - 1]] < rank[i]) at--;
    best.splice(at, 0, i);
    if (best.length > count) best.pop();
  }
  return best;
}

/**
 * The places of chances by falling rank and, where ranks are alike, as they stand.
 * @param {ArrayLike<number>} chances
 * @returns {number[]}
 */
export function fallingOrder(chances) {
  const ranks = Float64Array.from(chances, rankOf);
  return Array.from(ranks.keys()).sort((a, b) => ranks[b] - ranks[a] || a - b);
}
