import { el } from "./dom.js";

/** Has the browser save a text as a file. */
export function saveFile(name, text, type = "application/json") {
  const address = URL.createObjectURL(new Blob([text], { type }));
  el("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
