// What the visitor has said, and how the page's address holds it:
//
//     #model=plover&riser-wood=padauk&maker-mark=oval,script~unsure&skip=limb-core&weight.mark=X35&faults.found=crack
//
// (model=plover,dunlin where it is one of these), so that a result can be sent, and the browser's own way back works.

const SURE = ["sure", "fairly", "unsure"];

export class State {
  constructor() {
    this.model = "";
    this.either = []; // the models of which it is one, where it cannot be told which
    this.observed = new Map(); // by feature: {values, sure}
    this.skipped = new Set();
    this.now = ""; // the feature asked about, where the visitor chose it
    this.mark = ""; // the weight as stamped, to the letter
    this.faults = new Set(); // those found for which a bow is not to be strung
    this.renamed = new Map(); // by a name in the address that a record no longer has, the name that it has
  }

  /**
   * Reads an address's part after #; what the reference does not know is passed over. known tells what it
   * knows, and by former(kind, id) the name that a record has now which had that one.
   */
  static read(hash, known) {
    const state = new State();
    const now = (kind, text) => {
      const id = decode(text), name = known[kind](id) ? id : known.former?.(kind, id) ?? "";
      if (!known[kind](name)) return "";
      if (name !== id) state.renamed.set(id, name);
      return name;
    };
    for (const part of hash.replace(/^#/, "").split("&")) {
      const [name, said = ""] = split(part, "=");
      if (name === "model") state.choose(said.split(",").map((m) => now("model", m)).filter(Boolean));
      else if (name === "skip") said.split(",").map((f) => now("feature", f)).filter(Boolean).forEach((f) => state.skipped.add(f));
      else if (name === "ask") state.now = now("feature", said);
      else if (name === "weight.mark") state.mark = decode(said).slice(0, 60);
      else if (name === "faults.found") said.split(",").map(decode).filter(known.fault).forEach((f) => state.faults.add(f));
      else if (now("feature", name)) state.take(now("feature", name), said);
    }
    return state;
  }

  /** A state that can be changed while this one is shown. */
  copy() {
    return Object.assign(new State(), this, { observed: new Map(this.observed), skipped: new Set(this.skipped), faults: new Set(this.faults) });
  }

  /** Chooses the model, several of which it is one, or none. */
  choose(models) {
    const list = [...new Set(models)];
    this.model = list.length === 1 ? list[0] : "";
    this.either = list.length > 1 ? list : [];
  }

  /** The models that are chosen; none for all of them. */
  get models() { return this.model ? [this.model] : this.either; }

  take(feature, said) {
    const [list, doubt = ""] = split(said, "~");
    const values = list.split(",").map(decode).filter((v) => v !== "");
    if (values.length > 0) this.observed.set(feature, { values, sure: SURE.includes(doubt) ? doubt : "sure" });
  }

  /** The state as the part of an address after #. */
  toString() {
    const parts = [];
    if (this.models.length > 0) parts.push(`model=${this.models.map(encodeURIComponent).join(",")}`);
    for (const [feature, { values, sure }] of this.observed) {
      const doubt = sure === "sure" ? "" : `~${sure}`;
      parts.push(`${encodeURIComponent(feature)}=${values.map(encode).join(",")}${doubt}`);
    }
    if (this.skipped.size > 0) parts.push(`skip=${[...this.skipped].map(encode).join(",")}`);
    if (this.now) parts.push(`ask=${encode(this.now)}`);
    if (this.mark) parts.push(`weight.mark=${encode(this.mark)}`);
    if (this.faults.size > 0) parts.push(`faults.found=${[...this.faults].map(encode).join(",")}`);
    return parts.join("&");
  }

  /** The question as the engine takes it. */
  question() {
    const observed = [...this.observed].map(([feature, { values, sure }]) => ({ feature, values, sure }));
    return { models: this.models, observed };
  }

  say(feature, values, sure) {
    this.observed.set(feature, { values, sure });
    this.skipped.delete(feature);
    this.now = "";
  }

  forget(feature) {
    this.observed.delete(feature);
    this.skipped.delete(feature);
  }

  skip(feature) {
    this.observed.delete(feature);
    this.skipped.add(feature);
    this.now = "";
  }
}

function split(text, at) {
  const i = text.indexOf(at);
  return i < 0 ? [text] : [text.slice(0, i), text.slice(i + 1)];
}

const encode = (text) => encodeURIComponent(text).replace(/~/g, "%7E");

function decode(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return "";
  }
}
