import { posteriorAfter, rankOf } from "./posterior.js";
import { runOf } from "./table.js";

/**
 * @typedef {import("./table.js").Chances} Chances
 * @typedef {import("./posterior.js").Posterior} Posterior
 */

/** The gain in nats below which a look is taken to tell nothing. */
const STILL = 1e-12;

/** Cells at least this much longer than one outcome are summed by their ends. */
const WIDE = 3;

/**
 * What each outcome of a look would do: its chance as the odds foresee it, and
 * over the pairs the sums of z = p P^temper and of z ln z. `rest` is an outcome
 * that no cell holds; the arrays say how much more each outcome would do, and
 * `held` how many cells hold it.
 */
function readings(p, f) {
  const { mass, plogp } = masses(p, f);
  const extra = sums(f.outcomes);
  const ends = sums(f.outcomes + 1); // what begins at an outcome, less what has ended before it
  const rest = { chance: 0, z: 0, zlogz: 0 };
  const base = { chance: 0, z: 0, zlogz: 0 };
  const cell = { chance: 0, z: 0, zlogz: 0 };
  for (let r = 0; r < mass.length; r++) {
    if (mass[r] === 0) continue;
    read(base, mass[r], plogp[r], f.rest[r], f.restW[r], f.restLog[r]);
    rest.chance += base.chance;
    rest.z += base.z;
    rest.zlogz += base.zlogz;
    for (let c = f.cells[r]; c < f.cells[r + 1]; c++) {
      read(cell, mass[r], plogp[r], f.chance[c], f.chanceW[c], f.chanceLog[c]);
      cell.chance -= base.chance;
      cell.z -= base.z;
      cell.zlogz -= base.zlogz;
      const [from, to] = [f.from[c], f.to[c]];
      if (to - from < WIDE) {
        for (let v = from; v <= to; v++) add(extra, v, cell, 1);
      } else {
        add(ends, from, cell, 1);
        add(ends, to + 1, cell, -1);
      }
    }
  }
  const run = { chance: 0, z: 0, zlogz: 0 };
  let open = 0;
  for (let v = 0; v < f.outcomes; v++) {
    run.chance += ends.chance[v];
    run.z += ends.z[v];
    run.zlogz += ends.zlogz[v];
    open += ends.held[v];
    if (open > 0) add(extra, v, run, open);
  }
  return { mass, rest, extra };
}

function sums(n) {
  return { chance: new Float64Array(n), z: new Float64Array(n), zlogz: new Float64Array(n), held: new Int32Array(n) };
}

/** Adds a cell to the sums of an outcome, or with held below 0 takes it away. */
function add(into, v, cell, held) {
  const sign = held < 0 ? -1 : 1;
  into.chance[v] += sign * cell.chance;
  into.z[v] += sign * cell.z;
  into.zlogz[v] += sign * cell.zlogz;
  into.held[v] += held;
}

/** What the odds hold on the pairs of each row: their chance, and the sum of p ln p. */
function masses({ chance, plogp, spans }, f) {
  const { runRow, runEnd, rest } = f;
  const mass = new Float64Array(rest.length);
  const logs = new Float64Array(rest.length);
  for (const { start, end, at } of spans) {
    let h = start;
    for (let k = runOf(f, h); h < end; k++) {
      let a = 0;
      let b = 0;
      for (const stop = Math.min(runEnd[k], end); h < stop; h++) {
        a += chance[at + h - start];
        b += plogp[at + h - start];
      }
      mass[runRow[k]] += a;
      logs[runRow[k]] += b;
    }
  }
  return { mass, plogp: logs };
}

/** A row's share of an outcome that has the chance, its power w and its logarithm under that row. */
function read(into, mass, plogp, chance, w, log) {
  into.chance = mass * chance;
  into.z = mass * w;
  into.zlogz = w * (plogp + mass * log);
}

/** Chance times the entropy, in nats, that an outcome would leave. */
function open(chance, z, zlogz) {
  return z > 0 ? chance * (Math.log(z) - zlogz / z) : 0;
}

/**
 * The expected fall, in bits, of the odds' entropy from a sure look at the feature.
 * @param {Posterior} p
 * @param {Chances} f
 */
export function gain(p, f) {
  if (p.impossible) return 0;
  const { rest, extra } = readings(p, f);
  let after = 0;
  let untouched = f.outcomes;
  for (let v = 0; v < f.outcomes; v++) {
    if (extra.held[v] === 0) continue;
    after += open(rest.chance + extra.chance[v], rest.z + extra.z[v], rest.zlogz + extra.zlogz[v]);
    untouched--;
  }
  after += untouched * open(rest.chance, rest.z, rest.zlogz);
  const nats = p.nats - after;
  return Math.abs(nats) < STILL ? 0 : nats / Math.LN2;
}

/**
 * What a sure look may show and what each outcome would make of the odds,
 * likeliest first. Outcomes that no statement tells apart are one group.
 * @param {Posterior} p
 * @param {Chances} f
 * @param {number} limit
 * @returns {{outcomes: number[], chance: number, after: Posterior}[]}
 */
export function outcomesOf(p, f, limit) {
  if (p.impossible) return [];
  const { mass, rest, extra } = readings(p, f);
  const list = groups(f, mass)
    .map((outcomes) => ({ outcomes, chance: outcomes.length * (rest.chance + extra.chance[outcomes[0]]) }))
    .filter((group) => group.chance >= 1e-6);
  list.sort((a, b) => rankOf(b.chance) - rankOf(a.chance) || a.outcomes[0] - b.outcomes[0]);
  return list.slice(0, limit).map((group) => ({ ...group, after: posteriorAfter(p, f, group.outcomes[0]) }));
}

/** Parts the outcomes where a cell of a likely row begins or ends. */
function groups(f, mass) {
  const begins = new Uint8Array(f.outcomes + 1);
  const held = new Uint8Array(f.outcomes);
  for (let r = 0; r < mass.length; r++) {
    if (mass[r] === 0) continue;
    for (let c = f.cells[r]; c < f.cells[r + 1]; c++) {
      begins[f.from[c]] = begins[f.to[c] + 1] = 1;
      held.fill(1, f.from[c], f.to[c] + 1);
    }
  }
  const list = [];
  const loose = [];
  for (let v = 0; v < f.outcomes; v++) {
    if (!held[v]) loose.push(v);
    else if (begins[v] || list.length === 0) list.push([v]);
    else list[list.length - 1].push(v);
  }
  if (loose.length > 0) list.push(loose);
  return list;
}
