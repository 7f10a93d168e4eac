// The files of the index: loads each once, and reads what it says.

import { Bytes, Fronts, unpack } from "./bits.js";
import { compareText } from "./order.js";
import { Terms } from "./terms.js";

const version = 3;

/** Counts the bytes that one answer took. */
export class Meter {
  bytes = 0;
  files = 0;
}

/** The files beside a root file. */
export class Files {
  static async open(root, load) {
    const files = new Files(root.slice(0, root.lastIndexOf("/") + 1), load);
    files.root = readRoot(await files.get(root.slice(files.folder.length), files.opening));
    return files;
  }

  constructor(folder, load) {
    this.folder = folder;
    this.load = load;
    this.opening = new Meter(); // what the root file took, until the first answer counts it
    this.asked = new Map();
    this.read = new Map();
  }

  /** The bytes of a file, unpacked. */
  get(name, meter) {
    let file = this.asked.get(name);
    if (!file) {
      file = this.fetch(name, meter);
      this.asked.set(name, file);
      file.catch(() => this.asked.delete(name));
    }
    return file;
  }

  async fetch(name, meter) {
    const bytes = new Uint8Array(await this.load(this.folder + name));
    meter.bytes += bytes.length;
    meter.files++;
    return unpack(bytes);
  }

  /** What reader makes of a file, made once. */
  async as(name, meter, reader) {
    const bytes = await this.get(name, meter);
    let made = this.read.get(name);
    if (made === undefined) {
      made = reader(bytes);
      this.read.set(name, made);
    }
    return made;
  }

  /** The entry of a term, or undefined. */
  async entry(key, meter) {
    const n = fileOf(this.root.termStarts, key);
    if (n < 0) return undefined;
    return (await this.terms(n, meter)).byKey.get(key);
  }

  terms(n, meter) {
    return this.as(`t${n}.bin`, meter, (bytes) => new Terms(bytes, n));
  }

  /** Every entry whose key begins so, in order. */
  async entriesFrom(start, meter) {
    const files = filesOf(this.root.termStarts, start).map((n) => this.terms(n, meter));
    return (await Promise.all(files)).flatMap((f) => f.list.filter((e) => e.key.startsWith(start)));
  }

  /** The places of an entry's term: the bytes of its list. */
  async places(entry, meter) {
    const lists = await this.as(`p${entry.file}.bin`, meter, readPlaces);
    return lists[entry.index];
  }

  /** Every word that begins so, in order: [{word, met}]. */
  async wordsFrom(start, meter) {
    const files = filesOf(this.root.wordStarts, start).map((n) => this.as(`w${n}.bin`, meter, readWords));
    return (await Promise.all(files)).flatMap((list) => within(list, start));
  }

  /** What is shown of a document. */
  async document(n, meter) {
    const file = Math.floor(n / this.root.docsPerFile);
    const list = await this.as(`d${file}.bin`, meter, readDocuments);
    return list[n % this.root.docsPerFile];
  }

  /** The feature values of a document and their claims. */
  async claims(n, meter) {
    const file = Math.floor(n / this.root.docsPerFile);
    const list = await this.as(`c${file}.bin`, meter, readClaims);
    return list[n % this.root.docsPerFile];
  }

  /** The bytes of the n-th stretch of documents in order of kind and address. */
  order(n, meter) {
    return this.get(`o${n}.bin`, meter);
  }
}

// fileOf gives the number of the file in which a key stands, if anywhere, or -1.
function fileOf(starts, key) {
  let lo = 0, hi = starts.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (compareText(starts[mid], key) <= 0) lo = mid + 1;
    else hi = mid;
  }
  return lo - 1;
}

// filesOf gives the numbers of the files in which keys that begin so can stand.
function filesOf(starts, start) {
  const list = [];
  for (let n = Math.max(fileOf(starts, start), 0); n < starts.length; n++) {
    if (compareText(starts[n], start) > 0 && !starts[n].startsWith(start)) break;
    list.push(n);
  }
  return list;
}

// within gives the words of a file that begin so.
function within(list, start) {
  const whole = list[0].word.startsWith(start) && list[list.length - 1].word.startsWith(start);
  return whole ? list : list.filter((e) => e.word.startsWith(start));
}

function readRoot(bytes) {
  if (bytes[0] !== version) throw new Error("the search index is of another version: load the page again");
  const b = new Bytes(bytes, 1);
  const root = {
    total: b.uvarint(), textTokens: b.uvarint(), headingTokens: [b.uvarint(), b.uvarint()],
    docsPerFile: b.uvarint(), docsPerOrder: b.uvarint(),
    weights: { k1: b.float(), b: b.float(), headings: [b.float(), b.float()], exact: b.float(), held: b.float() }, // headings: title and summary
  };
  root.lengths = new Uint32Array(root.total);
  for (let runs = b.uvarint(), length = 0, n = 0; runs > 0; runs--) {
    length += b.uvarint();
    const count = b.uvarint();
    root.lengths.fill(length, n, n + count);
    n += count;
  }
  root.firsts = readYears(b);
  root.lasts = readYears(b);
  root.termStarts = readStarts(b);
  root.wordStarts = readStarts(b);
  return root;
}

function readYears(b) {
  const years = [];
  for (let n = b.uvarint(), year = 0; n > 0; n--) years.push((year += b.varint()));
  return years;
}

function readStarts(b) {
  const starts = [];
  const n = b.uvarint();
  const fronts = new Fronts(b);
  while (starts.length < n) starts.push(fronts.next());
  return starts;
}

function readWords(bytes) {
  const b = new Bytes(bytes);
  const list = [];
  const n = b.uvarint();
  const fronts = new Fronts(b);
  while (list.length < n) list.push({ word: fronts.next(), met: b.uvarint() });
  return list;
}

function readPlaces(bytes) {
  const b = new Bytes(bytes);
  const sizes = [];
  const n = b.uvarint();
  while (sizes.length < n) sizes.push(b.uvarint());
  return sizes.map((size) => b.slice(size));
}

/** The kinds of document by their number, in the order in which people meet them. */
export const kinds = ["", "maker", "model", "era", "feature", "value", "source", "place", "example", "page"];

function readDocuments(bytes) {
  const b = new Bytes(bytes);
  const list = [];
  while (b.at < bytes.length) {
    const kind = kinds[b.uvarint()];
    const d = { kind, id: b.text(), title: b.text(), about: b.text(), address: b.text() };
    d.address ||= usualAddress(d.kind, d.id);
    list.push(d);
  }
  return list;
}

function usualAddress(kind, id) {
  const [record, part = ""] = splitOnce(id, "/");
  if (kind === "era") return `models/${record}.html#era-${part}`;
  if (kind === "value") return `features/${record}.html#value-${part}`;
  return `${kind}s/${id}.html`;
}

function splitOnce(s, by) {
  const at = s.indexOf(by);
  return at < 0 ? [s] : [s.slice(0, at), s.slice(at + by.length)];
}

function readClaims(bytes) {
  const b = new Bytes(bytes);
  const list = [];
  while (b.at < bytes.length) {
    const held = [];
    for (let n = b.uvarint(); n > 0; n--) held.push({ key: b.text(), claim: b.text(), when: b.text(), first: b.varint(), last: b.varint() });
    list.push(held);
  }
  return list;
}
