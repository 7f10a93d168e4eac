// Splits text into the terms that are searched for, by the rules of Go's
// package search/words: words, model numbers ("H-24", "h 24"), figures and units (`7 1/4 in`, `7¼"`).

import { fold, isDigit, isLetter } from "./fold.js";
import { stem } from "./stem.js";
import { stops } from "./stop.js";

/** What a token is. From Measure on, tokens are second ways to find what stands at their place already. */
export const Word = 0, Code = 1, Figure = 2, Measure = 3, Part = 4, Joined = 5;

const longestWord = 48;

const units = new Map(Object.entries({
  in: "in", inch: "in", inches: "in",
  lb: "lb", lbs: "lb", pound: "lb", pounds: "lb",
  gr: "gr", grain: "gr", grains: "gr",
  mm: "mm", millimetre: "mm", millimetres: "mm", millimeter: "mm", millimeters: "mm",
  cm: "cm", centimetre: "cm", centimetres: "cm", centimeter: "cm", centimeters: "cm",
  kg: "kg", kilo: "kg", kilos: "kg", kilogram: "kg", kilograms: "kg",
  g: "g", gram: "g", grams: "g", gramme: "g", grammes: "g",
}));

const divisors = [2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64];

/**
 * The tokens of a text: [{term, word, start, end, pos, kind}]. start and end
 * are UTF-16 units; pos counts words from 1, those of grammar included.
 */
export function split(text) {
  return new Splitter(text).split();
}

class Splitter {
  constructor(text) {
    const { chars, starts, ends } = fold(text);
    this.chars = chars;
    this.starts = starts;
    this.ends = ends;
    this.out = [];
    this.pos = 0;
    this.figure = -1; // the latest figure that had no unit
    this.figureEnd = 0;
  }

  split() {
    for (let at = 0; at < this.chars.length; ) {
      const c = this.chars[at];
      if (isLetter(c)) at = this.letters(at);
      else if (isDigit(c)) at = this.digits(at);
      else {
        if (c === "\n") this.pos++;
        at++;
      }
    }
    return this.out;
  }

  letters(at) {
    const end = this.letterRun(at);
    const to = this.codeEnd(at, end);
    if (to > 0) {
      this.code(at, end, to);
      return to;
    }
    if (this.chars[end] !== "-" || !isLetter(this.chars[end + 1])) {
      this.word(at, end);
      return end;
    }
    return this.compound(at, end);
  }

  compound(at, end) {
    const from = at, first = this.out.length, firstPos = this.pos + 1;
    this.word(at, end);
    while (this.chars[end] === "-" && isLetter(this.chars[end + 1])) {
      const next = this.letterRun(end + 1);
      if (this.codeEnd(end + 1, next) > 0) break;
      at = end + 1;
      end = next;
      this.word(at, end);
    }
    if (at === from) return end;
    const joined = this.text(from, end);
    if (byteLength(joined) > longestWord * 2) return end;
    this.out.splice(first, 0, this.token(stem(joined), "", from, end, firstPos, Joined));
    return end;
  }

  word(at, end) {
    this.pos++;
    if (end - at > longestWord) return;
    const word = this.text(at, this.possessive(at, end));
    if (!stops.has(word)) this.emit(word, Word, at, end);
  }

  letterRun(at) {
    while (isLetter(this.chars[at]) || (this.chars[at] === "'" && isLetter(this.chars[at + 1]))) at++;
    return at;
  }

  possessive(at, end) {
    return end - at > 2 && this.chars[end - 2] === "'" && this.chars[end - 1] === "s" ? end - 2 : end;
  }

  text(at, end) {
    let s = "";
    for (let i = at; i < end; i++) if (isLetter(this.chars[i]) || isDigit(this.chars[i])) s += this.chars[i];
    return s;
  }

  token(term, word, at, end, pos, kind) {
    return { term, word, start: this.starts[at], end: this.ends[end - 1], pos, kind };
  }

  emit(word, kind, at, end) {
    this.out.push(this.token(stem(word), word, at, end, this.pos, kind));
  }

  // Model numbers and marks.

  codeEnd(at, end) {
    if (end - at > 4) return 0;
    let from = end;
    const c = this.chars[end];
    if (isDigit(c)) from = end;
    else if ((c === "-" || c === "." || c === "/") && isDigit(this.chars[end + 1])) from = end + 1;
    else if (c === " " && end - at === 1 && this.chars[at] !== "a" && isDigit(this.chars[end + 1])) from = end + 1;
    else return 0;
    const to = this.digitRun(from);
    if (c === " " && (to - from > 3 || this.fractionOf(from, to, this.text(from, to))[1] > 0)) return 0;
    if (end - at >= 3 && from > end && this.isYear(from, to)) return 0;
    return this.codeTail(to);
  }

  codeTail(to) {
    while (isLetter(this.chars[to]) || isDigit(this.chars[to])) to++;
    if (this.chars[to] !== "-") return to;
    let end = to + 1;
    while (isLetter(this.chars[end]) && end - to <= 3) end++;
    const n = end - to - 1;
    return n < 1 || n > 2 || isDigit(this.chars[end]) || this.chars[end] === "-" ? to : end;
  }

  code(at, lettersEnd, to) {
    this.pos++;
    if (to - at > longestWord) return;
    this.emit(this.text(at, to), Code, at, to);
    if (lettersEnd - at >= 3) {
      const word = this.text(at, lettersEnd);
      if (!stops.has(word)) this.extra(stem(word), at, to);
    }
    let from = lettersEnd;
    while (from < to && !isDigit(this.chars[from])) from++;
    const end = this.digitRun(from);
    if (end > from) this.extra(this.text(from, end), at, to);
  }

  extra(term, at, to) {
    this.out.push(this.token(term, "", at, to, this.pos, Part));
  }

  digitRun(at) {
    while (isDigit(this.chars[at])) at++;
    return at;
  }

  isYear(from, to) {
    return to - from === 4 && ["18", "19", "20"].includes(this.chars[from] + this.chars[from + 1]);
  }

  // Figures, fractions and units.

  digits(at) {
    let end = this.digitRun(at);
    while (end - at <= 3 || this.chars[end - 4] === ",") {
      if (this.chars[end] !== "," || this.digitRun(end + 1) !== end + 4) break;
      end += 4;
    }
    const number = this.text(at, end);
    const [fraction, to] = this.fractionOf(at, end, number);
    if (to > 0) return this.figureAt(at, to, fraction);
    if (isLetter(this.chars[end]) && this.unit(end, number)[1] === 0) return this.mixed(at, end);
    return this.figureAt(at, end, number);
  }

  fractionOf(at, end, whole) {
    if (this.chars[end] === "." && isDigit(this.chars[end + 1])) {
      const to = this.digitRun(end + 1);
      return [decimal(whole, this.text(end + 1, to)), to];
    }
    const alone = this.fraction(at);
    if (alone) return [decimal("0", alone.millionths), alone.to];
    let next = end;
    while (next < end + 2 && this.chars[next] === " ") next++;
    if (next === end && this.chars[end] === "-") next++;
    if (next === end || whole.length > 3) return ["", 0];
    const f = this.fraction(next);
    return f ? [decimal(whole, f.millionths), f.to] : ["", 0];
  }

  fraction(at) {
    const slash = this.digitRun(at);
    if (slash === at || slash - at > 2 || this.chars[slash] !== "/") return null;
    const to = this.digitRun(slash + 1);
    if (to === slash + 1 || to - slash > 3 || this.chars[to] === "/") return null;
    const n = Number(this.text(at, slash)), d = Number(this.text(slash + 1, to));
    if (n === 0 || n >= d || !divisors.includes(d)) return null;
    const v = Math.floor((2 * n * 1e6 + d) / (2 * d));
    return { millionths: String(1e6 + v).slice(1), to };
  }

  figureAt(at, end, number) {
    this.pos++;
    if (number.length > longestWord) return end;
    const [unit, to] = this.unit(end, number);
    this.out.push(this.token(number, "", at, Math.max(end, to), this.pos, Figure));
    const here = this.out.length - 1;
    if (unit === "") {
      this.figure = here;
      this.figureEnd = end;
      return end;
    }
    this.out.push(this.withUnit(here, unit));
    if (this.figure >= 0 && this.isRange(this.figureEnd, at)) {
      this.out.splice(this.figure + 1, 0, this.withUnit(this.figure, unit));
    }
    this.figure = -1;
    return to;
  }

  withUnit(i, unit) {
    const t = this.out[i];
    return { ...t, term: t.term + unit, kind: Measure };
  }

  unit(end, number) {
    let at = end;
    while (at < end + 2 && this.chars[at] === " ") at++;
    if (at === end && this.chars[at] === "-") at++;
    if (this.chars[at] === '"') return ["in", at + 1];
    if (this.chars[at] === "#") return ["lb", at + 1];
    if (this.chars[at] === "'" && this.chars[at + 1] === "'") return ["in", at + 2];
    let to = at;
    while (isLetter(this.chars[to]) && to - at < 12) to++;
    const u = units.get(this.text(at, to));
    const long = u === "in" && number.length === 4 && number[1] !== "." && number[2] !== ".";
    return !u || isDigit(this.chars[to]) || isLetter(this.chars[to]) || long ? ["", 0] : [u, to];
  }

  isRange(from, to) {
    if (to - from < 1 || to - from > 5) return false;
    const between = this.chars.slice(from, to).join("");
    return /^[ .-]*$/.test(between) ? /[.-]/.test(between) : /^[ .-]* to [ .-]*$/.test(between);
  }

  mixed(at, digitsEnd) {
    const to = this.codeTail(digitsEnd);
    this.pos++;
    if (to - at > longestWord) return to;
    this.emit(this.text(at, to), Code, at, to);
    this.extra(this.text(at, digitsEnd), at, to);
    return to;
  }
}

const byteLength = (s) => new TextEncoder().encode(s).length;

function decimal(whole, decimals) {
  whole = whole.replace(/^0+(?=.)/, "");
  decimals = decimals.replace(/0+$/, "");
  return decimals === "" ? whole : `${whole}.${decimals}`;
}
