// An answer in words, the same as on the terminal: package dating's sentences.go.
// dating/testdata/sentences.json holds the two to each other.

import { rankOf } from "./posterior.js";

/** What a question must tell, in bits, to be asked; below it the second look follows. */
export const LEAST_BITS = 0.05;

/** The weight in decibans below which an observation says next to nothing. */
const STILL = 0.5;

/** How many runs of years a headline names, and how many values are named one by one where few are left out. */
const RUNS = 3, LEFT_OUT = 2;

/** How many models a headline names with their years, and a sentence before it counts the others. */
const MANY = 2, NAMED = 6;

/**
 * An answer in words.
 * @param {import("./reference.js").Reference} reference
 * @param {{models?: string[], observed?: object[]}} question
 * @param {object} answer  of that question
 */
export class Sentences {
  constructor(reference, question, answer) {
    this.reference = reference;
    this.answer = answer;
    this.alone = (question.models ?? []).length === 1;
    this.observed = new Map((question.observed ?? []).map((o) => [o.feature, o]));
    this.contradicts = this.observed.size > 0 && answer.strict.years.length === 0;
  }

  /** The name of a model, or of what is not on record. */
  name(bow) {
    return this.reference.models[this.reference.placeOf(bow)].name;
  }

  /** The name at the beginning of a sentence, */
  opening(bow) {
    const name = this.name(bow);
    return bow.model === "" ? name[0].toUpperCase() + name.slice(1) : name;
  }

  /** and within one. */
  theBow(bow) {
    return bow.model === "" ? this.name(bow) : `the ${this.name(bow)}`;
  }

  feature(id) {
    return this.reference.features[this.reference.featureAt.get(id)];
  }

  featureName(id) {
    return lowered(this.feature(id).name);
  }

  /** The years that hold 95 in 100 of the odds, with the likeliest, or what does not fit; no full stop. */
  headline() {
    if (this.answer.impossible) return "No model and year are left";
    return this.contradicts ? this.conflictSets()[0] : this.years();
  }

  /** What is not on record has too many years to name beside those of a model. */
  years() {
    const { best, likely } = this.answer;
    const recorded = likely[95].filter((m) => m.model !== "");
    const set = recorded.length === 0 ? likely[95] : recorded;
    const words = this.yearsOf(set);
    const more = set.length < likely[95].length ? ", or a model not on record" : "";
    if (more && best.model === "") return `A model not on record, or ${words}`;
    if ((set.length === 1 && set[0].years.length === 1) || this.tied().length > 1) return words + more;
    return `${words}, most likely ${set.length === 1 ? "" : `${this.name(best)} `}${best.year}${more}`;
  }

  /** The models and years of a set, or of many the span alone; of one that was asked for the years alone. */
  yearsOf(set) {
    if (set.length > MANY) return `${fewYears(set)}, one of ${set.length} models`;
    if (set.length === 1) return this.alone ? eitherYears(set[0].years) : `${this.opening(set[0])}, ${eitherYears(set[0].years)}`;
    return set.map((m, i) => `${i === 0 ? this.opening(m) : this.name(m)} ${eitherYears(m.years)}`).join(", or ");
  }

  /** The likeliest model on record and its years of the 95 % set; undefined where it holds none. */
  likeliest() {
    const { best, likely } = this.answer;
    return likely[95].find((m) => m.model !== "" && (best.model === "" || m.model === best.model));
  }

  /** It as a name for the answer: "a Plover of 1965 or 1966". */
  answered() {
    const bow = this.likeliest();
    return bow ? `a ${this.name(bow)} of ${eitherYears(bow.years)}` : this.name(this.answer.best);
  }

  /** The pairs that are as likely as the best, which is among them. */
  tied() {
    const { odds, best } = this.answer;
    return odds.filter((o) => rankOf(o.chance) === rankOf(best.chance));
  }

  /** What to do about what does not fit, or an empty text. */
  advice() {
    if (this.answer.impossible) return "Take back an answer, or say that you are not sure of it.";
    if (!this.contradicts) return "";
    const names = this.oddOnes().map((w) => `the ${this.featureName(w.feature)}`);
    if (names.length === 0) return "Look at each again: at least two do not belong, or it is not one bow.";
    if (names.length === 1) return `Look again at ${names[0]}: it may be misread, a replaced part or a special order.`;
    return `Look again at ${joined(names, "and")}: one may be misread, a replaced part or a special order.`;
  }

  /** How sure the answer is. */
  balance() {
    const { best, likely, strict, impossible } = this.answer;
    if (impossible) return [];
    const tied = this.tied();
    const first = tied.length > 1
      ? `No one year is the likeliest: ${this.modelYears(together(tied))} are alike, ${inHundred(best.chance)} each.`
      : `${this.opening(best)} ${best.year} is ${howSure(best.chance)}, ${inHundred(best.chance)}.`;
    const most = this.modelYears(likely[95]), half = this.modelYears(likely[50]);
    const list = [first, `95 in 100 of the odds lie on ${most}${most === half ? "" : `, half on ${half}`}.`];
    if (this.observed.size === 0) list.push("Nothing is answered yet: these are the years of the models as made.");
    else if (!this.contradicts) list.push(`Taken at its word: ${this.modelYears(strict.years)}.`);
    return list;
  }

  /** How to tell likely models apart that are easily taken for each other. */
  alike() {
    if (this.answer.impossible) return [];
    const likely = new Set(this.answer.likely[95].map((m) => m.model));
    return this.reference.tells((one, other) => likely.has(one) && likely.has(other));
  }

  /** What does not fit, and what is left without each part of it. */
  conflicts() {
    if (!this.contradicts || this.answer.impossible) return [];
    const odd = this.oddOnes();
    return [...this.conflictSets(), ...odd.map((w) => this.oddWords(w)), odd.length === 0
      ? "No single part is the odd one out: at least two do not belong with the rest, or it is no bow that the register knows."
      : "If all is as you said after a second look, it is not one bow, or the register is wrong."];
  }

  oddWords({ feature, years }) {
    const words = `The odd one out may be the ${this.featureName(feature)}: without it ${this.modelYears(years)} remains. ${this.explain(feature)}`;
    return [words, ...this.specialOrders(feature, years)].join(" ");
  }

  /** Which makers of what is left took special orders of a feature, a sentence each. */
  specialOrders(feature, years) {
    const all = years.map((bow) => this.reference.models[this.reference.placeOf(bow)].orders[feature]);
    return [...new Set(all.filter(Boolean))];
  }

  conflictSets() {
    const subject = this.alone ? `No ${this.name(this.answer.best)} on record` : "No bow on record";
    const sets = this.answer.strict.conflicts;
    const said = (ids) => ids.map((id) => this.observation(id));
    const { hub, others } = around(sets);
    if (hub) return [`${subject} has ${this.observation(hub)} together with ${joined(said(others), "or")}`];
    if (sets.length > 0 && sets.every((set) => set.length === 1)) return [`${subject} has ${joined(said(sets.flat()), "or")}`];
    const list = sets.length === 1 ? [] : [`${subject} has all of this`];
    for (const set of sets) {
      const parts = said(set), last = parts.pop();
      list.push(`${subject} has ${parts.length > 0 ? `${parts.join(", ")} together with ` : ""}${last}`);
    }
    return list;
  }

  /** The observations without which something is left where they contradict each other, the unlikeliest first. */
  oddOnes() {
    if (!this.contradicts) return [];
    const { strict, evidence } = this.answer;
    const weight = (id) => evidence.find((e) => e.feature === id).decibans;
    return strict.without.filter((w) => w && w.years.length > 0).sort((a, b) => compareDecibans(weight(a.feature), weight(b.feature)));
  }

  /**
   * The parts of which nothing seen is on record for the likeliest model in any year, though other values are:
   * they contradict nothing where nobody speaks for the year. The unlikeliest first.
   * @param {object} claims  of the likeliest model on record by feature
   */
  unrecordedParts(claims) {
    const parts = this.answer.evidence.filter(({ feature: id }) => {
      const held = claims[id] ?? [], place = this.reference.featureAt.get(id);
      if (held.length === 0 || this.feature(id).kind === "number") return false;
      const seen = this.observed.get(id).values.flatMap((value) => this.reference.resolveValue(place, value));
      return !held.some((c) => seen.some((o) => c.from <= o && o <= c.to));
    });
    return parts.sort((a, b) => compareDecibans(a.decibans, b.decibans)).map((e) => e.feature);
  }

  unrecordedWords(id) {
    const bow = this.likeliest();
    return `The odd one out may be the ${this.featureName(id)}: no ${this.name(bow)} on record has ${this.values(id)}. ${this.explain(id)}`;
  }

  explain(id) {
    const { values, sure } = this.observed.get(id);
    if ((this.feature(id).altered ?? []).some((to) => values.includes(to))) return "Later owners are known to have changed this.";
    if (sure === "unsure") return "You were not sure of it: look again first.";
    return "It may be a replaced or refinished part, a special order or a misreading.";
  }

  /** An observation in words: "riser wood Padauk". */
  observation(id) {
    return `${this.featureName(id)} ${this.values(id)}`;
  }

  values(id) {
    const but = this.allBut(id);
    if (but) return but;
    const place = new Map(this.feature(id).values.map((v, i) => [v.id, i])); // none of letters and figures, which stay as they are
    const values = [...this.observed.get(id).values].sort((a, b) => place.get(a) - place.get(b) || 0);
    return joined(values.map((v) => this.reference.valueLabel(id, v)), "or");
  }

  /** Of many values seen, those that are not among them: "anything but Padauk"; or nothing. */
  allBut(id) {
    const seen = this.observed.get(id).values;
    if (seen.length <= LEFT_OUT || !seen.includes("something-else") || this.feature(id).kind === "text") return "";
    const rest = this.feature(id).values.filter((v) => !seen.includes(v.id)).map((v) => v.name);
    return rest.length === 0 || rest.length > LEFT_OUT ? "" : `anything but ${joined(rest, "or")}`;
  }

  /** Years of models: "Plover 1964–1967; Dunlin 1966". */
  modelYears(list) {
    if (list.length === 0) return "no year";
    const most = list.length > NAMED + 1 ? NAMED : list.length;
    const parts = list.slice(0, most).map((m) => `${this.name(m)} ${yearRuns(m.years).join(", ")}`);
    if (most < list.length) parts.push(`and ${list.length - most} other models`);
    return parts.join("; ");
  }

  /**
   * What was seen, its weight, and the claims behind it, heaviest first.
   * @param {object[]} reasons  the evidence with its claims
   * @param {object} claims     of the best model by feature
   */
  reasons(reasons, claims) {
    const falling = [...reasons].sort((a, b) => -compareDecibans(a.decibans, b.decibans));
    return falling.map((e) => ({
      feature: e.feature, decibans: e.decibans, seen: this.values(e.feature) + (DOUBT[e.sure] ?? ""), weight: weight(e.decibans),
      notes: this.notes(e, claims), grounds: deciding(e.claims).map((claim) => ({ claim, ...groundWords(claim) })),
    }));
  }

  /** Whether a question that was not skipped would still tell enough to be asked. */
  asks(skipped = new Set()) {
    return this.answer.look.find((l) => l.bits >= LEAST_BITS && !skipped.has(l.feature));
  }

  /**
   * What is to be seen at a glance and was neither observed nor skipped, with what
   * the claims of the likeliest model on record say of it in its 95 % years: the most particular first. Published figures are no parts.
   * @returns {{feature: string, outcomes: number[], label: string, share: number}[]}
   */
  secondLook(claims, skipped = new Set()) {
    const years = this.likeliest()?.years ?? [], list = [];
    for (const { id, effort, kind } of this.reference.features) {
      if (effort !== "glance" || kind === "number" || this.observed.has(id) || skipped.has(id)) continue;
      const held = (claims[id] ?? []).filter((c) => years.some((year) => inRuns(c.years, year)));
      const outcomes = [...new Set(held.flatMap((c) => Array.from({ length: c.to - c.from + 1 }, (_, i) => c.from + i)))].sort((a, b) => a - b);
      if (outcomes.length === 0) continue;
      list.push({ feature: id, outcomes, label: this.reference.names(id, outcomes), share: outcomes.length / this.reference.chancesOf(id).outcomes });
    }
    return list.sort((a, b) => a.share - b.share);
  }

  /** What is said of an observation beside the claims for and against it. */
  notes(e, claims) {
    const list = [];
    const recorded = this.feature(e.feature).kind === "text" ? this.reference.recorded(e.feature) : [];
    if (recorded.length > 0 && e.outcomes.length === 1 && e.outcomes[0] === recorded.length) list.push(`It fits nothing on record. Recorded: ${fewest(recorded)}.`);
    if (!e.claims.some((c) => c.holds)) {
      const never = e.claims.length === 0 && !claims[e.feature]?.length;
      const words = `Nobody says what ${this.theBow(this.answer.best)} had${never ? "" : ` in ${this.answer.best.year}`}`;
      list.push(Math.abs(e.decibans) >= STILL ? `${words}; it weighs only because somebody does of other ${never ? "models" : "years or models"}.` : `${words}.`);
    }
    return list;
  }
}

const DOUBT = { fairly: ", fairly sure", unsure: ", not sure" };

/** The one feature that all of several pairs share, and what it is paired with. */
function around(sets) {
  if (sets.length < 2) return {};
  for (const hub of sets[0]) {
    const pairs = sets.filter((set) => set.length === 2 && set.includes(hub));
    if (pairs.length === sets.length) return { hub, others: pairs.map((set) => set[set[0] === hub ? 1 : 0]) };
  }
  return {};
}

/** Those that hold in the best year; those of the values seen in other years only where none of them holds in it. */
function deciding(claims) {
  const some = claims.some((c) => c.seen && c.holds);
  return claims.filter((c) => !some || c.holds);
}

/** How many independent witnesses some citations are, where they are fewer. */
function witnessWords(n, cites) {
  if (!(n > 0) || cites.length === 0) return "";
  return n === 1 ? " (one witness)" : ` (${n} independent witnesses)`;
}

/** What a claim claims, who is cited on either side, how many witnesses that makes, and what settled it. */
function groundWords(claim) {
  return {
    what: `${claim.seen ? "" : "but "}${claim.label} ${claim.span}`,
    cites: once(claim.cites), against: once(claim.against ?? []),
    witnesses: witnessWords(claim.witnesses, claim.cites), dissents: witnessWords(claim.dissents, claim.against ?? []),
    settled: settledWords(claim), said: saidIn(claim.cites),
  };
}

/** The words of the first place cited whose words are known. */
function saidIn(cites) {
  const at = cites.find((c) => c.says);
  return at ? `${at.by ? `${at.by} says (${at.words})` : `${at.words} says`}: “${at.says.replace(/\.$/, "")}”.` : "";
}

function settledWords({ settled, disputed }) {
  if (settled) return settled === "yes" ? ", settled" : `, settled: ${settled.replace(/\.$/, "")}`;
  return disputed ? ", not settled" : "";
}

/** A ground as one sentence of plain text. */
export function groundText({ what, cites, witnesses, against, dissents, settled, said }) {
  const by = cites.map((c) => c.words).join("; ") || "nobody named";
  return `${what}, by ${by}${witnesses}${against.length > 0 ? `, against the word of ${against.map((c) => c.words).join("; ")}${dissents}` : ""}${settled}.${said ? ` ${said}` : ""}`;
}

const once = (cites) => cites.filter((c, i) => cites.findIndex((other) => other.words === c.words) === i);

/** Bits in words; most is said of the question that tells most. */
export function worth(bits, most) {
  if (bits < LEAST_BITS) return "tells next to nothing";
  if (most) return "tells most";
  if (bits >= 1) return "tells much";
  return bits >= 0.3 ? "tells something" : "tells a little";
}

/** Decibans in words: "11 to 1 for it". */
export function weight(decibans) {
  const ratio = 10 ** (Math.abs(decibans) / 10);
  if (Math.abs(decibans) < STILL) return "next to nothing either way";
  if (decibans === -Infinity) return "excludes it";
  const times = ratio < 10 ? String(Math.round(ratio * 10) / 10) : ratio.toFixed(0);
  return `${times} to 1 ${decibans > 0 ? "for" : "against"} it`;
}

function compareDecibans(a, b) {
  if (a === b || Math.abs(a - b) < 1e-9) return 0;
  return a < b ? -1 : 1;
}

/** Whether runs of years, [first, count, …], hold the year. */
export function inRuns(runs, year) {
  for (let k = 0; k < runs.length; k += 2) if (runs[k] <= year && year < runs[k] + runs[k + 1]) return true;
  return false;
}

/** A chance in words: "81 in 100". */
export function inHundred(chance) {
  const n = Math.round(chance * 100);
  if (n < 1) return "less than 1 in 100";
  return n > 99 ? "more than 99 in 100" : `${n} in 100`;
}

/** How sure the likeliest pair is. */
export function howSure(chance) {
  if (chance >= 0.95) return "as good as certain";
  if (chance >= 0.8) return "very likely";
  return chance >= 0.5 ? "more likely than not" : "the likeliest of several";
}

/** Rising years, those that follow one another as "1964–1967". */
export function yearRuns(years, least = 2) {
  const parts = [];
  for (let i = 0; i < years.length; ) {
    let j = i;
    while (j + 1 < years.length && years[j + 1] === years[j] + 1) j++;
    if (j - i + 1 < least) j = i;
    parts.push(years[i] === years[j] ? `${years[i]}` : `${years[i]}–${years[j]}`);
    i = j + 1;
  }
  return parts;
}

/** Rising years as a choice: "1965 or 1966", "1958–1962 or 1965". */
export const eitherYears = (years) => joined(yearRuns(years, 3), "or");

/** The years of several models in few words. */
function fewYears(set) {
  const years = [...new Set(set.flatMap((m) => m.years))].sort((a, b) => a - b);
  return yearRuns(years).length > RUNS ? `${years[0]}–${years.at(-1)}` : eitherYears(years);
}

/** Pairs by model and year, put together by model. */
function together(pairs) {
  const list = [];
  const before = (a, b) => (a < b ? -1 : Number(a > b));
  const order = (a, b) => before(a.model, b.model) || before(a.maker, b.maker) || a.year - b.year;
  for (const { model, maker, year } of [...pairs].sort(order)) {
    const last = list.at(-1);
    if (last?.model === model && last.maker === maker) last.years.push(year);
    else list.push({ model, maker, years: [year] });
  }
  return list;
}

/** "a, b or c". */
export function joined(names, joint) {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} ${joint} ${names.at(-1)}`;
}

function fewest(names) {
  const list = names.length > NAMED + 1 ? [...names.slice(0, NAMED), `${names.length - NAMED} others`] : names;
  return joined(list, "and");
}

/** A name with a small first letter, unless its second is a capital as well. */
export function lowered(name) {
  const [first = "", second = ""] = name;
  return second !== "" && second.toLowerCase() === second ? first.toLowerCase() + name.slice(first.length) : name;
}
