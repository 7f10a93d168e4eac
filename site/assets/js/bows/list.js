// The visitor's own bows: how they are kept on the device, and as a file. The
// file is as data/bows.schema.json says, which a test holds against this.

export const KIND = "bows";
export const VERSION = 1;

/** How many characters a text may have, bows a file, and bytes a file. */
export const LIMITS = { name: 120, remark: 2000, edition: 80, answers: 8000, says: 400, register: 200, bows: 2000, bytes: 4 << 20 };

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/** The bows of one register on this device. */
export class Bows {
  /** @param {URL} root  the register's address  @param {Storage} storage */
  constructor(root, storage) {
    this.key = `yearmark bows ${root.pathname}`;
    this.storage = storage;
  }

  /** The bows, the newest first. What cannot be read as bows stays as it is, and is an error. */
  all() {
    const text = this.storage.getItem(this.key);
    return text === null ? [] : JSON.parse(text);
  }

  /** Adds a bow before all others, in the place of those of the same name where replacing. */
  add(bow, replacing = false) {
    this.write([bow, ...this.all().filter((other) => !(replacing && other.name === bow.name))]);
  }

  /** Adds those that are not there yet, and gives how many there were. */
  join(bows) {
    const here = this.all(), known = new Set(here.map((bow) => JSON.stringify(bow)));
    const others = bows.filter((bow) => !known.has(JSON.stringify(bow)));
    this.write([...here, ...others]);
    return others.length;
  }

  remove(bow) {
    const text = JSON.stringify(bow), list = this.all(), at = list.findIndex((other) => JSON.stringify(other) === text);
    this.write(list.filter((_, i) => i !== at));
  }

  write(list) {
    this.storage.setItem(this.key, JSON.stringify(list));
  }
}

/** The text of a file of bows. */
export function fileOf(register, bows) {
  return `${JSON.stringify({ yearmark: KIND, version: VERSION, register, bows }, null, 2)}\n`;
}

/** Why a file is refused, as a sentence. */
export class Refused extends Error {}

/**
 * The register and the bows of a file. Throws Refused for anything but what fileOf writes.
 * @param {string} text
 */
export function readFile(text) {
  if (text.length > LIMITS.bytes) throw new Refused("The file is larger than any list of bows.");
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    throw new Refused("The file is not JSON: it is no list of bows, or it was damaged on its way.");
  }
  if (file?.yearmark !== KIND) throw new Refused("The file is no list of bows.");
  if (file.version !== VERSION) throw new Refused(`The file’s form has the number ${JSON.stringify(file.version)}, and this page reads ${VERSION}. Take the bows out again with the page of this register.`);
  only(file, "The file", ["yearmark", "version", "register", "bows"]);
  const register = line(file.register, "The file’s “register”", LIMITS.register);
  if (!Array.isArray(file.bows) || file.bows.length > LIMITS.bows) throw new Refused(`“bows” is not a list of at most ${LIMITS.bows}.`);
  return { register, bows: file.bows.map((bow, i) => readBow(bow, `Bow ${i + 1}`)) };
}

function readBow(bow, where) {
  if (typeof bow !== "object" || bow === null || Array.isArray(bow)) throw new Refused(`${where} is no bow.`);
  only(bow, where, ["name", "remark", "on", "edition", "answers", "then"]);
  const own = (key, limit, least) => line(bow[key], `${where}: “${key}”`, limit, least);
  const read = { name: own("name", LIMITS.name, 1) };
  if (bow.remark !== undefined) read.remark = own("remark", LIMITS.remark);
  read.on = own("on", 10);
  if (!DAY.test(read.on)) throw new Refused(`${where}: “on” is not a day like 2026-11-20.`);
  Object.assign(read, { edition: own("edition", LIMITS.edition), answers: own("answers", LIMITS.answers) });
  const { then } = bow;
  if (typeof then !== "object" || then === null || Array.isArray(then)) throw new Refused(`${where}: “then” is no result.`);
  only(then, `${where}, “then”`, ["says", "first", "last", "best"]);
  read.then = { says: line(then.says, `${where}: “says”`, LIMITS.says) };
  for (const key of ["first", "last", "best"]) {
    if (then[key] === undefined) continue;
    if (!Number.isInteger(then[key]) || then[key] < 0 || then[key] > 9999) throw new Refused(`${where}: “${key}” is no year.`);
    read.then[key] = then[key];
  }
  return read;
}

function only(object, where, keys) {
  const other = Object.keys(object).find((key) => !keys.includes(key));
  if (other !== undefined) throw new Refused(`${where} has “${other.slice(0, 40)}”, which no list of bows has.`);
}

function line(value, where, limit, least = 0) {
  if (typeof value !== "string") throw new Refused(`${where} is missing or no text.`);
  if ([...value].length > limit || value.length < least) throw new Refused(`${where} is ${value.length < least ? "empty" : `longer than ${limit} characters`}.`);
  return value;
}
