// Works out which terms stand for what was typed, as Go's search/parse.go,
// plan.go and dictionary.go do.

import { distance, letters as lettersOf } from "./distance.js";
import { compareText } from "./order.js";
import { stem } from "./stem.js";
import { heldKey } from "./terms.js";
import { split, Code, Figure, Joined, Measure, Part, Word } from "./words.js";

const maxTokens = 64, maxWords = 10, maxPrefix = 8, maxNear = 5, minPrefix = 2, maxPhrases = 4, maxPhrase = 10;

const isYear = (word) => word.length === 4 && hasDigit(word);
const hasDigit = (word) => /[0-9]/.test(word);

/** What was typed, as wishes and phrases. Every text has a meaning. */
export function parse(typed, typing) {
  const segments = quoted(typed);
  const wishes = [], phrases = [];
  segments.forEach((s, i) => {
    const tokens = split(s.text);
    if (s.quoted) {
      const p = phraseOf(tokens);
      if (p.length > 0 && phrases.length < maxPhrases) phrases.push(p);
    } else {
      wishes.push(...wishesOf(s.text, tokens, typing && i === segments.length - 1));
    }
  });
  return { wishes, phrases };
}

function quoted(typed) {
  typed = typed.replace(/[“”„]/g, '"');
  const list = [];
  for (;;) {
    const open = opening(typed);
    const close = open < 0 ? -1 : typed.indexOf('"', open + 1);
    if (close < 0) return [...list, { text: typed, quoted: false }];
    list.push({ text: typed.slice(0, open), quoted: false }, { text: typed.slice(open + 1, close), quoted: true });
    typed = typed.slice(close + 1);
  }
}

function opening(s) {
  for (let i = 0; i < s.length; i++) {
    if (s[i] === '"' && (i === 0 || s[i - 1] < "0" || s[i - 1] > "9")) return i;
  }
  return -1;
}

function phraseOf(tokens) {
  const p = [];
  let last = 0;
  for (const t of tokens) {
    if (t.kind >= Measure) continue;
    for (let gap = last + 1; p.length > 0 && gap < t.pos; gap++) p.push("");
    if (p.length >= maxPhrase) break;
    p.push(t.term);
    last = t.pos;
  }
  while (p.length > 0 && p[p.length - 1] === "") p.pop();
  return p;
}

function wishesOf(text, tokens, unfinished) {
  const list = [];
  tokens.forEach((t, i) => {
    if (t.kind === Measure || t.kind === Part) return;
    const w = {
      word: t.word, terms: [t.term], parts: [], optional: t.kind === Joined, fuzzy: t.kind === Word,
      prefix: text[t.end] === "*" || (unfinished && t.end === text.length),
    };
    if (t.kind === Code) {
      for (let j = i + 1; j < tokens.length && tokens[j].kind === Part && tokens[j].pos === t.pos; j++) w.parts.push(tokens[j].term);
    }
    if (t.kind === Figure) {
      w.word = t.term;
      w.prefix = false;
      if (tokens[i + 1]?.kind === Measure) w.terms = [tokens[i + 1].term, t.term];
    }
    list.push(w);
  });
  return list;
}

/** Plans what was typed from the files of an index. */
export class Planner {
  constructor(files, meter) {
    this.files = files;
    this.meter = meter;
  }

  /**
   * {phrases: [[entry | null, …]], groups: [{word, terms: [{entry, boost}]}],
   * hopeless, corrected, unknown, ignored}
   */
  async plan(typed, typing) {
    const { wishes, phrases } = parse(typed, typing);
    const p = { phrases: [], groups: [], hopeless: false, corrected: [], unknown: [], ignored: wishes.slice(maxTokens).map((w) => w.word) };
    const found = await Promise.all(wishes.slice(0, maxTokens).map((w) => this.add(w)));
    for (const f of found) {
      p.groups.push(...f.groups);
      if (f.corrected) p.corrected.push(f.corrected);
      if (f.unknown !== undefined) p.unknown.push(f.unknown);
    }
    p.groups = unique(p.groups);
    shorten(p, maxWords - phrases.length);
    await this.addHeld(p.groups);
    for (const phrase of phrases) p.phrases.push(await Promise.all(phrase.map((t) => (t === "" ? null : this.phraseTerm(t, p)))));
    if (p.groups.length === 0 && phrases.length === 0 && typed.trim() !== "") p.hopeless = true;
    return p;
  }

  // addHeld lets each word in which others are had stand for that as well.
  async addHeld(groups) {
    const words = groups.map((g) => (g.terms.length === 1 ? g.terms[0].entry.key : ""));
    const had = await Promise.all(words.map((within) => Promise.all(words.map((word) => word && within && this.entry(heldKey(word, within))))));
    const some = had.map((list) => list.some((e) => e));
    const stand = groups.map((g, n) => {
      const alone = words.some((word, i) => i !== n && !some[i] && !isYear(word) && !had[n][i]);
      if (!some[n] || alone) return g.terms;
      const found = had[n].filter((e) => e);
      const boost = found.length + 1;
      return [{ entry: g.terms[0].entry, boost }, ...found.map((entry) => ({ entry, boost: boost * this.files.root.weights.held }))];
    });
    groups.forEach((g, n) => (g.terms = stand[n]));
  }

  async phraseTerm(term, p) {
    const entry = await this.entry(term);
    if (!entry) {
      p.hopeless = true;
      p.unknown.push(term);
    }
    return entry ?? null;
  }

  entry(term) {
    return this.files.entry(term, this.meter);
  }

  // add finds the terms that stand for one word asked for.
  async add(w) {
    const begun = w.prefix && [...w.word].length >= minPrefix ? this.prefixed(w.word, maxPrefix) : null;
    const [beginnings, ...known] = await Promise.all([begun, ...w.terms.map((t) => this.entry(t))]);
    const exact = known.find((e) => e);
    if (beginnings) {
      const terms = await this.weighed(exact, beginnings);
      if (terms.length > 0) return { groups: [{ word: w.word, terms }] };
    }
    if (exact) return { groups: [{ word: w.word, terms: [{ entry: exact, boost: 1 }] }] };
    if (w.optional) return { groups: [] };
    const parts = (await Promise.all(w.parts.map((t) => this.entry(t)))).filter((e) => e);
    if (parts.length > 0) {
      const groups = parts.map((entry) => ({ word: entry.key, terms: [{ entry, boost: 1 }] }));
      return { groups, corrected: { word: w.word, used: parts.map((e) => e.key) } };
    }
    const near = w.fuzzy ? await this.near(w.word, maxNear) : [];
    if (near.length === 0) return { groups: [], unknown: w.word };
    const corrected = { word: w.word, used: near.map((c) => c.word) };
    return { groups: [{ word: w.word, terms: await this.weighed(undefined, near) }], corrected };
  }

  // weighed weighs the terms that stand for one word alike, the exact one more.
  async weighed(exact, candidates) {
    const others = candidates.filter((c) => c.term !== exact?.key);
    const entries = await Promise.all(others.map((c) => this.entry(c.term)));
    const terms = entries.map((entry) => ({ entry, boost: 1 }));
    if (exact) terms.unshift({ entry: exact, boost: this.files.root.weights.exact });
    if (terms.length === 1) terms[0].boost = 1;
    for (const t of terms) t.boost *= terms.length;
    return terms;
  }

  async prefixed(start, limit) {
    return ranked(await this.files.wordsFrom(start, this.meter), limit);
  }

  async near(word, limit) {
    const letters = lettersOf(word);
    const allowed = tolerance(letters, word);
    if (allowed === 0) return [];
    const start = (n) => this.files.wordsFrom(String.fromCodePoint(...letters.slice(0, n)), this.meter);
    let found = nearest(letters, await start(2), allowed);
    if (found.least !== 1 || found.near.length === 0) found = nearest(letters, await start(1), allowed);
    return ranked(found.near, limit);
  }

  /** Words that people may have meant by words that nothing stands for: eight at most. */
  async nearWords(unknown) {
    const all = [];
    for (const w of unknown) {
      const letters = lettersOf(w);
      if (letters.length === 0) continue;
      const allowed = letters.length < 5 ? 1 : letters.length < 8 ? 2 : 3;
      for (const e of await this.files.wordsFrom(String.fromCodePoint(letters[0]), this.meter)) {
        const n = distance(letters, lettersOf(e.word), allowed);
        if (n <= allowed) all.push({ ...e, distance: n });
      }
    }
    all.sort((a, b) => a.distance - b.distance || b.met - a.met || compareText(a.word, b.word));
    return [...new Set(all.map((n) => n.word))].slice(0, 8);
  }

  /** Words that begin as the last word typed does. */
  async suggest(start, limit) {
    const { wishes } = parse(start, true);
    const w = wishes[wishes.length - 1];
    return w?.prefix ? (await this.prefixed(w.word, limit)).map((c) => c.word) : [];
  }
}

// nearest gives the least distance of words to the letters, allowed at most, and the words at that distance.
function nearest(letters, list, allowed) {
  let least = allowed, near = [];
  for (const e of list) {
    if (Math.abs(e.word.length - letters.length) > 2 * least || hasDigit(e.word)) continue;
    const n = distance(letters, lettersOf(e.word), least);
    if (n < least) [least, near] = [n, [e]];
    else if (n === least) near.push(e);
  }
  return { least, near };
}

function tolerance(letters, word) {
  if (letters.length < 4 || hasDigit(word)) return 0;
  return letters.length < 6 ? 1 : 2;
}

function ranked(list, limit) {
  const byTerm = new Map();
  for (const e of list) {
    const term = stem(e.word);
    let c = byTerm.get(term);
    if (!c) byTerm.set(term, (c = { term, word: "", best: 0, met: 0 }));
    c.met += e.met;
    if (e.met > c.best) {
      c.word = e.word;
      c.best = e.met;
    }
  }
  return [...byTerm.values()].sort((a, b) => b.met - a.met || compareText(a.term, b.term)).slice(0, limit);
}

const sameTerms = (a, b) =>
  a.length === b.length && a.every((t, i) => t.entry === b[i].entry && t.boost === b[i].boost);

function unique(groups) {
  const list = [];
  for (const g of groups) if (!list.some((u) => sameTerms(u.terms, g.terms))) list.push(g);
  return list;
}

// shorten keeps the rarest words of a long question, as many as there is room for.
function shorten(p, room) {
  if (p.groups.length <= room) return;
  const ranks = p.groups.map((g, place) => ({ place, count: g.terms.reduce((n, t) => n + t.entry.text, 0) }));
  ranks.sort((a, b) => a.count - b.count || a.place - b.place);
  const keep = new Set(ranks.slice(0, room).map((r) => r.place));
  p.ignored.push(...p.groups.filter((_, i) => !keep.has(i)).map((g) => g.word));
  p.groups = p.groups.filter((_, i) => keep.has(i));
}
