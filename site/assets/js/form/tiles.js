import { el, plate } from "../page/dom.js";
import { upper } from "./words.js";

/** How many values may be shown more before they go behind a press. */
const FEW = 2;

/**
 * The values of a feature as tiles, those of the model and its maker first and
 * the others behind one press. A press answers; "Not sure?" on a tile opens, on
 * the tile, how sure one is and whether it may be another too.
 */
export class Tiles {
  /**
   * @param {object} feature
   * @param {{values: string[], sure: string}|undefined} said  what was answered before
   * @param {{root: string, say: Function, likely: (feature: string) => Set<string>[]}} form
   */
  constructor(feature, said, form) {
    Object.assign(this, { feature, form });
    this.chosen = new Set(said?.values ?? []);
    this.several = this.chosen.size > 1;
    this.these = el("button", { type: "button", class: "button these", on: { click: () => form.say(feature.id, [...this.chosen], "sure") } });
    this.choices = new Map();
    this.element = el("div", { class: "tiles-part" }, this.groups());
    if (this.several) this.confirm([...this.chosen].at(-1));
  }

  groups() {
    const { values, id } = this.feature;
    const [own, makers] = this.form.likely(id);
    const rank = (v) => (own.has(v.id) || this.chosen.has(v.id) ? 0 : makers.has(v.id) ? 1 : 2);
    const named = values.filter((v) => v.id !== "something-else"), none = values.filter((v) => v.id === "something-else");
    const near = [...named.filter((v) => rank(v) === 0), ...named.filter((v) => rank(v) === 1)], far = named.filter((v) => rank(v) === 2);
    if (near.length === 0 || far.length <= FEW) return this.grid([...near, ...far, ...none]);
    return [this.grid([...near, ...none]), el("details", { class: "more-values" },
      el("summary", {}, `${far.length} more that others had`), this.grid(far))];
  }

  grid(values) {
    return el("div", { class: "tiles", role: "group", "aria-labelledby": "Question" }, values.map((v) => this.choice(v)));
  }

  choice(value) {
    const name = upper(value.name || value.id);
    const tile = el("button", { type: "button", class: "tile", "data-value": value.id, "aria-pressed": this.chosen.has(value.id), on: { click: () => this.press(value.id) } },
      value.picture ? plate(`${this.form.root}pictures/${value.picture}`) : "",
      el("span", {}, el("b", {}, name), value.tell ? el("span", { class: "tell" }, value.tell) : ""));
    const doubt = el("button", { type: "button", class: "unsure", "aria-expanded": false, on: { click: () => this.open(value.id) } },
      "Not sure?", el("span", { class: "hidden-words" }, ` About ${name}`));
    const box = el("div", { class: "choice" }, tile, doubt);
    this.choices.set(value.id, { box, tile, doubt });
    return box;
  }

  press(id) {
    if (!this.several) {
      this.form.say(this.feature.id, [id], "sure");
      return;
    }
    if (!this.chosen.delete(id)) this.chosen.add(id);
    this.choices.get(id).tile.setAttribute("aria-pressed", String(this.chosen.has(id)));
    this.confirm(id);
  }

  /** Puts the button that answers with all that are chosen beside the tile pressed last. */
  confirm(id) {
    this.these.disabled = this.chosen.size === 0;
    this.these.textContent = this.chosen.size === 1 ? "It is this one" : `It is one of these ${this.chosen.size}`;
    this.choices.get(id).box.append(this.these);
  }

  /** Opens the doubts of one tile, and closes those of the others. */
  open(id) {
    const was = this.opened;
    this.close();
    if (was === id) return;
    const { box, doubt } = this.choices.get(id);
    const button = (words, act) => el("button", { type: "button", class: "button plain", on: { click: act } }, words);
    this.opened = id;
    doubt.setAttribute("aria-expanded", "true");
    box.classList.add("opened");
    this.doubts = el("div", { class: "doubts" },
      button("Fairly sure", () => this.form.say(this.feature.id, [id], "fairly")),
      button("Not sure, but likely", () => this.form.say(this.feature.id, [id], "unsure")),
      button("This or another …", () => this.begin(id)));
    box.append(this.doubts);
  }

  close() {
    if (!this.opened) return;
    const { box, doubt } = this.choices.get(this.opened);
    doubt.setAttribute("aria-expanded", "false");
    box.classList.remove("opened");
    this.doubts.remove();
    this.opened = "";
  }

  /** Begins to choose several. */
  begin(id) {
    this.close();
    this.several = true;
    this.element.classList.add("several");
    this.chosen = new Set([id]);
    for (const [value, { tile }] of this.choices) tile.setAttribute("aria-pressed", String(value === id));
    this.confirm(id);
  }
}
