/**
 * Fetches the files that dating/tables wrote, each once. The only part of the
 * engine that knows of a network, and it is given its fetch.
 */
export class Loader {
  /**
   * @param {string} base  where the files are, with a slash at its end
   * @param {(address: string, options?: object) => Promise<{ok: boolean, status: number, json: () => Promise<any>}>} fetcher
   */
  constructor(base, fetcher) {
    this.base = base;
    this.fetcher = fetcher;
    this.files = new Map();
  }

  /** The manifest's header, the manifest itself never being taken from a cache. */
  async header() {
    const manifest = await this.read("manifest.json", { cache: "no-cache" });
    if (manifest.version !== 1) throw new Error(`the tables are of version ${manifest.version}, which this page does not know`);
    return this.file(manifest.header);
  }

  /** A file named by its content. A failure is forgotten, so that it can be tried again. */
  file(name) {
    let promise = this.files.get(name);
    if (!promise) {
      promise = this.read(name);
      this.files.set(name, promise);
      promise.catch(() => this.files.delete(name));
    }
    return promise;
  }

  async read(name, options) {
    const fetcher = this.fetcher;
    const answer = await fetcher(this.base + name, options);
    if (!answer.ok) throw new Error(`the file ${name} could not be fetched (${answer.status})`);
    return answer.json();
  }
}
