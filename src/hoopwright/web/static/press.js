"use strict";
/* Keeps the cards at the machine and what they are drawn with, so that they open while the network is away. */
const SHELF = "hoopwright-press-1", MINE = /^\/(press|roll|weld)\/|^\/api\/press\/|^\/static\/|^\/drawing\.css/;
self.addEventListener("install", e => { e.waitUntil(caches.open(SHELF).then(c => c.addAll(["/static/page.css", "/static/machine.css", "/drawing.css", "/static/machine.js", "/static/fonts/hoopfigures-regular.woff2", "/static/fonts/hoopfigures-semibold.woff2", "/static/fonts/hoopsentences-regular.woff2", "/static/fonts/hoopsentences-italic.woff2"])).then(() => self.skipWaiting())); });
self.addEventListener("activate", e => { e.waitUntil(caches.keys().then(ks => Promise.all(ks.filter(k => k !== SHELF).map(k => caches.delete(k)))).then(() => self.clients.claim()).then(() => self.clients.matchAll()).then(ws => caches.open(SHELF).then(c => Promise.all(ws.filter(w => MINE.test(new URL(w.url).pathname)).map(w => c.add(w.url).catch(() => 0)))))); });
self.addEventListener("fetch", e => {
  const u = new URL(e.request.url);
  if (e.request.method !== "GET" || u.origin !== location.origin || !MINE.test(u.pathname)) return;
  e.respondWith(fetch(e.request).then(got => { if (got.ok && !got.redirected) { const copy = got.clone(); e.waitUntil(caches.open(SHELF).then(c => c.put(e.request, copy))); } return got; }).catch(() => caches.match(e.request, { ignoreSearch: true }).then(kept => kept || new Response("away", { status: 503 }))));
});
