import { readMark } from "../bench/mark.js";

/**
 * Figures as people write them: 7 1/4, 7-1/4, 7¼, 7.25, 30..55 lb. The rules
 * are those of the records, so the page and the command read alike.
 */

const VULGAR = {
  "¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8, "⅓": 1 / 3,
  "⅔": 2 / 3, "⅕": 1 / 5, "⅖": 2 / 5, "⅗": 3 / 5, "⅘": 4 / 5, "⅙": 1 / 6, "⅚": 5 / 6,
};

const LARGEST = 1e9;

/** Units of length in inches, units of weight in grains. */
const KINDS = [
  { in: 1, mm: 1 / 25.4, cm: 1 / 2.54 },
  { gr: 1, lb: 7000, g: 1 / 0.06479891, kg: 1000 / 0.06479891 },
];

/**
 * Reads a figure or a range of two, with or without a unit; null for what is none.
 * @param {string} text
 * @returns {{low: number, high: number, unit: string}|null}
 */
export function parseRange(text) {
  const at = text.indexOf("..");
  if (at < 0) {
    const single = parseQuantity(text);
    return single && { low: single.value, high: single.value, unit: single.unit };
  }
  const low = parseQuantity(text.slice(0, at));
  const high = parseQuantity(text.slice(at + 2));
  if (!low || !high || low.value > high.value) return null;
  if (low.unit && high.unit && low.unit !== high.unit) return null;
  return { low: low.value, high: high.value, unit: low.unit || high.unit };
}

/** One figure and its unit, or null. */
function parseQuantity(text) {
  const trimmed = text.replace(/^[ \t]+|[ \t]+$/g, "");
  const end = trimmed.search(/[0-9¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚][^0-9¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚]*$/u) + 1;
  if (end === 0) return null;
  const unit = trimmed.slice(end).trim();
  const value = figure(trimmed.slice(0, end));
  if (value === null || Math.abs(value) > LARGEST) return null;
  if (unit !== "" && !KINDS.some((kind) => Object.hasOwn(kind, unit))) return null;
  return { value, unit };
}

function figure(text) {
  let sign = 1;
  if (/^[+\-−]/u.test(text)) {
    sign = text[0] === "+" ? 1 : -1;
    text = text.slice(1);
  }
  text = text.replaceAll("⁄", "/");
  const vulgar = VULGAR[text.at(-1)];
  if (vulgar !== undefined) {
    const whole = wholeFigure(text.slice(0, -1).replace(/ +$/, ""), true);
    return whole === null ? null : sign * (whole + vulgar);
  }
  if (text.includes("/")) return mixedFigure(text, sign);
  return /^[0-9]+(\.[0-9]+)?$/.test(text) && text.length <= 20 ? sign * Number(text) : null;
}

/** Reads "7 1/4", "7-1/4" and "1/4". */
function mixedFigure(text, sign) {
  const slash = text.indexOf("/");
  const gap = Math.max(text.lastIndexOf(" ", slash), text.lastIndexOf("-", slash));
  const whole = wholeFigure(text.slice(0, Math.max(gap, 0)).replace(/ +$/, ""), true);
  const above = wholeFigure(text.slice(gap + 1, slash), false);
  const below = wholeFigure(text.slice(slash + 1), false);
  if (whole === null || above === null || below === null || below === 0) return null;
  if (above >= below && gap >= 0) return null;
  return sign * (whole + above / below);
}

function wholeFigure(text, mayBeEmpty) {
  if (text === "") return mayBeEmpty ? 0 : null;
  return /^[0-9]{1,9}$/.test(text) ? Number(text) : null;
}

/**
 * A figure in another unit of its kind; a unit that does not fit counts as the other.
 * @param {number} value
 * @param {string} unit
 * @param {string} wanted
 */
export function inUnit(value, unit, wanted) {
  if (unit === "" || unit === wanted) return value;
  for (const kind of KINDS) if (kind[unit] > 0 && kind[wanted] > 0) return (value * kind[unit]) / kind[wanted];
  return value;
}

/** A stamped weight without signs, as in "45#" or "45¼ @ 28", as a range of one figure; null for what is none. */
function stamped(text) {
  const { pounds, refused } = readMark(text, {});
  return refused === undefined ? { low: pounds, high: pounds, unit: "" } : null;
}

/**
 * The steps of a number feature that a figure or range may be, rising; null
 * where it is no figure or lies outside what is plausible.
 * @param {{low: number, step: number, unit: string, outcomes: number}} scale
 * @param {string} text
 * @returns {number[]|null}
 */
export function steps(scale, text) {
  const range = parseRange(text) ?? (scale.unit === "lb" ? stamped(text) : null);
  if (!range) return null;
  const step = (value) => Math.floor((inUnit(value, range.unit, scale.unit) - scale.low) / scale.step + 0.5 + 1e-9);
  const first = step(range.low);
  const last = step(range.high);
  if (!(first >= 0) || last >= scale.outcomes) return null;
  return Array.from({ length: last - first + 1 }, (_, i) => first + i);
}

/**
 * The figures of steps, with the unit: "30 to 40 lb".
 * @param {{low: number, step: number, unit: string}} scale
 * @param {number[]} outcomes
 */
export function stepsLabel(scale, outcomes) {
  const write = (step) => String(Math.round((scale.low + step * scale.step) * 1e6) / 1e6);
  const first = outcomes[0];
  const last = outcomes[outcomes.length - 1];
  const text = first === last ? write(first) : `${write(first)} to ${write(last)}`;
  return scale.unit === "" ? text : `${text} ${scale.unit}`;
}
