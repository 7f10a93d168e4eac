import { el } from "../page/dom.js";
import { root } from "../page/edition.js";
import { saveFile } from "../page/save.js";
import { Bows, fileOf, LIMITS } from "./list.js";

/** The part of the form's result that keeps a bow among the visitor's own. */
export class KeepBow {
  /** @param {() => object} bow  the bow as it is answered now, without its name */
  constructor(bow) {
    this.bow = bow;
    this.name = el("input", { type: "text", maxlength: LIMITS.name, autocomplete: "off" });
    this.remark = el("textarea", { rows: 3, maxlength: LIMITS.remark });
    this.said = el("div", { role: "status" });
    this.element = el("details", { class: "submission" },
      el("summary", {}, "Keep this bow on this device"),
      el("p", { class: "small" }, "It stays in this browser, and nothing of it is sent. ", el("a", { href: new URL("my-bows.html", root).href }, "My bows"), " lists all that you keep."),
      el("label", {}, "What you call it ", this.name),
      el("label", {}, "A remark, if you like ", this.remark),
      el("div", { class: "buttons" }, el("button", { type: "button", class: "button", on: { click: () => this.keep() } }, "Keep this bow")),
      this.said);
  }

  keep() {
    const name = this.name.value.trim(), remark = this.remark.value.trim();
    if (name === "") {
      this.said.replaceChildren(el("p", { class: "trouble" }, "Give it a name first, one by which you will know it again."));
      this.name.focus();
      return;
    }
    const { on, edition, answers, then } = this.bow();
    const bow = { name, ...(remark ? { remark } : {}), on, edition, answers, then };
    this.attempt((bows) => {
      const button = (words, replacing) => el("button", { type: "button", class: "button plain", on: { click: () => this.attempt((own) => this.add(own, bow, replacing)) } }, words);
      if (!bows.all().some((other) => other.name === name)) this.add(bows, bow, false);
      else this.said.replaceChildren(el("p", {}, "You keep a bow of that name already."), el("div", { class: "buttons" }, button("Put this in its place", true), " ", button("Keep both", false)));
    });
  }

  /** Does something with the bows, and says so where the browser does not let it. */
  attempt(act) {
    try {
      act(new Bows(root, localStorage));
    } catch (e) {
      if (!(e instanceof DOMException) && !(e instanceof SyntaxError)) throw e;
      this.said.replaceChildren(el("p", { class: "trouble" }, "This browser does not let the page keep anything, or has no room. Save the result as a file instead."));
    }
  }

  add(bows, bow, replacing) {
    const first = bows.all().length === 0;
    bows.add(bow, replacing);
    this.said.replaceChildren(el("p", {}, `${bow.name} is kept on this device.`, first ? " A browser may discard what it keeps, above all of a site that is not visited for weeks: take your bows out as a file now and then." : ""),
      el("div", { class: "buttons" }, el("a", { class: "button plain", href: new URL("my-bows.html", root).href }, "My bows"), " ",
        first ? el("button", { type: "button", class: "button plain", on: { click: () => saveFile("my-bows.json", fileOf(document.querySelector(".js-date").dataset.name, bows.all())) } }, "Take them out as a file") : ""));
    this.name.value = this.remark.value = "";
    navigator.storage?.persist?.().catch(() => {}); // the list says what came of it
  }
}
