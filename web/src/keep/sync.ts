// Up and down between this browser and the server, whenever there is one: at the start, when the net comes back, when the page is
// seen again, when something was made here, and when the server says that it has more.
import { get, Unreached } from "../net/api";
import * as now from "../state";
import { during, setting } from "./db";
import * as book from "./fieldbook";
import { fieldsync } from "./fieldsync";
import { send } from "./outbox";
import { others } from "./pages";
import * as photos from "./photos";
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
    let changed: string[] = [];
    const wrong = await send().then(pull).then((ids) => void (changed = ids), (fault: unknown) => {
      if (fault instanceof Unreached) throw fault;
      return { fault }; // records go up all the same
    });
    await fieldsync();
    if (wrong) throw wrong.fault;
    if (!now.reached.value) now.server.value = await get<now.Server>("/about");
    now.reached.value = true;
    now.failing.value = "";
    if (changed.length) await Promise.all([...told].map((f) => f(changed)));
    missed = 0;
  } catch (fault) {
    const nobody = fault instanceof Unreached;
    now.reached.value = !nobody;
    now.failing.value = nobody ? "" : fault instanceof Error ? fault.message : String(fault);
    later = setTimeout(seen, pause(missed++));
  }
  now.tried.value = true;
  await counted();
}

// How long, in ms, until what did not work is tried again: longer when it has not worked for long, and not by all at the same
// moment. A page that nobody sees waits until somebody does.
let missed = 0;
const pause = (n: number): number => Math.min(10_000 * 2 ** Math.max(0, n - 3), 160_000) * (0.75 + Math.random() / 2);
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
  await Promise.all([book.counted(), photos.counted(), roomed()]);
}

// How much of the room that this browser gives is taken; browsers that do not say count as roomy.
async function roomed(): Promise<void> {
  const e = await navigator.storage?.estimate?.().catch(() => undefined);
  now.room.value = e?.quota && e.usage !== undefined ? { used: e.usage, of: e.quota } : undefined;
  now.lasts.value = (await navigator.storage?.persisted?.().catch(() => false)) ?? false;
}

/** watch keeps in touch: one page of this browser holds the server's stream and tells the others; where there is no stream, it
 * asks once a minute. */
export function watch(): void {
  addEventListener("online", () => void sync());
  addEventListener("pageshow", seen);
  document.addEventListener("resume", seen); // from where browsers put pages to sleep
  book.onWaiting(() => void sync());
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
  stream.onopen = () => {
    others.tell({ more: true });
    void sync();
  };
  stream.onerror = () => {
    if (now.reached.value) void sync(); // the server went: the page says so at once
    if (stream.readyState === EventSource.CLOSED) setTimeout(listen, 3000);
  };
}
