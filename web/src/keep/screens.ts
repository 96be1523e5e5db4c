// Planned revisions as they are drawn, kept so that a job is on the screen at once: a revision never changes, and the same core
// makes the same of it. It is a cache alone: whatever is not here is planned.
import type { Screen, View } from "../screen";
import type { Revision } from "./db";

const called = "screens of ";
const mine = called + PLACES.core;
const most = 8; // screens, the oldest go first
const patience = 3000; // ms that the server has before this browser plans by itself

const addressOf = (r: Revision, view: View | undefined): string =>
  `/api/revisions/${encodeURIComponent(r.id)}/screen?` +
  new URLSearchParams({ core: PLACES.core, ...(view && { system: view.system, words: view.words }) });

/** drawn is the screen of a revision, as this browser keeps it or as the server has it; undefined: it has to be planned here. */
export async function drawn(r: Revision, view: View | undefined): Promise<Screen | undefined> {
  const address = addressOf(r, view);
  try {
    const kept = await (await cache())?.match(address);
    if (kept) return (await kept.json()) as Screen;
    if (r.unsent) return undefined;
    const answer = await fetch(address, { signal: AbortSignal.timeout(patience) });
    if (!answer.ok) return undefined;
    const b = new Uint8Array(await answer.arrayBuffer());
    keep(r, view, b);
    return JSON.parse(new TextDecoder().decode(b)) as Screen;
  } catch {
    return undefined; // no server, or nothing can be kept at this address
  }
}

let soon: ReturnType<typeof setTimeout> | undefined;

/** keep keeps the bytes of a screen, once nothing newer came for a moment. */
export function keep(r: Revision, view: View | undefined, b: Uint8Array): void {
  clearTimeout(soon);
  soon = setTimeout(() => void put(addressOf(r, view), b).catch(() => undefined), 2000);
}

async function put(address: string, b: Uint8Array): Promise<void> {
  const c = await cache();
  if (!c) return;
  await c.delete(address);
  await c.put(address, new Response(b as Uint8Array<ArrayBuffer>));
  const all = await c.keys();
  for (const old of all.slice(0, Math.max(0, all.length - most))) await c.delete(old);
  for (const name of await caches.keys()) if (name.startsWith(called) && name !== mine) await caches.delete(name);
}

async function cache(): Promise<Cache | undefined> {
  return "caches" in globalThis ? caches.open(mine) : undefined;
}
