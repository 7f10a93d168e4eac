import { el } from "../page/dom.js";

/** The one box of the form in which the words of a place cited open, as on the pages of the records. */
export class Quotes {
  /** @param {{root: string}} form  root is the way to the site's root */
  constructor(form) {
    this.form = form;
    this.element = el("div", { class: "box", popover: true, id: "Says" });
  }

  /** Opens what a place says and shows; nothing where none of it may be shown, or the browser cannot open it in place. */
  opener(cite) {
    if (!cite.quotes || !("popover" in HTMLElement.prototype)) return "";
    return el("button", { type: "button", popovertarget: "Says", popovertargetaction: "show", "aria-label": "Its words", on: { click: () => this.fill(cite) } }, "“ ”");
  }

  /** Fills the box, which loads its pictures only now. */
  fill({ words, address, quotes }) {
    const { root } = this.form;
    this.element.replaceChildren(
      el("p", {}, el("a", { href: root + address }, words), el("button", { type: "button", popovertarget: "Says", popovertargetaction: "hide" }, "Close")),
      ...quotes.flatMap((q) => [
        q.cut ? el("img", { src: root + q.cut, alt: q.alt, width: q.width, height: q.height, on: { error: (e) => e.target.remove() } }) : "",
        q.words ? el("blockquote", { class: "says" }, q.words.map((p) => el("p", {}, p))) : "",
        q.sound ? el("audio", { controls: true, preload: "none", src: root + q.sound, "aria-label": "The recording from these words on" }) : "",
        ...(q.remarks ?? []).map((r) => el("p", { class: "small soft" }, r)),
      ]));
  }
}
