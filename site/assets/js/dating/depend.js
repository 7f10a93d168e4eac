import { rankOf } from "./posterior.js";
import { decodeChances, rowAllows, rowChance } from "./table.js";

/**
 * Features that are not independent under some pairs: what is claimed of the
 * dependents holds only in some classes of the features given. The same
 * arithmetic as dating/odds/dependence.go. A world is one class of each feature given.
 *
 * @typedef {import("./table.js").Chances} Chances
 * @typedef {import("./table.js").Table} Table
 * @typedef {import("./posterior.js").Seen} Seen
 *
 * @typedef {object} Dependence
 * @property {{feature: number, row: number, classes: number, classOf: Int32Array}[]} given
 * @property {{feature: number, on: number[], rows: number[]}[]} dependents
 * @property {number[]} pairs  [start, end, …]
 */

/** Decodes the file of dependences. */
export function decodeDependences(list) {
  return list.map((d) => ({
    ...d,
    given: d.given.map((g) => ({ ...g, classOf: unrollClasses(g.classOf) })),
    places: new Set([...d.given, ...d.dependents].map((f) => f.feature)),
    worlds: d.given.reduce((n, g) => n * g.classes, 1),
  }));
}

function unrollClasses(runs) {
  const list = new Int32Array(runs[runs.length - 2] + 1);
  for (let k = 0, from = 0; k < runs.length; k += 2) {
    list.fill(runs[k + 1], from, runs[k] + 1);
    from = runs[k] + 1;
  }
  return list;
}

/** The class of each feature given in a world, the last changing fastest. */
function classesOf(d, world) {
  const list = new Array(d.given.length);
  for (let i = list.length - 1; i >= 0; i--) {
    list[i] = world % d.given[i].classes;
    world = Math.floor(world / d.given[i].classes);
  }
  return list;
}

/** A dependent's row in a world. */
function rowIn(d, of, classes) {
  let at = 0;
  for (const g of of.on) at = at * d.given[g].classes + classes[g];
  return of.rows[at];
}

/** The chance of each class under a row: of all outcomes, or of those given. */
function classChances(g, f, outcomes) {
  const list = new Float64Array(g.classes);
  const add = (v) => { list[g.classOf[v]] += rowChance(f, g.row, [v]); };
  if (outcomes) outcomes.forEach(add);
  else for (let v = 0; v < f.outcomes; v++) add(v);
  return list;
}

/** The chance of every world together with what was seen of the features tied, and their sum. */
function weightsOf(table, d, seen) {
  const factors = d.given.map((g) => {
    const f = table.chancesAt[g.feature];
    const all = classChances(g, f, null);
    for (const s of seen) {
      if (s.place !== g.feature) continue;
      const within = classChances(g, f, s.outcomes);
      const blind = ((1 - s.sure) * s.outcomes.length) / f.outcomes;
      for (let v = 0; v < all.length; v++) all[v] = s.sure * within[v] + blind * all[v];
    }
    return all;
  });
  const list = new Float64Array(d.worlds);
  let sum = 0;
  for (let w = 0; w < list.length; w++) {
    const classes = classesOf(d, w);
    let x = classes.reduce((product, c, i) => product * factors[i][c], 1);
    for (const s of seen) {
      for (const of of d.dependents) {
        if (of.feature !== s.place) continue;
        const f = table.chancesAt[of.feature];
        x *= s.sure * rowChance(f, rowIn(d, of, classes), s.outcomes) + ((1 - s.sure) * s.outcomes.length) / f.outcomes;
      }
    }
    list[w] = x;
    sum += x;
  }
  return { list, sum };
}

/**
 * A feature as it is once something was seen.
 * @param {Table} table
 * @param {Chances} f
 * @param {Seen[]} seen
 * @returns {Chances}
 */
export function under(table, f, seen) {
  const rows = [];
  let rowOf = null;
  for (const d of table.dependences ?? []) {
    if (!d.places.has(f.place) || !seen.some((s) => s.place !== f.place && d.places.has(s.place))) continue;
    const row = rowUnder(table, d, f, seen);
    if (row === null) continue;
    rowOf ??= Uint32Array.from(f.rowOf);
    for (let k = 0; k < d.pairs.length; k += 2) rowOf.fill(f.rest.length + rows.length, d.pairs[k], d.pairs[k + 1]);
    rows.push(row);
  }
  if (rowOf === null) return f;
  const runs = [];
  for (const r of rowOf) {
    if (runs.length > 0 && runs[runs.length - 2] === r) runs[runs.length - 1]++;
    else runs.push(r, 1);
  }
  const shard = { feature: f.id, outcomes: f.outcomes, rows: [...f.shard.rows, ...rows], runs };
  return { ...decodeChances(shard, table), place: f.place };
}

/** The row of a tied feature once something was seen, as files hold it; null where what was seen is excluded. */
function rowUnder(table, d, f, seen) {
  const { list, sum } = weightsOf(table, d, seen);
  if (!(sum > 0)) return null;
  const of = d.dependents.find((one) => one.feature === f.place);
  const chance = new Float64Array(f.outcomes);
  if (of) {
    const parts = new Map(); // by row: its weight
    list.forEach((x, w) => {
      const r = rowIn(d, of, classesOf(d, w));
      parts.set(r, (parts.get(r) ?? 0) + x / sum);
    });
    for (const [r, weight] of parts) for (let v = 0; v < chance.length; v++) chance[v] += weight * rowChance(f, r, [v]);
    return rowOfChances(chance);
  }
  const i = d.given.findIndex((one) => one.feature === f.place);
  const g = d.given[i];
  const was = classChances(g, f, null);
  const shares = new Float64Array(g.classes);
  list.forEach((x, w) => { shares[classesOf(d, w)[i]] += x / sum; });
  for (let v = 0; v < chance.length; v++) {
    const c = g.classOf[v];
    chance[v] = was[c] > 0 ? (rowChance(f, g.row, [v]) * shares[c]) / was[c] : 0;
  }
  return rowOfChances(chance);
}

/** Rounded as rankOf does, so that outcomes which are alike but for the last rounding are alike here and in Go. */
function rowOfChances(exact) {
  const chance = exact.map(rankOf);
  const row = [Math.min(...chance), 0];
  chance.forEach((x, v) => {
    const end = row.length;
    if (x === row[0]) return;
    if (end > 2 && row[end - 3] === v - 1 && row[end - 2] === x) row[end - 3] = v;
    else row.push(v, v, x, 0);
  });
  return row;
}

/**
 * What observations of tied features fail, world by world, taken strictly.
 * @param {Table} table
 * @param {Seen[]} seen
 * @returns {((pair: number, fails: bigint) => bigint[])|null}  null where no two are tied
 */
export function worldFails(table, seen) {
  const ties = new Map(); // by pair
  for (const d of table.dependences ?? []) {
    if (seen.filter((s) => d.places.has(s.place)).length < 2) continue;
    const tie = failsIn(table, d, seen);
    for (let k = 0; k < d.pairs.length; k += 2) {
      for (let h = d.pairs[k]; h < d.pairs[k + 1]; h++) ties.has(h) ? ties.get(h).push(tie) : ties.set(h, [tie]);
    }
  }
  if (ties.size === 0) return null;
  return (pair, fails) => {
    let list = [fails];
    for (const tie of ties.get(pair) ?? []) list = minimal(list.flatMap((m) => tie.worlds.map((w) => (m & ~tie.bits) | w)));
    return list;
  };
}

function failsIn(table, d, seen) {
  const can = d.given.map((g) => {
    const f = table.chancesAt[g.feature];
    const list = new Array(g.classes).fill(false);
    for (let v = 0; v < f.outcomes; v++) list[g.classOf[v]] ||= rowAllows(f, g.row, [v]);
    return list.some(Boolean) ? list : list.fill(true);
  });
  const worlds = new Set();
  let bits = 0n;
  seen.forEach((s, k) => { if (d.places.has(s.place)) bits |= 1n << BigInt(k); });
  for (let w = 0; w < d.worlds; w++) {
    const classes = classesOf(d, w);
    if (!classes.every((c, i) => can[i][c])) continue;
    let mask = 0n;
    seen.forEach((s, k) => { if (d.places.has(s.place) && !allowed(table, d, classes, s)) mask |= 1n << BigInt(k); });
    worlds.add(mask);
  }
  return { bits, worlds: minimal([...worlds]) };
}

/** Whether an observation of a tied feature is possible in a world. */
function allowed(table, d, classes, s) {
  const f = table.chancesAt[s.place];
  const i = d.given.findIndex((g) => g.feature === s.place);
  if (i >= 0) {
    const within = s.outcomes.filter((v) => d.given[i].classOf[v] === classes[i]);
    return within.length > 0 && rowAllows(f, d.given[i].row, within);
  }
  return rowAllows(f, rowIn(d, d.dependents.find((of) => of.feature === s.place), classes), s.outcomes);
}

/** The masks within which no other lies. */
function minimal(masks) {
  const once = [...new Set(masks)];
  return once.filter((m) => !once.some((k) => k !== m && (k & m) === k));
}
