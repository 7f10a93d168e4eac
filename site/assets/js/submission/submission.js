// Turns what the dating form knows, and what the visitor adds, into a
// submission: one JSON file for the register's editor. No part of a page is
// touched here. The rules are those of package exchange/intake, so that a file
// that is saved here is taken in there; a test holds the two together.

export const KIND = "submission";
export const VERSION = 1;

/** How many characters a text may have, and entries a list; as in the published schema. */
export const LIMITS = {
  reference: 200, edition: 80, value: 200, remark: 500, weightMark: 60, mark: 200, place: 200, part: 100, state: 500,
  file: 150, shows: 300, note: 4000, by: 120, name: 200, contact: 300,
  marks: 20, condition: 40, photographs: 40, observed: 64, values: 40, bytes: 256 * 1024,
};

/** The endings of photographs' names. */
export const PHOTOGRAPHS = [".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp", ".gif", ".tif", ".tiff", ".bmp", ".dng", ".avif"];

/**
 * Makes a submission, or says what is wrong with it.
 * @param {object} dated what the form knows: {reference, edition, on, question: {models, observed}, answer, kinds},
 *   `on` the day as 2026-11-20, `kinds` the kind of each feature by its identifier
 * @param {object} said what the visitor adds: {weightMark, remarks, marks: [{mark, place}], condition: [{part, state, fault}],
 *   photographs: [{file, shows}], note, by, name, contact}, all of them optional; `remarks` by feature
 * @returns {{submission: object|null, problems: {field: string, message: string}[]}} fields are named "marks.0.place"
 */
export function makeSubmission(dated, said) {
  const check = new Check();
  const s = { yearmark: KIND, version: VERSION, reference: dated.reference, edition: dated.edition, on: dated.on };
  if (dated.question.models.length === 1) s.model = dated.question.models[0];
  s.observed = observed(check, dated, said.remarks ?? {});
  if (dated.answer?.best) s.dated = madeOfIt(dated.answer);
  check.line(s, "weightMark", said.weightMark, LIMITS.weightMark, "weightMark");
  check.rows(s, "marks", said.marks, { mark: LIMITS.mark, place: LIMITS.place });
  check.conditions(s, said.condition);
  check.photographs(s, said.photographs);
  check.note(s, said.note);
  check.line(s, "by", said.by, LIMITS.by, "by");
  const own = {};
  check.line(own, "name", said.name, LIMITS.name, "name");
  check.line(own, "contact", said.contact, LIMITS.contact, "contact");
  if (Object.keys(own).length > 0) s.private = own;
  if (check.problems.length === 0 && new TextEncoder().encode(textOf(s)).length > LIMITS.bytes) check.say("note", "All of it together is too long. Leave something out.");
  return { submission: check.problems.length === 0 ? s : null, problems: check.problems };
}

/** The file of a submission: its name and its text. */
export function fileOf(submission) {
  return { name: `bow-${(submission.model ?? "unknown").replace(/[^a-z0-9-]/g, "")}-${submission.on}.json`, text: textOf(submission) };
}

const textOf = (submission) => JSON.stringify(submission, null, 2) + "\n";

/** The visitor's own day as 2026-11-20. */
export function dayOf(date) {
  const two = (n) => String(n).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

function observed(check, { question, kinds }, remarks) {
  if (question.observed.length === 0) check.say("observed", "Answer a question or two first: a bow of which nothing was seen cannot be taken in.");
  if (question.observed.length > LIMITS.observed) check.say("observed", `At most ${LIMITS.observed} answers can be sent.`);
  return question.observed.map(({ feature, values, sure }) => {
    const field = `observed.${feature}`;
    const one = { feature, values: values.map((v) => v.trim()), sure: sure ?? "sure" };
    for (const value of one.values) {
      if (value === "") check.say(field, "This answer is empty.");
      if (kinds?.[feature] === "number" && value.includes("..")) check.say(field, "Give one figure here, the likeliest, and say that you are not sure of it.");
      check.text(value, LIMITS.value, field);
    }
    if (one.values.length > LIMITS.values) check.say(field, `At most ${LIMITS.values} values can be sent of one feature.`);
    check.line(one, "note", remarks[feature], LIMITS.remark, field);
    return one;
  });
}

/** What the page made of the bow. */
function madeOfIt(answer) {
  const { year, chance } = answer.best;
  return { ...bow(answer.best), year, chance: Math.min(1, Math.max(0, chance)), likely: (answer.likely?.[95] ?? []).map((m) => ({ ...bow(m), years: [...m.years] })) };
}

/** A model, or what is not on record by its maker. */
const bow = ({ model, maker }) => (maker ? { model, maker } : { model });

/** Collects what is wrong with a submission. */
class Check {
  constructor() {
    this.problems = [];
  }

  say(field, message) {
    this.problems.push({ field, message });
  }

  /** Sets a text of one line, where there is one. */
  line(to, key, text, most, field) {
    const value = oneLine(text ?? "");
    if (value === "") return;
    this.text(value, most, field);
    to[key] = value;
  }

  /** Sets a list of pairs; rows of which nothing is filled in are passed over. */
  rows(to, key, rows, limits) {
    const kept = [];
    (rows ?? []).forEach((row, i) => {
      const one = {};
      for (const [name, most] of Object.entries(limits)) this.line(one, name, row[name], most, `${key}.${i}.${name}`);
      const filled = Object.keys(one).length;
      if (filled === 0) return;
      for (const name of Object.keys(limits)) if (!(name in one)) this.say(`${key}.${i}.${name}`, "Fill in both, or neither.");
      kept.push(one);
    });
    if (kept.length > LIMITS[key]) this.say(key, `At most ${LIMITS[key]} can be sent.`);
    if (kept.length > 0) to[key] = kept;
  }

  /** Sets the condition: each row has a part, and a state or a kind of fault. */
  conditions(to, rows) {
    const kept = [];
    (rows ?? []).forEach((row, i) => {
      const one = {};
      for (const name of ["part", "state"]) this.line(one, name, row[name], LIMITS[name], `condition.${i}.${name}`);
      if (row.fault) one.fault = row.fault;
      if (Object.keys(one).length === 0) return;
      if (!one.part) this.say(`condition.${i}.part`, "Say which part it is.");
      if (!one.state && !one.fault) this.say(`condition.${i}.state`, "Say how it is, or choose a fault.");
      kept.push(one);
    });
    if (kept.length > LIMITS.condition) this.say("condition", `At most ${LIMITS.condition} can be sent.`);
    if (kept.length > 0) to.condition = kept;
  }

  photographs(to, list) {
    const kept = [];
    (list ?? []).forEach((p, i) => {
      const field = `photographs.${i}`, one = {};
      this.line(one, "file", p.file, LIMITS.file, field);
      if (!one.file) return;
      if (/[/\\:*?"<>|]/.test(one.file) || one.file.startsWith(".") || one.file.includes("..")) this.say(field, "This is not a plain file name: rename the photograph with letters and digits.");
      else if (!PHOTOGRAPHS.some((ending) => one.file.toLowerCase().endsWith(ending))) this.say(field, "This file is not a photograph.");
      this.line(one, "shows", p.shows, LIMITS.shows, field);
      kept.push(one);
    });
    if (kept.length > LIMITS.photographs) this.say("photographs", `At most ${LIMITS.photographs} photographs can be named.`);
    if (kept.length > 0) to.photographs = kept;
  }

  note(to, text) {
    const lines = (text ?? "").replace(/\r\n?/g, "\n").replace(/\t/g, " ").split("\n").map((line) => line.trimEnd());
    const value = lines.join("\n").replace(/\n{3,}/g, "\n\n").trim();
    if (value === "") return;
    this.text(value.replace(/\n/g, " "), LIMITS.note, "note");
    to.note = value;
  }

  /** Holds a text to plain text of at most so many characters. */
  text(value, most, field) {
    const length = [...value].length;
    if (length > most) this.say(field, `This has ${length} characters; at most ${most} can be sent.`);
    else if (ODD.test(value)) this.say(field, "There is a character in this that cannot be seen. Type the text afresh.");
    else if (runs(value)) this.say(field, "Plain text only: write it without < before a letter and without script addresses.");
  }
}

/** One line of text: line breaks and tabs become spaces. */
const oneLine = (text) => text.replace(/[\r\n\t]+/g, " ").trim();

/** Characters that no text may hold: control and invisible ones, lost ones, codes that are none. Two joiners are part of some scripts. */
const ODD = /(?![\u200c\u200d])[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Co}\p{Cs}\ufffd\p{Noncharacter_Code_Point}]/u;

/** What a browser might take for markup or a script. */
const ACTIVE = /<[a-z/!?]|\b(java|vb|live)script\s*:|\bdata\s*:\s*[a-z]+\/[a-z0-9.+-]+\s*[;,]/iu;

/** Character references, numbered or by name, that could hide such. */
const REFERENCE = /&(#|lt|amp|colon|sol|excl|quest|semi|comma|tab|newline|nbsp)/i;

const runs = (text) => ACTIVE.test(text) || REFERENCE.test(text);
