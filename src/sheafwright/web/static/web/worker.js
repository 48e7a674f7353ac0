// The service worker. Its first line, PLACE, is written by web/views/phone.py: where
// things are, and a name of the shell that changes with whatever is in it.
"use strict";

importScripts(PLACE.kept);
const PAGES = "pages";
const PATIENCE_MS = 6000;
const isKeptPage = (url) => url.pathname.endsWith("/harvest-day/");

async function fillShell() {
  const shell = await caches.open(PLACE.name);
  // Without cookies: a kept shell belongs to nobody.
  await shell.addAll(
    PLACE.shell.map((url) => new Request(url, { credentials: "omit", cache: "reload" })),
  );
}

async function dropOldShells() {
  const names = await caches.keys();
  const old = names.filter((name) => name !== PLACE.name && name !== PAGES);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function fromNetwork(request) {
  const answer = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
  if (answer.ok && !answer.redirected && isKeptPage(new URL(request.url)))
    await (await caches.open(PAGES)).put(request.url, answer.clone());
  return answer;
}

async function fromPhone(request) {
  const pages = await caches.open(PAGES);
  const same =
    (await pages.match(request.url)) ||
    (await (await caches.open(PLACE.name)).match(request.url));
  if (same) return same;
  const [harvestDay] = await pages.keys();
  if (new URL(request.url).pathname === "/" && harvestDay)
    return Response.redirect(harvestDay.url);
  return caches.match(PLACE.offline);
}

const opened = (request) => fromNetwork(request).catch(() => fromPhone(request));

async function fromShell(request) {
  const shell = await caches.open(PLACE.name);
  return (await shell.match(request)) || fetch(request);
}

async function sendKept() {
  await Kept.send(PLACE.csrf);
  for (const page of await clients.matchAll()) page.postMessage("sent");
  const left = await Kept.all();
  // Told that it failed, the browser tries again later.
  if (left.some((entry) => !Kept.isStopped(entry))) throw new Error("not yet sent");
}

addEventListener("install", (event) =>
  event.waitUntil(fillShell().then(() => skipWaiting())),
);
addEventListener("activate", (event) =>
  event.waitUntil(dropOldShells().then(() => clients.claim())),
);
addEventListener("sync", (event) => event.waitUntil(sendKept()));
addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET") return;
  if (request.mode === "navigate") event.respondWith(opened(request));
  else if (PLACE.shell.includes(new URL(request.url).pathname))
    event.respondWith(fromShell(request));
});
