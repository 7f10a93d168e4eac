import { el } from "../page/dom.js";

const KINDS = { maker: "Maker", model: "Model", era: "Era", feature: "Feature", value: "Value", source: "Source", place: "Words", example: "Example", page: "Reading" };

/** One thing found, with the words that matched marked. */
export function hitItem(hit, root, choiceWords) {
  const claims = hit.claims ?? [];
  return el("li", { class: "hit" },
    el("span", { class: "hit-kind" }, KINDS[hit.kind] ?? hit.kind),
    el("h3", {}, el("a", { href: root + hit.address }, marked(hit.title, hit.marks?.title ?? []))),
    hit.about ? el("p", { class: "small soft" }, marked(hit.about, hit.marks?.about ?? [])) : "",
    claims.length > 0 ? el("p", { class: "small" }, "Says so: ",
      claims.map((c, i) => [i > 0 ? ", " : "", el("a", { href: root + c.address }, choiceWords(c.feature)), c.when])) : "");
}

/** Text with the stretches marked. */
function marked(text, stretches) {
  const parts = [];
  let at = 0;
  for (const [start, end] of stretches) {
    if (start < at) continue;
    parts.push(text.slice(at, start), el("mark", {}, text.slice(start, end)));
    at = end;
  }
  return [...parts, text.slice(at)].filter((part) => part !== "");
}
