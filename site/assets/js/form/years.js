import { draw } from "../page/dom.js";
import { percent } from "./words.js";

// The chart of odds year by year: across in percent, down in em, like the
// charts of the printed pages.

const TALL = 7;
const NARROW = 24.6;
const MOST = 8;

/** Draws the answer's odds. held and strict are sets of years. */
export function yearChart(years, { held, strict, description, first, last }) {
  const cells = last - first + 1;
  const top = Math.max(...years.map((y) => y.chance));
  const likeliest = years.find((y) => y.chance === top)?.year;
  const left = (year) => ((year - first) / cells) * 100;
  const svg = draw("svg", { class: "bars", width: "100%", height: `${TALL + 2}em`, role: "img", "aria-label": description });
  for (const { year, chance } of years) {
    if (year < first || year > last) continue;
    const height = (chance / top) * (TALL - 1.4);
    const cell = 100 / cells;
    svg.append(draw("rect", {
      class: held.has(year) ? "bar held" : "bar", x: `${left(year) + cell * 0.08}%`, y: `${TALL - height}em`,
      width: `${cell * 0.84}%`, height: `${height}em`,
    }));
    if (strict.has(year)) {
      svg.append(draw("rect", { class: "strict", x: `${left(year)}%`, y: `${TALL + 0.08}em`, width: `${cell}%`, height: ".22em" }));
    }
    if (year === likeliest || (chance >= 0.02 && NARROW / cells > 2.4)) {
      svg.append(draw("text", { class: "share", x: `${left(year) + cell / 2}%`, y: `${TALL - height - 0.35}em` }, percent(chance)));
    }
  }
  svg.append(draw("line", { class: "base", x1: 0, x2: "100%", y1: `${TALL}em`, y2: `${TALL}em` }));
  const step = [1, 2, 5, 10, 20, 50, 100, 200].find((s) => cells / s <= MOST) ?? cells;
  for (let year = Math.ceil(first / step) * step; year <= last; year += step) {
    if (left(year) + (2.8 / NARROW) * 100 > 100) continue;
    svg.append(
      draw("line", { class: "tick", x1: `${left(year)}%`, x2: `${left(year)}%`, y1: `${TALL}em`, y2: `${TALL + 0.5}em` }),
      draw("text", { class: "year", x: `${left(year)}%`, y: `${TALL + 1.6}em` }, String(year)),
    );
  }
  return svg;
}
