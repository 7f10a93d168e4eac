/** Compares texts by code point, as Go compares their bytes: negative, 0 or positive. */
export function compareText(a, b) {
  const n = Math.min(a.length, b.length);
  for (let i = 0; i < n; i++) {
    const x = a.charCodeAt(i), y = b.charCodeAt(i);
    if (x !== y) return raised(x) - raised(y);
  }
  return a.length - b.length;
}

// raised puts surrogates, which stand for the last code points, behind every other unit.
const raised = (unit) => (unit >= 0xd800 && unit <= 0xdfff ? unit + 0x2000 : unit);
