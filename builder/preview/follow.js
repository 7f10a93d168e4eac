// Follows the records: shows the page as it is in the newer state, and says so
// when the records hold errors. What a script or another style would have to
// be started for, and a page seen through a fragment, is loaded anew.
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
  shown = event.lastEventId;
  show();
});

/** Brings the newest state before the reader. */
async function show() {
  const mine = ++turn;
  const next = await load();
  if (mine !== turn) return; // there is a newer one yet
  if (next === undefined || !canTakePlace(next)) {
    news.close();
    location.reload();
    return;
  }
  takePlace(next);
  tell();
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

/** Says whether a document can stand in the place of the one shown. */
function canTakePlace(next) {
  const started = (page) => page.querySelector("script:not([src^='/-preview/'])") !== null;
  const styles = (page) => Array.from(page.querySelectorAll("link[rel=stylesheet]"), (link) => link.getAttribute("href")).join(" ");
  return location.hash === "" && !started(document) && !started(next) && styles(document) === styles(next);
}

/** Puts a document in the place of the one shown. The style stays, and so does the place on the page. */
function takePlace(next) {
  for (const { name } of Array.from(document.documentElement.attributes)) document.documentElement.removeAttribute(name);
  for (const { name, value } of next.documentElement.attributes) document.documentElement.setAttribute(name, value);
  for (const child of Array.from(document.head.children)) {
    if (!child.matches("link[rel=stylesheet]")) child.remove();
  }
  const style = document.head.querySelector("link[rel=stylesheet]");
  let after = false; // what stands behind the style there stands behind it here
  for (const child of Array.from(next.head.children)) {
    if (child.matches("link[rel=stylesheet]")) after = true;
    else if (after || style === null) document.head.append(child);
    else style.before(child);
  }
  document.body.replaceWith(next.body);
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
