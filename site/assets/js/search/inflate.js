// Inflates: RFC 1951, as Go's compress/flate writes it. The browser's own
// DecompressionStream takes longer over a file of two kilobytes than to read it here.

const lengthBases = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258];
const lengthExtras = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
const distanceBases = [
  1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145, 8193, 12289, 16385, 24577,
];
const distanceExtras = [0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13];
const codeLengthOrder = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
const longest = 15;
const tableBits = 9, tableSize = 1 << tableBits;

/** The bytes that were deflated into bytes. */
export function inflate(bytes) {
  return new Inflater(bytes).all();
}

class Inflater {
  constructor(bytes) {
    this.bytes = bytes;
    this.at = 0;
    this.held = 0; // bits not yet read, the next one lowest
    this.count = 0;
    this.out = new Uint8Array(bytes.length * 4 + 64);
    this.size = 0;
  }

  all() {
    for (let final = 0; !final; ) {
      final = this.bits(1);
      const kind = this.bits(2);
      if (kind === 0) this.stored();
      else if (kind === 1) this.block(fixedLiterals, fixedDistances);
      else if (kind === 2) this.block(...this.tables());
      else throw new Error("a search file is damaged");
    }
    return this.out.subarray(0, this.size);
  }

  bits(n) {
    while (this.count < n) {
      if (this.at >= this.bytes.length) throw new Error("a search file is cut short");
      this.held |= this.bytes[this.at++] << this.count;
      this.count += 8;
    }
    const v = this.held & ((1 << n) - 1);
    this.held >>>= n;
    this.count -= n;
    return v;
  }

  room(n) {
    if (this.size + n <= this.out.length) return;
    const more = new Uint8Array(2 * (this.size + n));
    more.set(this.out.subarray(0, this.size));
    this.out = more;
  }

  stored() {
    this.at -= this.count >> 3; // whole bytes held go back
    this.held = this.count = 0;
    const n = this.bytes[this.at] | (this.bytes[this.at + 1] << 8);
    this.at += 4;
    this.room(n);
    this.out.set(this.bytes.subarray(this.at, this.at + n), this.size);
    this.at += n;
    this.size += n;
  }

  block(literals, distances) {
    for (;;) {
      const symbol = this.symbol(literals);
      if (symbol === 256) return;
      if (symbol < 256) {
        this.room(1);
        this.out[this.size++] = symbol;
        continue;
      }
      const length = lengthBases[symbol - 257] + this.bits(lengthExtras[symbol - 257]);
      const far = this.symbol(distances);
      const from = this.size - distanceBases[far] - this.bits(distanceExtras[far]);
      if (!(from >= 0)) throw new Error("a search file is damaged");
      this.room(length);
      for (let i = 0; i < length; i++) this.out[this.size++] = this.out[from + i];
    }
  }

  // symbol reads one symbol of a code: a short one by its table, a long one bit by bit.
  symbol(code) {
    while (this.count < longest && this.at < this.bytes.length) {
      this.held |= this.bytes[this.at++] << this.count;
      this.count += 8;
    }
    const short = code.table[this.held & (tableSize - 1)];
    if (short === 0) return this.longSymbol(code);
    this.bits(short & 15);
    return short >> 4;
  }

  longSymbol({ counts, symbols }) {
    let code = 0, first = 0, index = 0;
    for (let n = 1; n <= longest; n++) {
      code |= this.bits(1);
      const count = counts[n];
      if (code - count < first) return symbols[index + code - first];
      index += count;
      first = (first + count) << 1;
      code <<= 1;
    }
    throw new Error("a search file is damaged");
  }

  tables() {
    const literals = this.bits(5) + 257, distances = this.bits(5) + 1, codes = this.bits(4) + 4;
    const lengths = new Uint8Array(19);
    for (let i = 0; i < codes; i++) lengths[codeLengthOrder[i]] = this.bits(3);
    const code = huffman(lengths);
    const all = new Uint8Array(literals + distances);
    for (let i = 0; i < all.length; ) {
      const symbol = this.symbol(code);
      if (symbol < 16) {
        all[i++] = symbol;
        continue;
      }
      const value = symbol === 16 ? all[i - 1] : 0;
      const n = symbol === 16 ? 3 + this.bits(2) : symbol === 17 ? 3 + this.bits(3) : 11 + this.bits(7);
      all.fill(value, i, i + n);
      i += n;
    }
    return [huffman(all.subarray(0, literals)), huffman(all.subarray(literals))];
  }
}

// huffman makes a code of the lengths of its symbols: how many there are of
// each length, the symbols in order of code, and a table of the short ones by the bits next to be read.
function huffman(lengths) {
  const counts = new Uint16Array(longest + 1);
  for (const n of lengths) counts[n]++;
  counts[0] = 0;
  const starts = new Uint16Array(longest + 2), codes = new Uint16Array(longest + 2);
  for (let n = 1; n <= longest; n++) {
    starts[n + 1] = starts[n] + counts[n];
    codes[n + 1] = (codes[n] + counts[n]) << 1;
  }
  const symbols = new Uint16Array(lengths.length), table = new Uint16Array(tableSize);
  lengths.forEach((n, symbol) => {
    if (n === 0) return;
    symbols[starts[n]++] = symbol;
    const code = codes[n]++;
    if (n > tableBits) return;
    for (let i = reversed(code, n); i < tableSize; i += 1 << n) table[i] = (symbol << 4) | n;
  });
  return { counts, symbols, table };
}

function reversed(code, n) {
  let r = 0;
  for (; n > 0; n--, code >>= 1) r = (r << 1) | (code & 1);
  return r;
}

const fixedLiterals = huffman(
  Uint8Array.from({ length: 288 }, (_, i) => (i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8)),
);
const fixedDistances = huffman(new Uint8Array(30).fill(5));
