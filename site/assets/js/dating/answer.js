import { posterior, best, decibans, pairOf, modelOf, rankOf } from "./posterior.js";
import { fallingOrder, likeliest, smallestSet } from "./sets.js";
import { strict } from "./strict.js";
import { gain, outcomesOf } from "./gain.js";
import { inRuns } from "./sentences.js";

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
  const p = posterior(reference.table, query, reference.workspace);
  const answer = {
    impossible: p.impossible, strict: strictFor(reference, question, query), odds: [], models: [], years: [], best: null,
    likely: { 50: [], 95: [] }, evidence: [], look: [], entropy: p.entropy,
  };
  if (p.impossible) return answer;
  const at = best(p);
  answer.best = named(reference, p, at);
  answer.odds = likeliest(p, odds).map((i) => named(reference, p, i));
  Object.assign(answer, byModelAndYear(reference, p));
  const [half, most] = [0.5, 0.95].map((level) => grouped(reference, p, smallestSet(p, level)));
  answer.likely = { 50: half, 95: most };
  answer.evidence = evidenceFor(reference, question, query, pairOf(p, at));
  answer.look = looks(reference, p, query);
  return answer;
}

/** Names an admitted pair and its chance. */
function named(reference, p, admitted) {
  const pair = pairOf(p, admitted);
  return { ...bowAt(reference, modelOf(reference.table, pair)), year: reference.table.years[pair], chance: p.chance[admitted] };
}

/** How answers name a model, and what is not on record: the maker alone. */
function bowAt({ models }, place) {
  const { id, maker } = models[place];
  return { model: id, maker: id === "" ? maker : "" };
}

/** The chances of models and of years. */
function byModelAndYear(reference, p) {
  const { table } = reference;
  const places = [];
  const sums = [];
  const byYear = new Float64Array(reference.lastYear - reference.firstYear + 1);
  for (const s of p.spans) {
    let h = s.start;
    for (let m = modelOf(table, h); h < s.end; m++) {
      const end = Math.min(table.starts[m + 1], s.end);
      let sum = 0;
      for (; h < end; h++) {
        const c = p.chance[s.at + h - s.start];
        sum += c;
        byYear[table.years[h] - reference.firstYear] += c;
      }
      if (sum > LEAST) {
        places.push(m);
        sums.push(sum);
      }
    }
  }
  const models = Array.from(fallingOrder(sums), (k) => ({ ...bowAt(reference, places[k]), chance: sums[k] }));
  const years = [];
  byYear.forEach((chance, i) => {
    if (chance > 0) years.push({ year: reference.firstYear + i, chance });
  });
  return { models, years };
}

/** Puts a set of admitted pairs together by model, the model that holds most of it first. */
function grouped(reference, p, set) {
  const pairs = p.spans.length === 1 && p.spans[0].start === 0 ? set : set.map((i) => pairOf(p, i));
  const { list, ends } = collect(reference, pairs);
  const held = new Float64Array(list.length);
  for (let k = 0, from = 0; k < held.length; k++) {
    let sum = 0;
    for (; from < ends[k]; from++) sum += p.chance[set[from]];
    held[k] = sum;
  }
  return Array.from(fallingOrder(held), (k) => list[k]);
}

/** Puts pairs of the table, in its order, together by model; and where in the pairs each group ends. */
function collect(reference, pairs) {
  const { starts } = reference.table;
  const list = [];
  const ends = [];
  for (let k = 0, m = 0; k < pairs.length; ) {
    while (starts[m + 1] <= pairs[k]) m++;
    const first = k;
    while (k < pairs.length && pairs[k] < starts[m + 1]) k++;
    list.push({ ...bowAt(reference, m), years: yearsOf(reference, m, pairs, first, k) });
    ends.push(k);
  }
  return { list, ends };
}

/** The years of a stretch of pairs, all of model m. */
function yearsOf({ table, yearLists }, m, pairs, from, to) {
  const start = pairs[from];
  const length = to - from;
  if (pairs[to - 1] - start === length - 1) return yearLists[m].slice(start - table.starts[m], start - table.starts[m] + length);
  const years = new Array(length);
  for (let k = 0; k < length; k++) years[k] = table.years[pairs[from + k]];
  return years;
}

function strictFor(reference, question, query) {
  const s = strict(reference.table, query, reference.workspace);
  const feature = (i) => reference.features[query.seen[i].place].id;
  const without = [];
  s.without.forEach((pairs, i) => {
    without[query.seen[i].asked] = { feature: feature(i), years: collect(reference, pairs).list };
  });
  const asked = (a, b) => query.seen[a].asked - query.seen[b].asked;
  const conflicts = s.conflicts.map((set) => set.sort(asked).map(feature));
  return { years: collect(reference, s.left).list, conflicts, without };
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

/** Whether the makers of all models asked about have it on record that a feature says nothing. */
function saysNothing(reference, models, feature) {
  return models !== null && models.every((m) => reference.models[m].id !== "" && reference.models[m].mute[feature] !== undefined);
}

/** Ranks the features not observed whose tables are here. */
function looks(reference, p, query) {
  const seen = new Set(query.seen.map((s) => s.place));
  const list = [];
  reference.features.forEach((f, place) => {
    if (f.loaded && !seen.has(place) && !saysNothing(reference, query.models, f.id)) list.push({ feature: f.id, bits: gain(p, reference.chances[place]), effort: f.effort });
  });
  return list.sort((a, b) => rankOf(b.bits) - rankOf(a.bits));
}

/** What each outcome of an observation would make of the odds. */
export function outcomesFor(reference, p, chances, limit) {
  const place = reference.featurePlace(chances.id);
  const { kind, values } = reference.features[place];
  return outcomesOf(p, chances, limit).map(({ outcomes, chance, after }) => {
    const then = after(reference.after);
    return {
      values: kind === "number" || kind === "text" ? null : outcomes.map((o) => values[o].id),
      label: reference.label(place, outcomes),
      chance,
      best: named(reference, then, best(then)),
      years: grouped(reference, then, smallestSet(then, 0.5)),
    };
  });
}

/** Adds to each piece of evidence the claims of the values seen, then others that hold in the best year. */
export function reasonsFor(reference, answer, claims) {
  return answer.evidence.map((evidence) => {
    const all = (claims[evidence.feature] ?? []).map((claim) => {
      const seen = evidence.outcomes.some((o) => claim.from <= o && o <= claim.to);
      const label = seen && reference.isPattern(evidence.feature, claim.from) ? `such as "${evidence.values.join('" or "')}"` : claim.label;
      return { ...claim, label: label + (claim.when ?? ""), seen, holds: inRuns(claim.years, answer.best.year) };
    });
    return { ...evidence, claims: [...all.filter((c) => c.seen), ...all.filter((c) => !c.seen && c.holds)] };
  });
}
