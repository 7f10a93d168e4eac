// The search engine of the site: answers a visitor's words from the small
// files that `yearmark publish` wrote, with the same hits, in the same order
// and with the same scores as `yearmark find`. It touches no page: the page
// that imports it draws what it returns.
//
//     import { open } from "./engine.js";
//     const engine = await open("search/6b1f09c2a4d7/root.bin", load);
//     const answer = await engine.find({ words: "padauk riser", typing: true });
//
// open(root, load) -> Promise<Engine>
//     root  Address of the index's root file: the first file that Go's
//           Index.Shards() gives. Its folder carries the index's content hash;
//           every other file is found beside it. The page takes it from its
//           own mark-up (data-index="…").
//     load  (address) -> Promise<Uint8Array | ArrayBuffer>. Every file is asked
//           for once, and again only where that failed.
//
// engine.find(query) -> Promise<Answer>
//     query.words     What the visitor typed; no character is an error.
//                     "several words" in quotation marks must stand together;
//                     a word that ends in * stands for its beginning.
//     query.typing    true while the visitor types: the last word may be unfinished.
//     query.kinds     ["model", "era", …]: any of maker, model, era, feature,
//                     value, source, example, page. Absent or empty: all.
//     query.maker     A maker's identifier, or absent.
//     query.model     A model's identifier, or absent.
//     query.features  ["riser-wood=padauk", …]: all of them, in one and the
//                     same year. A figure stands for the ranges that hold it:
//                     "draw-weight=45".
//     query.years     [first, last], both counted in; either may be null.
//     query.limit     How many hits (10), and query.offset: after how many (0).
//
// Answer
//     total      How many documents match in all.
//     hits       [{kind, id, title, about, address, score, claims, marks}], best first, equal
//                scores as the kinds stand above, then by address. address is relative to the
//                site's root. claims: [{feature, address, when}], the claims by which a
//                hit has the features asked for. marks: {title, about}, each [[start, end], …]
//                of the words that matched, in UTF-16 units.
//     corrected  [{word, used: [words]}]: words that no document has, and what was
//                searched for in their place: near words, or the parts of a model number.
//     near       Words near to those that were not found, best first; only where total is 0.
//     ignored    Words left out because the query was too long.
//     bytes      How many bytes were loaded for this answer, the first one with the root file's.
//
// engine.suggest(start, limit = 8) -> Promise<[word, …]>
//     Words of the reference that begin as the last word of start does,
//     the commonest first.
//
// engine.facets(query, names) -> Promise<{total, kinds, makers, features}>
//     How many of the documents that match the query have each choice. kinds and
//     makers are {identifier: count}; features is {name: {value: count}} for the features named.
//     A choice's own filter is left out while it is counted, so that the
//     count says what choosing it instead would give.

import { Files, Meter } from "./files.js";
import { Counter, Filters, meets } from "./filters.js";
import { Planner } from "./plan.js";
import { first } from "./rank.js";
import { Lengths, score } from "./score.js";
import { split } from "./words.js";

/** Opens the index whose root file stands at that address. */
export async function open(root, load) {
  return new Engine(await Files.open(root, load));
}

class Engine {
  constructor(files) {
    this.files = files;
    this.lengths = new Lengths(files.root);
  }

  async find(query) {
    query = bounded(query);
    const meter = this.files.opening;
    this.files.opening = new Meter();
    const planner = new Planner(this.files, meter);
    const plan = await planner.plan(query.words ?? "", query.typing ?? false);
    const answer = { total: 0, hits: [], corrected: plan.corrected, near: [], ignored: plan.ignored, bytes: 0 };
    if (!plan.hopeless) await this.answer(answer, query, plan, meter);
    if (answer.total === 0) answer.near = await planner.nearWords(plan.unknown);
    answer.bytes = meter.bytes;
    return answer;
  }

  async answer(answer, query, plan, meter) {
    const filters = new Filters(this.files, meter);
    const mask = await filters.mask(query);
    const { scores, matched } = await this.scored(plan, mask, meter);
    const offset = Math.max(query.offset ?? 0, 0), limit = Math.min(query.limit || 10, 1000);
    const { total, docs } = await first(scores, matched, offset + limit, this.files, meter);
    answer.total = total;
    const terms = termsOf(plan);
    const keys = await Promise.all((query.features ?? []).map((f) => filters.featureKeys(f)));
    answer.hits = await Promise.all(docs.slice(offset).map((n) => this.hit(n, scores[n], { terms, keys, query, meter })));
  }

  // scored gives scores by document and which of them match words and filters.
  async scored(plan, mask, meter) {
    if (plan.groups.length === 0 && plan.phrases.length === 0) {
      const ones = new Float64Array(this.lengths.total).fill(1);
      return { scores: ones, matched: mask ?? new Uint8Array(ones.length).fill(1) };
    }
    const { scores, matched } = await score(plan, this.lengths, this.files, meter);
    if (mask) for (let n = 0; n < matched.length; n++) matched[n] &= mask[n];
    return { scores, matched };
  }

  async hit(n, score, { terms, keys, query, meter }) {
    const d = await this.files.document(n, meter);
    const claims = keys.length > 0 ? await this.claims(n, d, keys, query.years, meter) : [];
    return { ...d, score, claims, marks: { title: marked(d.title, terms), about: marked(d.about, terms) } };
  }

  // claims gives the claims by which a document has the features asked for.
  async claims(n, d, keys, years, meter) {
    const page = d.address.split("#")[0];
    const list = [];
    const holds = await this.files.claims(n, meter);
    for (const wanted of keys) {
      for (const h of holds) {
        if (h.claim === "" || !wanted.includes(h.key) || !meets(h.first, h.last, years)) continue;
        const address = h.claim.startsWith("#") ? page + h.claim : h.claim;
        if (!list.some((c) => c.feature === h.key && c.address === address)) list.push({ feature: h.key, address, when: h.when });
      }
    }
    return list;
  }

  suggest(start, limit = 8) {
    return new Planner(this.files, new Meter()).suggest(start, limit);
  }

  async facets(query, names = []) {
    query = bounded(query);
    const meter = new Meter();
    const plan = await new Planner(this.files, meter).plan(query.words ?? "", query.typing ?? false);
    const facets = { total: 0, kinds: {}, makers: {}, features: Object.fromEntries(names.map((n) => [n, {}])) };
    if (plan.hopeless) return facets;
    const { matched } = await this.scored(plan, null, meter);
    const counter = new Counter(new Filters(this.files, meter), query, matched);
    facets.total = await counter.total();
    facets.kinds = await counter.wholes("k", { kinds: [] });
    facets.makers = await counter.wholes("m", { maker: "" });
    for (const name of names) facets.features[name] = await counter.feature(name);
    return facets;
  }
}

const maxFeatures = 40;

// bounded gives a query with no more features than are counted.
const bounded = (query) => ({ ...query, features: query.features?.slice(0, maxFeatures) });

// termsOf gives every term that a plan asks for.
function termsOf(plan) {
  const terms = new Set();
  for (const g of plan.groups) for (const t of g.terms) terms.add(t.entry.key);
  for (const p of plan.phrases) for (const e of p) if (e) terms.add(e.key);
  return terms;
}

// marked gives the stretches of a text that hold one of the terms.
function marked(text, terms) {
  const list = [];
  for (const t of split(text)) {
    if (!terms.has(t.term)) continue;
    const last = list[list.length - 1];
    if (last && t.start <= last[1]) last[1] = Math.max(last[1], t.end);
    else list.push([t.start, t.end]);
  }
  return list;
}
