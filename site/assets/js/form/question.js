import { eitherYears, inHundred, worth } from "../dating/sentences.js";
import { el, plate } from "../page/dom.js";
import { EFFORT, SURE, upper } from "./words.js";

/** The question being asked, with its answers. */
export class Question {
  /**
   * @param {HTMLElement} element
   * @param {{root: string, say: Function, skip: Function, back: Function, ask: Function}} form
   */
  constructor(element, form) {
    this.element = element;
    this.form = form;
  }

  /** Shows a feature; said is what was answered before, if anything. */
  show(feature, { said, number, bits, others, outcomes }) {
    Object.assign(this, { feature, bits });
    this.several = (said?.values.length ?? 0) > 1;
    this.chosen = new Set(said?.values ?? []);
    this.sure = said?.sure ?? "sure";
    const most = others.every((o) => !(o.bits > bits));
    const telling = bits === undefined ? "" : ` · ${worth(bits, most)}`;
    this.heading = el("h2", { tabindex: "-1", id: "Question" }, feature.ask || feature.name);
    this.trouble = el("p", { class: "trouble", role: "alert" });
    this.element.replaceChildren(
      el("p", { class: "label-line" }, `Question ${number}${telling} · takes ${EFFORT[feature.effort] ?? feature.effort}`),
      this.heading,
      this.whereToLook(),
      this.answers(),
      this.trouble,
      this.doubt(),
      this.ways(),
      outcomes.length > 1 ? this.outlook(outcomes) : "",
      others.length > 0 ? this.otherQuestions(others) : "",
    );
  }

  /** Says that nothing is left to ask. */
  finish(others) {
    Object.assign(this, { feature: null, bits: undefined });
    this.heading = el("h2", { tabindex: "-1", id: "Question" }, "Nothing left would tell much more");
    this.element.replaceChildren(
      el("p", { class: "label-line" }, "All asked"), this.heading,
      el("p", {}, "What you have answered settles it as far as the register goes. You can change any of your answers."),
      el("div", { class: "buttons" }, this.backButton()),
      others.length > 0 ? this.otherQuestions(others) : "",
    );
  }

  focus() {
    this.heading.focus({ preventScroll: true });
    this.element.scrollIntoView({ block: "start" });
  }

  whereToLook() {
    const { feature, form } = this;
    return el("div", { class: "look-with" },
      feature.look ? el("p", { class: "look" }, el("b", {}, "Where to look. "), feature.look) : "",
      feature.picture ? plate(`${form.root}pictures/${feature.picture}`) : "");
  }

  answers() {
    if (this.feature.kind === "number" || this.feature.kind === "text") return this.written();
    this.tiles = el("div", { class: "tiles", role: "group", "aria-labelledby": "Question" }, this.feature.values.map((v) => this.tile(v)));
    return this.tiles;
  }

  tile(value) {
    const { root } = this.form;
    return el("button", {
      type: "button", class: "tile", "data-value": value.id, "aria-pressed": this.chosen.has(value.id), on: { click: (e) => this.choose(value.id, e.currentTarget) },
    },
    value.picture ? plate(`${root}pictures/${value.picture}`) : "",
    el("span", {}, el("b", {}, upper(value.name || value.id)), value.tell ? el("span", { class: "tell" }, value.tell) : ""));
  }

  choose(id, button) {
    if (!this.several) {
      this.form.say(this.feature.id, [id], this.sure);
      return;
    }
    if (this.chosen.has(id)) this.chosen.delete(id);
    else this.chosen.add(id);
    button.setAttribute("aria-pressed", this.chosen.has(id));
    this.these.disabled = this.chosen.size === 0;
  }

  /** An answer that is written: a figure, or letters as they stand. */
  written() {
    const { feature } = this;
    const figure = feature.kind === "number";
    this.input = el("input", {
      type: "text", id: "Written", inputmode: figure ? "decimal" : "text", autocomplete: "off", spellcheck: "false",
      value: [...this.chosen][0] ?? "", "aria-describedby": "WrittenHint",
    });
    const send = () => this.sayWritten();
    this.input.addEventListener("keydown", (e) => { if (e.key === "Enter") send(); });
    const hint = figure ? `A figure as you read it: 45, 7 1/4 or 7.25${feature.unit ? `, in ${feature.unit}` : ""}.` : "Copy it as it stands, hyphens and all.";
    return el("div", { class: "written" },
      el("label", { for: "Written" }, figure ? `Figure${feature.unit ? ` in ${feature.unit}` : ""}` : "As it stands"),
      el("div", { class: "finder" }, this.input, el("button", { type: "button", class: "button", on: { click: send } }, "Answer")),
      el("p", { class: "small soft", id: "WrittenHint" }, hint));
  }

  sayWritten() {
    const text = this.input.value.trim();
    if (text === "") {
      this.input.focus();
      return;
    }
    const trouble = this.form.say(this.feature.id, [text], this.sure);
    if (trouble) this.trouble.textContent = `${upper(trouble)}.`;
  }

  doubt() {
    const choose = (e) => { this.sure = e.currentTarget.value; };
    return el("fieldset", { class: "doubt" }, el("legend", {}, "How sure are you?"),
      Object.entries(SURE).map(([word, label]) => el("label", { class: "radio" },
        el("input", { type: "radio", name: "sure", value: word, checked: word === this.sure, on: { change: choose } }), label)));
  }

  ways() {
    const skip = el("button", { type: "button", class: "button quiet", on: { click: () => this.form.skip(this.feature.id) } }, "I cannot tell");
    const list = [skip];
    if (this.tiles) {
      this.these = el("button", { type: "button", class: "button", hidden: !this.several, disabled: this.chosen.size === 0, on: { click: () => this.form.say(this.feature.id, [...this.chosen], this.sure) } }, "One of those chosen");
      const toggle = el("button", { type: "button", class: "button plain", "aria-pressed": this.several, on: { click: () => this.toggleSeveral(toggle) } }, "It is one of several …");
      list.push(toggle, this.these);
    }
    return el("div", { class: "buttons" }, list, this.backButton());
  }

  /** What each question would tell, in bits. */
  bare(others) {
    const known = [{ feature: this.feature, bits: this.bits }, ...others].filter((o) => o.feature && o.bits !== undefined);
    if (known.length === 0) return "";
    return el("details", { class: "behind" }, el("summary", {}, "In bits"),
      el("table", {}, el("tbody", {}, known.map(({ feature, bits }) => el("tr", {}, el("th", { scope: "row" }, feature.name), el("td", { class: "figure" }, bits.toFixed(3)))))));
  }

  backButton() {
    return el("button", { type: "button", class: "button plain", disabled: this.form.steps === 0, on: { click: () => this.form.back() } }, "Back");
  }

  toggleSeveral(toggle) {
    this.several = !this.several;
    toggle.setAttribute("aria-pressed", this.several);
    this.these.hidden = !this.several;
    this.these.disabled = this.chosen.size === 0;
    this.trouble.textContent = this.several ? "Choose every value that it could be, then confirm." : "";
  }

  /** What each answer would make of the years. */
  outlook(outcomes) {
    return el("details", { class: "others" }, el("summary", {}, "What each answer would make of it"),
      el("ul", { class: "pricelist" }, outcomes.map((o) => el("li", {}, el("div", { class: "line" },
        el("span", { class: "what" }, upper(o.label), el("span", { class: "soft small" }, `, ${inHundred(o.chance)}`)), el("span", { class: "dots" }),
        el("span", { class: "years" }, this.then(o)))))));
  }

  /** Where half the odds would lie, in few words. */
  then({ years, best }) {
    const { name } = this.form;
    const recorded = years.filter((m) => m.model !== "");
    const more = recorded.length < years.length ? ", or not on record" : "";
    if (recorded.length === 1) return `${name(recorded[0])} ${eitherYears(recorded[0].years)}${more}`;
    if (recorded.length === 0) return `a model not on record, ${best.year} first`;
    return `one of ${recorded.length} models${more}, ${name(best)} ${best.year} first`;
  }

  otherQuestions(others) {
    return el("details", { class: "others" }, el("summary", {}, "Ask something else"),
      el("ul", {}, others.map(({ feature, bits }) => el("li", {},
        el("button", { type: "button", class: "link", on: { click: () => this.form.ask(feature.id) } }, feature.name),
        bits === undefined ? "" : el("span", { class: "soft small" }, ` ${worth(bits, false)}`)))),
      this.bare(others));
  }
}
