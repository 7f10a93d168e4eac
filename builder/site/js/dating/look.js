import { posteriorAfter, rankOf } from "./posterior.js";

/**
 * @typedef {import("./table.js").Chances} Chances
 * @typedef {import("./posterior.js").Posterior} Posterior
 */

/** The gain in nats below which a look is taken to tell nothing. */
const STILL = 1e-12;

/**
 * What each outcome of a look would do: its chance as the odds foresee it, and
 * over the pairs the sums of z = p P^temper and of z ln z. `rest` is an outcome
 * that no cell holds; the arrays say how much more each outcome would do.
 */
function readings(p, f) {
  const { mass, plogp } = masses(p, f);
  const temper = p.table.temper;
  const extra = { mass, chance: new Float64Array(f.outcomes), z: new Float64Array(f.outcomes), zlogz: new Float64Array(f.outcomes) };
  const rest = { chance: 0, z: 0, zlogz: 0 };
  const base = { chance: 0, z: 0, zlogz: 0 };
  const cell = { chance: 0, z: 0, zlogz: 0 };
  for (let r = 0; r < mass.length; r++) {
    if (mass[r] === 0) continue;
    read(base, mass[r], plogp[r], f.rest[r], temper);
    rest.chance += base.chance;
    rest.z += base.z;
    rest.zlogz += base.zlogz;
    for (let c = f.cells[r]; c < f.cells[r + 1]; c++) {
      read(cell, mass[r], plogp[r], f.chance[c], temper);
      for (let v = f.from[c]; v <= f.to[c]; v++) {
        extra.chance[v] += cell.chance - base.chance;
        extra.z[v] += cell.z - base.z;
        extra.zlogz[v] += cell.zlogz - base.zlogz;
      }
    }
  }
  return { rest, extra };
}

/** What the odds hold on the pairs of each row: their chance, and the sum of p ln p. */
function masses(p, f) {
  const { rowOf } = f;
  const { chance, plogp } = p;
  const sums = { mass: new Float64Array(f.rest.length), plogp: new Float64Array(f.rest.length) };
  for (const s of p.spans) {
    let row = rowOf[s.start];
    let a = 0;
    let b = 0;
    for (let h = s.start, i = s.at; h < s.end; h++, i++) {
      if (rowOf[h] !== row) {
        sums.mass[row] += a;
        sums.plogp[row] += b;
        row = rowOf[h];
        a = b = 0;
      }
      a += chance[i];
      b += plogp[i];
    }
    if (s.end > s.start) {
      sums.mass[row] += a;
      sums.plogp[row] += b;
    }
  }
  return sums;
}

/** A row's share of an outcome that has the chance under that row. */
function read(into, mass, plogp, chance, temper) {
  if (chance === 0) {
    into.chance = into.z = into.zlogz = 0;
    return;
  }
  const log = Math.log(chance);
  const w = temper === 1 ? chance : Math.exp(temper * log);
  into.chance = mass * chance;
  into.z = mass * w;
  into.zlogz = w * (plogp + mass * temper * log);
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
    if (extra.chance[v] === 0 && extra.z[v] === 0 && extra.zlogz[v] === 0) continue;
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
  const { rest, extra } = readings(p, f);
  const list = groups(f, extra.mass)
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
