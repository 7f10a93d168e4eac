import { el } from "../page/dom.js";
import { answerList } from "../number/box.js";
import { Numbers } from "../number/lookup.js";
import { goTo, keepPlace, keptPlace } from "../page/place.js";
import { hitItem } from "./hits.js";

/** How many hits a page of results has, and how long typing may pause before it is answered. */
const PAGE = 20, PAUSE = 120;

/** How long nothing may be asked before the pictures to begin with are fetched: an answer is not to wait for them. */
const REST = 1000;

/** The search page: words and filters, and what they find. The address holds both. */
export class Search {
  /** @param {HTMLElement} element  @param {object} engine  @param {import("../page/attempt.js").Attempt} attempt  @param {Function} numbers gives the file of numbers */
  constructor(element, engine, attempt, numbers) {
    this.loadNumbers = numbers;
    this.element = element;
    this.engine = engine;
    this.attempt = attempt;
    this.kinds = new Set();
    this.features = new Map(); // by feature: value
    const part = (name) => element.querySelector(`.js-${name}`);
    this.words = part("words");
    this.maker = part("maker");
    this.from = part("from");
    this.to = part("to");
    this.summary = part("summary");
    this.hits = part("hits");
    this.more = part("more");
    this.suggestions = part("suggestions");
    this.toFound = part("to-found");
    this.found = part("found");
    this.number = part("number");
    this.begin = part("begin");
    this.listen(part);
  }

  listen(part) {
    this.words.addEventListener("input", () => this.soon());
    this.words.addEventListener("keydown", (e) => { if (e.key === "Enter") this.now(); });
    for (const input of [this.maker, this.from, this.to]) input.addEventListener("change", () => this.now());
    for (const chip of this.element.querySelectorAll("[data-kind]")) {
      chip.addEventListener("click", () => this.press(chip, this.kinds, chip.dataset.kind));
    }
    for (const facet of this.element.querySelectorAll(".js-facet")) {
      facet.addEventListener("toggle", () => { if (facet.open) this.find(this.offset, this.typing); });
      for (const tile of facet.querySelectorAll("[data-value]")) tile.addEventListener("click", () => this.choose(facet, tile));
    }
    part("see").addEventListener("click", () => { this.found.focus({ preventScroll: true }); this.found.scrollIntoView(); });
    part("next").addEventListener("click", () => this.find(this.hits.children.length));
  }

  start() {
    this.element.querySelector(".js-narrow").open = matchMedia("(min-width: 64rem)").matches;
    keepPlace();
    const place = keptPlace();
    this.read();
    this.find(0).then(() => goTo(place));
    this.words.focus({ preventScroll: true });
    window.addEventListener("popstate", () => {
      if (!this.element.isConnected) return;
      this.read();
      this.find(0);
    });
  }

  /** Reads words and filters from the address. */
  read() {
    const said = new URLSearchParams(location.hash.slice(1));
    this.words.value = said.get("words") ?? "";
    this.maker.value = said.get("maker") ?? "";
    this.from.value = said.get("from") ?? "";
    this.to.value = said.get("to") ?? "";
    this.kinds = new Set((said.get("kinds") ?? "").split(",").filter(Boolean));
    this.features = new Map(said.getAll("has").map((pair) => pair.split("=")).filter((pair) => pair.length === 2));
    for (const chip of this.element.querySelectorAll("[data-kind]")) chip.setAttribute("aria-pressed", this.kinds.has(chip.dataset.kind));
    for (const facet of this.element.querySelectorAll(".js-facet")) {
      this.mark(facet);
      if (this.features.has(facet.dataset.feature)) facet.open = true;
    }
  }

  address() {
    const said = new URLSearchParams();
    const set = (name, value) => { if (value) said.set(name, value); };
    set("words", this.words.value.trim());
    set("maker", this.maker.value);
    set("from", this.from.value);
    set("to", this.to.value);
    set("kinds", [...this.kinds].join(","));
    for (const [feature, value] of this.features) said.append("has", `${feature}=${value}`);
    return said.toString();
  }

  query(typing = false) {
    const year = (input) => (input.value === "" ? null : Number(input.value));
    const years = this.from.value === "" && this.to.value === "" ? undefined : [year(this.from), year(this.to)];
    return {
      words: this.words.value, typing, kinds: [...this.kinds], maker: this.maker.value || undefined, years,
      features: [...this.features].map(([feature, value]) => `${feature}=${value}`), limit: PAGE,
    };
  }

  press(chip, set, value) {
    if (set.has(value)) set.delete(value);
    else set.add(value);
    chip.setAttribute("aria-pressed", set.has(value));
    this.now();
  }

  choose(facet, tile) {
    const { feature } = facet.dataset;
    if (this.features.get(feature) === tile.dataset.value) this.features.delete(feature);
    else this.features.set(feature, tile.dataset.value);
    this.mark(facet);
    this.now();
  }

  mark(facet) {
    const chosen = this.features.get(facet.dataset.feature);
    facet.toggleAttribute("data-chosen", chosen !== undefined);
    for (const tile of facet.querySelectorAll("[data-value]")) tile.setAttribute("aria-pressed", tile.dataset.value === chosen);
  }

  /** Answers while the visitor types. */
  soon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.find(0, true), PAUSE);
  }

  now() {
    clearTimeout(this.timer);
    this.suggestions.hidden = true;
    this.find(0);
  }

  keep() {
    const said = this.address();
    history.replaceState(history.state, "", said === "" ? location.pathname : `#${said}`);
  }

  /** Shows the hits from offset on, and has the address say what was asked. */
  find(offset, typing = false) {
    Object.assign(this, { offset, typing });
    clearTimeout(this.resting);
    return this.attempt.make(async (overtaken) => {
      const query = { ...this.query(typing), offset };
      const answer = this.asked() ? await this.engine.find(query) : null;
      if (overtaken()) return;
      this.keep();
      this.show(answer ?? { total: 0, hits: [] }, offset);
      if (answer) this.summarize(answer);
      else this.inviteQuestion();
      await this.lookUp(overtaken);
      if (typing) await this.suggest(overtaken);
      await this.count(overtaken);
    });
  }

  /** Says above the hits what is recorded of a number. */
  async lookUp(overtaken) {
    const text = this.words.value;
    const data = /[0-9]/.test(text) ? await this.loadNumbers() : null;
    if (overtaken()) return;
    const numbers = data ? new Numbers(data) : null;
    this.number.replaceChildren(numbers?.looksLike(text) ? answerList(numbers.answer(text), text, { root: this.element.dataset.root }) : "");
  }

  /** Whether anything is asked at all. */
  asked() {
    return this.words.value.trim() !== "" || this.kinds.size > 0 || this.features.size > 0 || this.maker.value !== "" || this.from.value !== "" || this.to.value !== "";
  }

  show(answer, offset) {
    const items = answer.hits.map((hit) => hitItem(hit, this.element.dataset.root, (key) => this.choiceWords(key)));
    this.hits.replaceChildren(...[...this.hits.children].slice(0, offset), ...items);
    this.more.hidden = this.hits.children.length >= answer.total;
  }

  /** "riser-wood=padauk" as "Riser wood: Padauk". */
  choiceWords(key) {
    const [feature, value] = key.split("=");
    const facet = this.element.querySelector(`.js-facet[data-feature="${CSS.escape(feature)}"]`);
    const tile = facet?.querySelector(`[data-value="${CSS.escape(value)}"] .tile-name`);
    return facet && tile ? `${facet.querySelector("summary").textContent}: ${tile.textContent}` : key.replace("=", ": ");
  }

  inviteQuestion() {
    this.summary.textContent = "Type words, or choose what the bow looks like.";
    this.toFound.hidden = true;
    this.resting = setTimeout(() => this.begin.classList.remove("waiting"), REST);
  }

  summarize(answer) {
    const parts = [];
    if (answer.total === 0) {
      parts.push("Nothing found.");
      if (answer.near.length > 0) parts.push(" Near words: ", ...answer.near.map((word, i) => [i > 0 ? ", " : "", this.wordButton(word)]).flat());
      else parts.push(" Try fewer words, or fewer choices.");
    } else {
      parts.push(answer.total === 1 ? "One thing found." : `${answer.total} things found.`);
      for (const { word, used } of answer.corrected) parts.push(` “${word}” is in no record; searched for ${used.join(", ")}.`);
    }
    if (answer.ignored?.length > 0) parts.push(` Left out: ${answer.ignored.join(", ")}.`);
    this.summary.replaceChildren(...parts);
    this.toFound.hidden = answer.total === 0;
    this.toFound.firstElementChild.textContent = answer.total === 1 ? "See the one thing found" : `See the ${answer.total} things found`;
  }

  wordButton(word) {
    return el("button", { type: "button", class: "link", on: { click: () => { this.words.value = word; this.now(); } } }, word);
  }

  async suggest(overtaken) {
    const typed = this.words.value;
    const list = typed.trim() === "" ? [] : await this.engine.suggest(typed);
    if (overtaken() || typed !== this.words.value) return;
    const last = typed.split(/\s+/).pop().toLowerCase();
    const words = list.filter((word) => word !== last).slice(0, 6);
    this.suggestions.hidden = words.length === 0;
    this.suggestions.replaceChildren(...words.map((word) => el("li", {}, el("button", {
      type: "button", class: "chip", on: { click: () => this.complete(word) },
    }, word))));
  }

  complete(word) {
    this.words.value = this.words.value.replace(/\S*$/, word);
    this.words.focus();
    this.now();
  }

  /** Puts counts beside the choices of the features that are open. */
  async count(overtaken) {
    const open = [...this.element.querySelectorAll(".js-facet[open]")];
    if (open.length === 0) return;
    const counts = await this.engine.facets(this.query(), open.map((f) => f.dataset.feature));
    if (overtaken()) return;
    for (const facet of open) {
      const of = counts.features[facet.dataset.feature] ?? {};
      for (const tile of facet.querySelectorAll("[data-value]")) {
        tile.querySelector(".js-count").textContent = String(of[tile.dataset.value] ?? 0);
      }
    }
  }
}
