// Looks a number up that is stamped or written on a bow, as package dating's
// number.go does; a test holds the two together. No part of a page is touched here.

import { readMark, readStamp, stampWords } from "../bench/mark.js";
import { joined, lowered } from "../dating/sentences.js";
import { matches, runs, squeeze, tidy, wordsOf } from "../dating/wording.js";
import { distance, letters } from "../search/distance.js";

/** How long a number may be, and how many values are named. */
const MOST = 40, FITS = 8, NAMED = 6;

/** Signs that are taken for each other on worn wood. */
const MISREAD = ["0o", "1i", "1l", "2z", "5s", "6g", "8b", "17", "38", "68", "56"];

/** The numbers of a register. */
export class Numbers {
  /** @param {object} data  the file of numbers */
  constructor(data) {
    this.data = data;
  }

  /**
   * What is recorded of a number: lines of {text, fit?}, where a fit has the
   * feature's id, model, maker, address and cites, so that a page can link them.
   * @param {string} text
   */
  answer(text) {
    const said = tidy(text), squeezed = squeeze(text), { features } = this.data;
    if (squeezed === "" || [...squeezed].length > MOST) return this.lines(said, [], [], []);
    const names = this.data.names.filter(({ name }) => squeeze(name) === squeezed).map(({ words }) => words);
    const fits = features.flatMap((f) => {
      const list = matches(f.values, said);
      return list[0] < f.values.length ? this.fits(f, list, "") : [];
    });
    return this.lines(said, [...names, ...this.marks(said)], fits, fits.length === 0 ? this.near(squeezed) : []);
  }

  lines(text, marks, fits, near) {
    const say = (list) => [...list.slice(0, FITS).map((fit) => ({ text: this.words(fit), fit })),
      ...(list.length > FITS ? [{ text: `${list.length - FITS} more claims fit.` }] : [])];
    const lines = [...marks.map((words) => ({ text: words })), ...say(fits)];
    if (lines.length > 0) return lines;
    const recorded = this.data.features.map((f) => `${lowered(f.name)} ${fewest(f.values.map(quoted))}`);
    if (recorded.length === 0) return [{ text: "No numbers are recorded." }];
    return [{ text: `"${text}" fits no recorded number.` }, ...say(near), { text: `Recorded: ${recorded.join("; ")}.` }];
  }

  fits(feature, values, read) {
    const { models, makers, cites } = this.data;
    const list = values.flatMap((v) => feature.claims[v].map((claim) => ({ claim, v })));
    list.sort((a, b) => a.claim.model - b.claim.model);
    return list.map(({ claim, v }) => {
      const model = models[claim.model];
      return { feature, value: quoted(feature.values[v]), model, maker: makers[model.maker], read, span: claim.span, address: claim.address, cites: claim.cites.map((n) => cites[n]) };
    });
  }

  words({ feature, value, model, maker, read, span, cites }) {
    const by = [...new Set(cites.map((c) => c.words))].join("; ");
    return `${read ? `If it reads ${read}: ` : ""}${feature.name} ${value}: ${model.name} by ${maker.name} ${span}, by ${by}.`;
  }

  /** What one slip of the eye or hand leads to. */
  near(squeezed) {
    return this.data.features.flatMap((f) => {
      const list = [], taken = new Set();
      const take = (v, read) => {
        if (!taken.has(v)) list.push(...this.fits(f, [v], read));
        taken.add(v);
      };
      for (const slip of slips(squeezed)) f.values.forEach((p, v) => { if (loosely(p, slip)) take(v, slip.toUpperCase()); });
      f.values.forEach((p, v) => { if (!p.program && distance(letters(squeeze(wordsOf(p))), letters(squeezed), 1) === 1) take(v, wordsOf(p)); });
      return list;
    });
  }

  /** How it reads as a weight mark, by each maker whose sign it has. */
  marks(text) {
    const list = [];
    const plain = readMark(text, { before: {}, after: {} });
    if (!plain.refused && plain.sign === "" && /[@#lL]/.test(text)) list.push(`As a weight mark it reads ${reading(plain)}.`);
    for (const maker of this.data.makers.filter((m) => m.stamps)) {
      const read = readStamp(text, maker.stamps);
      if (!read.refused && read[0].sign !== "") list.push(`As a weight mark it reads ${stampWords(read, reading)}, as ${maker.name} stamped its bows.`);
    }
    return list;
  }

  /** Whether a question is a number rather than words: it has a figure, at most one short word, and is more than a word and years, or a measure. */
  looksLike(text) {
    const said = tidy(text), parts = said.split(" ").filter(Boolean);
    const isYear = (part) => /^[0-9]{4}$/.test(part) && Number(part) >= this.data.first && Number(part) <= this.data.last;
    const isWord = (part) => /^\p{L}{3,}$/u.test(part);
    if (/\p{L}{5}/u.test(said) || parts.filter(isWord).length > 1 || parts.every((part) => isWord(part) || isYear(part))) return false;
    return /[0-9]/.test(said) && !/^[0-9 ./¼½¾⅛⅜⅝⅞-]+ ?(in|lb|gr|mm|cm|kg|g)$/i.test(said);
  }
}

const quoted = (pattern) => `"${pattern.label ?? pattern.text}"`;

const loosely = (pattern, squeezed) => squeezed !== "" && (squeeze(wordsOf(pattern)) === squeezed || Boolean(pattern.program && runs(pattern.loose ?? pattern.program, squeezed)));

const reading = ({ pounds, draw }) => `${pounds} lb${draw > 0 ? ` at ${draw} in` : ""}`;

const fewest = (names) => joined(names.length > NAMED + 1 ? [...names.slice(0, NAMED), `${names.length - NAMED} others`] : names, "and");

/** The texts that one slip makes: one sign misread, two swapped, one left out. */
function slips(text) {
  const signs = [...text], list = [];
  signs.forEach((sign, i) => {
    for (const pair of MISREAD) for (const k of [0, 1]) if (sign === pair[k]) list.push(signs.toSpliced(i, 1, pair[1 - k]).join(""));
  });
  for (let i = 1; i < signs.length; i++) list.push(signs.toSpliced(i - 1, 2, signs[i], signs[i - 1]).join(""));
  signs.forEach((_, i) => list.push(signs.toSpliced(i, 1).join("")));
  return list;
}
