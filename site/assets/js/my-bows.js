// The page of the visitor's own bows: each with its date then, and the date that
// the same answers get by the present edition.

import { Bows, fileOf, LIMITS, readFile, Refused } from "./bows/list.js";
import { isMoved, resultOf } from "./bows/result.js";
import { open, Refusal } from "./dating/engine.js";
import { Sentences } from "./dating/sentences.js";
import { State } from "./form/state.js";
import { Attempt } from "./page/attempt.js";
import { el } from "./page/dom.js";
import { root } from "./page/edition.js";
import { load } from "./page/load.js";
import { saveFile } from "./page/save.js";

class Page {
  constructor(element, bows) {
    const part = (name) => element.querySelector(`.js-bows-${name}`);
    Object.assign(this, { element, bows, list: part("list"), ways: part("ways"), lasting: part("lasting") });
    this.said = el("p", { role: "status" });
    this.attempt = new Attempt(element, "Your bows are all here; only their present dates are missing.");
    part("local").hidden = location.protocol !== "file:";
    element.hidden = false;
  }

  show() {
    let bows;
    try {
      bows = this.bows.all();
    } catch {
      this.list.replaceChildren(el("p", { class: "caution" }, "What is kept here cannot be read as a list of bows. It is left as it is; nothing can be added to it."));
      return;
    }
    const now = bows.map(() => el("span", {}, "…"));
    this.list.replaceChildren(bows.length === 0
      ? el("p", {}, "No bow is kept here yet. ", el("a", { href: new URL("date.html", root).href }, "Date one"), ", and press “Keep this bow on this device” below its result; or take in a file.")
      : el("ol", { class: "bows" }, bows.map((bow, i) => this.item(bow, now[i]))));
    this.showWays(bows);
    if (bows.length > 0 && this.element.dataset.tables) this.attempt.make((overtaken) => this.dateAgain(bows, now, overtaken));
  }

  item(bow, now) {
    const button = (words, act) => el("button", { type: "button", class: "link", on: { click: act } }, words, el("span", { class: "hidden-words" }, `: ${bow.name}`));
    const ways = el("div", { class: "small no-print" });
    const ask = () => ways.replaceChildren(`Remove ${bow.name} for good? `, button("Remove", () => { this.bows.remove(bow); this.show(); }), " · ", button("Keep it", settle));
    const settle = () => ways.replaceChildren(el("a", { class: "stands-alone", href: new URL(`date.html#${bow.answers}`, root).href }, "Open in the form", el("span", { class: "hidden-words" }, `: ${bow.name}`)), " · ", button("Remove", ask));
    settle();
    return el("li", { class: "bow" }, el("h2", {}, bow.name), bow.remark ? el("p", {}, bow.remark) : "",
      el("dl", { class: "then-now" },
        el("dt", {}, `Then, ${bow.on}`), el("dd", {}, bow.then.says, el("span", { class: "under" }, `edition ${bow.edition}`)),
        el("dt", {}, "Now"), el("dd", {}, now, el("span", { class: "under" }, `edition ${this.element.dataset.edition}`))),
      ways);
  }

  /** Dates every bow by the present edition. */
  async dateAgain(bows, now, overtaken) {
    const { tables, edition } = this.element.dataset;
    this.dating ??= await open(tables, load, edition);
    const known = { model: (id) => this.dating.models.some((m) => m.id === id), feature: (id) => this.dating.features.some((f) => f.id === id), fault: () => true };
    for (const [i, bow] of bows.entries()) {
      const state = State.read(bow.answers, known);
      await this.dating.need([...state.observed.keys()]);
      if (overtaken()) return;
      now[i].replaceChildren(...this.dated(bow, state));
    }
  }

  /** What a bow's answers make now, with a word where that is another date, or where not all of them are known any more. */
  dated(bow, state) {
    let dropped = State.read(bow.answers, { model: () => true, feature: () => true, fault: () => true }).observed.size - state.observed.size;
    for (;;) {
      try {
        const question = state.question(), answer = this.dating.answer(question);
        const result = resultOf(answer, new Sentences(this.dating.reference, question, answer));
        return [result.says, isMoved(bow.then, result) ? el("strong", { class: "moved-date" }, " The date has moved.") : "",
          dropped > 0 ? el("span", { class: "under" }, `${dropped === 1 ? "One answer is" : `${dropped} answers are`} not known to this edition and left out.`) : ""];
      } catch (e) {
        if (!(e instanceof Refusal) || !state.observed.delete(e.feature)) throw e;
        dropped++;
      }
    }
  }

  showWays(bows) {
    const chooser = el("input", { type: "file", accept: ".json,application/json", on: { change: () => this.takeIn(chooser.files[0]).finally(() => { chooser.value = ""; }) } });
    const button = (words, act) => el("button", { type: "button", class: "button plain", on: { click: act } }, words);
    this.ways.replaceChildren(
      bows.length > 0 ? el("div", { class: "buttons" },
        button("Take them out as a file", () => {
          saveFile("my-bows.json", fileOf(this.element.dataset.name.slice(0, LIMITS.register), bows));
          this.said.textContent = "Saved as my-bows.json. Keep it where you keep what matters.";
        }),
        button("Print the list", () => window.print())) : "",
      el("div", { class: "submission" }, el("label", {}, "Take in a file of bows ", chooser)), this.said);
  }

  async takeIn(file) {
    if (!file) return;
    try {
      if (file.size > LIMITS.bytes) throw new Refused("The file is larger than any list of bows.");
      const { register, bows } = readFile(await file.text());
      const added = this.bows.join(bows), other = register === this.element.dataset.name ? "" : ` They were dated by another register, ${register}: answers that this one does not know are left out.`;
      this.show();
      this.said.textContent = `${added} of ${bows.length} bows were taken in${added < bows.length ? "; the others are here already" : ""}.${other}`;
    } catch (e) {
      if (!(e instanceof Refused) && !(e instanceof DOMException)) throw e;
      this.said.textContent = e instanceof Refused ? `${file.name} was not taken in, and nothing changed. ${e.message}` : "This browser has no room for them. Nothing changed.";
    }
  }

  /** Asks the browser to keep the bows, and says what it answers. */
  async askToLast() {
    let lasts = false;
    if (location.protocol !== "file:") lasts = await (await navigator.storage?.persisted?.() || navigator.storage?.persist?.()) ?? false;
    this.lasting.textContent = lasts ? "This browser says that it keeps them until you remove them. A lost telephone loses them all the same: take them out as a file now and then."
      : "This browser may discard what it keeps, above all of a site that is not visited for weeks, or when room is short. Take your bows out as a file now and then.";
  }
}

function begin() {
  const element = document.querySelector(".js-bows");
  if (!element) return;
  let storage;
  try {
    storage = localStorage;
  } catch {
    element.before(el("p", { class: "caution" }, "This browser does not let the page keep anything. Allow this site to keep data, and load the page again."));
    return;
  }
  const page = new Page(element, new Bows(root, storage));
  page.show();
  page.askToLast();
  window.addEventListener("storage", () => { if (element.isConnected) page.show(); }); // another page of this site
}
begin();
window.addEventListener("renewed", begin);
