import { el, plate } from "../page/dom.js";
import { agreeing, differing } from "./course.js";
import { upper } from "./words.js";

/** How many pictures of what a part should be are shown. */
const PICTURES = 3;

/** The second look: each remaining part with what it should be, to be held against the bow. */
export class SecondLook {
  /** @param {object[]} rows  as Sentences.secondLook gives them  @param {object} form */
  constructor(rows, form) {
    Object.assign(this, { rows, form });
    this.items = rows.map((row, at) => this.item(row, at));
    const rest = (words, act) => el("button", { type: "button", class: "button plain", on: { click: act } }, words);
    this.element = el("div", {}, el("ul", { class: "second" }, this.items), rows.length < 2 ? "" : el("div", { class: "buttons" },
      rest("All the rest agrees", () => form.sayAll(rows.map((row) => [row.feature, agreeing(form.dating.reference, row)]))),
      rest("I cannot see the rest", () => form.skip(...rows.map((row) => row.feature)))));
  }

  item(row, at) {
    const { form } = this, feature = form.feature(row.feature), { reference } = form.dating;
    const shown = feature.kind === "choice" ? row.outcomes.map((o) => feature.values[o]).filter((v) => v?.picture).slice(0, PICTURES) : [];
    const button = (words, act) => el("button", { type: "button", class: "button plain", on: { click: () => { form.row = at; act(); } } },
      words, el("span", { class: "hidden-words" }, `: ${feature.name}`));
    const differs = () => (feature.kind === "text" ? form.ask(feature.id) : form.say(feature.id, differing(reference, row), "sure"));
    return el("li", {},
      el("p", { class: "should" }, `${feature.name}: `, el("b", {}, row.label)),
      shown.length > 0 ? el("div", { class: "should-look" }, shown.map((v) => plate(`${form.root}pictures/${v.picture}`, upper(v.name)))) : "",
      el("div", { class: "buttons" },
        button("Agrees", () => form.say(feature.id, agreeing(reference, row), "sure")),
        button("Differs", differs),
        button("Cannot see", () => form.skip(feature.id))),
      feature.look ? el("details", { class: "behind" }, el("summary", {}, "Where to look", el("span", { class: "hidden-words" }, `: ${feature.name}`)), el("p", {}, feature.look)) : "");
  }

  /** Puts the focus on the row at a place, or the last. */
  focus(at) {
    this.items[Math.min(at, this.items.length - 1)].querySelector("button").focus({ preventScroll: true });
  }
}

/** What the second look came to: a heading and sentences. */
export function verdict({ end, parts }, sentences, skipped) {
  const unseen = skipped > 0 ? [`${skipped === 1 ? "One part" : `${skipped} parts`} could not be seen.`] : [];
  if (end === "nothing") return ["Nothing to go by", "Every question was passed over. Choose one below, or begin afresh."];
  if (end === "unrecorded") return ["Not on record", "What you answered fits no model on record as well as one that is not. The register would like to hear of this bow."];
  if (end === "agrees") return ["All agrees", `All that you could see agrees with ${sentences.answered()}.`, ...unseen];
  if (parts) return ["Odd one out", ...parts.map((id) => sentences.unrecordedWords(id)), ...unseen];
  if (end === "odd") return ["Odd one out", ...sentences.oddOnes().map((w) => sentences.oddWords(w)), ...unseen];
  return ["Cannot be one bow", ...sentences.conflicts().slice(-1), sentences.advice()];
}
