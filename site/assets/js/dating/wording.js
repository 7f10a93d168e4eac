/**
 * Words as seen, held against the values of a text feature. A value that is a
 * pattern comes with its program, the steps that RE2 compiled it into; they
 * are run in time linear in the text.
 */

const [EITHER, PASS, BORDER, MATCH, , ONE] = [0, 1, 2, 3, 4, 5];

/**
 * Drops white space at both ends and makes one space of any other stretch of it.
 * @param {string} text
 */
export function tidy(text) {
  return text.replace(/[ \t-\r\u00a0]+/g, " ").replace(/^ | $/g, "");
}

/**
 * Makes texts alike that differ only in capitals and white space.
 * @param {string} text
 */
export function fold(text) {
  let folded = "";
  for (const c of tidy(text)) {
    const small = c.toLowerCase();
    folded += [...small].length === 1 ? small : c;
  }
  return folded;
}

/**
 * Folds a text and drops what people leave out or put in where they copy a
 * number, so that "H24", "h 24" and "H-24" are one.
 * @param {string} text
 */
export function squeeze(text) {
  return fold(text).replace(/[ \-.,/_‐‑‒–—−]/g, "");
}

/**
 * What is compared of a value where a text is matched by its letters.
 * @param {{text: string, label?: string, program?: number[][]}} pattern
 */
export function wordsOf(pattern) {
  return pattern.program ? pattern.text : (pattern.label ?? pattern.text);
}

/**
 * Every value that the text matches as written, or else squeezed, or the one
 * after the last: something else.
 * @param {{text: string, label?: string, program?: number[][], loose?: number[][]}[]} patterns
 * @param {string} text
 * @returns {number[]}
 */
export function matches(patterns, text) {
  const tidied = tidy(text), folded = fold(text), squeezed = squeeze(text);
  const places = (fits) => patterns.flatMap((pattern, i) => (fits(pattern) ? [i] : []));
  let list = places((p) => (p.program && runs(p.program, tidied)) || fold(p.text) === folded || fold(wordsOf(p)) === folded);
  if (list.length === 0 && squeezed !== "") list = places((p) => squeeze(wordsOf(p)) === squeezed || (p.program && runs(p.loose ?? p.program, squeezed)));
  return list.length > 0 ? list : [patterns.length];
}

/**
 * Whether a program matches from the text's beginning.
 * @param {number[][]} program
 * @param {string} text
 */
export function runs(program, text) {
  const chars = [...text].map((c) => c.codePointAt(0));
  let threads = [];
  follow(program, program[0][0], threads, new Uint8Array(program.length), borders(chars, 0));
  for (let at = 0; at < chars.length && threads.length > 0; at++) {
    if (threads.includes(MATCHED)) return true;
    const next = [];
    const visited = new Uint8Array(program.length);
    const border = borders(chars, at + 1);
    for (const pc of threads) {
      const step = program[pc + 1];
      if (takes(step, chars[at])) follow(program, step[1], next, visited, border);
    }
    threads = next;
  }
  return threads.includes(MATCHED);
}

/** Stands among the threads for one that has matched. */
const MATCHED = -1;

/** Follows the steps that take no character. */
function follow(program, start, threads, visited, border) {
  const open = [start];
  while (open.length > 0) {
    const pc = open.pop();
    if (visited[pc]) continue;
    visited[pc] = 1;
    const step = program[pc + 1];
    if (step[0] === EITHER) open.push(step[2], step[1]);
    else if (step[0] === PASS || (step[0] === BORDER && (step[2] & ~border) === 0)) open.push(step[1]);
    else if (step[0] === MATCH) threads.push(MATCHED);
    else if (step[0] === ONE) threads.push(pc);
  }
}

function takes(step, char) {
  for (let k = 2; k < step.length; k += 2) if (step[k] <= char && char <= step[k + 1]) return true;
  return false;
}

/** The kinds of border between two characters, as RE2 numbers them: line, text, word. */
function borders(chars, at) {
  const before = chars[at - 1];
  const after = chars[at];
  let kinds = word(before) === word(after) ? 32 : 16;
  if (before === undefined) kinds |= 4 | 1;
  else if (before === 10) kinds |= 1;
  if (after === undefined) kinds |= 8 | 2;
  else if (after === 10) kinds |= 2;
  return kinds;
}

function word(char) {
  return char === 95 || (char >= 48 && char <= 57) || (char >= 65 && char <= 90) || (char >= 97 && char <= 122);
}
