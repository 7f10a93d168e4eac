// Odds, weights and figures as the printed pages have them.

/** A figure as a record writes it, set as the trade prints it: "7 1/4..7 3/4 in" as "7¼–7¾ in". */
export function figureWords(written) {
  const parts = { "1/8": "⅛", "1/4": "¼", "3/8": "⅜", "1/2": "½", "5/8": "⅝", "3/4": "¾", "7/8": "⅞" };
  return written.replace(/ ?\b([1357]\/[248])\b/g, (whole, f) => parts[f] ?? whole).replace(/ *\.\. */g, "–");
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

export const EFFORT = { glance: "a glance", measure: "a measurement", unstring: "the bow unstrung", remove: "a part taken off" };

/** Units in full, where a sentence would read them wrongly: "in in". */
const UNITS = { in: "inches", lb: "pounds", gr: "grains", g: "grams" };

/** The unit of a figure that is asked for: " in inches"; nothing where it has none. */
export const inUnits = (unit) => (unit ? ` in ${UNITS[unit] ?? unit}` : "");

export const SURE = { sure: "sure", fairly: "fairly sure", unsure: "not sure" };

export const upper = (name) => name.charAt(0).toUpperCase() + name.slice(1);
