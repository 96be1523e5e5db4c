// Up and down between this browser and the server, whenever there is one: at the start, when the net comes back, when the page is
// seen again, when something was made here, and when the server says that it has more.
import { Unreached } from "../net/api";
import * as now from "../state";
import { during } from "./db";
import { send } from "./outbox";
import { pull } from "./pull";

let running: Promise<void> | undefined;
let again = false;
const told = new Set<(jobs: string[]) => void>();

/** onPulled is told which jobs came anew. */
export function onPulled(f: (jobs: string[]) => void): void {
  told.add(f);
}

/** sync sends and fetches once; while it runs, another call makes it run once more after. */
export function sync(): Promise<void> {
  if (running) {
    again = true;
    return running;
  }
  running = once().finally(() => {
    running = undefined;
    if (!again) return;
    again = false;
    void sync();
  });
  return running;
}

async function once(): Promise<void> {
  try {
    await send();
    const changed = await pull();
    now.reached.value = true;
    if (changed.length) for (const f of told) f(changed);
  } catch (fault) {
    if (!(fault instanceof Unreached)) console.warn("sending and fetching:", fault);
    now.reached.value = !(fault instanceof Unreached);
  }
  now.unsent.value = (await during(["revisions"], "readonly", (t) => t.unsent())).length;
}

/** watch keeps in touch: one page of this browser holds the server's stream and tells the others; where there is no stream, it
 * asks once a minute. */
export function watch(): void {
  addEventListener("online", () => void sync());
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && void sync());
  setInterval(() => document.visibilityState === "visible" && void sync(), 60_000);
  const others = "BroadcastChannel" in self ? new BroadcastChannel("trenchwright") : undefined;
  if (others) others.onmessage = () => void sync();
  const hold = () =>
    new Promise<void>(() => {
      const stream = new EventSource("/api/stream");
      stream.onmessage = () => {
        others?.postMessage("more");
        void sync();
      };
      stream.onopen = () => void sync();
    });
  if (navigator.locks) void navigator.locks.request("trenchwright stream", hold);
  else void hold();
}
