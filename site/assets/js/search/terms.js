// Reads the term files: postings of words, and the lists of filters.

import { Bits, Bytes, Fronts } from "./bits.js";

// How many headings there are besides the text: title and summary.
const headings = 2;

// What stands in the key of whatever is no word.
const mark = "\x01";

/** The key of a word that is had in something, a year or a model. */
export const heldKey = (word, within) => word + mark + within;

/** Whether an entry is such: a list without frequencies. */
export const isHeld = (entry) => entry.headings.length === 0;

/** One term file: its entries, in order and by key. */
export class Terms {
  constructor(bytes, file) {
    const b = new Bytes(bytes);
    const n = b.uvarint();
    const fronts = new Fronts(b);
    this.list = [];
    this.byKey = new Map();
    const sizes = [];
    while (this.list.length < n) {
      const key = fronts.next();
      const e = { key, file, index: this.list.length, text: b.uvarint(), headings: [], bytes: null, decoded: null };
      if (!key.includes(mark)) while (e.headings.length < headings) e.headings.push(b.uvarint());
      sizes.push(b.uvarint());
      this.list.push(e);
      this.byKey.set(key, e);
    }
    this.list.forEach((e, i) => (e.bytes = b.slice(sizes[i])));
  }
}

/** Makes of an entry's bytes what decode says, once. */
function once(entry, decode) {
  return (entry.decoded ??= decode(entry));
}

/**
 * The postings of a word: {docs, freqs} of the text, and for each heading {at,
 * freqs, lengths} of the documents whose heading has it, at being places in docs; null where none has.
 */
export const postings = (entry) => once(entry, ({ bytes, text, headings }) => {
  const b = new Bits(bytes);
  const { numbers, freqs } = documents(b, text);
  return { docs: numbers, freqs, headings: headings.map((count) => (count > 0 ? heading(b, count) : null)) };
});

function heading(b, count) {
  const { numbers, freqs } = documents(b, count);
  const lengths = new Uint32Array(count);
  const code = b.bits(3);
  for (let i = 0; i < count; i++) lengths[i] = b.counted(code);
  return { at: numbers, freqs, lengths };
}

function documents(b, count) {
  const numbers = new Uint32Array(count), freqs = new Uint32Array(count);
  const k = b.bits(5), code = b.bits(3);
  for (let i = 0, next = 0; i < count; i++) {
    numbers[i] = next + b.rice(k);
    next = numbers[i] + 1;
    freqs[i] = b.counted(code);
  }
  return { numbers, freqs };
}

function gaps(b, count) {
  const numbers = new Uint32Array(count);
  const k = b.bits(5);
  for (let i = 0, next = 0; i < count; i++) {
    numbers[i] = next + b.rice(k);
    next = numbers[i] + 1;
  }
  return numbers;
}

/** The set of documents of a filter, as one byte for each of total documents. */
export const set = (entry, total) => once(entry, ({ bytes, text }) => {
  const b = new Bits(bytes);
  const rest = b.flag();
  const mask = new Uint8Array(total).fill(rest ? 1 : 0);
  for (const n of gaps(b, rest ? total - text : text)) mask[n] = rest ? 0 : 1;
  return mask;
});

/** The first and last of all years, where nobody says which. */
export const earliestYear = -(2 ** 31), latestYear = 2 ** 31 - 1;

/**
 * The documents that have a feature value: {isFigure, low, high, docs, starts, firsts, lasts}.
 * The i-th document has it from firsts[j] to lasts[j] for each j from starts[i] to starts[i + 1].
 */
export const held = (entry) => once(entry, ({ bytes, text }) => {
  const head = new Bytes(bytes);
  const isFigure = head.slice(1)[0] === 1;
  const low = isFigure ? head.float64() : 0, high = isFigure ? head.float64() : 0;
  const earliest = head.varint();
  const b = new Bits(bytes.subarray(head.at));
  const width = b.bits(5);
  const docs = gaps(b, text), starts = new Uint32Array(text + 1);
  const firsts = [], lasts = [];
  for (let i = 0; i < text; i++) {
    for (let n = b.unary(); n >= 0; n--) {
      const dated = b.flag();
      const first = dated ? earliest + b.wide(width) : earliestYear;
      firsts.push(first);
      lasts.push(dated ? first + b.gamma() - 1 : latestYear);
    }
    starts[i + 1] = firsts.length;
  }
  return { isFigure, low, high, docs, starts, firsts, lasts };
});

/**
 * The places of a term in its documents: {starts, places}; those of the i-th
 * document of its postings lie from starts[i] to starts[i + 1].
 */
export function places(bytes, freqs) {
  const b = new Bits(bytes);
  const k = b.bits(5);
  const starts = new Uint32Array(freqs.length + 1);
  for (let i = 0; i < freqs.length; i++) starts[i + 1] = starts[i] + freqs[i];
  const all = new Uint32Array(starts[freqs.length]);
  for (let i = 0; i < freqs.length; i++) {
    for (let j = starts[i], at = 0; j < starts[i + 1]; j++) all[j] = at += b.rice(k);
  }
  return { starts, places: all };
}
