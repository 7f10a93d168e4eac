import { groundText } from "../dating/sentences.js";
import { el } from "../page/dom.js";
import { Quotes } from "./quotes.js";
import { yearChart } from "./years.js";
import { decibans, percent } from "./words.js";

/** The answer: the years or what does not fit, the odds, and the reasons. */
export class Result {
  /** @param {HTMLElement} element  @param {object} form */
  constructor(element, form) {
    this.element = element;
    this.form = form;
    this.live = el("p", { class: "hidden-words", role: "status", "aria-live": "polite" });
    this.caution = el("p", { class: "caution", hidden: true });
    this.body = el("div", {});
    this.quotes = new Quotes(form);
    element.replaceChildren(el("h2", { id: "Result", tabindex: "-1" }, "What it makes"), this.caution, this.live, this.body, this.quotes.element);
  }

  /** Puts the caution first where a fault was found. */
  warn(state) {
    this.caution.hidden = state.faults.size === 0;
    this.caution.textContent = this.caution.hidden ? "" : this.form.caution;
  }

  /**
   * Shows an answer.
   * @param {object} answer
   * @param {import("../dating/sentences.js").Sentences} sentences  the answer in words
   * @param {object[]} reasons  what was seen with its claims, once they are here
   */
  show(answer, sentences, reasons) {
    Object.assign(this, { answer, sentences });
    this.warn(this.form.state);
    const headline = sentences.headline(), advice = sentences.advice(), balance = sentences.balance();
    this.say(`${headline}. ${advice || balance[0]}`);
    if (answer.impossible) {
      this.body.replaceChildren(el("p", { class: "verdict" }, headline, el("small", {}, advice)), this.seen([]));
      return;
    }
    const model = sentences.alone ? this.form.dating.bow(answer.best) : null;
    this.body.replaceChildren(
      model ? el("p", { class: "print-only" }, el("b", {}, `${model.name}${model.makerName ? ` by ${model.makerName}` : ""}`)) : "",
      sentences.contradicts ? this.clash(headline, advice) : el("p", { class: "verdict" }, headline, el("small", {}, balance[0])),
      this.chart(balance),
      this.models(),
      this.seen(reasons),
    );
  }

  /** Speaks to those who listen rather than look; the same words are not said twice. */
  say(words) {
    if (this.live.textContent !== words) this.live.textContent = words;
  }

  /** What does not fit, in the place of the years, and what each part put aside would leave. */
  clash(headline, advice) {
    const { sentences: s } = this;
    const odd = s.oddOnes(), said = s.conflicts().slice(1), others = said.length - odd.length - 1;
    return el("div", { class: "clash" },
      el("p", { class: "verdict" }, headline, el("small", {}, advice)),
      el("ul", {},
        said.slice(0, others).map((words) => el("li", {}, words)),
        odd.map((w) => el("li", {}, s.oddWords(w), " ",
          el("button", { type: "button", class: "link no-print", on: { click: () => this.form.forget(w.feature) } }, `Put the ${s.featureName(w.feature)} aside`)))),
      el("p", { class: "small" }, said.at(-1)));
  }

  chart(balance) {
    const { answer } = this;
    const inSet = (list) => new Set(list.flatMap((m) => m.years));
    const shown = answer.years.filter((y) => y.chance > 1e-4);
    const first = Math.min(...shown.map((y) => y.year)) - 1, last = Math.max(...shown.map((y) => y.year)) + 1;
    const rows = shown.map((y) => el("tr", {}, el("th", { scope: "row" }, String(y.year)), el("td", { class: "figure" }, percent(y.chance))));
    return el("figure", { class: "chart odds-chart" },
      yearChart(answer.years, { held: inSet(answer.likely[50]), strict: inSet(answer.strict.years), description: `Odds by year. ${balance.join(" ")}`, first, last }),
      el("details", { class: "behind" }, el("summary", {}, "The same in words and as a table"),
        balance.map((words) => el("p", {}, words)),
        el("table", {}, el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "Year"), el("th", { scope: "col", class: "figure" }, "Odds"))), el("tbody", {}, rows))),
      el("figcaption", {}, "The bars of the stronger colour hold half the odds; the line below marks the years possible at your word."));
  }

  models() {
    const list = this.answer.models.filter((m) => m.chance >= 0.005).slice(0, 6);
    if (list.length < 2) return "";
    return el("div", {}, el("h3", {}, "Which model"), el("ul", { class: "pricelist" }, list.map((m) => {
      const model = this.form.dating.bow(m);
      return el("li", {}, el("div", { class: "line" },
        el("span", { class: "what" }, model.address ? el("a", { href: this.form.root + model.address }, model.name) : model.name),
        el("span", { class: "figure" }, percent(m.chance))));
    })), this.sentences.alike().map((words) => el("p", { class: "tells" }, words)));
  }

  /** What was seen, what it weighs, and on whose word; the bare weights behind. */
  seen(reasons) {
    const { observed } = this.sentences;
    if (observed.size === 0) return el("p", { class: "soft" }, "Nothing is answered yet: these are the years of the models as made.");
    const weights = reasons.filter((r) => r.decibans !== undefined);
    const rows = weights.length > 0 ? weights : [...observed.keys()].map((feature) => ({ feature, seen: this.sentences.values(feature), weight: "", notes: [], grounds: [] }));
    return el("div", {}, el("h3", {}, "On what grounds"), el("ul", { class: "claims seen" }, rows.map((r) => this.seenRow(r))),
      weights.length === 0 ? "" : el("details", { class: "behind no-print" }, el("summary", {}, "The weights in decibans"),
        el("p", {}, "Ten decibans make the best year ten times as likely as it was before anything was seen; below nought they speak against it."),
        el("table", {}, el("tbody", {}, weights.map((r) => el("tr", {}, el("th", { scope: "row" }, this.form.feature(r.feature).name), el("td", { class: "figure" }, decibans(r.decibans))))))));
  }

  seenRow({ feature, seen, weight, notes, grounds }) {
    const { name } = this.form.feature(feature);
    const about = () => el("span", { class: "hidden-words" }, ` the answer about ${this.sentences.featureName(feature)}`);
    const button = (words, act) => el("button", { type: "button", class: "link", on: { click: act } }, words, about());
    return el("li", { class: "claim" },
      el("div", { class: "line" }, el("span", { class: "what" }, `${name}: `, el("b", {}, seen)), el("span", { class: "figure" }, weight)),
      notes.length + grounds.length > 0 ? el("ul", { class: "grounds" }, notes.map((words) => el("li", {}, words)), grounds.slice(0, GROUNDS).map((g) => this.ground(g))) : "",
      el("div", { class: "small no-print" }, button("Change", () => this.form.ask(feature)), " · ", button("Take back", () => this.form.forget(feature))));
  }

  /** A claim for what was seen or against it, with who says so, who says otherwise, and what settled it. */
  ground({ what, claim, cites, witnesses, against, dissents, settled, said }) {
    const { root } = this.form;
    const links = (list) => list.map((c, i) => [i > 0 ? "; " : "", c.address ? el("a", { href: root + c.address }, c.words) : c.words, this.quotes.opener(c)]);
    const at = what.length - claim.span.length;
    return el("li", {}, what.slice(0, at), el("a", { class: "years", href: root + claim.address }, claim.span), ", by ", cites.length > 0 ? links(cites) : "nobody named", witnesses,
      against.length > 0 ? [", against the word of ", links(against), dissents] : "", settled, ".", said ? el("span", { class: "said" }, said) : "");
  }

  /** The whole result as plain text, to be copied or kept. */
  text(reasons, { title, edition, model, address, after }) {
    const { answer, sentences: s } = this;
    const lines = [title, `Edition ${edition}`, ...(this.form.state.faults.size > 0 ? ["", this.form.caution] : []), "", `${model}${s.headline()}.`];
    if (s.advice()) lines.push(s.advice());
    lines.push(...s.conflicts().slice(1).map((words) => `- ${words}`), ...(s.contradicts ? ["", "On balance, all the same:"] : []), ...s.balance(), ...s.alike());
    if (answer.impossible) return [...lines, "", address, ""].join("\n");
    if (s.observed.size > 0) lines.push("", "Seen:");
    for (const r of reasons) {
      lines.push(`- ${this.form.feature(r.feature).name}: ${r.seen}. ${r.weight} (${decibans(r.decibans)})`);
      for (const words of [...r.notes, ...r.grounds.slice(0, GROUNDS).map(groundText)]) lines.push(`    ${words}`);
    }
    lines.push("", "Odds by year:", ...answer.years.filter((y) => y.chance >= 0.001).map((y) => `  ${y.year}  ${percent(y.chance)}`), ...after, address, "");
    return lines.join("\n");
  }
}

/** How many claims are shown behind one observation. */
const GROUNDS = 4;
