// The edition of this page, the one that the host has now, and the way to it.

/** The register's address: scripts lie one folder below it. */
export const root = new URL("..", document.currentScript.src);

/** The edition of this page. */
export const pageEdition = () => document.querySelector(".js-edition")?.dataset.edition ?? "";

/** The service workers of this browser, undefined where it has none: under file: and without encryption. */
export const workers = () => (location.protocol.startsWith("http") ? navigator.serviceWorker : undefined);

/** Whether the host is known to have another edition than this page's. */
export async function isOutdated() {
  try {
    const words = await (await fetch(new URL("worker.js", root), { cache: "no-store" })).text();
    const [, published] = /^const published = (\{.*\});/.exec(words) ?? [];
    return published !== undefined && JSON.parse(published).edition !== pageEdition();
  } catch {
    return false; // under file:, or without reception
  }
}

/** Has the newest edition's worker take over, where one is kept and there is a newer. Rejects where that cannot be had. */
export async function takeNewest() {
  const registration = await workers()?.getRegistration(root.href);
  if (!registration?.active) return;
  if (!registration.waiting && !registration.installing) await registration.update();
  const worker = registration.waiting ?? registration.installing;
  await settled();
  if (worker) await becomes(worker, "activated");
}

/** How long, in milliseconds, the older worker is given to end what it began for a page that has loaded. */
const BREATH = 500;

/** Waits until the older worker answers for nothing of this page: Chromium, asked before, may put a newer one off for minutes. */
function settled() {
  return new Promise((resolve) => {
    const wait = () => setTimeout(resolve, BREATH);
    if (document.readyState === "complete") wait();
    else window.addEventListener("load", wait);
  });
}

/** How long, in milliseconds, a worker may take to take over once it is complete. */
const PATIENCE = 20_000;

/** Waits until a worker has come so far, asking it to take over. */
function becomes(worker, state) {
  return new Promise((resolve, reject) => {
    const look = () => {
      if (worker.state === "installed") {
        worker.postMessage("take over");
        setTimeout(reject, PATIENCE, new Error("the newer edition does not take over"));
      }
      if (worker.state === state) resolve();
      if (worker.state === "redundant") reject(new Error("the newer edition could not be fetched"));
    };
    worker.addEventListener("statechange", look);
    look();
  });
}
