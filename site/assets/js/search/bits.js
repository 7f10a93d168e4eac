// Reads what Go's package search/bits writes.

/** Bytes read in order: numbers, texts. */
export class Bytes {
  constructor(bytes, at = 0) {
    this.bytes = bytes;
    this.at = at;
  }

  /** A whole number, 0 or more, in seven bits a byte. */
  uvarint() {
    let v = 0, scale = 1;
    for (;;) {
      const b = this.bytes[this.at++];
      if (b === undefined) throw new Error("the search files are cut short");
      v += (b & 127) * scale;
      if (b < 128) return v;
      scale *= 128;
    }
  }

  /** A number of eight bytes. */
  float() {
    const at = this.bytes.byteOffset + this.at;
    this.at += 8;
    return new DataView(this.bytes.buffer, at, 8).getFloat64(0, true);
  }

  /** A whole number of either sign. */
  varint() {
    const v = this.uvarint();
    return v % 2 === 0 ? v / 2 : -(v + 1) / 2;
  }

  float64() {
    const v = new DataView(this.bytes.buffer, this.bytes.byteOffset + this.at, 8).getFloat64(0, true);
    this.at += 8;
    return v;
  }

  slice(n) {
    const s = this.bytes.subarray(this.at, this.at + n);
    this.at += n;
    return s;
  }

  text() {
    return decoder.decode(this.slice(this.uvarint()));
  }
}

const decoder = new TextDecoder(), encoder = new TextEncoder();

/** Texts in order, each given by how many bytes it shares with the one before. */
export class Fronts {
  constructor(source) {
    this.source = source;
    this.before = "";
    this.plain = true; // whether all of before is ASCII, a character for each byte
  }

  next() {
    const shared = this.source.uvarint(), rest = this.source.slice(this.source.uvarint());
    if (this.plain && rest.every((b) => b < 128)) {
      this.before = this.before.slice(0, shared) + String.fromCharCode(...rest);
      return this.before;
    }
    const bytes = encoder.encode(this.before).subarray(0, shared);
    this.before = decoder.decode(Uint8Array.of(...bytes, ...rest));
    this.plain = /^[\x00-\x7f]*$/.test(this.before);
    return this.before;
  }
}

/** Bits read in order, the highest of each byte first. */
export class Bits {
  constructor(bytes) {
    this.bytes = bytes;
    this.at = 0; // the next byte
    this.held = 0; // bits not yet read, right-aligned
    this.count = 0; // how many there are
  }

  /** The next n bits, n at most 24. */
  bits(n) {
    while (this.count < n) {
      this.held = ((this.held << 8) | this.bytes[this.at++]) >>> 0;
      this.count += 8;
    }
    this.count -= n;
    const v = this.held >>> this.count;
    this.held &= (1 << this.count) - 1;
    return v;
  }

  wide(n) {
    if (n <= 24) return n === 0 ? 0 : this.bits(n);
    const high = this.bits(n - 24);
    return high * 16777216 + this.bits(24);
  }

  flag() {
    return this.bits(1) === 1;
  }

  /** How many noughts stand before the next one. */
  unary() {
    let v = 0;
    for (;;) {
      if (this.held !== 0) {
        const zeros = this.count - (32 - Math.clz32(this.held));
        this.count -= zeros + 1;
        this.held &= (1 << this.count) - 1;
        return v + zeros;
      }
      v += this.count;
      if (this.at >= this.bytes.length) throw new Error("the search files are cut short");
      this.held = this.bytes[this.at++];
      this.count = 8;
    }
  }

  rice(k) {
    const high = this.unary();
    return k === 0 ? high : high * 2 ** k + this.wide(k);
  }

  gamma() {
    const n = this.unary();
    return 2 ** n + this.wide(n);
  }

  /** A small number, 1 or more, in the code that three bits named before. */
  counted(code) {
    return code === 7 ? this.gamma() : this.rice(code) + 1;
  }
}

/** A file's bytes without their packing. */
export async function unpack(bytes) {
  const rest = bytes.subarray(1);
  if (bytes[0] === 0) return rest;
  const plain = new Blob([rest]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Uint8Array(await new Response(plain).arrayBuffer());
}
