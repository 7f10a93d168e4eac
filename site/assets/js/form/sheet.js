import { COMMON, readMark, readStamp, stampWords } from "../bench/mark.js";
import { drawWeight, lightestArrow, stringLength } from "../bench/setup.js";
import { el } from "../page/dom.js";
import { inRuns, joined, yearRuns } from "../dating/sentences.js";
import { figureWords } from "./words.js";

// The set-up sheet: the maker's figures, the weight mark read by the maker's
// convention, what follows by published rules, and the cautions. Figures stand
// only where the visitor chose the model, nothing contradicts, they found no
// fault, and one undisputed figure holds in all likely years; else the sheet
// says what is missing. The rules come from the page.

/** The features that the sheet's sums know by name. */
const LENGTH = "bow-length", WEIGHT = "draw-weight", DRAW = "draw-length";

export class Sheet {
  /** @param {HTMLElement} element with the rules in its data  @param {object} form */
  constructor(element, form) {
    this.element = element;
    this.form = form;
    const rule = (name) => element.dataset[name].split(" ").map(Number);
    this.rules = { string: rule("string"), rate: rule("rate"), arrow: rule("arrow"), beyond: Number(element.dataset.beyond) };
    const part = (name) => element.querySelector(`.js-${name}`);
    [this.given, this.whose, this.figures, this.sums, this.withheld] = ["given", "whose", "figures", "sums", "withheld"].map(part);
    this.says = element.querySelector(".mark-says");
    this.faults = [...element.querySelectorAll(".js-faults input")];
    for (const box of this.faults) {
      box.addEventListener("change", () => {
        if (box.checked) for (const other of this.faults) if ((other.name === "none") !== (box.name === "none")) other.checked = false;
        form.found(this.faults.filter((other) => other.checked && other.name !== "none").map((other) => other.name));
        this.decide();
      });
    }
    this.inputs = Object.fromEntries([...element.querySelectorAll(".fields input")].map((input) => [input.name, input]));
    for (const input of Object.values(this.inputs)) {
      if (input === this.inputs.mark) continue;
      input.addEventListener("input", () => { input.dataset.own = input.value === "" ? "" : "yes"; this.work(); });
    }
    this.inputs.mark?.addEventListener("input", () => { form.marked(this.inputs.mark.value); this.prefill(); this.work(); });
  }

  /** Takes the answer and the claims of its best model. */
  show(answer, claims) {
    this.element.hidden = !answer.best;
    this.best = answer.best;
    if (!answer.best) return;
    const { model } = this.form.state;
    // Other answers may be another bow: it must be looked over again.
    const asked = String(this.form.state);
    for (const box of this.faults) {
      if (box.name !== "none") box.checked = this.form.state.faults.has(box.name);
      else if (this.asked !== asked) box.checked = false;
    }
    Object.assign(this, { answer, claims, model, asked });
    const { mark } = this.inputs;
    if (mark && mark !== document.activeElement) mark.value = this.form.state.mark;
    this.prefill();
    this.decide();
  }

  /** Why no figures are shown, or an empty text. */
  reason() {
    if (this.form.state.faults.size > 0) return this.form.caution;
    if (this.model === "") return "The maker’s figures are shown for a model that you chose, not for one that the odds suggest. Read the model off the bow and choose it at the top of this page.";
    if (this.answer.strict.years.length === 0) return "What you answered cannot all be true of one bow of this model. Clear that up first: a bow set up by another bow’s figures can break.";
    if (this.form.step.end !== "agrees") return "Go through the questions and the second look first. The figures are shown once no part of the bow is found odd.";
    if (!this.faults.some((box) => box.checked)) return "Look the bow over and answer the question above. Then the maker’s figures are shown.";
    return "";
  }

  /** Shows the figures, or why there are none. */
  decide() {
    const why = this.reason();
    this.withheld.textContent = why;
    this.withheld.hidden = why === "";
    this.given.hidden = why !== "";
    this.whose.textContent = "";
    this.figures.replaceChildren();
    if (why === "") this.showFigures();
    this.work();
  }

  /** Shows the figures of which one holds in every likely year, undisputed. */
  showFigures() {
    const { root } = this.form;
    const years = this.answer.likely[95].find((m) => m.model === this.model)?.years ?? [];
    const rows = [], open = [];
    for (const feature of this.form.features.values()) {
      if (feature.kind !== "number") continue;
      const held = (this.claims[feature.id] ?? []).filter((c) => years.some((year) => inRuns(c.years, year)));
      if (held.length === 0) continue;
      if (held.length === 1 && !held[0].disputed && !held[0].when && years.every((year) => inRuns(held[0].years, year))) rows.push({ feature, claim: held[0] });
      else open.push(feature.name);
    }
    const named = [...new Set(rows.flatMap(({ claim }) => claim.cites.map((c) => c.words)))];
    const by = named.length > 2 ? `, by ${named.length} sources, each at its figure` : named.length > 0 ? `, by ${joined(named, "and")}` : "";
    this.whose.textContent = `The maker’s figures: ${this.form.name({ model: this.model })}, ${yearRuns(years).join(", ")}${by}`;
    this.figures.append(...rows.map(({ feature, claim }) => el("li", {},
      el("div", { class: "line" }, el("span", { class: "what" }, feature.name), el("a", { class: "years", href: root + claim.address }, figureWords(claim.value))),
      el("span", { class: "under" }, claim.cites.slice(0, 2).map((c, i) => [i > 0 ? "; " : "", c.address ? el("a", { href: root + c.address }, c.words) : c.words])))));
    if (rows.length === 0) this.figures.append(el("li", {}, "The register has no figure of the maker’s that holds in all of these years."));
    if (open.length > 0) this.figures.append(el("li", {}, `Not shown, since it changed within these years, depends on another feature or is disputed: ${joined(open.map((name) => name.toLowerCase()), "and")}.`));
  }

  /** The mark as it reads, or null where none is given. */
  read() {
    const { mark } = this.form.state;
    if (mark.trim() === "") return null;
    const by = this.form.convention(this.best);
    if (!by.ways) return { ...readMark(mark, COMMON), by };
    const list = readStamp(mark, by.ways), { year } = this.best;
    if (list.refused) return { ...list, by };
    return { ...(list.find((r) => r.when && r.first <= year && year <= r.last) ?? list[0]), by, list };
  }

  /** Puts what is stamped, or what the visitor answered, into a field that they have not filled. */
  prefill() {
    const read = this.read();
    const stamped = read && !read.refused ? { length: read.length || null, weight: read.pounds, marked: read.draw || null } : {};
    for (const [feature, name] of [[LENGTH, "length"], [WEIGHT, "weight"], [DRAW, "marked"]]) {
      const input = this.inputs[name];
      if (input && !input.dataset.own) input.value = stamped[name] ?? this.form.said(feature) ?? "";
    }
  }

  /** Says how the mark reads, on whose word, or why it does not. */
  explainMark() {
    const read = this.read();
    this.says.classList.toggle("trouble", Boolean(read?.refused));
    if (!read) {
      this.says.replaceChildren();
      return;
    }
    const { name, source, ways } = read.by;
    const by = ways ? el("a", { href: this.form.root + source }, `as ${name} stamped its bows`)
      : read.sign || read.refused ? `no convention of ${name} is on record; an X is read by common practice, for which there is no source` : "as it stands";
    const mark = el("b", { class: "sign" }, this.form.state.mark.trim());
    this.says.replaceChildren(...(read.refused ? [mark, `: ${read.refused}. (`, by, ".)"] : [mark, ` reads ${stampWords(read.list ?? [read], reading)}: `, by, ".", this.ran(ways)]));
  }

  /** How far bows of the maker were from their stamps in the likeliest year, where somebody says. */
  ran(ways) {
    const { year } = this.best, way = (ways ?? []).find((w) => w.runs && w.first <= year && year <= w.last);
    return way ? ` When new they were ${way.runs} their stamp.` : "";
  }

  /** The mark and how it reads as one line of text, or an empty text. */
  markWords() {
    const read = this.best ? this.read() : null;
    if (!read) return "";
    return `Weight mark ${this.form.state.mark.trim()}: ${read.refused ?? `reads ${stampWords(read.list ?? [read], reading)}`}.${read.refused ? "" : this.ran(read.by.ways)}`;
  }

  /** Works the sums out again; there are none where no figures are shown. */
  work() {
    if (this.says) this.explainMark();
    if (this.reason() !== "") {
      this.sums.replaceChildren();
      return;
    }
    const value = (name) => Number.parseFloat((this.inputs[name]?.value ?? "").replace(",", "."));
    const lines = [];
    const say = (name, words) => lines.push(el("li", {}, el("div", { class: "line" }, el("span", { class: "what" }, name), el("span", { class: "figure" }, words))));
    const length = value("length"), weight = value("weight"), marked = value("marked"), yours = value("yours");
    if (length > 0) say("String", between(stringLength(length, this.rules), "in"));
    let held = weight > 0 ? [weight, weight] : null;
    if (held && marked > 0 && yours > 0) {
      held = drawWeight(weight, marked, yours, this.rules);
      say("Draw weight at your draw", held ? between(held, "lb") : "do not draw it so far");
    }
    if (held && held[1] > 0) say("Lightest arrow", between(lightestArrow(held[1], this.rules), "gr"));
    this.sums.replaceChildren(...lines);
  }
}

const tidy = (x) => String(Math.round(x * 10) / 10);

const between = ([low, high], unit) => (tidy(low) === tidy(high) ? `${tidy(low)} ${unit}` : `${tidy(low)}–${tidy(high)} ${unit}`);

const reading = ({ pounds, draw }) => `${tidy(pounds)} lb${draw > 0 ? ` at ${tidy(draw)} in` : ""}`;
