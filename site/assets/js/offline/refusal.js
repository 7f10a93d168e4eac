// Whether the visitor took what was kept off this device: then nothing is kept
// again until they ask for it.

import { root } from "../page/edition.js";

const KEY = `yearmark keep nothing ${root.pathname}`;

export function isRefused() {
  try {
    return localStorage.getItem(KEY) !== null;
  } catch {
    return false; // a browser that remembers nothing
  }
}

export function refuse(yes) {
  try {
    if (yes) localStorage.setItem(KEY, "yes");
    else localStorage.removeItem(KEY);
  } catch {
    // a browser that remembers nothing keeps nothing either
  }
}
