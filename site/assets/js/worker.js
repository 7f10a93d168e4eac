// The service worker of a published edition: pages and what they need come from
// the copies of that edition, and from the net where there is no copy yet. It
// never hands a page a file of another edition. Publishing writes the constant
// `published` before it: the edition, and the path of the list of its files.
//
// An edition is installed whole beside the one before, and takes over when the
// visitor asks for it or has closed every page of the one before.

import { Copies, NotKept, ownCaches, sumOf } from "./offline/copies.js";

/* global published */
const copies = new Copies(self.registration.scope, published);

/** Paths that hold a sum of what the file holds: the same in every edition. */
const NAMED_BY_CONTENT = /[-/][0-9a-f]{10,16}[./]/;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
  else if (event.data === "which") event.ports[0].postMessage(published);
  else if (event.data.edition === published.edition) event.waitUntil(welcome(event.data.paths));
});

self.addEventListener("fetch", (event) => {
  const { request } = event, { href, pathname } = new URL(request.url);
  const byScript = request.destination === "" && request.mode !== "navigate"; // by what keeps copies
  if (request.method !== "GET" || byScript || !href.startsWith(copies.scope)) return;
  let path;
  try {
    path = decodeURIComponent(pathname.slice(new URL(copies.scope).pathname.length));
  } catch {
    return;
  }
  event.respondWith(request.mode === "navigate" ? page(event, path) : part(event, path));
});

/** Keeps what one visit keeps, and anew all that the visitor kept of earlier editions. */
async function install() {
  const files = await copies.files();
  const wanted = new Set([...files.keys()].filter((path) => files.get(path).part === 0));
  for (const name of await ownCaches(copies.scope)) {
    if (name === copies.name) continue;
    for (const path of await copies.inherit(name)) wanted.add(path);
    const asked = await copies.noted("asked", name) ?? 0;
    if (asked > 0) await copies.note("asked", asked);
    for (const [path, { part }] of files) if (part <= asked) wanted.add(path);
  }
  await copies.fill(wanted);
  await copies.note("whole", true);
}

/** Takes over a page that was opened before there was a worker, and keeps it with the pictures that it showed. */
async function welcome(paths) {
  await self.clients.claim();
  const files = await copies.files(), kept = await copies.kept();
  for (const path of paths) if (files.has(path) && !kept.has(path)) await copies.take(path, files.get(path).sum);
}

/** Lets go of earlier editions, but for the one whose pages are open still. */
async function activate() {
  const open = await self.clients.matchAll();
  const before = (await ownCaches(copies.scope)).filter((name) => name !== copies.name);
  let last = null;
  if (open.length > 0) for (const name of before) if (await copies.noted("whole", name)) last = name;
  if (last) await copies.note("before", { cache: last, clients: open.map((client) => client.id) });
  for (const name of before) if (name !== last) await caches.delete(name);
}

let reading; // of the note of the edition before

/** The note of the edition before: its cache, and its pages that were open. */
function before() {
  reading ??= copies.noted("before").then((note) => note ?? null);
  return reading;
}

/** Lets go of the edition before once none of its pages is open. */
async function tidy() {
  const note = await before();
  if (!note) return;
  const open = new Set((await self.clients.matchAll({ includeUncontrolled: true })).map((client) => client.id));
  if (note.clients.some((id) => open.has(id))) return;
  await caches.delete(note.cache);
  await copies.note("before", null);
  reading = null;
}

/** Answers a navigation: a folder's address is its index. */
async function page(event, path) {
  event.waitUntil(tidy());
  const files = await copies.files();
  const name = [path === "" || path.endsWith("/") ? `${path}index.html` : path, `${path}.html`].find((p) => files.has(p));
  if (name === undefined) return files.has(`${path}/index.html`) ? Response.redirect(`${copies.address(path)}/`) : unlisted(event.request, path);
  const copy = await copies.find(name);
  if (copy) return copy;
  let response, body;
  try {
    response = await fetch(copies.address(name), { cache: "no-cache" }); // the browser may have an older edition's
    body = await response.arrayBuffer();
  } catch {
    return notice("missing", path);
  }
  if (response.ok && await sumOf(body) === files.get(name).sum) {
    if (name.endsWith(".html")) event.waitUntil(keep(name, response, body));
    return new Response(body, typed(response));
  }
  return await isOutdated() ? notice("newer", path) : new Response(body, typed(response));
}

/** Answers a navigation to what this edition does not have: a newer one's page, another register's, or none. */
async function unlisted(request, path) {
  const response = await fetch(request); // where it fails the browser says so
  const words = response.ok ? await response.clone().text() : "";
  return words.includes(` data-page="${path}"`) && await isOutdated() ? notice("newer", path) : response;
}

/** Leads to the page that says what is missing, and why. */
const notice = (why, path) => Response.redirect(`${copies.scope}offline.html#${why}=${encodeURIComponent(path)}`);

/** Answers for what a page is made of. */
async function part(event, path) {
  const { request } = event, note = await before();
  const old = note?.clients.includes(event.clientId); // a page of the edition before
  const copy = await copies.find(path, old ? note.cache : undefined);
  const range = request.headers.get("range");
  if (copy) return range ? stretch(copy, range) : copy;
  if (old && !NAMED_BY_CONTENT.test(path)) return Response.error();
  const file = (await copies.files()).get(path);
  const response = await (old || !file || range ? fetch(request) : fetch(request.url, { cache: NAMED_BY_CONTENT.test(path) ? "default" : "no-cache" }));
  if (old || !file || range || !response.ok) return response;
  const body = await response.arrayBuffer();
  if (await sumOf(body) !== file.sum) return Response.error(); // another edition's
  if (request.destination === "image") event.waitUntil(keep(path, response, body));
  return new Response(body, typed(response));
}

/** Keeps what was fetched for a page, unless all was taken away meanwhile; where there is no room the page is shown all the same. */
async function keep(path, response, body) {
  if (!(await caches.has(copies.name))) return;
  try {
    await copies.put(path, response, body);
  } catch (e) {
    if (!(e instanceof NotKept)) throw e;
  }
}

const typed = ({ status, statusText, headers }) => ({ status, statusText, headers: { "Content-Type": headers.get("Content-Type") ?? "application/octet-stream" } });

/** Whether the host has another edition by now. */
async function isOutdated() {
  try {
    const response = await fetch(`${copies.scope}worker.js`, { cache: "no-store" });
    const words = await response.text();
    return response.ok && words.startsWith("const published = ") && !words.includes(JSON.stringify(published.list));
  } catch {
    return false;
  }
}

/** A stretch of a copy, as those ask for it who wind a recording (RFC 9110, section 14). */
async function stretch(copy, range) {
  const whole = await copy.blob(), [, from, to] = /^bytes=(\d*)-(\d*)$/.exec(range) ?? [];
  if (from === undefined || from + to === "") return copy;
  const first = from === "" ? Math.max(0, whole.size - Number(to)) : Number(from);
  const last = from === "" || to === "" ? whole.size - 1 : Math.min(Number(to), whole.size - 1);
  if (first > last) return new Response(null, { status: 416, headers: { "Content-Range": `bytes */${whole.size}` } });
  return new Response(whole.slice(first, last + 1), {
    status: 206, statusText: "Partial Content",
    headers: { "Content-Type": copy.headers.get("Content-Type"), "Content-Length": String(last - first + 1), "Content-Range": `bytes ${first}-${last}/${whole.size}`, "Accept-Ranges": "bytes" },
  });
}
