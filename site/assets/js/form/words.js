// Years, odds and weights in words, as the printed pages have them.

/** [1964, 1965, 1967] as "1964–1965 and 1967". */
export function yearsInWords(years) {
  const parts = [];
  for (let i = 0; i < years.length; ) {
    let j = i;
    while (j + 1 < years.length && years[j + 1] === years[j] + 1) j++;
    parts.push(j > i ? `${years[i]}–${years[j]}` : `${years[i]}`);
    i = j + 1;
  }
  return listed(parts);
}

/** How many models a sentence names. */
const NAMED = 4;

/** Years of models: "1964–1965", or with the models' names where they are several. */
export function modelYears(list, name) {
  if (list.length === 0) return "no year";
  const parts = list.map((m) => (list.length > 1 ? `${name(m.model)} ` : "") + yearsInWords(m.years));
  if (parts.length <= NAMED) return listed(parts);
  const more = parts.length - NAMED;
  return listed([...parts.slice(0, NAMED), `${more} further model${more === 1 ? "" : "s"}`]);
}

/** The same in few words for a headline: of more than two models only the years they span. */
export function headline(list, name) {
  if (list.length <= 2) return modelYears(list, name);
  const years = list.flatMap((m) => m.years);
  return `${yearsInWords([Math.min(...years)])}–${Math.max(...years)}, one of ${list.length} models`;
}

/** A figure as a record writes it, set as the trade prints it: "7 1/4..7 3/4 in" as "7¼–7¾ in". */
export function figureWords(written) {
  const parts = { "1/8": "⅛", "1/4": "¼", "3/8": "⅜", "1/2": "½", "5/8": "⅝", "3/4": "¾", "7/8": "⅞" };
  return written.replace(/ ?\b([1357]\/[248])\b/g, (whole, f) => parts[f] ?? whole).replace(/ *\.\. */g, "–");
}

/** "a, b and c". */
export function listed(parts, joint = "and") {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} ${joint} ${parts[parts.length - 1]}`;
}

/** A chance: "93 %", "4.2 %", "below 0.1 %". */
export function percent(chance) {
  const p = chance * 100;
  if (p === 0) return "0 %";
  if (p < 0.1) return "below 0.1 %";
  if (p < 9.95) return `${p.toFixed(1)} %`;
  if (p >= 99.5 && p < 99.995) return `${Math.min(p, 99.9).toFixed(1)} %`;
  return `${p.toFixed(0)} %`;
}

/** A weight of evidence with its sign. */
export function decibans(x) {
  const figures = Math.abs(x).toFixed(1);
  const sign = x < 0 ? "−" : "+";
  return `${figures === "0.0" ? "" : sign}${figures} decibans`;
}

/** How sure the likeliest pair is. */
export function howSure(chance) {
  if (chance >= 0.95) return "as good as certain";
  if (chance >= 0.8) return "very likely";
  if (chance >= 0.5) return "more likely than not";
  return "the likeliest of several";
}

export const EFFORT = { glance: "a glance", measure: "a measurement", unstring: "unstringing it", remove: "removing a part" };

export const SURE = { sure: "sure", fairly: "fairly sure", unsure: "not sure" };

/** A feature's name within a sentence. */
export const lower = (name) => name.charAt(0).toLowerCase() + name.slice(1);
export const upper = (name) => name.charAt(0).toUpperCase() + name.slice(1);

/** An observation's values for people. */
export function valueWords(feature, values) {
  const names = values.map((id) => {
    const declared = feature.values?.find((v) => v.id === id);
    if (declared) return upper(declared.name);
    if (id === "something-else") return "Something else";
    return feature.kind === "number" && feature.unit && !id.includes(feature.unit) ? `${id} ${feature.unit}` : id;
  });
  return listed(names, "or");
}
