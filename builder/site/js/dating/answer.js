import { posterior, best, decibans, pairOf, modelOf } from "./posterior.js";
import { likeliest, smallestSet } from "./sets.js";
import { strict } from "./strict.js";
import { gain, outcomesOf } from "./look.js";

/** The chance at which a model is no longer listed. */
const LEAST = 1e-12;

/**
 * Answers a question from the tables that are here.
 * @param {import("./reference.js").Reference} reference
 * @param {{models?: string[], observed?: {feature: string, values: string[], sure?: string}[]}} question
 * @param {{odds?: number}} options
 */
export function answerTo(reference, question, { odds = 200 }) {
  const query = reference.resolve(question);
  const p = posterior(reference.table, query);
  const answer = {
    impossible: p.impossible, strict: strictFor(reference, question, query), odds: [], models: [], years: [], best: null,
    likely: { 50: [], 95: [] }, evidence: [], look: [], entropy: p.entropy,
  };
  if (p.impossible) return answer;
  const at = best(p);
  answer.best = named(reference, p, at);
  answer.odds = likeliest(p, odds).map((i) => named(reference, p, i));
  Object.assign(answer, byModelAndYear(reference, p));
  for (const level of [50, 95]) answer.likely[level] = grouped(reference, p, smallestSet(p, level / 100));
  answer.evidence = evidenceFor(reference, question, query, pairOf(p, at));
  answer.look = looks(reference, p, query);
  return answer;
}

/** Names an admitted pair and its chance. */
function named(reference, p, admitted) {
  const pair = pairOf(p, admitted);
  const model = reference.models[modelOf(reference.table, pair)].id;
  return { model, year: reference.table.years[pair], chance: p.chance[admitted] };
}

/** The chances of models and of years. */
function byModelAndYear(reference, p) {
  const { table } = reference;
  const models = [];
  const years = new Map();
  for (const s of p.spans) {
    for (let h = s.start, m = modelOf(table, h); h < s.end; m++) {
      let sum = 0;
      for (const end = Math.min(table.starts[m + 1], s.end); h < end; h++) {
        const c = p.chance[s.at + h - s.start];
        sum += c;
        if (c > 0) years.set(table.years[h], (years.get(table.years[h]) ?? 0) + c);
      }
      if (sum > LEAST) models.push({ model: reference.models[m].id, chance: sum });
    }
  }
  models.sort((a, b) => b.chance - a.chance);
  const byYear = [...years].map(([year, chance]) => ({ year, chance }));
  return { models, years: byYear.sort((a, b) => a.year - b.year) };
}

/** Puts a set of admitted pairs together by model, the model that holds most of it first. */
function grouped(reference, p, set) {
  const held = new Map();
  const list = collect(reference, set.map((i) => pairOf(p, i)), (k, group) => {
    held.set(group, (held.get(group) ?? 0) + p.chance[set[k]]);
  });
  return list.sort((a, b) => held.get(b) - held.get(a));
}

/** Puts pairs of the table, in its order, together by model. */
function collect(reference, pairs, each = () => {}) {
  const { table } = reference;
  const list = [];
  let end = -1;
  pairs.forEach((pair, k) => {
    if (pair >= end) {
      const m = modelOf(table, pair);
      end = table.starts[m + 1];
      list.push({ model: reference.models[m].id, years: [] });
    }
    const group = list[list.length - 1];
    group.years.push(table.years[pair]);
    each(k, group);
  });
  return list;
}

function strictFor(reference, question, query) {
  const s = strict(reference.table, query);
  const feature = (i) => reference.features[query.seen[i].place].id;
  const without = [];
  s.without.forEach((pairs, i) => {
    without[query.seen[i].asked] = { feature: feature(i), years: collect(reference, pairs) };
  });
  const asked = (a, b) => query.seen[a].asked - query.seen[b].asked;
  const conflicts = s.conflicts.map((set) => set.sort(asked).map(feature));
  return { years: collect(reference, s.left), conflicts, without };
}

function evidenceFor(reference, question, query, pair) {
  const list = [];
  decibans(reference.table, query, pair).forEach((weight, i) => {
    const { asked, outcomes } = query.seen[i];
    const { feature, values, sure = "sure" } = question.observed[asked];
    list[asked] = { feature, values, sure, decibans: weight, outcomes };
  });
  return list;
}

/** Ranks the features not observed whose tables are here. */
function looks(reference, p, query) {
  const seen = new Set(query.seen.map((s) => s.place));
  const list = [];
  reference.features.forEach((f, place) => {
    if (f.loaded && !seen.has(place)) list.push({ feature: f.id, bits: gain(p, reference.chances[place]), effort: f.effort });
  });
  return list.sort((a, b) => b.bits - a.bits);
}

/** What each outcome of a look would make of the odds. */
export function outcomesFor(reference, p, chances, limit) {
  const place = reference.featurePlace(chances.id);
  const { kind, values } = reference.features[place];
  return outcomesOf(p, chances, limit).map(({ outcomes, chance, after }) => ({
    values: kind === "number" || kind === "text" ? null : outcomes.map((o) => values[o].id),
    label: reference.label(place, outcomes),
    chance,
    best: named(reference, after, best(after)),
    years: grouped(reference, after, smallestSet(after, 0.5)),
  }));
}

/** Adds to each piece of evidence the claims of the values seen, then others that hold in the best year. */
export function reasonsFor(reference, answer, claims) {
  return answer.evidence.map((evidence) => {
    const all = (claims[evidence.feature] ?? []).map((claim) => ({
      ...claim,
      seen: evidence.outcomes.some((o) => claim.from <= o && o <= claim.to),
      holds: holds(claim.years, answer.best.year),
    }));
    return { ...evidence, claims: [...all.filter((c) => c.seen), ...all.filter((c) => !c.seen && c.holds)] };
  });
}

/** Whether runs of years hold the year. */
function holds(runs, year) {
  for (let k = 0; k < runs.length; k += 2) if (runs[k] <= year && year < runs[k] + runs[k + 1]) return true;
  return false;
}
