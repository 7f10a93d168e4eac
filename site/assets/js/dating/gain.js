import { under } from "./depend.js";
import { posteriorAfter, rankOf, runningSums } from "./posterior.js";
import { runOf } from "./table.js";

/**
 * @typedef {import("./table.js").Chances} Chances
 * @typedef {import("./posterior.js").Posterior} Posterior
 * @typedef {import("./workspace.js").Workspace} Workspace
 */

/** The information gain in nats below which an observation counts as uninformative. */
const STILL = 1e-12;

/**
 * What each outcome of an observation would do: its chance as the odds foresee it, and
 * over the pairs the sums of z = p P^temper and of z ln z. `rest` is an outcome
 * that no cell holds; the arrays say how much more each outcome would do, and
 * `held` how many cells hold it. masses is what the odds hold on each row.
 */
function readings(f, { mass, plogp }, workspace) {
  const extra = sums("extra", f.outcomes, workspace);
  const ends = sums("ends", f.outcomes + 1, workspace); // what begins at an outcome, less what has ended before it
  const rest = { chance: 0, z: 0, zlogz: 0 };
  let wide = false;
  for (let r = 0; r < mass.length; r++) {
    const [p, l] = [mass[r], plogp[r]];
    if (p === 0) continue;
    const chance = p * f.rest[r];
    const z = p * f.restW[r];
    const zlogz = f.restW[r] * (l + p * f.restLog[r]);
    rest.chance += chance;
    rest.z += z;
    rest.zlogz += zlogz;
    for (let c = f.cells[r]; c < f.cells[r + 1]; c++) {
      const w = f.chanceW[c];
      const more = p * f.chance[c] - chance;
      const moreZ = p * w - z;
      const moreLog = w * (l + p * f.chanceLog[c]) - zlogz;
      add(f.from[c] === f.to[c] ? extra : ends, f.from[c], more, moreZ, moreLog, 1);
      if (f.from[c] === f.to[c]) continue;
      wide = true;
      add(ends, f.to[c] + 1, -more, -moreZ, -moreLog, -1);
    }
  }
  if (wide) runThrough(ends, extra, f.outcomes);
  return { rest, extra };
}

/** Adds to every outcome what began at it or before and has not ended. */
function runThrough(ends, extra, outcomes) {
  let [chance, z, zlogz, open] = [0, 0, 0, 0];
  for (let v = 0; v < outcomes; v++) {
    chance += ends.chance[v];
    z += ends.z[v];
    zlogz += ends.zlogz[v];
    open += ends.held[v];
    if (open > 0) add(extra, v, chance, z, zlogz, open);
  }
}

function sums(name, n, workspace) {
  const zeros = (part, Type) => workspace.array(`${name} ${part}`, Type, n).fill(0);
  return { chance: zeros("chance", Float64Array), z: zeros("z", Float64Array), zlogz: zeros("zlogz", Float64Array), held: zeros("held", Int32Array) };
}

function add(into, v, chance, z, zlogz, held) {
  into.chance[v] += chance;
  into.z[v] += z;
  into.zlogz[v] += zlogz;
  into.held[v] += held;
}

/** What the odds hold on the pairs of each row: their chance, and the sum of p ln p. */
function masses({ chance, plogp, spans, workspace }, f) {
  const { runRow, runEnd, rest } = f;
  const mass = workspace.array("mass", Float64Array, rest.length).fill(0);
  const logs = workspace.array("mass logs", Float64Array, rest.length).fill(0);
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

/** The same within rounding, a stretch of a model's pairs at a time. */
function massesAtOnce(p, f) {
  const running = runningSums(p);
  if (running === null) return masses(p, f);
  const { chance, plogp } = running;
  const { row, from, to } = f.pieces;
  const mass = p.workspace.array("mass", Float64Array, f.rest.length).fill(0);
  const logs = p.workspace.array("mass logs", Float64Array, f.rest.length).fill(0);
  for (let k = 0; k < row.length; k++) {
    mass[row[k]] += chance[to[k]] - chance[from[k]];
    logs[row[k]] += plogp[to[k]] - plogp[from[k]];
  }
  return { mass, plogp: logs };
}

/** Chance times the entropy, in nats, that an outcome would leave. */
function open(chance, z, zlogz) {
  return z > 0 ? chance * (Math.log(z) - zlogz / z) : 0;
}

/**
 * The information gain of a sure observation of the feature: by how many bits the odds' entropy is expected to fall.
 * @param {Posterior} p
 * @param {Chances} f
 */
export function gain(p, f) {
  if (p.impossible) return 0;
  f = under(p.table, f, p.seen);
  const { rest, extra } = readings(f, massesAtOnce(p, f), p.workspace);
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
 * What a sure observation may show and what each outcome would make of the odds,
 * likeliest first. Outcomes that no statement tells apart are one group.
 * @param {Posterior} p
 * @param {Chances} f
 * @param {number} limit
 * @returns {{outcomes: number[], chance: number, after: (workspace?: Workspace) => Posterior}[]}
 */
export function outcomesOf(p, f, limit) {
  if (p.impossible) return [];
  f = under(p.table, f, p.seen);
  const held = masses(p, f);
  const { rest, extra } = readings(f, held, p.workspace);
  const list = groups(f, held.mass)
    .map((outcomes) => ({ outcomes, chance: outcomes.length * (rest.chance + extra.chance[outcomes[0]]) }))
    .filter((group) => group.chance >= 1e-6);
  list.sort((a, b) => rankOf(b.chance) - rankOf(a.chance) || a.outcomes[0] - b.outcomes[0]);
  return list.slice(0, limit).map((group) => ({ ...group, after: (workspace) => posteriorAfter(p, f, group.outcomes[0], workspace) }));
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
