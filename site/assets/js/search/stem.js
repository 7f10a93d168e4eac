// Takes the endings off English words: Porter's algorithm (1980) with the two
// later departures of its author, as Bleve's English analyzer applies it. An
// ending must leave something of the word, and a word of two letters is left alone.

import { irregular } from "./irregular.js";

const consonantAt = (s, i) => {
  switch (s[i]) {
    case "a": case "e": case "i": case "o": case "u": return false;
    case "y": return i === 0 || !consonantAt(s, i - 1);
  }
  return true;
};

// measure counts the sequences of vowels that consonants follow.
function measure(s) {
  let n = 0;
  for (let i = 1; i < s.length; i++) {
    if (consonantAt(s, i) && !consonantAt(s, i - 1)) n++;
  }
  return n;
}

function hasVowel(s) {
  for (let i = 0; i < s.length; i++) if (!consonantAt(s, i)) return true;
  return false;
}

const ends = (s, ending) => {
  const from = s.length - ending.length;
  if (from <= 0) return false;
  for (let i = 0; i < ending.length; i++) if (s[from + i] !== ending[i]) return false;
  return true;
};

const less = (s, n) => s.slice(0, s.length - n);
const last = (s) => s[s.length - 1];

// closed says whether s ends in consonant, vowel, consonant, the last not w, x or y.
const closed = (s) => {
  const n = s.length;
  return n >= 3 && consonantAt(s, n - 3) && !consonantAt(s, n - 2) && consonantAt(s, n - 1) && !"wxy".includes(s[n - 1]);
};

function plural(s) {
  if (ends(s, "sses") || ends(s, "ies")) return less(s, 2);
  if (ends(s, "ss")) return s;
  return ends(s, "s") ? less(s, 1) : s;
}

function pastOrPresent(s) {
  if (ends(s, "eed")) return measure(less(s, 3)) > 0 ? less(s, 1) : s;
  const ending = ends(s, "ed") ? 2 : ends(s, "ing") ? 3 : 0;
  const rest = less(s, ending);
  if (ending === 0 || !hasVowel(rest)) return s;
  if (ends(rest, "at") || ends(rest, "bl") || ends(rest, "iz")) return [...rest, "e"];
  const n = rest.length;
  const doubled = n >= 2 && rest[n - 1] === rest[n - 2] && consonantAt(rest, n - 1);
  if (doubled && !"lsz".includes(last(rest))) return less(rest, 1);
  return measure(rest) === 1 && closed(rest) ? [...rest, "e"] : rest;
}

const finalY = (s) => (s.length >= 2 && last(s) === "y" && hasVowel(less(s, 1)) ? [...less(s, 1), "i"] : s);

// Each table gives endings in the order in which they are tried and what replaces them.
const doubleEndings = [
  ["ational", "ate"], ["tional", "tion"], ["enci", "ence"], ["anci", "ance"], ["izer", "ize"], ["bli", "ble"],
  ["alli", "al"], ["entli", "ent"], ["eli", "e"], ["ousli", "ous"], ["ization", "ize"], ["ation", "ate"],
  ["ator", "ate"], ["alism", "al"], ["iveness", "ive"], ["fulness", "ful"], ["ousness", "ous"], ["aliti", "al"],
  ["iviti", "ive"], ["biliti", "ble"], ["logi", "log"],
];
const simpleEndings = [["icate", "ic"], ["ative", ""], ["alize", "al"], ["iciti", "ic"], ["ical", "ic"], ["ful", ""], ["ness", ""]];
const lastEndings = [
  "al", "ance", "ence", "er", "ic", "able", "ible", "ant", "ement", "ment", "ent", "ion", "ou", "ism", "ate",
  "iti", "ous", "ive", "ize",
];

function replaced(s, table) {
  for (const [ending, by] of table) {
    if (!ends(s, ending)) continue;
    const rest = less(s, ending.length);
    return measure(rest) > 0 ? [...rest, ...by] : s;
  }
  return s;
}

function dropped(s) {
  for (const ending of lastEndings) {
    if (!ends(s, ending)) continue;
    const rest = less(s, ending.length);
    const fits = ending !== "ion" || "st".includes(last(rest));
    return fits && measure(rest) > 1 ? rest : s;
  }
  return s;
}

function finalE(s) {
  if (last(s) !== "e") return s;
  const rest = less(s, 1);
  const m = measure(rest);
  return m > 1 || (m === 1 && !closed(rest)) ? rest : s;
}

const doubleL = (s) => (s.length > 2 && ends(s, "ll") && measure(less(s, 1)) > 1 ? less(s, 1) : s);

/** The term that a folded word stands for. A word that holds a figure is left alone. */
export function stem(word) {
  word = irregular.get(word) ?? word;
  if (/[0-9]/.test(word)) return word;
  let s = [...word];
  if (s.length <= 2) return word;
  s = finalY(pastOrPresent(plural(s)));
  s = dropped(replaced(replaced(s, doubleEndings), simpleEndings));
  return doubleL(finalE(s)).join("");
}
