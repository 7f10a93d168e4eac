/**
 * Asks for the files that dating/tables wrote, each once. The only part of the
 * engine that knows of files, and it is told how to load one.
 */
export class Loader {
  /**
   * @param {string} base  where the files are, with a slash at its end
   * @param {(address: string) => Promise<any>} load  gives what a file holds
   */
  constructor(base, load) {
    this.base = base;
    this.load = load;
    this.files = new Map();
  }

  /**
   * The manifest's header.
   * @param {string} edition  makes the manifest's address one of its own, since its name is the same in all editions
   */
  async header(edition) {
    return this.file((await this.manifest(edition)).header);
  }

  /** What is recorded of numbers. */
  async numbers(edition) {
    return this.file((await this.manifest(edition)).numbers);
  }

  async manifest(edition) {
    const manifest = await this.file(`manifest.json${edition ? `?${encodeURIComponent(edition)}` : ""}`);
    if (manifest.version !== 1) throw new Error(`the tables are of version ${manifest.version}, which this page does not know`);
    return manifest;
  }

  /** A file named by its content. A failure is forgotten, so that it can be tried again. */
  file(name) {
    let promise = this.files.get(name);
    if (!promise) {
      promise = this.load(this.base + name);
      this.files.set(name, promise);
      promise.catch(() => this.files.delete(name));
    }
    return promise;
  }
}
