import { eitherYears, inHundred, worth } from "../dating/sentences.js";
import { el, plate } from "../page/dom.js";
import { SecondLook, verdict } from "./second.js";
import { Tiles } from "./tiles.js";
import { EFFORT, SURE, inUnits, upper } from "./words.js";

/** What is asked now: a question with its answers, the second look, or what that came to. */
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
    const most = others.every((o) => !(o.bits > bits));
    const tells = bits === undefined ? "" : ` · ${worth(bits, most)}`;
    this.sure = said?.sure ?? "sure";
    this.fill(`Question ${number}${tells} · takes ${EFFORT[feature.effort] ?? feature.effort}`, feature.ask || feature.name,
      this.whereToLook(feature), this.meanings(feature), this.advice(),
      feature.kind === "number" || feature.kind === "text" ? this.written(feature, said?.values[0] ?? "") : new Tiles(feature, said, this.form).element,
      el("div", { class: "buttons ways" },
        el("button", { type: "button", class: "button quiet", on: { click: () => this.form.skip(feature.id) } }, "I cannot tell"), this.backButton()),
      outcomes.length > 1 ? this.outlook(outcomes) : "",
      this.otherQuestions(others, bits === undefined ? [] : [{ feature, bits }]));
  }

  /** Shows what is to be held against the bow. */
  second(rows, sentences, others) {
    this.look = new SecondLook(rows, this.form);
    this.fill(`Second look · ${rows.length === 1 ? "one part" : `${rows.length} parts`} left`, `It should have this: ${sentences.answered()}`,
      el("p", {}, "Nothing left would tell much more. Hold each part against the bow: one that differs may have been replaced, or it is another bow."),
      this.look.element, el("div", { class: "buttons" }, this.backButton()), this.otherQuestions(others, []));
  }

  /** Says what the second look came to. */
  finish([heading, ...words], others) {
    this.fill("All asked", heading, words.map((text) => el("p", {}, text)),
      el("p", {}, "You can change any of your answers."), el("div", { class: "buttons" }, this.backButton()), this.otherQuestions(others, []));
  }

  /** Says what a step of the form's course came to. */
  end(step, sentences, skipped, others) {
    this.finish(verdict(step, sentences, skipped), others);
  }

  fill(above, heading, ...parts) {
    if (!parts.includes(this.look?.element)) this.look = null;
    this.heading = el("h2", { tabindex: "-1", id: "Question" }, heading);
    this.element.replaceChildren(el("p", { class: "label-line" }, above), this.heading, ...parts.flat(Infinity).filter((part) => part !== ""));
  }

  /** Moves on: to the next row of the second look without scrolling, else to the question's beginning. */
  focus() {
    if (this.look && this.form.row !== null) {
      this.look.focus(this.form.row);
      return;
    }
    this.heading.focus({ preventScroll: true });
    this.element.scrollIntoView({ block: "start" });
    this.element.querySelector(".tile, #Written")?.scrollIntoView({ block: "nearest" });
  }

  whereToLook(feature) {
    return el("div", { class: "look-with" },
      feature.look ? el("p", { class: "look" }, el("b", {}, "Where to look. "), feature.look) : "",
      feature.picture ? plate(`${this.form.root}pictures/${feature.picture}`) : "");
  }

  /** What practitioners say of bows of the chosen model. */
  advice() {
    const { model } = this.form.state;
    const said = [...(this.form.models.get(model)?.advice ?? []), ...this.form.dating.reference.tells((one, other) => one === model || other === model)];
    return said.length === 0 ? "" : el("details", { class: "others" }, el("summary", {}, "Where practitioners look first"), said.map((words) => el("p", {}, words)));
  }

  /** What it and its values are said to mean: side by side, and no evidence. */
  meanings({ means = [] }) {
    return means.length === 0 ? "" : el("details", { class: "others" }, el("summary", {}, "What it is said to mean"), el("ul", {}, means.map((words) => el("li", {}, words))));
  }

  /** An answer that is written: a figure, or letters as they stand. */
  written(feature, value) {
    const figure = feature.kind === "number";
    const input = el("input", { type: "text", id: "Written", inputmode: figure ? "decimal" : "text", autocomplete: "off", spellcheck: "false", value, "aria-describedby": "WrittenHint" });
    const trouble = el("p", { class: "trouble", role: "alert" });
    const send = () => {
      const text = input.value.trim();
      const refused = text === "" ? "write what you read, or say that you cannot tell" : this.form.say(feature.id, [text], this.sure);
      if (refused) trouble.textContent = `${upper(refused)}.`;
    };
    input.addEventListener("keydown", (e) => { if (e.key === "Enter") send(); });
    const hint = figure ? `A figure as you read it: 45, 7 1/4 or 7.25${feature.unit ? "," : ""}${inUnits(feature.unit)}.` : "Copy it as it stands; hyphens, spaces and capitals may differ.";
    return el("div", { class: "written" },
      el("label", { for: "Written" }, figure ? `Figure${inUnits(feature.unit)}` : "As it stands"),
      el("div", { class: "finder" }, input, el("button", { type: "button", class: "button", on: { click: send } }, "Answer")),
      el("p", { class: "small soft", id: "WrittenHint" }, hint), trouble, this.doubt());
  }

  doubt() {
    const choose = (e) => { this.sure = e.currentTarget.value; };
    return el("fieldset", { class: "doubt" }, el("legend", {}, "How sure are you?"),
      Object.entries(SURE).map(([word, label]) => el("label", { class: "radio" },
        el("input", { type: "radio", name: "sure", value: word, checked: word === this.sure, on: { change: choose } }), label)));
  }

  backButton() {
    return el("button", { type: "button", class: "button plain", disabled: this.form.steps === 0, on: { click: () => this.form.back() } }, "Back");
  }

  /** What each answer would make of the years. */
  outlook(outcomes) {
    return el("details", { class: "others" }, el("summary", {}, "What each answer would make of it"),
      el("ul", { class: "pricelist" }, outcomes.map((o) => el("li", {}, el("div", { class: "line" },
        el("span", { class: "what" }, upper(o.label), el("span", { class: "soft small" }, `, ${inHundred(o.chance)}`)),
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

  /** Why a feature says nothing of the bows of the chosen model's maker, where that is on record. */
  mute(feature) {
    return this.form.models.get(this.form.state.model)?.mute[feature.id];
  }

  /** All other questions, in order of what they would tell; the bits behind. */
  otherQuestions(others, now) {
    if (others.length === 0) return "";
    const known = [...now, ...others].filter((o) => o.bits !== undefined);
    return el("details", { class: "others" }, el("summary", {}, "Ask something else"),
      el("ul", {}, others.map(({ feature, bits }) => el("li", {}, this.mute(feature) ? `${feature.name} says nothing here: ${this.mute(feature)}` : [
        el("button", { type: "button", class: "link", on: { click: () => this.form.ask(feature.id) } }, feature.name),
        bits === undefined ? "" : el("span", { class: "soft small" }, ` ${worth(bits, false)}`)]))),
      known.length === 0 ? "" : el("details", { class: "behind" }, el("summary", {}, "In bits"),
        el("table", {}, el("tbody", {}, known.map(({ feature, bits }) => el("tr", {}, el("th", { scope: "row" }, feature.name), el("td", { class: "figure" }, bits.toFixed(3))))))));
  }
}
