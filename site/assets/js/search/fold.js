// Folds text: small letters without accents, compatibility forms resolved, marks dropped.
// Go's search/words/fold.go has the same table; a test compares every character.

const folds = new Map([
  ["ß", "ss"], ["ẞ", "ss"], ["æ", "ae"], ["Æ", "ae"], ["œ", "oe"], ["Œ", "oe"], ["ø", "o"], ["Ø", "o"], ["ł", "l"], ["Ł", "l"],
  ["đ", "d"], ["Đ", "d"], ["ð", "d"], ["Ð", "d"], ["þ", "th"], ["Þ", "th"], ["ı", "i"], ["ς", "σ"],
  ["’", "'"], ["‘", "'"], ["ʼ", "'"], ["′", "'"], ["″", '"'], ["“", '"'], ["”", '"'], ["„", '"'],
  ["–", "-"], ["—", "-"], ["‐", "-"], ["‑", "-"], ["‒", "-"], ["−", "-"], ["⁄", "/"], ["×", " "], ["\u00ad", ""],
  ["¼", " 1/4"], ["½", " 1/2"], ["¾", " 3/4"], ["⅓", " 1/3"], ["⅔", " 2/3"], ["⅛", " 1/8"], ["⅜", " 3/8"], ["⅝", " 5/8"], ["⅞", " 7/8"],
  ["⅕", " 1/5"], ["⅖", " 2/5"], ["⅗", " 3/5"], ["⅘", " 4/5"], ["⅙", " 1/6"], ["⅚", " 5/6"],
  ["\r", " "], ["\t", " "], ["\u2028", "\n"], ["\u2029", "\n"],
]);

const mark = /^\p{M}$/u;

function foldCharacter(c) {
  const known = folds.get(c);
  if (known !== undefined) return known;
  if (c < "\x80") return c.toLowerCase();
  let out = "";
  for (const d of c.normalize("NFKD")) {
    if (mark.test(d)) continue;
    const f = folds.get(d);
    if (f !== undefined) {
      out += f;
      continue;
    }
    for (const low of d.toLowerCase().normalize("NFKD")) if (!mark.test(low)) out += low;
  }
  return out;
}

/**
 * The folded characters of a text, and for each the UTF-16 units of the
 * text that it came from: {chars: [c], starts: [n], ends: [n]}.
 */
export function fold(text) {
  const chars = [], starts = [], ends = [];
  let at = 0;
  for (const c of text) {
    const end = at + c.length;
    for (const f of foldCharacter(c)) {
      chars.push(f);
      starts.push(at);
      ends.push(end);
    }
    at = end;
  }
  return { chars, starts, ends };
}

const wordCharacter = /^[\p{L}\p{N}]$/u;

export const isDigit = (c) => c !== undefined && c >= "0" && c <= "9" && c.length === 1;

/** Whether a folded character belongs to words: a letter, or a figure other than 0 to 9. */
export function isLetter(c) {
  if (c === undefined) return false;
  return c < "\x80" ? c >= "a" && c <= "z" : wordCharacter.test(c);
}
