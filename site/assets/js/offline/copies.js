// Copies of one published edition's files in the browser's cache. The worker
// and the page on which a visitor keeps the register share them.

/** How many files are fetched at once. */
const AT_ONCE = 4;

/** What the name of every cache of a register begins with: its scope's path, which ends in a slash, and a space. */
const prefix = (scope) => `yearmark ${new URL(scope).pathname} `;

/** The caches of the register at a scope, of all editions, in the order in which they were made. */
export async function ownCaches(scope) {
  return (await caches.keys()).filter((name) => name.startsWith(prefix(scope)));
}

/** A file that could not be kept, and why: "net", "changed" (it is another edition's) or "room". */
export class NotKept extends Error {
  constructor(why, path) {
    super(`${path} is not kept: ${why}`);
    this.why = why;
  }
}

export class Copies {
  /**
   * @param {string} scope  the register's address, with a slash at its end
   * @param {{edition: string, list: string}} published  the edition, and the path of its list of files
   */
  constructor(scope, published) {
    this.scope = scope;
    this.list = published.list;
    this.name = `${prefix(scope)}${published.edition} ${published.list}`;
  }

  /** The address of a path below the scope. */
  address(path) {
    return this.scope + path.split("/").map(encodeURIComponent).join("/");
  }

  open() {
    return caches.open(this.name);
  }

  /** The copy of a path, of this edition or in another cache; to look makes no cache. */
  find(path, cacheName = this.name) {
    return caches.match(this.address(path), { cacheName });
  }

  /**
   * The edition's files: {size, sum, part} by path. Part 0 is what one visit keeps; 1 to 3 are text, drawings and the rest.
   * @returns {Promise<Map<string, {size: number, sum: string, part: number}>>}
   */
  files() {
    this.reading ??= this.readFiles();
    this.reading.catch(() => { this.reading = null; });
    return this.reading;
  }

  async readFiles() {
    const kept = await this.find(this.list) ?? await this.take(this.list, /-(\w+)\.json$/.exec(this.list)[1]);
    const { parts } = await kept.json();
    return new Map(parts.flatMap((files, part) => files.map(([path, size, sum]) => [path, { size, sum, part }])));
  }

  /** The paths that are kept. */
  async kept() {
    const files = await this.files();
    const requests = await caches.has(this.name) ? await (await this.open()).keys() : []; // to look makes no cache
    const addresses = new Set(requests.map((request) => request.url));
    return new Set([...files.keys()].filter((path) => addresses.has(this.address(path))));
  }

  /**
   * Fetches those of the paths that are not kept yet. The first that cannot be had ends it; what came stays.
   * @param {Iterable<string>} paths
   * @param {{signal?: AbortSignal, step?: (path: string) => void}} how  step is told of each file that came
   */
  async fill(paths, { signal, step = () => {} } = {}) {
    const files = await this.files(), kept = await this.kept();
    const missing = [...paths].filter((path) => !kept.has(path));
    let ended = false;
    const work = async () => {
      while (missing.length > 0 && !ended && !signal?.aborted) {
        const path = missing.shift();
        await this.take(path, files.get(path).sum, signal);
        step(path);
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, () => work().catch((e) => { ended = true; throw e; })));
  }

  /** Fetches a file, keeps it and gives it, unless it is not what was published. */
  async take(path, sum, signal) {
    let response, body;
    try {
      response = await fetch(this.address(path), { cache: "no-cache", signal }); // else a host's old copy would do
      body = await response.arrayBuffer();
    } catch {
      throw new NotKept("net", path);
    }
    if (!response.ok || await sumOf(body) !== sum) throw new NotKept("changed", path);
    return this.put(path, response, body);
  }

  /** Keeps the bytes of a file, and gives it. */
  async put(path, { headers }, body) {
    const copy = () => new Response(body, { headers: { "Content-Type": headers.get("Content-Type") ?? "application/octet-stream", "Content-Length": String(body.byteLength) } });
    try {
      await (await this.open()).put(this.address(path), copy());
    } catch {
      throw new NotKept("room", path);
    }
    return copy();
  }

  /** Takes over from another edition's cache what is the same in this one, and gives the paths of all that is in it. */
  async inherit(name) {
    const files = await this.files(), kept = await this.kept(), earlier = await caches.open(name);
    const byAddress = new Map([...files.keys()].map((path) => [this.address(path), path]));
    const paths = [];
    for (const request of await earlier.keys()) {
      const path = byAddress.get(request.url);
      if (path === undefined) continue;
      paths.push(path);
      if (kept.has(path)) continue;
      const response = await earlier.match(request), body = await response.arrayBuffer();
      if (await sumOf(body) === files.get(path).sum) await this.put(path, response, body);
    }
    return paths;
  }

  /** Takes all editions' copies away. */
  async removeAll() {
    for (const name of await ownCaches(this.scope)) await caches.delete(name);
  }

  /** A note beside the copies: a value kept under a name. */
  async note(name, value) {
    await (await this.open()).put(`${this.scope}?${name}`, Response.json(value));
  }

  /** A note of this edition's cache, or of another's; undefined where there is none. */
  async noted(name, cache = this.name) {
    return (await caches.match(`${this.scope}?${name}`, { cacheName: cache }))?.json();
  }
}

/** How the SHA-256 of bytes begins, as the list of files has it. */
export async function sumOf(body) {
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", body), 0, 8);
  return Array.from(sum, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
