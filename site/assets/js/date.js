import { readMark, readStamp } from "./bench/mark.js";
import { resultOf } from "./bows/result.js";
import { open, Refusal } from "./dating/engine.js";
import { joined, Sentences } from "./dating/sentences.js";
import { nextStep } from "./form/course.js";
import { Keep } from "./form/keep.js";
import { Question } from "./form/question.js";
import { Result } from "./form/result.js";
import { Sheet } from "./form/sheet.js";
import { State } from "./form/state.js";
import { NumberBox } from "./number/box.js";
import { Attempt } from "./page/attempt.js";
import { el } from "./page/dom.js";
import { load } from "./page/load.js";
import { goTo, keepPlace, keptPlace } from "./page/place.js";
import { Panel } from "./submission/panel.js";
import { dayOf } from "./submission/submission.js";

/** How many tables are fetched before the first question, and after each answer. */
const FIRST = 5, MORE = 4;

/** The feature that a stamped weight is a figure of. */
const WEIGHT = "draw-weight";

/** How many answers to the next question are thought through. */
const OUTCOMES = 6;

/** The dating form. */
class Form {
  constructor(element) {
    this.element = element;
    this.root = element.dataset.root;
    this.reasons = [];
    this.name = (bow) => this.dating.bow(bow).name;
    this.row = null; // where in the second look the visitor is
    this.steps = 0; // how many of the browser's entries are ours
    this.attempt = new Attempt(element, "What you answered is kept; the printed key below needs no further file.");
    this.attempt.address = () => (this.next ? `#${this.next}` : location.href);
  }

  async start() {
    const { tables, edition } = this.element.dataset;
    this.dating = await open(tables, load, edition);
    this.models = new Map(this.dating.models.filter((m) => m.id !== "").map((m) => [m.id, m]));
    this.features = new Map(this.dating.features.map((f) => [f.id, f]));
    this.build();
    keepPlace();
    const next = this.read();
    if (next.renamed.size > 0) this.leadOn(next);
    this.go(next, { push: false, place: keptPlace() });
    window.addEventListener("popstate", () => {
      if (!this.element.isConnected) return;
      this.steps = Math.max(0, this.steps - 1);
      const next = this.read();
      for (const fault of this.state?.faults ?? []) next.faults.add(fault); // once found it stays, also on the way back
      this.go(next, { push: false, place: keptPlace() });
    });
  }

  build() {
    const part = (name) => this.element.querySelector(`.js-${name}`);
    this.caution = part("withheld").dataset.fault;
    this.faults = Array.from(part("faults").querySelectorAll("input"), (box) => box.name);
    this.chooser = part("model");
    this.enterModels();
    this.chooser.addEventListener("change", () => this.change((next) => { next.choose(this.chooser.value.split(",").filter(Boolean)); }, false));
    this.question = new Question(part("question"), this);
    this.result = new Result(part("result"), this);
    this.sheet = new Sheet(part("sheet"), this);
    this.keep = new Keep(part("keep"), () => this.text(), () => this.bow());
    this.panel = new Panel(part("submission"), this);
    const { root, attempt } = this, { edition } = this.element.dataset;
    new NumberBox(part("number"), { root, attempt, numbers: () => this.dating.loader.numbers(edition), take: (model, feature, value) => this.take(model, feature, value) });
    this.bar = part("bar");
    this.bar.addEventListener("click", () => { part("result").scrollIntoView(); document.getElementById("Result").focus({ preventScroll: true }); });
    part("afresh").addEventListener("click", () => this.go(new State(), { focus: true }));
    part("live").hidden = false;
    for (const key of document.querySelectorAll(".js-key")) key.open = false;
  }

  /** Enters the models in the list, each with its maker, by year. */
  enterModels() {
    const groups = new Map(Array.from(this.chooser.querySelectorAll("optgroup"), (group) => [group.dataset.maker, group]));
    const order = (a, b) => a.first - b.first || a.last - b.last || (a.name < b.name ? -1 : Number(a.name > b.name));
    const also = Object.assign({}, ...Array.from(groups.values(), (group) => JSON.parse(group.dataset.also ?? "{}")));
    for (const m of [...this.models.values()].sort(order)) groups.get(m.maker)?.append(new Option(also[m.id] ? `${m.name} (also ${also[m.id]})` : m.name, m.id));
  }

  /** Goes on from a link that names records as they were called before, and says so. */
  leadOn(next) {
    history.replaceState(history.state, "", `#${next}`);
    const named = [...next.renamed].map(([was, id]) => `“${was}” is “${(this.models.get(id) ?? this.features.get(id)).name}” now`);
    this.element.querySelector(".js-former").textContent = `The link that you followed is older than a change of names: ${named.join(", ")}. It goes on from there.`;
  }

  read() {
    const former = JSON.parse(this.element.dataset.former || "{}");
    return State.read(location.hash, { former: (kind, id) => former[kind]?.[id], model: (id) => this.models.has(id), feature: (id) => this.features.has(id), fault: (id) => this.faults.includes(id) });
  }

  feature(id) {
    return this.features.get(id);
  }

  /** The single figure said of a feature, for the sheet. */
  said(feature) {
    const said = this.state.observed.get(feature);
    return said && said.values.length === 1 ? said.values[0] : null;
  }

  /** The weight as stamped: it changes no odds, so the browser's way back does not stop at it. */
  marked(text) {
    this.state.mark = this.next.mark = text;
    this.panel.suggestMark(text);
    history.replaceState(history.state, "", `#${this.state}`);
  }

  /** The faults found: like the mark they change no odds. */
  found(faults) {
    this.state.faults = new Set(faults);
    this.next.faults = new Set(faults);
    history.replaceState(history.state, "", `#${this.state}`);
    this.result.warn(this.state);
  }

  /** How the stamped weights of a model's maker read: each way with its years, the address that says so, and the maker's name. */
  convention(bow) {
    const { maker } = this.dating.bow(bow);
    const group = maker === "" ? null : this.chooser.querySelector(`optgroup[data-maker="${CSS.escape(maker)}"]`);
    const marks = group?.dataset.marks;
    return { name: group?.label ?? "the maker", source: group?.dataset.told ?? "", ways: marks ? JSON.parse(marks) : null };
  }

  /** An answer; gives the reason in words where it is refused. */
  say(feature, values, sure) {
    const next = this.next.copy();
    const read = feature === WEIGHT ? this.stamped(values) : { values };
    if (read.refused) return read.refused;
    next.say(feature, read.values, sure);
    if (read.mark) next.mark = read.mark;
    try {
      this.dating.answer(next.question(), { odds: 1 });
    } catch (e) {
      if (!(e instanceof Refusal)) throw e;
      return e.message;
    }
    this.go(next, { focus: true });
    return "";
  }

  /** Takes a model and a number of it that was looked up. */
  take(model, feature, value) {
    this.change((next) => {
      next.choose([model]);
      next.say(feature, [value], "sure");
    });
  }

  /** Answers to several features at once, sure. */
  sayAll(list) { this.change((next) => { for (const [feature, values] of list) next.say(feature, values, "sure"); }); }

  /**
   * A draw weight given as it is stamped: the weights that it stands for by the chosen model's maker, or by
   * all makers whose signs are on record, and the mark; else the values as they are.
   */
  stamped(values) {
    const [mark] = values;
    const plain = readMark(mark, {});
    if (plain.stamped !== undefined) return { values, mark: plain.draw > 0 || plain.length > 0 ? mark : "" };
    if (!plain.signed) return { values };
    const { model } = this.state;
    const groups = [...this.chooser.querySelectorAll("optgroup")].filter((g) => g.dataset.marks && (!model || g.querySelector(`option[value="${CSS.escape(model)}"]`)));
    const reads = groups.flatMap((g) => readStamp(mark, JSON.parse(g.dataset.marks)));
    const pounds = [...new Set(reads.filter((r) => r.pounds !== undefined).map((r) => r.pounds))].sort((a, b) => a - b);
    if (pounds.length === 0) return { refused: `${mark}: ${(reads[0] ?? plain).refused}. Give the figure that it stands for, if you know` };
    return { values: pounds.map(String), mark };
  }

  skip(...features) { this.change((next) => { for (const feature of features) next.skip(feature); }); }

  forget(feature) { this.change((next) => next.forget(feature), false); document.getElementById("Result").focus({ preventScroll: true }); }

  ask(feature) { this.change((next) => { next.now = feature; }); }

  back() { history.back(); }

  /** Goes to what a change makes of the state that is wanted, shown or not yet. */
  change(make, focus = true) {
    const next = this.next.copy();
    make(next);
    this.go(next, { focus });
  }

  /**
   * Goes to a state: loads what it needs, then shows it and has the address say
   * so. Where a load fails, page and address stay; a later call overtakes an earlier one.
   * focus moves on to what is asked, place is where the page was scrolled to.
   */
  go(next, { push = true, focus = false, place = null } = {}) {
    this.next = next;
    return this.attempt.make(async (overtaken) => {
      const made = this.state === next ? null : await this.worked(next);
      if (overtaken()) return;
      if (made) {
        Object.assign(this, made, { state: next });
        if (push) {
          history.pushState(null, "", `#${next}`);
          this.steps++;
        }
        this.showAnswer();
        if (focus && this.step.ask) this.question.focus();
      }
      await this.showReasons(overtaken);
      if (overtaken()) return;
      if (made && focus && !this.step.ask) this.question.focus();
      if (made) goTo(place);
      if (!this.step.look) this.row = null;
    });
  }

  /** The answer to a state and its sentences; where no question seems left, all tables are fetched first. */
  async worked(next) {
    await this.dating.need([...this.wanted(next)]);
    for (;;) {
      const answer = this.answered(next);
      const sentences = new Sentences(this.dating.reference, next.question(), answer);
      const missing = this.dating.features.filter((f) => !f.loaded).map((f) => f.id);
      if (missing.length === 0 || nextStep(sentences, next, null).ask) return { answer, sentences };
      await this.dating.need(missing);
    }
  }

  showAnswer() {
    this.showChosen();
    this.step = nextStep(this.sentences, this.state, null);
    this.showQuestion();
    this.result.show(this.answer, this.sentences, []);
    this.showBar();
  }

  /** Shows the chosen model; several of which it is one are a choice of their own. */
  showChosen() {
    const { models } = this.state, value = models.join(",");
    if (models.length > 1 && ![...this.chooser.options].some((o) => o.value === value)) {
      this.chooser.append(el("option", { value }, joined(models.map((id) => this.models.get(id).name), "or")));
    }
    this.chooser.value = value;
  }

  /** Shows the claims that the answer rests on, which are in a file of their own. */
  async showReasons(overtaken) {
    const { answer, state, dating, sentences } = this;
    const claims = answer.best ? await dating.claims(answer.best) : {};
    const likeliest = answer.best ? sentences.likeliest() : undefined;
    const expected = likeliest && likeliest.model !== answer.best.model ? await dating.claims(likeliest) : claims;
    if (overtaken()) return;
    this.reasons = answer.best ? sentences.reasons(dating.reasons(answer, claims), claims) : [];
    this.result.show(answer, sentences, this.reasons);
    if (!this.step.ask) {
      this.step = nextStep(sentences, state, expected);
      this.showQuestion();
    }
    this.sheet.show(answer, claims);
    this.panel.suggestMark(state.mark);
  }

  /** The answer; observations that a sent address got wrong are dropped. */
  answered(state) {
    for (;;) {
      try {
        return this.dating.answer(state.question());
      } catch (e) {
        if (!(e instanceof Refusal) || !state.observed.delete(e.feature)) throw e;
      }
    }
  }

  /** The features whose tables are wanted now: those of the state, and of the rest those with the greatest information gain. */
  wanted(state) {
    const ids = new Set([...state.observed.keys(), ...(state.now ? [state.now] : [])]);
    const rest = [...this.features.values()].filter((f) => !ids.has(f.id)).sort((a, b) => b.bits - a.bits);
    const most = FIRST + MORE * (state.observed.size + state.skipped.size);
    for (const f of rest.slice(0, most)) ids.add(f.id);
    return ids;
  }

  /** Shows the step that the form is at; while that is not known, what stands there stays. */
  showQuestion() {
    const { state, answer, step, sentences } = this;
    const bits = new Map(answer.look.map((l) => [l.feature, l.bits]));
    const others = [...this.features.values()].filter((f) => f.id !== step.ask && !state.observed.has(f.id))
      .map((feature) => ({ feature, bits: bits.get(feature.id) })).sort((a, b) => (b.bits ?? 0) - (a.bits ?? 0));
    if (step.look) this.question.second(step.look, sentences, others);
    else if (step.end) this.question.end(step, sentences, state.skipped.size, others);
    if (!step.ask) return;
    const said = state.observed.get(step.ask);
    const number = state.observed.size + state.skipped.size + (said || state.skipped.has(step.ask) ? 0 : 1);
    const outcomes = said ? [] : this.dating.outcomes(state.question(), step.ask, OUTCOMES);
    this.question.show(this.feature(step.ask), { said, number, bits: bits.get(step.ask), others, outcomes });
  }

  /** The values of a feature that the chosen model had, or else the likely ones, and those that its maker's others had. */
  likely(feature) {
    const { reference, models } = this.dating;
    const own = this.state.models.length > 0 ? this.state.models : this.answer.likely[95].filter((m) => m.model !== "").map((m) => m.model);
    const makers = new Set(own.map((id) => this.models.get(id)?.maker));
    const others = this.state.model ? models.filter((m) => makers.has(m.maker)).map((m) => m.id) : [];
    return [reference.claimedValues(feature, own), reference.claimedValues(feature, others)];
  }

  showBar() {
    const { sentences } = this;
    this.bar.classList.toggle("clashing", sentences.contradicts);
    this.bar.replaceChildren(el("b", {}, sentences.headline()));
  }

  /** The bow as it is kept among the visitor's own. */
  bow() {
    const { edition } = this.element.dataset;
    return { on: dayOf(new Date()), edition, answers: String(this.state), then: resultOf(this.answer, this.sentences) };
  }

  text() {
    const { name, edition } = this.element.dataset;
    const model = this.models.get(this.state.model);
    const mark = this.sheet.markWords();
    return this.result.text(this.reasons, {
      title: name, edition, address: location.href, model: model ? `${model.name}${model.makerName ? ` by ${model.makerName}` : ""}: ` : "",
      after: [...(mark ? ["", mark] : []), "", "Not certified safe: ask a bowyer before an old bow is strung."],
    });
  }
}

/** Begins the form of the page as it stands, also where the preview has put a newer one in its place. */
const begin = () => {
  const element = document.querySelector(".js-date");
  if (!element) return;
  const form = new Form(element);
  form.attempt.make(() => form.start());
};
begin();
window.addEventListener("renewed", begin);
