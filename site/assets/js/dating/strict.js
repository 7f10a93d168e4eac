import { NEW_ARRAYS } from "./workspace.js";
import { worldFails } from "./depend.js";
import { rowAllows, runOf } from "./table.js";
import { spansOf } from "./posterior.js";

/**
 * @typedef {import("./table.js").Table} Table
 * @typedef {import("./posterior.js").Query} Query
 */

/** The greatest number of observations in one query, and of conflicts named. */
export const MAX_SEEN = 64;
export const MAX_CONFLICTS = 10;

/** Bounds the search for conflicts, whatever the observations. */
const SEARCH_STEPS = 200000;

/**
 * The answer taken at its word: alteration, custom orders and the observer's doubt play no part.
 * @param {Table} table
 * @param {Query} query
 * @param {import("./workspace.js").Workspace} workspace  to work in, or every array is new
 * @returns {{left: Int32Array, conflicts: number[][], without: number[][]}}
 *   left: pairs of the table; conflicts and without (by observation) only where none is left
 */
export function strict(table, query, workspace = NEW_ARRAYS) {
  const { spans, count } = recordedSpans(table, query.models);
  const low = workspace.array("low", Int32Array, count).fill(0);
  const high = new Int32Array(query.seen.length > 32 ? count : 0);
  query.seen.forEach((seen, k) => fail(k < 32 ? low : high, spans, seen, 1 << k % 32));
  const worlds = worldFails(table, query.seen);
  const left = workspace.array("left", Int32Array, count);
  let n = 0;
  for (const s of spans) {
    for (let h = s.start, i = s.at; h < s.end; h++, i++) {
      if (table.prior[h] > 0 && (worlds ? worlds(h, join(low[i], high[i] ?? 0)).includes(0n) : low[i] === 0 && !high[i])) left[n++] = h;
    }
  }
  const result = { left: left.subarray(0, n), conflicts: [], without: [] };
  if (result.left.length === 0) explain(result, table, query, { spans, low, high, worlds });
  return result;
}

/** The spans without the pairs of models that are not on record. */
function recordedSpans(table, models) {
  const { spans } = spansOf(table, models);
  for (const s of spans) s.end = Math.max(s.start, Math.min(s.end, table.recorded));
  return { spans, count: spans.reduce((sum, s) => sum + s.end - s.start, 0) };
}

/** Marks the pairs under which an observation is not possible. */
function fail(fails, spans, seen, bit) {
  const f = seen.chances;
  if (spans.length === 1 && spans[0].start === 0) { // every model is admitted, or the first
    const bits = new Int32Array(f.rest.length);
    for (let r = 0; r < bits.length; r++) if (!rowAllows(f, r, seen.outcomes)) bits[r] = bit;
    for (let i = 0; i < fails.length; i++) fails[i] |= bits[f.rowOf[i]];
    return;
  }
  const state = new Uint8Array(f.rest.length); // 0 not known, 1 possible, 2 not
  for (const s of spans) {
    let h = s.start;
    for (let k = runOf(f, h); h < s.end; k++) {
      const r = f.runRow[k];
      const stop = Math.min(f.runEnd[k], s.end);
      if (state[r] === 0) state[r] = rowAllows(f, r, seen.outcomes) ? 1 : 2;
      if (state[r] === 2) for (let i = s.at + h - s.start, n = stop - h; n > 0; i++, n--) fails[i] |= bit;
      h = stop;
    }
  }
}

/** Fills conflicts and without from the failures of every pair. */
function explain(result, table, query, { spans, low, high, worlds }) {
  result.without = query.seen.map(() => []);
  const masks = new Set();
  for (const s of spans) {
    for (let h = s.start, i = s.at; h < s.end; h++, i++) {
      if (table.prior[h] === 0) continue;
      const fails = join(low[i], high[i] ?? 0);
      for (const mask of worlds ? worlds(h, fails) : [fails]) {
        masks.add(mask);
        const [only, more] = members(mask, 2);
        if (only !== undefined && more === undefined) result.without[only].push(h);
      }
    }
  }
  result.conflicts = minimalConflicts(minimalMasks([...masks]));
}

function join(low, high) {
  return high === 0 && low >= 0 ? BigInt(low) : (BigInt(high >>> 0) << 32n) | BigInt(low >>> 0);
}

/** The masks that contain no other, by size and then by value. */
function minimalMasks(masks) {
  const bySize = masks.map((m) => ({ m, n: members(m).length }));
  bySize.sort((a, b) => a.n - b.n || (a.m < b.m ? -1 : a.m > b.m ? 1 : 0));
  const kept = [];
  for (const { m } of bySize) if (!kept.some((k) => (k & m) === k)) kept.push(m);
  return kept;
}

/**
 * The minimal sets that hit every mask of failures: the minimal sets of
 * observations that no pair satisfies together, smallest first, ten at most.
 * @param {bigint[]} edges
 * @returns {number[][]}
 */
function minimalConflicts(edges) {
  if (edges.length === 0 || edges[0] === 0n) return [];
  const all = members(edges.reduce((a, b) => a | b)).length;
  const search = { edges, steps: 0, found: [] };
  const list = [];
  for (let size = 1; size <= all && list.length < MAX_CONFLICTS && search.steps < SEARCH_STEPS; size++) {
    search.found = [];
    extend(search, 0n, 0n, size);
    for (const m of search.found) list.push(members(m));
  }
  return list.slice(0, MAX_CONFLICTS);
}

/** Adds members to the chosen until every edge is hit; those tried before are forbidden. */
function extend(search, chosen, forbidden, more) {
  search.steps++;
  if (search.steps > SEARCH_STEPS || search.found.length >= MAX_CONFLICTS) return;
  const edge = openEdge(search.edges, chosen, forbidden);
  if (edge === null) {
    if (more === 0) search.found.push(chosen);
    return;
  }
  if (more === 0) return;
  for (let choices = edge & ~forbidden; choices !== 0n; choices &= choices - 1n) {
    const bit = choices & -choices;
    if (needed(search.edges, chosen | bit)) extend(search, chosen | bit, forbidden, more - 1);
    forbidden |= bit;
  }
}

/** The edge not yet hit that leaves the fewest choices, or null when all are hit. */
function openEdge(edges, chosen, forbidden) {
  let edge = null;
  let fewest = MAX_SEEN + 1;
  for (const e of edges) {
    if ((e & chosen) !== 0n) continue;
    const n = members(e & ~forbidden).length;
    if (n < fewest) [edge, fewest] = [e, n];
  }
  return edge;
}

/** Whether every chosen member alone hits some edge. */
function needed(edges, chosen) {
  let alone = 0n;
  for (const e of edges) {
    const hit = e & chosen;
    if (hit !== 0n && (hit & (hit - 1n)) === 0n) alone |= hit;
  }
  return alone === chosen;
}

/** The places of a mask's bits, rising; at most limit of them. */
function members(mask, limit = MAX_SEEN) {
  const list = [];
  for (let k = 0; mask !== 0n && list.length < limit; k++, mask >>= 1n) if (mask & 1n) list.push(k);
  return list;
}
