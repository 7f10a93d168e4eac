// Loads data files. Browsers let a page that was opened from a folder run
// scripts of that folder and fetch nothing else, so every data file is a script
// of one call, yearmark(DATA): JSON as it is, bytes as base64 in a text.

/** How long, in milliseconds, a file may take before it counts as lost. */
const PATIENCE = 30_000;

/** A file that did not arrive. */
export class Missing extends Error {
  constructor(address) {
    super(`the file ${address} did not arrive`);
    this.name = "Missing";
  }
}

const waiting = new Map(); // by script element: what takes its data

globalThis.yearmark = (data) => waiting.get(document.currentScript)?.(data);

/**
 * What a data file hands over. Rejects with Missing where the file cannot be
 * had, holds something else or takes too long; the next call asks for it anew.
 * @param {string} address  of the file; whatever its ending, the script of that name is loaded
 * @returns {Promise<any>}
 */
export function load(address) {
  const script = document.createElement("script");
  script.fetchPriority = "high"; // before pictures
  let timer;
  return new Promise((resolve, reject) => {
    const lost = () => reject(new Missing(address));
    timer = setTimeout(lost, PATIENCE);
    const edition = new URL(address, location.href).search.slice(1); // of a file that has the same name in all
    waiting.set(script, (data) => (edition && data.edition !== undefined && encodeURIComponent(data.edition) !== edition ? lost() : resolve(data)));
    script.addEventListener("error", lost);
    script.addEventListener("load", lost); // has no effect where the data came
    script.src = address.replace(/\.\w+(?=$|\?)/, ".js");
    document.body.append(script);
  }).finally(() => {
    clearTimeout(timer);
    waiting.delete(script);
    script.remove();
  });
}

/** The bytes that a data file hands over. */
export async function loadBytes(address) {
  return Uint8Array.from(atob(await load(address)), (c) => c.charCodeAt(0));
}
