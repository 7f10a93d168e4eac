// What the form does next: a question, the second look, or its end. No part of
// a page is touched here.

/**
 * @typedef {object} Step
 * @property {string} [ask]     the feature that is asked for
 * @property {object[]} [look]  what is to be held against the bow, as Sentences.secondLook gives it
 * @property {"agrees"|"odd"|"none"|"nothing"|"unrecorded"} [end]  all agrees, one part is odd, not one bow, nothing seen at all, no model on record
 * @property {string[]} [parts]  where parts are odd without contradicting the others: their features, the unlikeliest first
 */

/**
 * The next step. Without claims, which come in a file of their own, it may be {}: not known yet.
 * @param {import("../dating/sentences.js").Sentences} sentences
 * @param {import("./state.js").State} state
 * @param {object|null} claims  of the likeliest model on record by feature
 * @returns {Step}
 */
export function nextStep(sentences, state, claims) {
  const ask = state.now || sentences.asks(state.skipped)?.feature;
  if (ask) return { ask };
  if (sentences.answer.impossible) return { end: "none" };
  if (claims === null) return {};
  if (!sentences.likeliest()) return { end: "unrecorded" };
  const look = sentences.secondLook(claims, state.skipped);
  if (look.length > 0) return { look };
  if (state.observed.size === 0) return { end: "nothing" };
  if (!sentences.contradicts) {
    const parts = sentences.unrecordedParts(claims);
    return parts.length > 0 ? { end: "odd", parts } : { end: "agrees" };
  }
  return { end: sentences.oddOnes().length > 0 ? "odd" : "none" };
}

/** The values to answer with where a part agrees with what it should be. */
export function agreeing(reference, { feature, outcomes }) {
  return valuesOf(reference, feature, outcomes);
}

/** The values to answer with where it differs: all others. */
export function differing(reference, { feature, outcomes }) {
  const all = Array.from({ length: reference.chancesOf(feature).outcomes }, (_, o) => o);
  return valuesOf(reference, feature, all.filter((o) => !outcomes.includes(o)));
}

/** Outcomes as values that the engine takes: identifiers, letters as recorded, ranges of figures. */
function valuesOf(reference, id, outcomes) {
  const place = reference.featurePlace(id), f = reference.features[place];
  if (f.kind === "text") return outcomes.map((o) => reference.patterns[place][o]?.text ?? "something-else");
  if (f.kind !== "number") return outcomes.map((o) => f.values[o].id);
  const runs = [];
  for (const o of outcomes) {
    if (runs.at(-1)?.[1] === o - 1) runs.at(-1)[1] = o;
    else runs.push([o, o]);
  }
  const figure = (o) => Math.round((f.low + o * f.step) * 1e6) / 1e6;
  return runs.map(([a, b]) => `${figure(a)}${a === b ? "" : `..${figure(b)}`}${f.unit ? ` ${f.unit}` : ""}`);
}
