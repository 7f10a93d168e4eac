// Scores documents as Bleve does: BM25 with the square root of the frequency,
// a norm over the whole question, and a share for the words that matched. Sums
// are made in Bleve's order, so that they are equal to the last digit.

import { isHeld, places, postings, set } from "./terms.js";

/** The lengths of an index, as scores need them. */
export class Lengths {
  constructor(root) {
    this.total = root.total;
    this.weights = root.weights;
    this.averageText = Math.ceil(root.textTokens / root.total);
    this.averageHeadings = root.headingTokens.map((n) => Math.ceil(n / root.total));
    this.text = new Float64Array(root.total); // k1 times how long the text is for its kind
    for (let n = 0, before = -1, value = 0; n < root.total; n++) {
      const length = root.lengths[n];
      if (length !== before) value = this.damping(length, this.averageText);
      before = length;
      this.text[n] = value;
    }
  }

  // damping is what the length of a field adds below the fraction. Bleve keeps the
  // length as a 32-bit norm.
  damping(length, average) {
    const norm = Math.fround(1 / Math.sqrt(length));
    const { k1, b } = this.weights;
    return k1 * (1 - b + (b * (1 / (norm * norm))) / average);
  }

  // rarity is the inverse document frequency of a term in count documents.
  rarity(count) {
    return Math.log(1 + (this.total - count + 0.5) / (count + 0.5));
  }
}

/** Scores the documents of a plan: {scores, matched}, one for each document; matched is 1 where it matches. */
export async function score(plan, lengths, files, meter) {
  const lists = new Map(); // of each phrase's entries, where in its documents the term stands
  for (const e of plan.phrases.flatMap(phraseTerms)) {
    if (lists.has(e)) continue;
    const { docs, freqs } = postings(e);
    lists.set(e, { docs, ...places(await files.places(e, meter), freqs) });
  }
  return new Scorer(plan, lengths, lists).all();
}

const byCount = (list, count) => list.map((x) => [x, count(x)]).sort((x, y) => x[1] - y[1]).map(([x]) => x);
const termCount = (t) => t.entry.headings.reduce((n, count) => n + count, t.entry.text);
const groupCount = (g) => g.terms.reduce((n, t) => n + termCount(t), 0);
const phraseTerms = (p) => p.filter((e) => e !== null);
const phraseCount = (p) => phraseTerms(p).reduce((n, e) => n + e.text, 0);
const partCount = (part) => (part.terms ? groupCount(part) : phraseCount(part));

class Scorer {
  constructor(plan, lengths, lists) {
    this.plan = plan;
    this.lengths = lengths;
    this.lists = lists;
    this.norm = 1 / Math.sqrt(this.weight());
  }

  // weight is the sum of the squares of every term's weight.
  weight() {
    const square = (boost, count) => {
      const w = boost * this.lengths.rarity(count);
      return w * w;
    };
    let sum = 0;
    for (const p of this.plan.phrases) for (const e of phraseTerms(p)) sum += square(1, e.text);
    for (const g of this.plan.groups) {
      for (const { entry, boost } of g.terms) {
        sum += isHeld(entry) ? this.held(entry, boost) ** 2 : square(boost, entry.text);
        entry.headings.forEach((count, i) => {
          if (count > 0) sum += square(boost * this.lengths.weights.headings[i], count);
        });
      }
    }
    return sum;
  }

  // all scores documents by the phrases and words that they have: the sum, times
  // the share of them. Without a phrase that was asked for there is no match.
  all() {
    const { phrases, groups } = this.plan;
    const sums = new Sums(this.lengths.total);
    const have = new Uint8Array(this.lengths.total); // how many phrases
    for (const part of byCount([...phrases, ...groups], partCount)) {
      if (part.terms) this.group(part, sums);
      else this.phrase(part, sums, have);
    }
    const { scores, matched } = sums.shared(phrases.length + groups.length);
    for (let n = 0; n < matched.length; n++) if (have[n] !== phrases.length) matched[n] = 0;
    return { scores, matched };
  }

  // group adds what a document scores for one word.
  group(g, all) {
    if (g.terms.length === 1) {
      this.term(g.terms[0], all);
      return;
    }
    const sums = new Sums(this.lengths.total);
    for (const t of byCount(g.terms, termCount)) this.term(t, sums);
    const { scores, matched } = sums.shared(g.terms.length);
    for (let n = 0; n < matched.length; n++) if (matched[n]) all.add(n, scores[n]);
  }

  // held is the weight of a word that is had in another.
  held(entry, boost) {
    return boost * this.lengths.rarity(entry.text) ** 2;
  }

  // term adds what a document scores for one term, in its text and in its headings.
  term({ entry, boost }, all) {
    if (isHeld(entry)) {
      const score = this.held(entry, boost) * this.norm;
      set(entry, this.lengths.total).forEach((yes, n) => yes && all.add(n, score));
      return;
    }
    const p = postings(entry);
    const scores = this.text(entry, boost, p);
    p.headings.forEach((h, i) => {
      if (h) this.heading(h, boost * this.lengths.weights.headings[i], this.lengths.averageHeadings[i], scores);
    });
    for (let i = 0; i < scores.length; i++) all.add(p.docs[i], scores[i]);
  }

  heading({ at, freqs, lengths }, boost, average, scores) {
    const rarity = this.lengths.rarity(at.length);
    const weight = boost * rarity * this.norm;
    for (let i = 0; i < at.length; i++) {
      const tf = Math.sqrt(freqs[i]);
      scores[at[i]] += (rarity * (tf * this.lengths.weights.k1)) / (tf + this.lengths.damping(lengths[i], average)) * weight;
    }
  }

  // text gives the scores of a term in the texts of its documents.
  text(entry, boost, p) {
    const rarity = this.lengths.rarity(entry.text);
    const weight = boost * rarity * this.norm;
    const scores = new Float64Array(p.docs.length);
    for (let i = 0; i < scores.length; i++) {
      const tf = Math.sqrt(p.freqs[i]);
      scores[i] = (rarity * (tf * this.lengths.weights.k1)) / (tf + this.lengths.text[p.docs[i]]) * weight;
    }
    return scores;
  }

  // phrase adds what a document that has the phrase scores for its terms.
  phrase(p, sums, have) {
    const terms = byCount(phraseTerms(p), (e) => e.text);
    const own = new Sums(this.lengths.total);
    for (const e of terms) {
      const { docs, freqs } = postings(e);
      const scores = this.text(e, 1, { docs, freqs });
      for (let i = 0; i < scores.length; i++) own.add(docs[i], scores[i]);
    }
    const at = new Map(terms.map((e) => [e, 0]));
    for (const n of postings(terms[0]).docs) {
      if (own.counts[n] !== terms.length || !this.standsTogether(p, n, at)) continue;
      sums.add(n, own.sums[n]);
      have[n]++;
    }
  }

  // standsTogether says whether document n has the terms of a phrase one behind
  // another. at keeps how far each term's documents have been read: they must be
  // asked about in ascending order.
  standsTogether(phrase, n, at) {
    const sets = phrase.map((e) => {
      if (e === null) return null;
      const list = this.lists.get(e);
      let i = at.get(e);
      while (list.docs[i] < n) i++;
      at.set(e, i);
      return new Set(list.places.subarray(list.starts[i], list.starts[i + 1]));
    });
    for (const first of sets[0]) if (sets.every((s, i) => s === null || s.has(first + i))) return true;
    return false;
  }
}

// Sums gathers scores by document and counts what was added.
class Sums {
  constructor(total) {
    this.sums = new Float64Array(total);
    this.counts = new Uint8Array(total);
  }

  add(n, score) {
    this.sums[n] += score;
    this.counts[n]++;
  }

  // shared gives each sum times the share of the parts that were added.
  shared(parts) {
    const { sums, counts } = this;
    const matched = new Uint8Array(counts.length);
    for (let n = 0; n < counts.length; n++) {
      if (counts[n] === 0) continue;
      matched[n] = 1;
      sums[n] *= counts[n] / parts;
    }
    return { scores: sums, matched };
  }
}
