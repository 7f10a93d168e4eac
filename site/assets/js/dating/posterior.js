import { NEW_ARRAYS } from "./workspace.js";
import { under } from "./depend.js";
import { rowChance, runOf } from "./table.js";

/**
 * @typedef {import("./table.js").Table} Table
 * @typedef {import("./table.js").Chances} Chances
 *
 * @typedef {object} Seen  one observation
 * @property {Chances} chances     the table of the feature seen
 * @property {number} place        its place among the features
 * @property {number[]} outcomes   what it may be, rising
 * @property {number} sure         the chance that the observer read it rightly
 * @property {Float64Array} [byRow]  its chance under every row, once asked for
 *
 * @typedef {object} Query
 * @property {number[]|null} models  indices, rising; null for all
 * @property {Seen[]} seen           in order of feature
 *
 * @typedef {object} Posterior  odds over the admitted pairs
 * @property {Table} table
 * @property {Span[]} spans
 * @property {Float64Array} chance   sums to 1, unless impossible
 * @property {Float64Array} rank     the chances as they are ordered, see rankOf
 * @property {Float64Array} plogp    p ln p
 * @property {boolean} impossible
 * @property {number} nats           entropy in nats
 * @property {number} entropy        entropy in bits
 * @property {object|null} running   kept by runningSums
 * @property {Seen[]} seen           what they follow from
 * @property {import("./workspace.js").Workspace} workspace  that it was worked out in
 *
 * @typedef {{start: number, end: number, at: number}} Span  a stretch of pairs, and where it stands among the admitted
 */

/**
 * The stretches of pairs that belong to the models.
 * @param {Table} table
 * @param {number[]|null} models
 * @returns {{spans: Span[], count: number}}
 */
export function spansOf(table, models) {
  if (models === null) return { spans: [{ start: 0, end: table.pairs, at: 0 }], count: table.pairs };
  const spans = [];
  let count = 0;
  for (const m of models) {
    const [start, end] = [table.starts[m], table.starts[m + 1]];
    const last = spans[spans.length - 1];
    if (last && last.end === start) last.end = end;
    else spans.push({ start, end, at: count });
    count += end - start;
  }
  return { spans, count };
}

/** The admitted pairs' values of a list that holds one for every pair. */
function admit(values, spans, list) {
  for (const s of spans) list.set(values.subarray(s.start, s.end), s.at);
  return list;
}

/** The admitted pairs' chances before anything was seen. */
function priorOf(table, spans, count) {
  const p = admit(table.prior, spans, new Float64Array(count));
  let sum = 0;
  for (let i = 0; i < count; i++) sum += p[i];
  if (sum > 0) for (let i = 0; i < count; i++) p[i] /= sum;
  return p;
}

/** The chance of what was seen under a row: s P + (1-s) n / |V|. */
function seenChance(seen, r) {
  const f = seen.chances;
  return seen.sure * rowChance(f, r, seen.outcomes) + ((1 - seen.sure) * seen.outcomes.length) / f.outcomes;
}

/** The chances of what was seen under all rows, worked out once. */
function chancesByRow(seen, workspace) {
  if (seen.byRow) return seen.byRow;
  const list = workspace.array(`row chances of ${seen.chances.id}`, Float64Array, seen.chances.rest.length);
  for (let r = 0; r < list.length; r++) list[r] = seenChance(seen, r);
  seen.byRow = list;
  return list;
}

/** Whether the spans are all pairs of the table. */
function isWhole(table, spans) {
  return spans.length === 1 && spans[0].start === 0 && spans[0].end === table.pairs;
}

/**
 * The odds after what was seen: likelihoods multiplied as logarithms and raised to the temper.
 * @param {Table} table
 * @param {Query} query
 * @param {import("./workspace.js").Workspace} workspace  to work in, or every array is new
 * @returns {Posterior}
 */
export function posterior(table, query, workspace = NEW_ARRAYS) {
  const { spans, count } = spansOf(table, query.models);
  const logs = admit(table.logPrior, spans, workspace.array("logs", Float64Array, count));
  query.seen.forEach((seen, k) => {
    const chances = under(table, seen.chances, query.seen.slice(0, k));
    addLogs(table, logs, spans, chances === seen.chances ? seen : { ...seen, chances, byRow: null }, workspace);
  });
  return normalise(table, spans, logs, workspace, query.seen);
}

/** Adds the logarithm of one observation's chance to every admitted pair. */
function addLogs(table, logs, spans, seen, workspace) {
  if (isWhole(table, spans)) {
    addAllLogs(table, logs, seen, workspace);
    return;
  }
  const { runRow, runEnd, rest } = seen.chances;
  const term = new Float64Array(rest.length).fill(NaN);
  for (const { start, end, at } of spans) {
    let h = start;
    for (let k = runOf(seen.chances, h); h < end; k++) {
      const r = runRow[k];
      let v = term[r];
      if (v !== v) v = term[r] = table.temper * Math.log(seenChance(seen, r));
      for (const stop = Math.min(runEnd[k], end); h < stop; h++) logs[at + h - start] += v;
    }
  }
}

/** The same for all pairs at once. */
function addAllLogs(table, logs, seen, workspace) {
  const { rowOf } = seen.chances;
  const chances = chancesByRow(seen, workspace);
  const term = workspace.array("term", Float64Array, chances.length);
  for (let r = 0, last = NaN, log = 0; r < term.length; r++) {
    if (chances[r] !== last) log = table.temper * Math.log((last = chances[r])); // many rows say the same of one outcome
    term[r] = log;
  }
  for (let i = 0; i < logs.length; i++) logs[i] += term[rowOf[i]];
}

/**
 * Rounds a chance to 41 binary figures, about 12 decimal ones. Chances are
 * ordered by rank, so that those that are alike but for the last rounding keep
 * the table's order, here and on any other machine.
 * @param {number} chance
 */
export function rankOf(chance) {
  const t = chance * 4097;
  return t - (t - chance);
}

/** Turns the logarithms of prior times likelihood, which it takes over, into odds. */
function normalise(table, spans, logs, workspace, seen) {
  const chance = workspace.array("chance", Float64Array, logs.length);
  const rank = workspace.array("rank", Float64Array, logs.length);
  const result = { table, spans, chance, rank, plogp: logs, impossible: false, nats: 0, entropy: 0, running: null, workspace, seen };
  let top = -Infinity;
  for (let i = 0; i < logs.length; i++) if (logs[i] > top) top = logs[i];
  if (top === -Infinity) {
    for (const list of [logs, chance, rank]) list.fill(0);
    result.impossible = true;
    return result;
  }
  let sum = 0;
  for (let i = 0, last = NaN, c = 0; i < logs.length; i++) {
    if (logs[i] !== last) c = Math.exp((last = logs[i]) - top); // years of one model are often alike
    chance[i] = c;
    sum += c;
  }
  const logSum = top + Math.log(sum);
  let nats = 0;
  for (let i = 0; i < logs.length; i++) {
    const c = chance[i] / sum;
    chance[i] = c;
    rank[i] = rankOf(c);
    logs[i] = c > 0 ? c * (logs[i] - logSum) : 0;
    nats -= logs[i];
  }
  result.nats = nats;
  result.entropy = Math.max(0, nats / Math.LN2);
  return result;
}

/**
 * The odds once an outcome of a feature has been seen for sure.
 * @param {Posterior} p
 * @param {Chances} chances
 * @param {number} outcome
 * @param {import("./workspace.js").Workspace} workspace  to work in, another than that of p, or every array is new
 * @returns {Posterior}
 */
export function posteriorAfter(p, chances, outcome, workspace = NEW_ARRAYS) {
  const logs = workspace.array("logs", Float64Array, p.chance.length);
  for (let i = 0; i < logs.length; i++) logs[i] = Math.log(p.chance[i]);
  addLogs(p.table, logs, p.spans, { chances, outcomes: [outcome], sure: 1 }, workspace);
  return normalise(p.table, p.spans, logs, workspace, p.seen);
}

/**
 * The table's index of an admitted pair.
 * @param {Posterior} p
 * @param {number} admitted
 */
export function pairOf(p, admitted) {
  for (const s of p.spans) if (admitted < s.at + s.end - s.start) return s.start + admitted - s.at;
  return -1;
}

/**
 * The model that a pair of the table belongs to.
 * @param {Table} table
 * @param {number} pair
 */
export function modelOf(table, pair) {
  let low = 0;
  let high = table.starts.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (table.starts[mid] <= pair) low = mid;
    else high = mid;
  }
  return low;
}

/**
 * The likeliest admitted pair, the first of several that are alike, or -1.
 * @param {Posterior} p
 */
export function best(p) {
  if (p.impossible) return -1;
  let at = 0;
  for (let i = 1; i < p.rank.length; i++) if (p.rank[i] > p.rank[at]) at = i;
  return at;
}

/**
 * Each observation's weight of evidence for a pair of the table against the prior, in decibans.
 * @param {Table} table
 * @param {Query} query
 * @param {number} pair
 * @returns {number[]}
 */
export function decibans(table, query, pair) {
  const { spans, count } = spansOf(table, query.models);
  let prior = null;
  return query.seen.map((seen) => {
    const f = seen.chances;
    let mass = query.models === null ? f.priorMass : null;
    if (mass === null) {
      prior ??= priorOf(table, spans, count);
      mass = spread(f, spans, prior);
      if (query.models === null) f.priorMass = mass;
    }
    const chances = seen.byRow;
    let all = 0;
    for (let r = 0; r < mass.length; r++) if (mass[r] > 0) all += mass[r] * (chances ? chances[r] : seenChance(seen, r));
    return 10 * Math.log10(seenChance(seen, f.runRow[runOf(f, pair)]) / all);
  });
}

/**
 * Sums what the admitted pairs hold by the feature's rows.
 * @param {Chances} f
 * @param {Span[]} spans
 * @param {Float64Array} values
 * @returns {Float64Array}
 */
export function spread(f, spans, values) {
  const { runRow, runEnd, rest } = f;
  const sums = new Float64Array(rest.length);
  for (const { start, end, at } of spans) {
    let h = start;
    for (let k = runOf(f, h); h < end; k++) {
      let sum = 0;
      for (const stop = Math.min(runEnd[k], end); h < stop; h++) sum += values[at + h - start];
      sums[runRow[k]] += sum;
    }
  }
  return sums;
}

/**
 * Sums of chance and of p ln p that begin anew with every model, so that what
 * the odds hold on any stretch of a model's pairs is one sum less another, and
 * errs by no more than rounding of that model's own. Before pair h of model m
 * stands entry h + m; only where all pairs are admitted, else null.
 * @param {Posterior} p
 * @returns {{chance: Float64Array, plogp: Float64Array}|null}
 */
export function runningSums(p) {
  if (p.running || !isWhole(p.table, p.spans)) return p.running;
  const { starts, pairs } = p.table;
  const chance = p.workspace.array("running chance", Float64Array, pairs + starts.length - 1);
  const plogp = p.workspace.array("running plogp", Float64Array, chance.length);
  for (let m = 0; m + 1 < starts.length; m++) {
    let a = (chance[starts[m] + m] = 0);
    let b = (plogp[starts[m] + m] = 0);
    for (let h = starts[m]; h < starts[m + 1]; h++) {
      a += p.chance[h];
      b += p.plogp[h];
      chance[h + m + 1] = a;
      plogp[h + m + 1] = b;
    }
  }
  p.running = { chance, plogp };
  return p.running;
}
