// The service worker: every file of one version is kept whole before that version is used, and a version never takes over while
// an older one has pages open. What lies under /api is never touched: records and plans are kept by the page itself.
import { whole } from "./net/whole";

declare const self: ServiceWorkerGlobalScope;
export {};

const name = "trenchwright " + STAMP;
const asKept = { ignoreVary: true, ignoreSearch: true };

self.addEventListener("install", (e) => {
  e.waitUntil(keepAll());
});

const quiet = 30_000; // ms in which nothing came, after which a file is asked for again
const attempts = 3;
const atOnce = 3; // of the few ways that browsers have to one server: the others are for the page

// What came in an attempt that broke off stays: a version goes on where it was.
async function keepAll(): Promise<void> {
  const c = await caches.open(name);
  const left = [...FILES];
  const keep = async (): Promise<void> => {
    for (let f = left.shift(); f; f = left.shift()) if (!(await c.match(f, asKept))) await c.put(f, await fetched(f));
  };
  await Promise.all(Array.from({ length: atOnce }, keep));
}

async function fetched(file: string): Promise<Response> {
  for (let attempt = 1; ; attempt++) {
    try {
      const r = await whole(new Request(file, { cache: "reload" }), quiet);
      if (!r.ok) throw new Error(`${file}: ${r.status}`);
      return r;
    } catch (fault) {
      if (attempt === attempts) throw fault;
    }
  }
}

self.addEventListener("activate", (e) => {
  e.waitUntil(
    caches
      .keys()
      .then((all) => Promise.all(all.filter((n) => n.startsWith("trenchwright ") && n !== name).map((n) => caches.delete(n))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("message", (e) => {
  if (e.data === "take over") void self.skipWaiting();
  if (e.data === "is everything kept?") e.waitUntil(everything().then((yes) => e.ports[0]?.postMessage(yes)));
});

async function everything(): Promise<boolean> {
  const c = await caches.open(name);
  const kept = await Promise.all(FILES.map((f) => c.match(f, asKept)));
  return kept.every((r) => r?.ok);
}

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== location.origin || url.pathname.startsWith("/api/")) return;
  const at = e.request.mode === "navigate" && !/\.[a-z0-9]+$/.test(url.pathname) ? "/index.html" : url.pathname;
  e.respondWith(caches.open(name).then(async (c) => (await c.match(at, asKept)) ?? fetch(e.request)));
});
