import { el } from "../page/dom.js";
import { saveFile } from "../page/save.js";
import { dayOf, fileOf, LIMITS, makeSubmission } from "./submission.js";

/** The part of the dating form that saves a submission. */
export class Panel {
  /**
   * @param {HTMLElement} element what to fill
   * @param {object} form the dating form: its element's data name the reference and the edition; `state`, `answer` and
   *   `features` (by identifier, with their kinds) are read when the visitor saves
   */
  constructor(element, form) {
    this.form = form;
    this.said = el("p", { class: "small", role: "status" });
    this.trouble = el("div", { class: "trouble", role: "alert" });
    this.marks = new Rows("Marks", [["Mark", "mark"], ["Where it stands", "place"]], "Add a mark");
    this.condition = new Rows("Condition", [["Part", "part"], ["Its state", "state"], ["Kind of fault", "fault", FAULTS]], "Add a part");
    this.photographs = new Photographs();
    this.fields = {
      weightMark: field("Weight mark, to the letter", el("input", { type: "text", maxlength: LIMITS.weightMark, autocomplete: "off" })),
      note: field("Note", el("textarea", { rows: 5, maxlength: LIMITS.note })),
      by: field("Your name, if the site may show it", el("input", { type: "text", maxlength: LIMITS.by, autocomplete: "off" })),
      name: field("Your name", el("input", { type: "text", maxlength: LIMITS.name, autocomplete: "name" })),
      contact: field("How to reach you", el("input", { type: "text", maxlength: LIMITS.contact, autocomplete: "off" })),
    };
    const { weightMark, note, by, name, contact } = this.fields;
    weightMark.input.addEventListener("input", () => { weightMark.input.dataset.own = "yes"; });
    element.replaceChildren(el("details", { class: "submission" },
      el("summary", {}, "Send this bow to the register"),
      el("p", { class: "small" }, "Add what you know and save one file; then send the file and the photographs to the editor. Nothing is sent from here."),
      weightMark.box, this.marks.box, this.condition.box, this.photographs.box, note.box, by.box,
      el("fieldset", {}, el("legend", {}, "For the editor alone, never published"), name.box, contact.box),
      this.trouble,
      el("div", { class: "buttons" }, el("button", { type: "button", class: "button", on: { click: () => this.save() } }, "Save the submission")),
      this.said));
  }

  /** Takes the mark that was read on the sheet, until the visitor writes here. */
  suggestMark(text) {
    const { input } = this.fields.weightMark;
    if (input.dataset.own !== "yes") input.value = text;
  }

  /** What the visitor has filled in. */
  filled() {
    const text = (name) => this.fields[name].input.value;
    return {
      weightMark: text("weightMark"), note: text("note"), by: text("by"), name: text("name"), contact: text("contact"),
      marks: this.marks.read(), condition: this.conditions(), photographs: this.photographs.read(),
    };
  }

  /** The condition as filled in, and the faults found on the sheet that no row names. */
  conditions() {
    const rows = this.condition.read();
    for (const fault of this.form.state.faults) if (!rows.some((row) => row.fault === fault)) rows.push({ part: "bow", fault });
    return rows;
  }

  save() {
    const { form } = this;
    const { name, edition } = form.element.dataset;
    const kinds = Object.fromEntries([...form.features.values()].map((f) => [f.id, f.kind]));
    const dated = { reference: name, edition, on: dayOf(new Date()), question: form.state.question(), answer: form.answer, kinds };
    const { submission, problems } = makeSubmission(dated, this.filled());
    this.show(problems);
    if (!submission) return;
    const file = fileOf(submission);
    saveFile(file.name, file.text);
    this.said.textContent = `Saved as ${file.name}. Send that file, unchanged, with your photographs.`;
  }

  /** Names what is wrong, and puts the cursor where the first of it is. */
  show(problems) {
    this.said.textContent = "";
    this.trouble.replaceChildren(...problems.map((p) => el("p", {}, `${this.nameOf(p.field)}: ${p.message}`)));
    const first = problems.map((p) => this.inputOf(p.field)).find((input) => input);
    first?.focus();
  }

  inputOf(name) {
    const [list, row, key] = name.split(".");
    if (list === "marks" || list === "condition") return this[list].input(Number(row), key);
    return this.fields[list]?.input;
  }

  nameOf(name) {
    const [list, row] = name.split(".");
    if (list === "observed") return this.form.features.get(row)?.name ?? "Answers";
    if (list === "photographs") return this.photographs.nameOf(Number(row));
    return { marks: "Marks", condition: "Condition" }[list] ?? this.fields[list]?.words ?? "Submission";
  }
}

/** A labelled field. */
function field(words, input) {
  return { words, input, box: el("label", {}, words, " ", input) };
}

/** The kinds of fault that a record can name, as it names them and for people. */
const FAULTS = { crack: "crack", lifting: "lifting edge", twist: "twist", delamination: "layers apart", loose: "loose part", worn: "worn", missing: "missing", repaired: "repaired" };

/** Rows of texts, and of choices, as many as the visitor wants. */
class Rows {
  constructor(title, columns, more) {
    this.columns = columns;
    this.list = [];
    this.body = el("div", {});
    this.box = el("fieldset", {}, el("legend", {}, title), this.body,
      el("button", { type: "button", class: "button plain", on: { click: () => this.add().focus() } }, more));
    this.add();
  }

  /** Adds a row and gives its first input. */
  add() {
    const choice = (options) => el("select", {}, el("option", { value: "" }, "none"), Object.entries(options).map(([value, name]) => el("option", { value }, name)));
    const inputs = Object.fromEntries(this.columns.map(([words, key, options]) =>
      [key, field(words, options ? choice(options) : el("input", { type: "text", maxlength: LIMITS[key], autocomplete: "off" }))]));
    this.list.push(inputs);
    this.body.append(el("div", { class: "fields" }, Object.values(inputs).map((f) => f.box)));
    return Object.values(inputs)[0].input;
  }

  read() {
    return this.list.map((row) => Object.fromEntries(Object.entries(row).map(([key, f]) => [key, f.input.value])));
  }

  input(row, key) {
    return this.list[row]?.[key]?.input;
  }
}

/** The photographs that go with a bow: their names are taken, and nothing of what is in them. */
class Photographs {
  constructor() {
    this.list = [];
    this.body = el("div", { class: "fields" });
    const chooser = el("input", { type: "file", multiple: true, accept: "image/*", on: { change: () => this.take([...chooser.files]) } });
    this.box = el("fieldset", {}, el("legend", {}, "Photographs"),
      el("label", {}, "Choose them, so that their names are noted; the pictures themselves do not go into the file ", chooser), this.body);
  }

  take(files) {
    this.list = files.map((f) => ({ file: f.name, shows: field(`What ${f.name} shows`, el("input", { type: "text", maxlength: LIMITS.shows, autocomplete: "off" })) }));
    this.body.replaceChildren(...this.list.map((p) => p.shows.box));
  }

  read() {
    return this.list.map((p) => ({ file: p.file, shows: p.shows.input.value }));
  }

  nameOf(row) {
    return this.list[row]?.file ?? "Photographs";
  }
}
