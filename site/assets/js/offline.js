// On every page: has the service worker keep the register, offers a newer
// edition, and says so where a recording cannot be had.

import { el } from "./page/dom.js";
import { pageEdition, root, takeNewest, workers } from "./page/edition.js";
import { isRefused } from "./offline/refusal.js";

let offered = false; // a newer edition
let typed = false; // into fields that an address does not hold

/** Registers the worker once the page has all that it needs itself. */
async function register() {
  const registration = await workers().register(new URL("worker.js", root), { scope: root.href });
  const watch = () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => { if (worker.state === "installed" && workers().controller) offer(); });
  };
  registration.addEventListener("updatefound", watch);
  watch(); // it may have been found already
  if (registration.waiting && workers().controller && !offered) offer();
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") registration.update().catch(() => {}); });
  const { active } = await workers().ready;
  document.head.append(el("link", { rel: "manifest", href: new URL("manifest.webmanifest", root).href })); // by which a phone puts the register among its programs: after all that is read
  if (workers().controller?.scriptURL !== active.scriptURL) active.postMessage({ edition: pageEdition(), paths: opened() }); // a register further up may have had the page
}

/** The paths of this page and of the pictures on it. */
function opened() {
  const page = document.querySelector(".js-edition")?.dataset.page || "index.html";
  const pictures = performance.getEntriesByType("resource").filter((e) => e.initiatorType === "img" && e.name.startsWith(root.href));
  return [page, ...pictures.map((e) => decodeURIComponent(e.name.slice(root.href.length)))];
}

/** Offers the newer edition at the foot, and at the head where nobody reads yet. */
function offer(words = "A newer edition is here", early = false) {
  offered = true;
  const places = [document.querySelector(".js-newer")];
  if (early) {
    const strip = el("div", { class: "newer-strip no-print" });
    document.querySelector("main").before(strip);
    places.push(strip);
  }
  for (const place of places) {
    const said = el("span", { role: "status" });
    const load = async () => {
      if (typed) {
        typed = false;
        said.textContent = " What you typed into this page is not in its address: copy it first, then press again.";
        return;
      }
      said.textContent = " It is being loaded …";
      try {
        await takeNewest();
        location.reload();
      } catch {
        said.textContent = " It could not be loaded. The one that you have stays; try again later.";
      }
    };
    place?.replaceChildren(`${words}: `, el("button", { type: "button", class: "link", on: { click: load } }, "load it"), said);
  }
}

async function begin() {
  const registration = await workers().getRegistration(root.href);
  if (registration?.waiting && workers().controller) offer(undefined, true);
  let before = workers().controller;
  workers().addEventListener("controllerchange", () => {
    if (before) offer("Another page has loaded a newer edition; this one is of the older");
    before = workers().controller;
  });
  if (document.readyState === "complete") await register();
  else window.addEventListener("load", () => register().catch(() => {}));
}

document.addEventListener("input", ({ target }) => { if (target.matches("textarea, input:not([type=checkbox], [type=radio])") && !target.closest(".js-search, .js-number")) typed = true; });
document.addEventListener("error", (event) => {
  const player = event.target;
  if (player.localName !== "audio" || player.nextElementSibling?.matches(".js-unheard")) return;
  player.after(el("p", { class: "trouble js-unheard", role: "alert" }, "This recording is not kept on this device and could not be fetched. What was said can be read below."));
}, true); // errors of media do not rise
if (workers() && !isRefused() && !navigator.connection?.saveData) begin().catch(() => {}); // the pages read without it
