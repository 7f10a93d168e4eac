// Reads a stamped draw weight by a maker's convention, as package bench does;
// a test holds the two together.

/** Common practice, no source: an X before the figure takes a pound off, an X after it adds one. */
export const COMMON = { before: { X: -1 }, after: { X: 1 } };

/** How long a stamp can be, in bytes. */
const MOST = 60;

// Sign, figure, sign, an optional pound sign or unit, and an optional draw after "@".
const SPACE = "[\\t\\n\\f\\r ]", NO_SPACE = "\\t\\n\\f\\r ";
const SHAPE = new RegExp(`^([^0-9.${NO_SPACE}]*)${SPACE}*([0-9]{1,3}(?:\\.[0-9]+|${SPACE}?½)?)${SPACE}*([^0-9@#${NO_SPACE}]*?)${SPACE}*(?:#|lbs?\\.?|pounds)?${SPACE}*` +
  `(?:@${SPACE}*([0-9]{1,2}(?:\\.[0-9]+|${SPACE}?½)?)${SPACE}*(?:"|”|″|''|in\\.?|inch(?:es)?)?)?$`, "u");

/**
 * Reads a mark such as "45", "X45" or "X35 @ 28".
 * @param {string} mark as it is stamped
 * @param {{before: object, after: object}} by what each sign adds, in pounds
 * @returns {{stamped: number, pounds: number, draw: number, sign: string}|{refused: string}} draw 0 where none is stamped
 */
export function readMark(mark, by) {
  if (new TextEncoder().encode(mark).length > MOST) return { refused: "a weight mark is not as long as that" };
  const parts = SHAPE.exec(mark.trim());
  if (!parts) return { refused: "it does not read as a weight mark, which is like 45, X45 or 45 @ 28" };
  const [, before, figure, after, draw = ""] = parts;
  if (before !== "" && after !== "") return { refused: "a sign stands on both sides of the figure, and no meaning of that is known" };
  const sign = before + after, list = before === "" ? by.after : by.before;
  if (sign !== "" && !Object.hasOwn(list ?? {}, sign)) return { refused: `the sign ${sign} is not one that this maker is recorded to have used` };
  const stamped = number(figure);
  return { stamped, pounds: stamped + (sign === "" ? 0 : list[sign]), draw: number(draw), sign };
}

/** A figure that SHAPE let through; the empty text is 0. */
function number(text) {
  const half = text.endsWith("½");
  return Number(half ? text.slice(0, -1).trim() : text) + (half ? 0.5 : 0);
}
