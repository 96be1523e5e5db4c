// The service worker as the page sees it: whether this browser would do without a server, and whether a newer version waits.
import { core } from "./actions";
import { Core } from "./core/client";
import { during, setting } from "./keep/db";
import { namedIn } from "./keep/outbox";
import { others } from "./keep/pages";
import * as now from "./state";

let waiting: ServiceWorker | null = null;
let waited = false; // whether a newer version has been waiting since this page was opened
let started = false; // whether a core has started from what is kept
const kept = Boolean(navigator.serviceWorker?.controller); // whether this page itself came from there, and its core with it

const lookedAgain = 10_000; // ms after which is looked once more: something may have been late

export async function worker(): Promise<void> {
  if (!("serviceWorker" in navigator)) {
    now.plain.value = true;
    return;
  }
  // A page's first version comes to it without a reload: only what takes over from another one is newer. Right after that a
  // browser may still show the first one as waiting.
  let controlled = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (controlled && waited) location.reload(); // somebody changed over, and no page was busy
    controlled = true;
  });
  const r = await navigator.serviceWorker.register("/sw.js");
  const look = (): void => {
    waiting = r.waiting;
    controlled ||= waiting === null && navigator.serviceWorker.controller !== null;
    now.newer.value = waiting !== null && controlled;
    waited ||= now.newer.value;
  };
  look();
  r.addEventListener("updatefound", () => (look(), r.installing?.addEventListener("statechange", look)));
  setInterval(look, lookedAgain); // it may have been quicker than its event
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && void r.update().catch(() => undefined));
  setInterval(() => void r.update().catch(() => undefined), 30 * 60_000);
  others.hear((w) => w.ask === "busy" && now.busy() !== "" && others.tell({ busy: true }));
  await navigator.serviceWorker.ready;
  if (!navigator.serviceWorker.controller) {
    await new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
  }
  setInterval(() => !now.ready.value && judges === 0 && document.visibilityState === "visible" && void judge(), lookedAgain);
  await judge();
}

let judging: Promise<void> = Promise.resolve();
let judges = 0;

/** judge says "ready for no signal" only when every file of this version is kept, a core has started from them, everything that
 * the server had was fetched, and the open job is kept with all of its files. */
export function judge(): Promise<void> {
  judges++;
  return (judging = judging.then(judged, judged).finally(() => judges--));
}

async function judged(): Promise<void> {
  if (now.plain.value || !("serviceWorker" in navigator) || !navigator.serviceWorker.controller) return;
  now.ready.value = (await everyFile()) && (await coreStarts()) && (await everyJob());
}

// The service worker knows which files its version has, and looks whether each is kept.
function everyFile(): Promise<boolean> {
  return new Promise((done) => {
    const way = new MessageChannel();
    way.port1.onmessage = (e: MessageEvent<boolean>) => done(e.data);
    setTimeout(() => done(false), 15_000);
    navigator.serviceWorker.controller!.postMessage("is everything kept?", [way.port2]);
  });
}

async function coreStarts(): Promise<boolean> {
  if (started) return true;
  const trial = kept ? core : new Core();
  const late = new Promise<boolean>((no) => setTimeout(no, 120_000, false));
  started = await Promise.race([trial.ask<string>("version", {}).then(() => true, () => false), late]);
  if (trial !== core) trial.stop();
  return started;
}

async function everyJob(): Promise<boolean> {
  if (!(await setting("fetched", false))) return false;
  const r = now.revision.value;
  for (const { sha256 } of r ? namedIn(r.content) : []) {
    if (!(await during(["attachments"], "readonly", (t) => t.get("attachments", sha256)))) return false;
  }
  return true;
}

/** takeOver ends the old version and starts the new one; only a person asks for it, and never in the middle of something. It
 * gives why not. */
export async function takeOver(): Promise<string> {
  if (!waiting) return "";
  const why = now.busy();
  if (why) return why;
  if (await others.busy()) return "another page of this browser is in the middle of something";
  waiting.postMessage("take over");
  return "";
}
