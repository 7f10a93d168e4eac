// Stands in the worker's place where a site is served that is still being
// written: it takes away what a published edition kept at this address, and then
// itself, so that what is shown is always the newest.

import { ownCaches } from "./offline/copies.js";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(leave()));

async function leave() {
  for (const name of await ownCaches(self.registration.scope)) await caches.delete(name);
  await self.registration.unregister();
  for (const client of await self.clients.matchAll({ type: "window" })) client.navigate(client.url); // those that were shown copies
}
