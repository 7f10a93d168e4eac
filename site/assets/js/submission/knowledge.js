// Turns what a visitor knows into one JSON file, or a plain letter, for the
// register's editor. No part of a page is touched here. The rules are those of
// package exchange/intake.

/** The address that the hash of the page names: "#about=models%2Fplover.html%23made". */
export function addressed(hash) {
  return new URLSearchParams(hash.replace(/^#/, "")).get("about") ?? "";
}

/**
 * Makes the file's content, or says what is wrong.
 * @param {{reference: string, edition: string, on: string}} seen what the page knows
 * @param {object} said what the visitor wrote: {about, stance, knows, sourceName, sourcePlace, sourceWords, pictures, by, name, contact}
 * @returns {{knowledge: object|null, problems: string[]}}
 */
export function makeKnowledge(seen, said) {
  const problems = [];
  const tidy = (text) => (text ?? "").replace(/\r/g, "").replace(/[ \t]+/g, " ").trim();
  const k = { yearmark: "knowledge", version: 1, ...seen, about: tidy(said.about), stance: said.stance, knows: tidy(said.knows) };
  if (k.about === "") problems.push("Say what it is about: the address of the page, as in models/plover.html.");
  if (k.knows === "") problems.push("Write what you know.");
  const part = (fields) => Object.fromEntries(Object.entries(fields).map(([name, text]) => [name, tidy(text)]).filter(([, text]) => text !== ""));
  const source = part({ name: said.sourceName, place: said.sourcePlace, words: said.sourceWords });
  if (Object.keys(source).length > 0) k.source = source;
  if (said.pictures?.length > 0) k.pictures = said.pictures.map((file) => ({ file }));
  if (tidy(said.by) !== "") k.by = tidy(said.by);
  const own = part({ name: said.name, contact: said.contact });
  if (Object.keys(own).length > 0) k.private = own;
  for (const text of [k.about, k.knows, k.by, ...Object.values(source), ...Object.values(own)]) {
    if (/<[a-z!/]/i.test(text ?? "")) problems.push("Leave out what looks like the marks of a web page: <…>.");
  }
  return { knowledge: problems.length === 0 ? k : null, problems: [...new Set(problems)] };
}

/** The file: its name and its text. */
export function fileOf(k) {
  return { name: `known-${k.about.replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 60)}-${k.on}.json`, text: JSON.stringify(k, null, 2) + "\n" };
}

const STANCES = { agrees: "I agree with what stands there.", disagrees: "I disagree with what stands there.", adds: "I know something else." };

/** The same as a letter in plain text. */
export function letterOf(k) {
  const lines = [`To the editor of ${k.reference}`, k.on, "", `About: ${k.about}`, `Edition: ${k.edition}`, "", STANCES[k.stance], "", k.knows, ""];
  const { name, place, words } = k.source ?? {};
  if (name || place) lines.push(`It stands in: ${[name, place].filter(Boolean).join(", ")}`);
  if (words) lines.push(`The words: ${words}`);
  for (const p of k.pictures ?? []) lines.push(`Picture: ${p.file}`);
  lines.push(k.by ? `The site may name me: ${k.by}` : "Please do not name me on the site.");
  if (k.private) lines.push("", "For you alone:", ...Object.values(k.private));
  return lines.join("\n") + "\n";
}
