import { squeeze } from "../dating/wording.js";
import { el } from "../page/dom.js";
import { Numbers } from "./lookup.js";

/** A box into which one types what is stamped, and what is recorded of it. */
export class NumberBox {
  /**
   * @param {HTMLFormElement} element
   * @param {{root: string, numbers: () => Promise<object>, attempt: import("../page/attempt.js").Attempt, take?: Function}} page
   *   numbers gives the file of numbers; take, on the form's own page, answers with a fit
   */
  constructor(element, page) {
    this.page = page;
    this.input = element.querySelector("input");
    this.said = element.querySelector(".js-says");
    element.addEventListener("submit", (e) => {
      e.preventDefault();
      this.look();
    });
    element.hidden = false;
  }

  look() {
    const text = this.input.value;
    if (text.trim() === "") return;
    this.page.attempt.make(async (overtaken) => {
      const numbers = new Numbers(await this.page.numbers());
      if (!overtaken()) this.said.replaceChildren(answerList(numbers.answer(text), text, this.page));
    });
  }
}

/** What is recorded of a number, with the ways to it. */
export function answerList(lines, text, page) {
  return el("ul", { class: "number-says" }, lines.map((line) => el("li", {}, line.fit ? fitParts(line.fit, text, page) : line.text)));
}

function fitParts(fit, text, page) {
  const { feature, value, model, maker, read, span, address, cites } = fit, { root, take } = page;
  const link = (href, words, name = "") => el("a", { href: root + href, class: name || null }, words);
  const words = read && squeeze(read) !== squeeze(text) ? read : text.trim();
  const date = take ? el("button", { type: "button", class: "button plain", on: { click: () => take(model.id, feature.id, words) } }, "Answer with this")
    : el("a", { class: "button plain", href: `${root}date.html#model=${encodeURIComponent(model.id)}&${encodeURIComponent(feature.id)}=${encodeURIComponent(words).replace(/~/g, "%7E")}` }, "Date it with this");
  return [read ? `If it reads ${read}: ` : "", `${feature.name} ${value}: `, link(`models/${model.id}.html`, model.name), " by ", link(maker.address, maker.name), " ",
    link(address, span, "years"), ", by ", cites.map((c, i) => [i > 0 ? "; " : "", c.address ? link(c.address, c.words) : c.words]), ". ", date];
}
