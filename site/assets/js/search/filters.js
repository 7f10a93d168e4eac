// Finds the documents that kind, maker, model, features and years leave.

import { earliestYear, held, latestYear, set } from "./terms.js";

const key = (filter, value) => `\x01${filter}${value}`;
const plainFigure = /^-?[0-9]+(\.[0-9]+)?$/;

/** The filters of one question over the files of an index. */
export class Filters {
  constructor(files, meter) {
    this.files = files;
    this.meter = meter;
    this.total = files.root.total;
  }

  /** One byte for each document, 1 where the query's filters leave it; null where it has none. */
  async mask(query) {
    let mask = null;
    const both = (other) => {
      if (mask === null) mask = other.slice();
      else for (let n = 0; n < mask.length; n++) mask[n] &= other[n];
    };
    if (query.kinds?.length > 0) both(await this.kinds(query.kinds));
    if (query.maker) both(await this.set(key("m", query.maker)));
    if (query.model) both(await this.set(key("b", query.model)));
    const [first, last] = query.years ?? [];
    if (last != null) both(await this.years("<", this.files.root.firsts.findLast((y) => y <= last)));
    if (first != null) both(await this.years(">", this.files.root.lasts.find((y) => y >= first)));
    if (query.features?.length > 0) both(await this.together(query.features, query.years));
    return mask;
  }

  async kinds(list) {
    const mask = new Uint8Array(this.total);
    for (const kind of list) {
      const one = await this.set(key("k", kind));
      for (let n = 0; n < mask.length; n++) mask[n] |= one[n];
    }
    return mask;
  }

  async years(filter, year) {
    return year === undefined ? new Uint8Array(this.total) : this.set(key(filter, year));
  }

  async set(k) {
    const entry = await this.files.entry(k, this.meter);
    return entry ? set(entry, this.total) : new Uint8Array(this.total);
  }

  /** The keys of the values that a feature asked for stands for. */
  async featureKeys(asked) {
    const at = asked.indexOf("=");
    const name = at < 0 ? asked : asked.slice(0, at), value = at < 0 ? "" : asked.slice(at + 1);
    if (!plainFigure.test(value)) return [asked];
    const ranges = (await this.values(name)).filter((e) => held(e).isFigure);
    if (ranges.length === 0) return [asked];
    const figure = Number(value);
    return ranges.filter((e) => held(e).low <= figure && figure <= held(e).high).map((e) => e.key.slice(2));
  }

  /** The entries of every value of a feature. */
  values(name) {
    return this.files.entriesFrom(key("=", `${name}=`), this.meter);
  }

  /** What there is of a feature asked for: its values with their documents and years. */
  async holders(asked) {
    const entries = await Promise.all((await this.featureKeys(asked)).map((k) => this.files.entry(key("=", k), this.meter)));
    return entries.filter((e) => e).map(held);
  }

  // together leaves the documents that have all features in one and the same year.
  async together(features, years) {
    const lists = await Promise.all(features.map((f) => this.holders(f)));
    const counts = new Uint8Array(this.total);
    for (const list of lists) {
      const own = new Uint8Array(this.total);
      for (const { docs } of list) for (const n of docs) own[n] = 1;
      for (let n = 0; n < own.length; n++) counts[n] += own[n];
    }
    const free = lists.length === 1 && !bounded(years);
    return counts.map((count, n) => (count === lists.length && (free || inOneYear(n, lists, years)) ? 1 : 0));
  }
}

const bounded = (years) => years?.[0] != null || years?.[1] != null;

/**
 * Whether there is a year within [first, last] in which document n has one of the values
 * of every list.
 */
export function inOneYear(n, lists, years) {
  const first = years?.[0] ?? earliestYear, last = years?.[1] ?? latestYear;
  const spans = lists.map((list) => list.flatMap((h) => spansOf(n, h)));
  const candidates = [first, ...spans.flat().map((s) => s[0])];
  return candidates.some((year) => year >= first && year <= last && spans.every((list) => list.some((s) => s[0] <= year && year <= s[1])));
}

// spansOf gives the [first, last] years in which document n has a value.
function spansOf(n, { docs, starts, firsts, lasts }) {
  const i = placeOf(n, docs);
  if (i < 0) return [];
  return firsts.slice(starts[i], starts[i + 1]).map((first, j) => [first, lasts[starts[i] + j]]);
}

// placeOf finds a number in an ascending list, or gives -1.
function placeOf(n, list) {
  let lo = 0, hi = list.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (list[mid] < n) lo = mid + 1;
    else hi = mid;
  }
  return list[lo] === n ? lo : -1;
}

/** How many documents have each choice: see engine.facets. */
export class Counter {
  constructor(filters, query, matched) {
    this.filters = filters;
    this.query = query;
    this.matched = matched; // one byte for each document that the words leave, or null for all
  }

  // left gives the documents that a changed query leaves, one byte each.
  async left(changes) {
    const mask = await this.filters.mask({ ...this.query, ...changes });
    const left = this.matched ? this.matched.slice() : new Uint8Array(this.filters.total).fill(1);
    if (mask) for (let n = 0; n < left.length; n++) left[n] &= mask[n];
    return left;
  }

  async total() {
    return (await this.left({})).reduce((n, x) => n + x, 0);
  }

  async wholes(filter, changes) {
    const left = await this.left(changes);
    const counts = {};
    for (const e of await this.filters.files.entriesFrom(key(filter, ""), this.filters.meter)) {
      const mask = set(e, this.filters.total);
      let n = 0;
      for (let i = 0; i < left.length; i++) n += left[i] & mask[i];
      if (n > 0) counts[e.key.slice(2)] = n;
    }
    return counts;
  }

  async feature(name) {
    const others = (this.query.features ?? []).filter((f) => !f.startsWith(`${name}=`));
    const left = await this.left({ features: others });
    const lists = await Promise.all(others.map((f) => this.filters.holders(f)));
    const counts = {};
    for (const e of await this.filters.values(name)) {
      const own = held(e);
      let n = 0;
      for (const doc of own.docs) if (left[doc] && inOneYear(doc, [...lists, [own]], this.query.years)) n++;
      if (n > 0) counts[e.key.slice(name.length + 3)] = n;
    }
    return counts;
  }
}

/** Whether two spans share a year; null on either side of asked bounds nothing. */
export const meets = (first, last, asked) => {
  if (first === 0 && last === 0) [first, last] = [earliestYear, latestYear];
  return first <= (asked?.[1] ?? latestYear) && last >= (asked?.[0] ?? earliestYear);
};
