// Reads a stamped draw weight by a maker's convention, as package bench does;
// a test holds the two together.

/** Common practice, no source: an X before the figure takes a pound off, an X after it adds one. */
export const COMMON = { before: { X: -1 }, after: { X: 1 } };

/** How long a stamp can be, in bytes. */
const MOST = 60;

// An optional length, sign, figure, sign, an optional pound sign or unit, and an optional draw after "@" or "at".
const SPACE = "[\\t\\n\\f\\r ]", NO_SPACE = "\\t\\n\\f\\r ";
const FRACTION = `(?:\\.[0-9]+|${SPACE}?[¼½¾])?`, INCHES = `(?:"|”|″|''|[iI][nN]\\.?|[iI]nch(?:es)?)`;
const SHAPE = new RegExp(`^(?:([0-9]{2}${FRACTION})${SPACE}*${INCHES}${SPACE}*)?` +
  `([^0-9.${NO_SPACE}]*)${SPACE}*([0-9]{1,3}${FRACTION})${SPACE}*([^0-9@#${NO_SPACE}]*?)${SPACE}*(?:#|[lL][bB][sS]?\\.?|pounds)?${SPACE}*` +
  `(?:(?:@|at)${SPACE}*([0-9]{1,2}${FRACTION})${SPACE}*${INCHES}?)?$`, "u");
const FRACTIONS = { "¼": 0.25, "½": 0.5, "¾": 0.75 };

/**
 * Reads a mark such as "45", "X45", "X35 @ 28" or "64\" 45# @ 28".
 * @param {string} mark as it is stamped
 * @param {{before: object, after: object}} by what each sign adds, in pounds
 * @returns {{length: number, stamped: number, pounds: number, draw: number, sign: string}|{refused: string, signed: boolean}} signed of what has the shape of a mark; length and draw 0 where none is stamped
 */
export function readMark(mark, by) {
  if (new TextEncoder().encode(mark).length > MOST) return { refused: "a weight mark is not as long as that" };
  const parts = SHAPE.exec(mark.trim());
  if (!parts) return { refused: "it does not read as a weight mark, which is like 45, X45 or 45 @ 28" };
  const [, length = "", before, figure, after, draw = ""] = parts;
  if (before !== "" && after !== "") return { refused: "a sign stands on both sides of the figure, and no meaning of that is known", signed: true };
  const sign = before + after, list = before === "" ? by.after : by.before;
  if (sign !== "" && !Object.hasOwn(list ?? {}, sign)) return { refused: `the sign ${sign} is not one that this maker is recorded to have used`, signed: true };
  const stamped = number(figure);
  return { length: number(length), stamped, pounds: stamped + (sign === "" ? 0 : list[sign]), draw: number(draw), sign };
}

/**
 * Reads a mark by each way in which a maker's stamps read, or by its figure alone where none is recorded.
 * @param {string} mark as it is stamped
 * @param {{before: object, after: object, when?: string}[]} ways as package dating's Conventions gives them
 * @returns {object[]|{refused: string, signed: boolean}} what it stands for: one reading, or several with when each holds
 */
export function readStamp(mark, ways) {
  const all = (ways.length > 0 ? ways : [{}]).map((way) => ({ ...way, ...readMark(mark, { before: way.before ?? {}, after: way.after ?? {} }) }));
  const list = all.filter((r) => !r.refused);
  if (list.length === 0) return all.at(-1);
  return list.every((r) => r.pounds === list[0].pounds) ? [{ ...list[0], when: "" }] : list;
}

/** What a stamp stands for, in words; reading words one of its weights. */
export const stampWords = (list, reading) => list.map((r) => reading(r) + (r.when ? `, ${r.when}` : "")).join("; ");

/** A figure that SHAPE let through; the empty text is 0. */
function number(text) {
  const part = FRACTIONS[text.at(-1)] ?? 0;
  return Number(part ? text.slice(0, -1).trim() : text) + part;
}
