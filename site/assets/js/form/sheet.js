import { COMMON, readMark } from "../bench/mark.js";
import { drawWeight, lightestArrow, stringLength } from "../bench/setup.js";
import { el } from "../page/dom.js";
import { figureWords } from "./words.js";

// The set-up sheet: the maker's figures of the likeliest year, the weight mark
// read by the maker's convention, what follows by published rules, and the
// cautions. The rules come from the page.

/** The features that the sheet's sums know by name. */
const LENGTH = "bow-length", WEIGHT = "draw-weight", DRAW = "draw-length";

export class Sheet {
  /** @param {HTMLElement} element with the rules in its data  @param {object} form */
  constructor(element, form) {
    this.element = element;
    this.form = form;
    const rule = (name) => element.dataset[name].split(" ").map(Number);
    this.rules = { string: rule("string"), rate: rule("rate"), arrow: rule("arrow"), beyond: Number(element.dataset.beyond) };
    this.figures = element.querySelector(".js-figures");
    this.sums = element.querySelector(".js-sums");
    this.says = element.querySelector(".mark-says");
    this.rows = [];
    this.inputs = Object.fromEntries([...element.querySelectorAll("input")].map((input) => [input.name, input]));
    for (const input of Object.values(this.inputs)) {
      if (input === this.inputs.mark) continue;
      input.addEventListener("input", () => { input.dataset.own = input.value === "" ? "" : "yes"; this.work(); });
    }
    this.inputs.mark?.addEventListener("input", () => { form.marked(this.inputs.mark.value); this.prefill(); this.work(); });
  }

  /** Takes the claims about figures that hold in the best year. */
  show(best, claims) {
    this.element.hidden = !best;
    this.best = best;
    if (!best) return;
    const rows = [];
    for (const feature of this.form.features.values()) {
      if (feature.kind !== "number") continue;
      for (const c of claims[feature.id] ?? []) {
        if (holds(c.years, best.year)) rows.push({ feature, claim: c });
      }
    }
    const { root } = this.form;
    this.figures.replaceChildren(...(rows.length === 0 ? [el("li", {}, "The register has no figures of the maker's for that year.")] : rows.map(({ feature, claim }) => el("li", {},
      el("div", { class: "line" }, el("span", { class: "what" }, feature.name), el("span", { class: "dots" }), el("a", { class: "years", href: root + claim.address }, figureWords(claim.value))),
      el("span", { class: "under" }, claim.cites.slice(0, 2).map((c, i) => [i > 0 ? "; " : "", c.address ? el("a", { href: root + c.address }, c.words) : c.words]))))));
    this.rows = rows;
    const { mark } = this.inputs;
    if (mark && mark !== document.activeElement) mark.value = this.form.state.mark;
    this.prefill();
    this.work();
  }

  /** The mark as it reads, or null where none is given. */
  read() {
    const { mark } = this.form.state;
    if (mark.trim() === "") return null;
    const by = this.form.convention(this.best.model);
    return { ...readMark(mark, by.signs ?? COMMON), by };
  }

  /** Puts what is stamped, or a maker's single figure, into a field that the visitor has not filled. */
  prefill() {
    const read = this.read();
    const stamped = read && !read.refused ? { weight: read.pounds, marked: read.draw || null } : {};
    for (const [feature, name] of [[LENGTH, "length"], [WEIGHT, "weight"], [DRAW, "marked"]]) {
      const input = this.inputs[name];
      if (!input || input.dataset.own) continue;
      const said = this.form.said(feature);
      const single = this.rows.find((r) => r.feature.id === feature && r.claim.from === r.claim.to);
      input.value = stamped[name] ?? said ?? (single ? String(Number.parseFloat(single.claim.label)) : "");
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
    const { name, source, signs } = read.by;
    const by = signs ? el("a", { href: this.form.root + source }, `as ${name} stamped its bows`)
      : read.sign || read.refused ? `no convention of ${name} is on record; an X is read by common practice, for which there is no source` : "as it stands";
    const mark = el("b", { class: "sign" }, this.form.state.mark.trim());
    this.says.replaceChildren(...(read.refused ? [mark, `: ${read.refused}. (`, by, ".)"] : [mark, ` reads ${reading(read)}: `, by, "."]));
  }

  /** The mark and how it reads as one line of text, or an empty text. */
  markWords() {
    const read = this.best ? this.read() : null;
    if (!read) return "";
    return `Weight mark ${this.form.state.mark.trim()}: ${read.refused ?? `reads ${reading(read)}`}.`;
  }

  /** Works the sums out again. */
  work() {
    if (this.says) this.explainMark();
    const value = (name) => Number.parseFloat((this.inputs[name]?.value ?? "").replace(",", "."));
    const lines = [];
    const say = (name, words) => lines.push(el("li", {}, el("div", { class: "line" }, el("span", { class: "what" }, name), el("span", { class: "dots" }), el("span", { class: "figure" }, words))));
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

function holds(runs, year) {
  for (let k = 0; k < runs.length; k += 2) if (runs[k] <= year && year < runs[k] + runs[k + 1]) return true;
  return false;
}
