// The page on which a visitor keeps the register for where there is no
// reception. The worker leads here too, with what it could not give after #.

import { Copies } from "./offline/copies.js";
import { isRefused, refuse } from "./offline/refusal.js";
import { el } from "./page/dom.js";
import { root, takeNewest, workers } from "./page/edition.js";

const PARTS = ["The form, the search and the cautions", "Every page as text", "Drawings", "Photographs, scans, recordings and data files"];
const CHOICES = ["", "As text", "With drawings", "With photographs, scans and recordings"];

/** What the list says of why a file could not be kept. */
const WHY = {
  net: "It broke off: there is no reception, or the host does not answer. What came is kept; press again to go on.",
  changed: "The register was published anew meanwhile. Load this page again for the newer edition, and press again: what did not change is taken over.",
  room: "This device has no more room for it. What came is kept; make room, or choose less, and press again.",
};

const size = (bytes) => (bytes < 950_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(bytes < 9.95e6 ? 1 : 0)} MB`);
const sum = (list) => list.reduce((a, b) => a + b, 0);

class Keeper {
  /** @param {HTMLElement} element  @param {Copies|null} copies  null where nothing is kept yet */
  constructor(element, copies) {
    const part = (name) => element.querySelector(`.js-kept-${name}`);
    Object.assign(this, { element, copies, parts: part("parts"), none: part("none"), choices: part("choices"), progress: part("progress") });
    part("remove").addEventListener("click", () => this.remove());
    this.removed = part("remove");
  }

  async show() {
    this.none.hidden = this.copies !== null;
    this.removed.disabled = true;
    this.element.hidden = false;
    if (!this.copies) {
      const begin = () => { refuse(false); location.reload(); };
      this.parts.replaceChildren();
      this.choices.replaceChildren(el("li", {}, el("button", { type: "button", class: "button", on: { click: begin } }, "Keep the form and the search")));
      return;
    }
    let files, kept;
    try {
      files = await this.copies.files();
      kept = await this.copies.kept();
    } finally {
      this.removed.disabled = false; // now that nothing is looked at any more
    }
    this.totals = PARTS.map((_, n) => {
      const all = [...files].filter(([, { part }]) => part === n), here = all.filter(([path]) => kept.has(path));
      return { all: all.length, here: here.length, bytes: sum(all.map(([, f]) => f.size)), hereBytes: sum(here.map(([, f]) => f.size)) };
    });
    this.parts.replaceChildren(...PARTS.map((name, n) => line(name, this.words(n))));
    this.choices.replaceChildren(...CHOICES.slice(1).map((name, i) => this.choice(name, i + 1)));
  }

  words(n) {
    const { all, here, hereBytes } = this.totals[n];
    if (all === 0) return "the register has none";
    if (here === 0) return "none yet";
    return here === all ? `all ${all} files, ${size(hereBytes)}` : `${here} of ${all} files, ${size(hereBytes)}`;
  }

  /** A line with the size of all up to a part, and a button that keeps it. */
  choice(name, part) {
    const upTo = this.totals.slice(0, part + 1);
    const bytes = sum(upTo.map((t) => t.bytes)), left = bytes - sum(upTo.map((t) => t.hereBytes));
    const button = left === 0 ? el("span", {}, "kept") : el("button", { type: "button", class: "button quiet", on: { click: () => this.keep(part) } }, left === bytes ? "Keep it" : "Keep the rest", el("span", { class: "hidden-words" }, `: ${name.toLowerCase()}`));
    return el("li", {}, line(name, left === 0 || left === bytes ? size(bytes) : `${size(bytes)}, of which ${size(left)} are to come`, "div"), el("div", { class: "under" }, button));
  }

  async keep(part) {
    const files = await this.copies.files(), kept = await this.copies.kept();
    const paths = [...files.keys()].filter((path) => files.get(path).part <= part && !kept.has(path));
    const bytes = sum(paths.map((path) => files.get(path).size));
    let came = 0, last = "";
    const bar = el("progress", { max: bytes, value: 0, "aria-label": "How much has come" }), said = el("p", {});
    const stop = new AbortController();
    this.progress.replaceChildren(bar, said, el("p", {}, el("button", { type: "button", class: "button plain", on: { click: () => stop.abort() } }, "Stop")));
    for (const button of this.choices.querySelectorAll("button")) button.disabled = true;
    const step = (path) => {
      came += files.get(path).size;
      bar.value = came;
      const words = `${size(came)} of ${size(bytes)} have come.`;
      if (words !== last) said.textContent = last = words;
    };
    let words = `All of it is kept on this device.`;
    try {
      await navigator.storage?.persist?.();
      await this.copies.note("asked", part);
      await this.copies.fill(paths, { signal: stop.signal, step });
      if (stop.signal.aborted) words = "Stopped. What came is kept; press again to go on.";
    } catch (e) {
      words = stop.signal.aborted ? "Stopped. What came is kept; press again to go on." : WHY[e.why];
      if (!words) throw e;
    } finally {
      this.progress.replaceChildren(el("p", {}, words));
      await this.show();
    }
  }

  async remove() {
    refuse(true);
    const registration = await workers().getRegistration(root.href);
    await registration?.unregister();
    await this.copies.removeAll();
    this.copies = null;
    this.progress.replaceChildren(el("p", {}, "All that was kept is gone from this device."));
    await this.show();
  }
}

const line = (what, words, tag = "li") => el(tag, {}, el("div", { class: "line" }, el("span", { class: "what" }, what), el("span", { class: "figure" }, words)));

/** What the worker knows of its edition. */
function published(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.addEventListener("message", (event) => resolve(event.data), { once: true });
    port1.start();
    worker.postMessage("which", [port2]);
  });
}

/** Says what the worker could not give. */
async function tell(said, why, path) {
  const address = new URL(path.split("/").map(encodeURIComponent).join("/"), root).href;
  const ways = () => el("div", { class: "buttons" }, el("a", { class: "button", href: address }, "Try again"), " ",
    el("button", { type: "button", class: "button plain", on: { click: () => history.back() } }, "Go back"));
  const say = (strong, words, ...more) => said.replaceChildren(el("div", { class: "caution", role: "alert" }, el("p", {}, el("strong", {}, strong), ` ${words}`), more));
  if (why === "missing") {
    say("This page is not kept on this device.", `There is no reception, or the host does not answer, and ${path} was not opened here before. The form, the search and what you opened work all the same.`, ways());
    return;
  }
  say("A newer edition is here.", `The register was published anew, and ${path} as your edition had it is gone. The newer edition is being loaded …`);
  try {
    await takeNewest();
    location.replace(address);
  } catch {
    say("A newer edition is here, and could not be loaded.", "The connection may be gone. The edition that you have stays as it is.", ways());
  }
}

async function begin() {
  const element = document.querySelector(".js-kept"), said = document.querySelector(".js-kept-said");
  if (!element) return;
  const heading = (words) => said.replaceChildren(el("p", { class: "caution" }, words));
  if (!workers()) {
    heading(location.protocol === "file:" ? "This copy of the register lies in a folder: it is all here, and needs no reception."
      : "This browser keeps nothing of pages that are served without encryption (https), or not in a private window. The published folder works from a memory stick.");
    return;
  }
  const [, why, path] = /^#(missing|newer)=(.*)$/.exec(location.hash) ?? [];
  if (why) tell(said, why, decodeURIComponent(path));
  if (isRefused()) {
    await new Keeper(element, null).show();
    return;
  }
  if (!why) heading("Nothing is kept yet. A published register begins to keep itself a moment after its first page was opened, and this page then says so.");
  const { active } = await workers().ready;
  if (!why) said.replaceChildren();
  await new Keeper(element, new Copies(root.href, await published(active))).show();
}
begin();
window.addEventListener("hashchange", begin);
