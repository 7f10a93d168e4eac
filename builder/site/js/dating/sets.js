/** @typedef {import("./posterior.js").Posterior} Posterior */

/** How far a set's chance may fall short of its level through rounding. */
const SLACK = 1e-9;

/**
 * The smallest set of admitted pairs that holds the level of the odds, in the
 * table's order. Pairs enter by falling chance and, where chances are equal, in
 * the table's order.
 * @param {Posterior} p
 * @param {number} level  from 0 to 1
 * @returns {number[]}
 */
export function smallestSet(p, level) {
  if (p.impossible) return [];
  return first(p.chance, level - SLACK, (i) => p.chance[i]).sort((a, b) => a - b);
}

/**
 * The likeliest admitted pairs, likeliest first, those above a chance of 1e-12.
 * @param {Posterior} p
 * @param {number} count
 * @returns {number[]}
 */
export function likeliest(p, count) {
  if (p.impossible) return [];
  return first(p.chance, count, () => 1)
    .filter((i) => p.chance[i] > 1e-12)
    .sort((a, b) => p.chance[b] - p.chance[a] || a - b);
}

/** The pairs that enter first, until their weights reach what is needed. Unordered. */
function first(chance, need, weight) {
  let left = [];
  for (let i = 0; i < chance.length; i++) if (chance[i] > 0) left.push(i);
  let set = [];
  while (left.length > 0 && need > 0) {
    const pivot = middle(chance, left[0], left[left.length >> 1], left[left.length - 1]);
    const before = [];
    const after = [];
    let mass = 0;
    for (const i of left) {
      if (i === pivot) continue;
      if (enters(chance, i, pivot)) {
        before.push(i);
        mass += weight(i);
      } else after.push(i);
    }
    if (mass >= need) {
      left = before;
      continue;
    }
    set = set.concat(before);
    set.push(pivot);
    need -= mass + weight(pivot);
    left = need > 0 ? after : [];
  }
  return set;
}

/** Whether pair a enters a set before pair b. */
function enters(chance, a, b) {
  return chance[a] !== chance[b] ? chance[a] > chance[b] : a < b;
}

/** The pair that enters second of three. */
function middle(chance, a, b, c) {
  if (enters(chance, b, a)) [a, b] = [b, a];
  if (enters(chance, c, b)) b = c;
  return enters(chance, b, a) ? a : b;
}
