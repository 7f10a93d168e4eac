import { el } from "../page/dom.js";
import { yearChart } from "./years.js";
import { decibans, figureWords, headline, howSure, listed, lower, modelYears, percent, SURE, upper, valueWords } from "./words.js";

/** The answer: the years, the odds, the reasons, and what speaks against it. */
export class Result {
  /** @param {HTMLElement} element  @param {object} form */
  constructor(element, form) {
    this.element = element;
    this.form = form;
    this.live = el("p", { class: "hidden-words", role: "status", "aria-live": "polite" });
    this.caution = el("p", { class: "caution", hidden: true });
    this.body = el("div", {});
    element.replaceChildren(el("h2", { id: "Result", tabindex: "-1" }, "What it makes"), this.caution, this.live, this.body);
  }

  /** Puts the caution first where a fault was found. */
  warn(state) {
    this.caution.hidden = state.faults.size === 0;
    this.caution.textContent = this.caution.hidden ? "" : this.form.caution;
  }

  show(answer, state, reasons) {
    this.answer = answer;
    this.warn(state);
    if (answer.impossible) {
      this.say("No model and year are left.");
      this.body.replaceChildren(el("p", {}, "No model and year are left with what you have said. Take back an answer, or say that you are not sure of it."), this.seen(answer, state, []));
      return;
    }
    const words = this.verdict(answer);
    this.say(`${words.years}, half the odds. ${words.rest}`);
    this.body.replaceChildren(
      el("p", { class: "verdict" }, words.years, el("small", {}, words.rest)),
      this.clashes(answer),
      this.chart(answer),
      this.models(answer),
      this.seen(answer, state, reasons),
    );
  }

  /** Speaks to those who listen rather than look; the same words are not said twice. */
  say(words) {
    if (this.live.textContent !== words) this.live.textContent = words;
  }

  name(id) {
    return this.form.models.get(id)?.name ?? id;
  }

  /** The answer in words. */
  verdict(answer) {
    const name = (id) => this.name(id);
    const { best } = answer;
    const strict = answer.strict.years.length > 0 ? `Taken at its word: ${headline(answer.strict.years, name)}.` : "";
    return {
      years: headline(answer.likely[50], name),
      rest: `Half the odds lie here, 95 % in ${headline(answer.likely[95], name)}. ` +
        `Best: ${name(best.model)} ${best.year}, ${percent(best.chance)}, ${howSure(best.chance)}. ${strict}`,
      strict,
    };
  }

  /** Names at once what cannot stand together, and what each part put aside would leave. */
  clashes(answer) {
    const { strict } = answer;
    if (strict.years.length > 0 || answer.evidence.length === 0) return "";
    const feature = (id) => this.form.feature(id);
    const sets = strict.conflicts.map((set) => el("li", {}, listed(set.map((id) => lower(feature(id).name)))));
    const odd = strict.without.filter((w) => w && w.years.length > 0).map((w) => el("li", {},
      `Without the ${lower(feature(w.feature).name)}: ${modelYears(w.years, (id) => this.name(id))}. `,
      el("button", { type: "button", class: "link", on: { click: () => this.form.forget(w.feature) } }, `Put the ${lower(feature(w.feature).name)} aside`)));
    return el("div", { class: "clash" },
      el("h3", {}, "At their word these cannot be one bow"),
      sets.length > 0 ? el("ul", {}, sets) : "",
      odd.length > 0 ? [el("p", {}, "A replaced part, a special order, a refinished mark or a slip of the eye?"), el("ul", {}, odd)] : "");
  }

  chart(answer) {
    const inSet = (list) => new Set(list.flatMap((m) => m.years));
    const shown = answer.years.filter((y) => y.chance > 1e-4);
    const first = Math.min(...shown.map((y) => y.year)) - 1, last = Math.max(...shown.map((y) => y.year)) + 1;
    const words = this.verdict(answer);
    const rows = shown.map((y) => el("tr", {}, el("th", { scope: "row" }, String(y.year)), el("td", { class: "figure" }, percent(y.chance))));
    return el("figure", { class: "chart odds-chart" },
      yearChart(answer.years, { held: inSet(answer.likely[50]), strict: inSet(answer.strict.years), description: `Odds by year: ${words.years}. ${words.rest}`, first, last }),
      el("details", { class: "behind" }, el("summary", {}, "The same as a table"),
        el("table", {}, el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "Year"), el("th", { scope: "col", class: "figure" }, "Odds"))), el("tbody", {}, rows))),
      el("figcaption", {}, "Dark bars hold half the odds; the line below marks the years possible at your word."));
  }

  models(answer) {
    const list = answer.models.filter((m) => m.chance >= 0.005).slice(0, 6);
    if (list.length < 2) return "";
    return el("div", {}, el("h3", {}, "Which model"), el("ul", { class: "pricelist" }, list.map((m) => {
      const model = this.form.models.get(m.model);
      return el("li", {}, el("div", { class: "line" },
        el("span", { class: "what" }, el("a", { href: this.form.root + model.address }, model.name)), el("span", { class: "dots" }),
        el("span", { class: "figure" }, percent(m.chance))));
    })));
  }

  /** What was seen, what it weighs, and on whose word. */
  seen(answer, state, reasons) {
    if (state.observed.size === 0) return el("p", { class: "soft" }, "Nothing is answered yet: these are the years of the models as made.");
    const rows = [...state.observed].map(([id, said]) => this.seenRow(id, said, reasons.find((r) => r.feature === id) ?? answer.evidence.find((e) => e.feature === id)));
    return el("div", {}, el("h3", {}, "On what grounds"), el("ul", { class: "claims seen" }, rows),
      el("p", { class: "small soft" }, "Decibans: the weight of each observation for the best year. Ten make it ten times as likely; below nought it speaks against."));
  }

  seenRow(id, said, evidence) {
    const feature = this.form.feature(id);
    const claims = evidence?.claims ?? [];
    return el("li", { class: "claim" },
      el("div", { class: "line" },
        el("span", { class: "what" }, `${feature.name}: `, el("b", {}, valueWords(feature, said.values)), said.sure === "sure" ? "" : ` (${SURE[said.sure]})`),
        el("span", { class: "dots" }), evidence ? el("span", { class: "figure" }, decibans(evidence.decibans)) : ""),
      claims.length > 0 ? el("ul", { class: "grounds" }, claims.slice(0, 6).map((c) => this.ground(c, id))) : "",
      el("div", { class: "small no-print" },
        el("button", { type: "button", class: "link", on: { click: () => this.form.ask(id) } }, "Change", el("span", { class: "hidden-words" }, ` the answer about ${lower(feature.name)}`)), " · ",
        el("button", { type: "button", class: "link", on: { click: () => this.form.forget(id) } }, "Take back", el("span", { class: "hidden-words" }, ` the answer about ${lower(feature.name)}`))));
  }

  ground(claim, feature) {
    const { root } = this.form;
    return el("li", {}, claim.seen ? "" : "but ", claimWords(this.form.feature(feature), claim), " ", el("a", { class: "years", href: root + claim.address }, claim.span), ": ",
      claim.cites.slice(0, 3).map((c, i) => [i > 0 ? "; " : "", c.address ? el("a", { href: root + c.address }, c.words) : c.words]),
      claim.cites.length > 3 ? ` and ${claim.cites.length - 3} more` : "");
  }

  /** The whole result as plain text, to be copied or kept. */
  text(state, reasons, { title, edition, address, mark = "" }) {
    const { answer } = this;
    if (!answer || answer.impossible) return `${title}\nNo model and year are left with what was seen.\n${address}\n`;
    const words = this.verdict(answer);
    const lines = [title, `Edition ${edition}`, ...(state.faults.size > 0 ? ["", this.form.caution] : []), "", words.years, words.rest, "", "Seen:"];
    for (const [id, said] of state.observed) {
      const feature = this.form.feature(id);
      const evidence = answer.evidence.find((e) => e.feature === id);
      lines.push(`- ${feature.name}: ${valueWords(feature, said.values)}${said.sure === "sure" ? "" : ` (${SURE[said.sure]})`}${evidence ? `, ${decibans(evidence.decibans)}` : ""}`);
      for (const c of (reasons.find((r) => r.feature === id)?.claims ?? []).slice(0, 4)) {
        lines.push(`    ${c.seen ? "" : "but "}${claimWords(feature, c)} ${c.span}: ${c.cites.map((cite) => cite.words).join("; ")}`);
      }
    }
    for (const set of answer.strict.conflicts) lines.push("", `At their word these cannot be one bow: ${listed(set.map((id) => lower(this.form.feature(id).name)))}.`);
    lines.push("", "Odds by year:", ...answer.years.filter((y) => y.chance >= 0.001).map((y) => `  ${y.year}  ${percent(y.chance)}`));
    if (mark) lines.push("", mark);
    lines.push("", "Not certified safe: ask a bowyer before an old bow is strung.", address, "");
    return lines.join("\n");
  }
}

/** What a claim claims: a figure as the trade prints it, else its label. */
const claimWords = (feature, claim) => (feature.kind === "number" ? figureWords(claim.value) : upper(claim.label));
