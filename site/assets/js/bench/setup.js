// The trade's arithmetic for setting up an old bow, by the rules that the page
// brings from package bench; a test holds the two together. Published rules
// disagree, so the answers are ranges: [least, most].

/** The string of a bow, lengths in inches. */
export const stringLength = (bow, { string }) => [bow + string[0], bow + string[1]];

/**
 * The weight at the archer's draw, in pounds, of a bow marked at another, in
 * inches; null where it lies too far beyond, or no draw is known.
 */
export function drawWeight(pounds, marked, yours, { rate, beyond }) {
  if (!(marked > 0) || !(yours > 0) || yours > marked + beyond) return null;
  const change = yours - marked;
  const ends = rate.map((r) => pounds + change * r);
  return [Math.max(0, Math.min(...ends)), Math.max(0, ...ends)];
}

/** The least arrow weight in grains for a draw weight, or a range of them, in pounds. */
export const lightestArrow = (pounds, { arrow }) => [pounds * arrow[0], pounds * arrow[1]];
