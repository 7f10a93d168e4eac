import { KeepBow } from "../bows/keep.js";
import { el } from "../page/dom.js";
import { saveFile } from "../page/save.js";

/** The ways to keep a result: copy, address, print, file. */
export class Keep {
  /** @param {HTMLElement} element  @param {() => string} text  the result as plain text  @param {() => object} bow  what is kept among the visitor's own */
  constructor(element, text, bow) {
    this.text = text;
    this.said = el("p", { class: "small soft", role: "status" });
    const button = (words, act) => el("button", { type: "button", class: "button plain", on: { click: act } }, words);
    element.replaceChildren(
      el("div", { class: "buttons" },
        button("Copy the result", () => this.copy(this.text(), "The result is copied.")),
        button("Copy its address", () => this.copy(location.href, "The address is copied; it holds your answers.")),
        button("Print one page", () => window.print()),
        button("Save as a file", () => this.save())),
      this.said, new KeepBow(bow).element);
  }

  async copy(text, done) {
    try {
      await navigator.clipboard.writeText(text);
      this.said.textContent = done;
    } catch {
      this.said.textContent = "The browser does not allow copying here. Save it as a file instead.";
    }
  }

  save() {
    saveFile("bow-dated.txt", this.text(), "text/plain;charset=utf-8");
    this.said.textContent = "Saved as bow-dated.txt.";
  }
}
