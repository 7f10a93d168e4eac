import { el } from "./dom.js";
import { figureWords } from "./words.js";

// The set-up sheet: the maker's figures of the likeliest year, what follows
// from them by published rules, and the cautions. The rules come from the page.

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
    this.inputs = Object.fromEntries([...element.querySelectorAll("input")].map((input) => [input.name, input]));
    for (const input of Object.values(this.inputs)) {
      input.addEventListener("input", () => { input.dataset.own = input.value === "" ? "" : "yes"; this.work(); });
    }
  }

  /** Takes the claims about figures that hold in the best year. */
  show(best, claims) {
    this.element.hidden = !best;
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
    this.prefill(rows);
    this.work();
  }

  /** Puts a maker's single figure into a field that the visitor has not filled. */
  prefill(rows) {
    for (const [feature, name] of [[LENGTH, "length"], [WEIGHT, "weight"], [DRAW, "marked"]]) {
      const input = this.inputs[name];
      if (!input || input.dataset.own) continue;
      const said = this.form.said(feature);
      const single = rows.find((r) => r.feature.id === feature && r.claim.from === r.claim.to);
      input.value = said ?? (single ? String(Number.parseFloat(single.claim.label)) : "");
    }
  }

  /** Works the sums out again. */
  work() {
    const value = (name) => Number.parseFloat((this.inputs[name]?.value ?? "").replace(",", "."));
    const { string, rate, arrow, beyond } = this.rules;
    const lines = [];
    const say = (name, words) => lines.push(el("li", {}, el("div", { class: "line" }, el("span", { class: "what" }, name), el("span", { class: "dots" }), el("span", { class: "figure" }, words))));
    const length = value("length"), weight = value("weight"), marked = value("marked"), yours = value("yours");
    if (length > 0) say("String", `${tidy(length + string[0])}–${tidy(length + string[1])} in`);
    let low = weight, high = weight;
    if (weight > 0 && marked > 0 && yours > 0) {
      if (yours > marked + beyond) {
        say("Draw weight at your draw", "do not draw it so far");
        low = high = NaN;
      } else {
        const ends = rate.map((r) => Math.max(0, weight + (yours - marked) * r)).sort((a, b) => a - b);
        [low, high] = ends;
        say("Draw weight at your draw", low === high ? `${tidy(low)} lb` : `${tidy(low)}–${tidy(high)} lb`);
      }
    }
    if (high > 0) say("Lightest arrow", `${Math.round(high * arrow[0])}–${Math.round(high * arrow[1])} gr`);
    this.sums.replaceChildren(...lines);
  }
}

const tidy = (x) => String(Math.round(x * 10) / 10);

function holds(runs, year) {
  for (let k = 0; k < runs.length; k += 2) if (runs[k] <= year && year < runs[k] + runs[k + 1]) return true;
  return false;
}
