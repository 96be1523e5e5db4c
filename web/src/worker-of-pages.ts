// The service worker as the page sees it: whether this version is kept whole, and whether a newer one waits.
import { core } from "./actions";
import * as now from "./state";

let waiting: ServiceWorker | null = null;

export async function worker(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  const r = await navigator.serviceWorker.register("/sw.js");
  const look = (): void => {
    waiting = r.waiting;
    now.newer.value = waiting !== null && navigator.serviceWorker.controller !== null;
  };
  look();
  r.addEventListener("updatefound", () => r.installing?.addEventListener("statechange", look));
  await navigator.serviceWorker.ready;
  if (!navigator.serviceWorker.controller) {
    await new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
  }
  await check();
}

/** check says "ready for no signal" only when every file of this version is kept and the core has started from them. */
async function check(): Promise<void> {
  const names = await caches.keys();
  const mine = await Promise.all(names.filter((n) => n.startsWith("trenchwright ")).map(async (n) => (await (await caches.open(n)).match(PLACES.core)) !== undefined));
  if (!mine.some(Boolean)) return;
  await core.ask<string>("version", {});
  now.ready.value = true;
}

/** takeOver ends the old version and starts the new one; only a person asks for it. */
export function takeOver(): void {
  if (!waiting) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.postMessage("take over");
}
