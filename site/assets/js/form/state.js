// What the visitor has said, and how the page's address holds it:
//
//     #model=plover&riser-wood=padauk&maker-mark=oval,script~unsure&skip=limb-core&weight.mark=X35&faults.found=crack
//
// so that a result can be sent, and the browser's own way back works.

const SURE = ["sure", "fairly", "unsure"];

export class State {
  constructor() {
    this.model = "";
    this.observed = new Map(); // by feature: {values, sure}
    this.skipped = new Set();
    this.now = ""; // the feature asked about, where the visitor chose it
    this.mark = ""; // the weight as stamped, to the letter
    this.faults = new Set(); // those found for which a bow is not to be strung
  }

  /** Reads an address's part after #; what the reference does not know is passed over. */
  static read(hash, known) {
    const state = new State();
    for (const part of hash.replace(/^#/, "").split("&")) {
      const [name, said = ""] = split(part, "=");
      if (name === "model") state.model = known.model(decode(said)) ? decode(said) : "";
      else if (name === "skip") said.split(",").map(decode).filter(known.feature).forEach((f) => state.skipped.add(f));
      else if (name === "ask") state.now = known.feature(decode(said)) ? decode(said) : "";
      else if (name === "weight.mark") state.mark = decode(said).slice(0, 60);
      else if (name === "faults.found") said.split(",").map(decode).filter(known.fault).forEach((f) => state.faults.add(f));
      else if (known.feature(decode(name))) state.take(decode(name), said);
    }
    return state;
  }

  /** A state that can be changed while this one is shown. */
  copy() {
    return Object.assign(new State(), this, { observed: new Map(this.observed), skipped: new Set(this.skipped), faults: new Set(this.faults) });
  }

  take(feature, said) {
    const [list, doubt = ""] = split(said, "~");
    const values = list.split(",").map(decode).filter((v) => v !== "");
    if (values.length > 0) this.observed.set(feature, { values, sure: SURE.includes(doubt) ? doubt : "sure" });
  }

  /** The state as the part of an address after #. */
  toString() {
    const parts = [];
    if (this.model) parts.push(`model=${encodeURIComponent(this.model)}`);
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
    return { models: this.model ? [this.model] : [], observed };
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
