// Answers for pages of stitching along: from the network where there is one, else from what was
// kept on this device when they were last opened. Its pages tell it what to keep.
"use strict";

const FAMILY = "roundling-along-";
const KEPT = `${FAMILY}1`;
const PATIENCE_MS = 4000;

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith(FAMILY) && name !== KEPT) await caches.delete(name);
      }
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("message", (event) => {
  const { keep, forget, last } = event.data;
  if (keep) event.waitUntil(keepAll(keep, event.ports[0]));
  else if (forget) event.waitUntil(forgetPage(forget, last));
});

async function keepAll(addresses, port) {
  try {
    const cache = await caches.open(KEPT);
    // A stamped file never changes; a page is taken anew.
    await Promise.all(
      addresses.map(async (address) => {
        if (address.startsWith("/static/") && (await cache.match(address, { ignoreVary: true }))) return;
        const answer = await fetch(address, { cache: "no-cache" });
        if (!answer.ok) throw new Error(address);
        await cache.put(address, answer);
      }),
    );
    port.postMessage({ done: true });
  } catch {
    port.postMessage({ done: false });
  }
}

async function forgetPage(address, last) {
  if (last) await caches.delete(KEPT);
  else await (await caches.open(KEPT)).delete(address, { ignoreVary: true });
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (request.mode === "navigate") event.respondWith(page(request));
  else if (address.pathname.startsWith("/static/")) event.respondWith(file(request));
});

async function page(request) {
  const address = request.url.replace(/#.*$/, "");
  const cache = await caches.open(KEPT);
  const kept = await cache.match(address, { ignoreVary: true });
  try {
    // A slow network is no network to somebody who has the page already.
    const patience = kept ? AbortSignal.timeout(PATIENCE_MS) : undefined;
    const answer = await fetch(request, { signal: patience });
    if (answer.ok && kept) await cache.put(address, answer.clone());
    if (answer.status < 500 || !kept) return answer;
  } catch {
    // There is no network.
  }
  if (kept) return kept;
  return new Response("There is no network, and this page was not opened on this device before.\n", {
    status: 503,
    headers: { "Content-Type": "text/plain; charset=utf-8" },
  });
}

async function file(request) {
  const cache = await caches.open(KEPT);
  return (await cache.match(request.url, { ignoreVary: true })) || fetch(request);
}
