/**
 * The dating engine in the browser: the same arithmetic as the Go package
 * `dating`, over the tables that `dating/tables` wrote. No DOM, no globals; the
 * only file that asks for others is load.js, and it is told how.
 *
 *     import { open } from "./dating/engine.js";
 *
 *     const dating = await open("data/dating/", load);   // manifest and models; small
 *     await dating.need(["riser-wood", "maker-mark"]);   // tables of these features, each file once
 *     const answer = dating.answer({
 *       models: ["plover"],                              // empty: "I do not know"
 *       observed: [
 *         { feature: "riser-wood", values: ["padauk"], sure: "sure" },
 *         { feature: "maker-mark", values: ["oval", "script"], sure: "unsure" },
 *         { feature: "brace-height", values: ["7 1/4"], sure: "sure" },
 *       ],
 *     });
 *     const claims = await dating.claims(answer.best);         // for the reasons
 *     const reasons = dating.reasons(answer, claims);
 *
 * What `dating` has:
 *
 *   models    Model[]    {id, name, maker, makerName, address, first, last}   in order of id; last those
 *                        without an id, which stand for models that are not on record
 *   bow({model, maker})  the Model that a part of an answer names: {model, maker} of an answer have an
 *                        empty model for what is not on record, and maker is then whose it would be, or empty
 *   features  Feature[]  {id, name, ask, look, kind, effort, picture, address, unit, low, high, step,
 *                         values: {id, name, tell, picture}[], bits, loaded}  in order of id.
 *                        `kind` is choice, presence, number or text. A choice ends with the value
 *                        `something-else`. `bits` is the information gain of an observation when nothing is known
 *                        (all models, no answers), so a form can tell which tables to fetch first.
 *   need(ids)            Promise; fetches the tables of those features
 *   answer(question, options)  Answer; synchronous, takes milliseconds on 3,000 models. Throws a
 *                        Refusal {feature, value, message} for what it does not know, a feature
 *                        answered twice, a figure outside low..high, or a table not fetched yet.
 *                        options.odds: how many pairs to list (default 200)
 *   outcomes(question, feature)  Outcome[] {values, label, chance, best: {model, year, chance}, years}:
 *                        what each answer to that feature would make of it, likeliest first
 *   claims({model, maker})  Promise of that model's claims by feature: {[feature]: Claim[]},
 *                        Claim {key, address, value, label, span, cites: {words, address, says?}[], from, to}
 *   reasons(answer, claims)  answer.evidence with `claims: Claim[]` added to each: the claims of the
 *                        values seen, then those of other values that speak for the best year
 *   sets(…), posterior(…) and the rest are plain functions exported below for whoever needs the parts.
 *
 * Answer, named as in the JSON of `yearmark date`:
 *
 *   impossible  true when no pair of model and year is left at all; then best is null and the lists are empty
 *   strict      {years: {model, years: number[]}[], conflicts: string[][], without: {feature, years}[]}
 *               taken at its word. conflicts (smallest first, ten at most) and without only where years is empty
 *   odds        {model, year, chance}[] by falling chance
 *   models      {model, chance}[] by falling chance
 *   years       {year, chance}[] in order of year, all models together: what a year chart draws
 *   best        {model, year, chance}
 *   likely      {50: {model, years}[], 95: {model, years}[]}: the smallest sets that hold so much
 *   evidence    {feature, values, sure, decibans}[] in the order asked: for the best pair against the prior
 *   look        {feature, bits, effort}[] unseen features whose tables are here, by falling bits
 *   entropy     bits that the odds still leave open
 */

import { Loader } from "./load.js";
import { Reference, Refusal } from "./reference.js";
import { posterior } from "./posterior.js";
import { answerTo, outcomesFor, reasonsFor } from "./answer.js";

export { decodePairs, decodeChances } from "./table.js";
export { posterior, posteriorAfter, best, decibans, spansOf, pairOf, modelOf, rankOf } from "./posterior.js";
export { smallestSet, likeliest } from "./sets.js";
export { strict } from "./strict.js";
export { gain, outcomesOf } from "./gain.js";
export { Workspace } from "./workspace.js";
export { parseRange, steps, stepsLabel } from "./figures.js";
export { matches, runs, fold, tidy } from "./wording.js";
export { Reference, Refusal };

/**
 * Opens the tables below an address.
 * @param {string} base  with a slash at its end
 * @param {(address: string) => Promise<any>} load  gives what a JSON file holds
 * @param {string} edition  which edition's tables are wanted
 */
export async function open(base, load, edition = "") {
  const loader = new Loader(base, load);
  return new Dating(new Reference(await loader.header(edition)), loader);
}

/** The engine of one published reference. */
export class Dating {
  /**
   * @param {Reference} reference
   * @param {Loader|null} loader  null where all tables have been given already
   */
  constructor(reference, loader) {
    this.reference = reference;
    this.loader = loader;
  }

  get models() {
    return this.reference.models;
  }

  get features() {
    return this.reference.features;
  }

  /** Fetches the tables of the features named, those that are not here yet. */
  async need(ids) {
    const { reference } = this;
    const tied = ids.some((id) => reference.tied.has(id));
    const files = new Set(reference.missing(tied ? [...ids, ...reference.tied] : ids).map((f) => f.shard));
    const ties = tied && !reference.table.dependences ? this.loader.file(reference.header.dependences.file) : null;
    const [dependences, ...shards] = await Promise.all([ties, ...[...files].map((file) => this.loader.file(file))]); // asked for together
    if (dependences) reference.tie(dependences);
    for (const shard of shards.flat()) reference.add(shard);
  }

  /** Answers a question from the tables that are here. Throws a Refusal. */
  answer(question, options = {}) {
    return answerTo(this.reference, question, options);
  }

  /** What each answer to a feature not yet observed would make of it. */
  outcomes(question, feature, limit = 8) {
    const { reference } = this;
    const query = reference.resolve(question);
    return outcomesFor(reference, posterior(reference.table, query, reference.workspace), reference.chancesOf(feature), limit);
  }

  /** The model that an answer names, or what is not on record. */
  bow(named) {
    return this.reference.models[this.reference.placeOf(named)];
  }

  /** Fetches the claims by feature of a model, or of what is not on record. */
  async claims(bow) {
    const place = this.reference.claimsPlace(bow);
    return place === null ? {} : this.reference.claimsIn(await this.loader.file(place.file), place.at, bow);
  }

  /** The evidence with the claims that it rests on. */
  reasons(answer, claims) {
    return reasonsFor(this.reference, answer, claims);
  }
}
