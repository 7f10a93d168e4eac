/**
 * What an answer made of a bow: in words, and the first, the last and the likeliest of the years that hold 95 in 100 of the odds.
 * @returns {{says: string, first?: number, last?: number, best?: number}} the figures are missing where no year is left
 */
export function resultOf(answer, sentences) {
  const result = { says: sentences.headline().slice(0, 400) };
  if (answer.impossible || !answer.best) return result;
  const years = answer.likely[95].flatMap((m) => m.years);
  return { ...result, first: Math.min(...years), last: Math.max(...years), best: answer.best.year };
}

/** Whether a later result has other years than an earlier one. */
export const isMoved = (then, now) => ["first", "last", "best"].some((key) => then[key] !== now[key]);
