// Follows the records: puts the page as it is in the newer state in the place
// of the one shown, and says so when the records hold errors. A page is loaded
// anew where its pictures may be others, where one of its places is looked at
// through a fragment, and where a script does not hear of the change.
let shown = new URL(import.meta.url).search.slice(1); // the state that this page is of
let trouble = "";
let turn = 0; // counts the states asked for
const news = new EventSource("/-preview/changes");

news.addEventListener("message", (event) => {
  trouble = event.data;
  if (event.lastEventId === shown) {
    tell();
    return;
  }
  const samePictures = pictures(event.lastEventId) === pictures(shown);
  shown = event.lastEventId;
  if (samePictures) show();
  else reload();
});

/** Gives the pictures' part of a state's name. */
function pictures(state) {
  return state.split("-")[1];
}

function reload() {
  turn++;
  news.close();
  location.reload();
}

/** Brings the newest state before the reader. */
async function show() {
  const mine = ++turn;
  if (!canGiveWay()) {
    reload();
    return;
  }
  const next = await load();
  if (mine !== turn) return; // there is a newer one yet
  if (next === undefined || !canTakePlace(next)) {
    reload();
    return;
  }
  const open = new Map();
  for (const [name, part] of folded()) open.set(name, part.open);
  takePlace(next);
  window.dispatchEvent(new Event("renewed"));
  for (const [name, part] of folded()) part.open = open.get(name) ?? part.open;
  tell();
}

/** Gives what can be folded on the page by the place that holds it, its class and its turn there: its words may be new. */
function folded() {
  const parts = new Map();
  const turns = new Map();
  for (const part of document.querySelectorAll("details")) {
    const kind = `${part.closest("[id]")?.id ?? ""} ${part.className}`;
    const turn = turns.get(kind) ?? 0;
    turns.set(kind, turn + 1);
    parts.set(`${kind} ${turn}`, part);
  }
  return parts;
}

/** Gives this page as it is now, or nothing where there is none. */
async function load() {
  try {
    const answer = await fetch(location.href, { cache: "no-store" });
    if (!answer.ok) return undefined;
    return new DOMParser().parseFromString(await answer.text(), "text/html");
  } catch {
    return undefined;
  }
}

// What stays in the head, since a document takes it up only once.
const stays = "link[rel=stylesheet], meta[http-equiv], script";

/** Gives what stays of a page. */
function staying(page) {
  return Array.from(page.head.querySelectorAll(stays));
}

// The site's scripts that hear of the change.
const hearing = /\/(date|examples|my-bows|offline|open|search)(-\w+)?\.js$/;

/** Says whether another document may stand in the place of the one shown. */
function canGiveWay() {
  return !targeted() && staying(document).every((element) => element.localName !== "script" || hearing.test(element.src));
}

/** Says whether a place on the page is looked at through a fragment; where a script keeps its state there, none is. */
function targeted() {
  return document.querySelector(":target") !== null;
}

/** Says whether a document can stand in the place of the one shown: what stays is the same. */
function canTakePlace(next) {
  const outer = (page) => staying(page).map((element) => element.outerHTML).join("");
  return outer(document) === outer(next);
}

/** Puts a document in the place of the one shown; the place on the page that is looked at stays. */
function takePlace(next) {
  copyAttributes(next.documentElement, document.documentElement);
  for (const child of Array.from(document.head.children)) {
    if (!child.matches(stays)) child.remove();
  }
  const left = Array.from(document.head.children);
  for (const child of Array.from(next.head.children)) {
    if (child.matches(stays)) left.shift();
    else if (left.length > 0) left[0].before(child);
    else document.head.append(child);
  }
  document.body.replaceWith(next.body);
}

/** Gives an element the attributes of another, and no more. */
function copyAttributes(from, to) {
  for (const { name } of Array.from(to.attributes)) if (!from.hasAttribute(name)) to.removeAttribute(name);
  for (const { name, value } of from.attributes) to.setAttribute(name, value);
}

/** Shows or takes away the strip that says what is wrong. */
function tell() {
  document.querySelector(".js-preview-trouble")?.remove();
  if (trouble === "") return;
  const strip = document.createElement("p");
  strip.className = "Notice js-preview-trouble";
  strip.setAttribute("role", "status");
  const link = document.createElement("a");
  link.href = "/-preview/findings";
  link.textContent = trouble;
  strip.append(link);
  document.body.prepend(strip);
}
