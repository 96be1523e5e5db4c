// Up and down between this browser and the server, whenever there is one: at the start, when the net comes back, when the page is
// seen again, when something was made here, and when the server says that it has more.
import { get, Unreached } from "../net/api";
import * as now from "../state";
import { during, setting } from "./db";
import { send } from "./outbox";
import { others } from "./pages";
import { pull } from "./pull";

let running: Promise<void> | undefined;
let next: Promise<void> | undefined; // the one after that, once somebody asked for it
let later: ReturnType<typeof setTimeout> | undefined;
const told = new Set<(jobs: string[]) => unknown>();

/** onPulled is told which jobs came anew; what it gives is waited for before the server counts as asked. */
export function onPulled(f: (jobs: string[]) => unknown): void {
  told.add(f);
}

/** sync sends and fetches once, all that there is when it is called: where it runs already, by the one after that. */
export function sync(): Promise<void> {
  const start = (): Promise<void> => {
    next = undefined;
    return (running = once().finally(() => (running = undefined)));
  };
  if (next) return next;
  if (!running) return start();
  return (next = running.catch(() => undefined).then(start));
}

async function once(): Promise<void> {
  clearTimeout(later);
  try {
    await send();
    const changed = await pull();
    if (!now.reached.value) now.server.value = await get<{ version: string; core: string }>("/about");
    now.reached.value = true;
    now.failing.value = "";
    if (changed.length) await Promise.all([...told].map((f) => f(changed)));
  } catch (fault) {
    const nobody = fault instanceof Unreached;
    now.reached.value = !nobody;
    now.failing.value = nobody ? "" : fault instanceof Error ? fault.message : String(fault);
    later = setTimeout(seen, soonAgain);
  }
  now.tried.value = true;
  await counted();
}

const soonAgain = 10_000; // ms until what did not work is tried again; a page that nobody sees waits until somebody does
const seen = (): void => void (document.visibilityState === "visible" && sync());

/** counted brings up to date how much is kept here and how much of it waits. */
export async function counted(): Promise<void> {
  const unsent = await during(["revisions"], "readonly", (t) => t.unsent());
  now.unsent.value = unsent.length;
  const of: Record<string, number> = {};
  for (const r of unsent) of[r.job] = (of[r.job] ?? 0) + 1;
  now.unsentOf.value = of;
  now.oldest.value = unsent.reduce((least, r) => Math.min(least, r.made), Infinity);
  now.refused.value = unsent.filter((r) => r.refused);
  now.sent.value = await setting("sent", 0);
}

/** watch keeps in touch: one page of this browser holds the server's stream and tells the others; where there is no stream, it
 * asks once a minute. */
export function watch(): void {
  addEventListener("online", () => void sync());
  document.addEventListener("visibilitychange", seen);
  setInterval(seen, 60_000);
  others.hear((w) => {
    if (w.more) void sync();
    if (w.kept) for (const f of told) f(w.kept);
    if (w.kept || w.sent) void counted();
  });
  const hold = () => new Promise<void>(() => listen());
  if (navigator.locks) void navigator.locks.request("trenchwright stream", hold);
  else void hold();
}

// listen holds the server's stream. Browsers open it again by themselves where the server goes away; where an answer between
// ended it for good, this does.
function listen(): void {
  const stream = new EventSource("/api/stream");
  stream.onmessage = () => {
    others.tell({ more: true });
    void sync();
  };
  stream.onopen = () => void sync();
  stream.onerror = () => {
    if (now.reached.value) void sync(); // the server went: the page says so at once
    if (stream.readyState === EventSource.CLOSED) setTimeout(listen, 3000);
  };
}
