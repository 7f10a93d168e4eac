import { decodeDependences } from "./depend.js";
import { decodeChances, decodePairs, runOf } from "./table.js";
import { steps, stepsLabel } from "./figures.js";
import { joined } from "./sentences.js";
import { matches } from "./wording.js";
import { Workspace } from "./workspace.js";
import { MAX_SEEN } from "./strict.js";

/** What of a question is not understood. */
export class Refusal extends Error {
  constructor(message, { model = "", feature = "", value = "" } = {}) {
    super(message);
    this.name = "Refusal";
    this.model = model;
    this.feature = feature;
    this.value = value;
  }
}

export const SOMETHING_ELSE = "something-else";

/** How many outcomes a label names one by one. */
const MANY = 4;

/** The models, features and tables of a published reference. */
export class Reference {
  /** @param {object} header  the header file */
  constructor(header) {
    this.header = header;
    this.table = decodePairs(header);
    this.tied = new Set(header.dependences?.features ?? []);
    [this.firstYear, this.lastYear] = bounds(this.table.years);
    this.workspace = new Workspace(); // where answers are worked out,
    this.after = new Workspace(); // and what each outcome of an observation would make of one
    this.yearLists = header.models.map((_, m) => Array.from(this.table.years.subarray(this.table.starts[m], this.table.starts[m + 1])));
    this.modelAt = new Map();
    this.unrecordedAt = new Map(); // by maker: where what is not on record stands
    this.models = header.models.map((m, i) => {
      const [start, end] = [this.table.starts[i], this.table.starts[i + 1]];
      const maker = header.makers[m.maker] ?? { id: "", name: "", address: "" };
      const years = this.table.years;
      return {
        id: m.id, name: m.name, address: m.address || maker.address, maker: maker.id, makerName: maker.name, makerAddress: maker.address, mute: maker.mute ?? {}, orders: maker.orders ?? {}, advice: m.advice ?? [], alike: m.alike ?? [],
        first: start < end ? years[start] : null, last: start < end ? years[end - 1] : null,
      };
    });
    this.models.forEach((m, i) => (m.id === "" ? this.unrecordedAt.set(m.maker, i) : this.modelAt.set(m.id, i)));
    this.features = header.features.map((f) => ({ ...f, loaded: false }));
    this.featureAt = new Map(header.features.map((f, i) => [f.id, i]));
    this.chances = header.features.map(() => null);
    this.table.chancesAt = this.chances;
    this.patterns = header.features.map(() => []);
  }

  /** How to tell models apart that are easily taken for each other and of which both are wanted, a sentence each. */
  tells(wanted) {
    return this.models.flatMap((m) => m.alike.filter((other) => wanted(m.id, other.model)).map(({ words }) => words));
  }

  /** Where a model stands, or what an answer names by its maker alone. */
  placeOf({ model, maker = "" }) {
    const at = model === "" ? this.unrecordedAt.get(maker) : this.modelAt.get(model);
    if (at === undefined) throw new Refusal(`the model "${model}" is not in the reference`, { model });
    return at;
  }

  /** The features named whose tables are not here. */
  missing(ids) {
    return ids.map((id) => this.features[this.featurePlace(id)]).filter((f) => !f.loaded);
  }

  /** Takes in one feature's table. */
  add(shard) {
    const at = this.featurePlace(shard.feature);
    this.chances[at] = { ...decodeChances(shard, this.table), place: at, shard: this.tied.has(shard.feature) ? shard : null };
    this.patterns[at] = shard.patterns ?? [];
    this.features[at].loaded = true;
  }

  /** Takes in what conditions tie together. */
  tie(dependences) {
    this.table.dependences = decodeDependences(dependences);
  }

  featurePlace(id) {
    const at = this.featureAt.get(id);
    if (at === undefined) throw new Refusal(`the feature "${id}" is not in the reference`, { feature: id });
    return at;
  }

  /** A feature's table. */
  chancesOf(id) {
    const chances = this.chances[this.featurePlace(id)];
    if (chances === null) throw new Refusal(`the table of "${id}" has not been fetched`, { feature: id });
    return chances;
  }

  /**
   * Turns a question into places in the tables, observations by rising feature;
   * `asked` holds for each its place in the question.
   */
  resolve(question) {
    const observed = question.observed ?? [];
    if (observed.length > MAX_SEEN) throw new Refusal(`${observed.length} observations are more than one bow may have`);
    const seen = observed.map((o, asked) => ({ ...this.resolveSeen(o), asked }));
    seen.sort((a, b) => a.place - b.place);
    for (let i = 1; i < seen.length; i++) {
      const feature = this.features[seen[i].place].id;
      if (seen[i].place === seen[i - 1].place) throw new Refusal(`the feature "${feature}" is observed twice`, { feature });
    }
    return { models: this.resolveModels(question.models ?? []), seen };
  }

  resolveModels(ids) {
    if (ids.length === 0) return null;
    const places = ids.map((id) => {
      const at = this.modelAt.get(id);
      if (at === undefined) throw new Refusal(`the model "${id}" is not in the reference`, { model: id });
      return at;
    });
    return [...new Set(places)].sort((a, b) => a - b);
  }

  resolveSeen(o) {
    const place = this.featurePlace(o.feature);
    const sure = this.header.sure[o.sure || "sure"];
    if (sure === undefined) throw new Refusal(`"${o.sure}" is not how sure one can be`, { feature: o.feature });
    if (!o.values || o.values.length === 0) throw new Refusal(`the feature "${o.feature}" is observed without a value`, { feature: o.feature });
    const outcomes = new Set(o.values.flatMap((value) => this.resolveValue(place, value)));
    return { place, chances: this.chancesOf(o.feature), outcomes: [...outcomes].sort((a, b) => a - b), sure };
  }

  resolveValue(place, value) {
    const f = this.features[place];
    if (f.kind === "text") return value === SOMETHING_ELSE ? [this.patterns[place].length] : matches(this.patterns[place], value);
    if (f.kind === "number") {
      const list = steps({ ...f, outcomes: this.chancesOf(f.id).outcomes }, value);
      if (list !== null) return list;
      throw new Refusal(`"${value}" is not a figure from ${stepsLabel(f, [0, Math.round((f.high - f.low) / f.step)])}`, { feature: f.id, value });
    }
    const at = f.values.findIndex((v) => v.id === value);
    if (at < 0) throw new Refusal(`the value "${value}" is not one of ${f.id}`, { feature: f.id, value });
    return [at];
  }

  /** Names an observed value for people: letters as they were written, or the recorded value that is meant. */
  valueLabel(feature, value) {
    const place = this.featurePlace(feature);
    if (this.features[place].kind !== "text") return this.label(place, this.resolveValue(place, value));
    if (value === SOMETHING_ELSE) return "something else";
    const claimed = this.patterns[place].findIndex((p) => p.text === value);
    return claimed < 0 ? `"${value}"` : this.label(place, [claimed]);
  }

  /** The values of a choice that some claim of one of the models holds. */
  claimedValues(feature, models) {
    const place = this.featurePlace(feature), f = this.chancesOf(feature), ids = new Set();
    for (const model of models) {
      const m = this.modelAt.get(model), end = this.table.starts[m + 1];
      for (let k = runOf(f, this.table.starts[m]); k < f.runRow.length && (k === 0 ? 0 : f.runEnd[k - 1]) < end; k++) {
        const row = f.runRow[k];
        for (let c = f.cells[row]; c < f.cells[row + 1]; c++) {
          if (f.possible[c]) for (let o = f.from[c]; o <= f.to[c]; o++) ids.add(this.features[place].values[o]?.id);
        }
      }
    }
    return ids;
  }

  /** Names outcomes one by one, however many they are; of figures the first and the last. */
  names(feature, outcomes) {
    const place = this.featurePlace(feature);
    if (this.features[place].kind === "number") return stepsLabel(this.features[place], outcomes);
    return joined(outcomes.map((o) => this.label(place, [o])), "or");
  }

  /** Names all that is recorded of a text feature. */
  recorded(feature) {
    const place = this.featurePlace(feature);
    return this.patterns[place].map((_, i) => this.label(place, [i]));
  }

  /** Whether an outcome of a text feature is a pattern rather than plain words. */
  isPattern(feature, outcome) {
    const pattern = this.patterns[this.featurePlace(feature)][outcome];
    return pattern !== undefined && pattern.program !== undefined;
  }

  /** Names a group of outcomes for people. */
  label(place, outcomes) {
    const f = this.features[place];
    const spread = outcomes[outcomes.length - 1] - outcomes[0] >= outcomes.length;
    if (f.kind === "number") return spread ? "another figure" : stepsLabel(f, outcomes);
    if (outcomes.length > MANY) return "any other";
    const names = outcomes.map((o) => {
      if (f.kind !== "text") return f.values[o].name;
      const pattern = this.patterns[place][o];
      return pattern ? `"${pattern.label ?? pattern.text}"` : "something else";
    });
    return joined(names, "or");
  }

  /** Which file holds a model's claims, and where in it; null where there is none. */
  claimsPlace(bow) {
    let at = this.placeOf(bow);
    for (const { file, models } of this.header.claims) {
      if (at < models) return { file, at };
      at -= models;
    }
    return null;
  }

  /** A model's claims by feature, with their addresses and citations written out. */
  claimsIn(file, at, bow) {
    const { id, address, maker, makerAddress } = this.models[this.placeOf(bow)];
    const byFeature = {};
    for (const [feature, claims] of Object.entries(file.models[at])) {
      byFeature[feature] = claims.map((claim) => ({
        ...claim,
        key: `${claim.maker ? `makers/${maker}` : id}/${claim.anchor}`,
        address: `${claim.maker ? makerAddress : address}#${claim.anchor}`,
        cites: claim.cites.map((n) => file.cites[n]),
        against: (claim.against ?? []).map((n) => file.cites[n]),
      }));
    }
    return byFeature;
  }
}

/** The least and the greatest year. */
function bounds(years) {
  let [first, last] = [years[0] ?? 0, years[0] ?? 0];
  for (const year of years) {
    if (year < first) first = year;
    if (year > last) last = year;
  }
  return [first, last];
}
