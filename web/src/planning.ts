// How a revision comes on the screen: planned whole by the core, or as it was drawn before; and what is said meanwhile.
import { batch } from "@preact/signals";
import { about, after, alongOf, attachments, besideOf, core, opened, select } from "./asking";
import { why, type Revision } from "./keep/db";
import * as screens from "./keep/screens";
import { seen } from "./jobs";
import { keptKey, stands, stood } from "./peg";
import type { Card, Finding, Fresh, Screen } from "./screen";
import * as now from "./state";

// What all screens need that come to be shown.
function put(r: Revision, s: Screen): void {
  now.screen.value = s;
  now.planned.value = r.id;
  now.sketch.value = undefined;
  now.trouble.value = undefined;
  void seen(r, s.job.said);
}

// The first screen of a job is shown at once; what is asked about it comes after.
function shown(r: Revision, s: Screen): void {
  batch(() => {
    put(r, s);
    now.showAll();
    if (!now.here.value) now.here.value = s.units.from[0] ?? 0; // before the first one nothing stands and nothing is dug
  });
}

// A new plan takes the place of the one before as a whole: with the card of what is selected, the peg at it and what counts there,
// so that nothing on the page is of two plans.
async function inPlace(r: Revision, s: Screen): Promise<void> {
  const old = now.screen.value!;
  for (;;) {
    const [selected, at, stage] = [now.selected.value, now.here.value, now.stage.value];
    const key = keptKey(old, s, selected);
    const here = stands(s, stood(old, selected, at));
    const card = key ? await about<Card>("card", { id: key, hash: s.hash }).catch(() => undefined) : undefined; // it may be gone with the change
    const [along, beside] = await Promise.all([alongOf(s).catch(() => undefined), besideOf(s, here).catch(() => undefined)]);
    const fresh = now.planned.value === r.id ? now.fresh.value : await about<Fresh>("fresh", { before: foundBefore(old), hash: s.hash }).catch(() => undefined);
    if (now.revision.value !== r) return; // a newer one is being planned
    if (selected !== now.selected.value || at !== now.here.value || stage !== now.stage.value) continue; // somebody went on meanwhile
    batch(() => {
      put(r, s);
      now.selected.value = key;
      now.here.value = here;
      now.card.value = card;
      now.along.value = along;
      now.beside.value = beside;
      Object.assign(now.told, { along: s, beside: s, here });
      now.fresh.value = fresh;
    });
    return;
  }
}

// What was found before a change: by the last plan that laid the run out, for one that cannot finds nothing else.
let laidOut: { job: string; found: Finding[] } | undefined;
function foundBefore(old: Screen): Finding[] {
  const broken = old.findings.some((f) => f.kind === "fault" || f.kind === "impossible");
  if (!broken || laidOut?.job !== old.job.id) laidOut = { job: old.job.id, found: old.findings };
  return laidOut.found;
}

// A job that comes on the screen may have been drawn before, here or by the server: then it is there at once, and the core gets
// it after the picture.
async function shownBefore(r: Revision): Promise<boolean> {
  const s = await screens.drawn(r, now.view.value);
  if (!s || now.revision.value !== r) return false;
  shown(r, s);
  takeUp(r);
  return true;
}

// The core takes up what is shown already. Where that is stopped by hand, questions are not answered until somebody tries again;
// where it fails otherwise, whoever asks the core something opens the job then.
function takeUp(r: Revision): void {
  const [end, at, mine] = ticking(true);
  at("working the run out again, so that questions can be answered");
  const taken = new Promise((later) => setTimeout(later, 30))
    .then(() => attachments(r.content))
    .then((files) => (now.revision.value === r ? opened(r, files) : undefined))
    .catch((fault) => {
      if (stopped !== mine || now.revision.value !== r) return;
      now.trouble.value = { text: "Cards and tables are not told: stopped by hand.", again: () => takenUpAgain(r) };
      throw fault;
    })
    .finally(end);
  taken.catch(() => undefined);
  after(taken);
}

/** plan plans a revision whole, and shows it. Where that is stopped or fails, what was shown stays, and the page says so. */
export async function plan(r: Revision): Promise<void> {
  const first = now.screen.value === undefined;
  if (first && (await shownBefore(r))) return;
  const [stop, at] = ticking();
  try {
    const mine = planning;
    const files = await attachments(r.content);
    if (first && stopped !== mine) await outlined(r, files, at);
    if (stopped === mine) throw new Error(byHand); // before the core was asked at all
    const view = now.view.value;
    const b = await core.bytes("open", JSON.stringify({ job: r.content, ...view }), files);
    if (now.revision.value !== r) return; // a newer one is being planned
    const s = JSON.parse(new TextDecoder().decode(b)) as Screen;
    after(Promise.resolve());
    screens.keep(r, view, b);
    if (!first) return await inPlace(r, s);
    shown(r, s);
    if (now.selected.value) await select(now.selected.value, now.here.value);
  } catch (fault) {
    if (now.revision.value !== r) return;
    const shown = !first && now.screen.value ? " What is shown is the plan before the change; the change itself is kept." : "";
    now.sketch.value = undefined;
    if (first) now.screen.value = undefined; // an outline is no plan
    now.trouble.value = { text: `This job was not planned: ${why(fault)}.${shown}`, again: () => void plan(r) };
  } finally {
    stop();
  }
}

// The legs as they are laid out come first, in a small part of the time: something to look at while the plan is made.
async function outlined(r: Revision, files: Record<string, Uint8Array>, at: (what: string) => void): Promise<void> {
  const s = await core.ask<Screen>("outline", { job: r.content, ...now.view.value }, files).catch(() => undefined); // the plan says why not
  if (!s || now.revision.value !== r || now.screen.value) return;
  at(`planning levels, cutting and dig of ${s.job.said}`);
  batch(() => {
    now.screen.value = s;
    now.showAll();
  });
}

function takenUpAgain(r: Revision): void {
  if (now.revision.value !== r || !now.screen.value) return;
  takeUp(r);
  batch(() => {
    now.trouble.value = undefined;
    now.screen.value = { ...now.screen.value! }; // whatever follows from it asks anew
  });
  if (now.selected.value) void select(now.selected.value);
}

// What the core is at, with how long it has been at it once that is longer than a moment, and how long it took the last time.
// Quietly: nothing is said before that.
let planning = 0;
let stopped = 0; // the one that somebody stopped last
const byHand = "stopped by hand";
const took = new Map<string, number>(); // seconds, by job
function ticking(quietly = false): [end: () => void, at: (what: string) => void, mine: number] {
  const mine = ++planning;
  const began = Date.now();
  const of = now.revision.value?.job ?? "";
  const last = took.get(of) ?? 0;
  let what = "planning";
  const say = (text: string): void => {
    if (planning === mine) now.doing.value = text;
  };
  if (!quietly) say(what);
  const clock = setInterval(() => say(`${what}, ${seconds()} s${last > 1 ? ` of about ${last}` : ""}`), 1000);
  const seconds = (): number => Math.round((Date.now() - began) / 1000);
  const end = (): void => {
    clearInterval(clock);
    if (stopped !== mine && planning === mine) took.set(of, seconds());
    say("");
  };
  return [end, (next) => ((what = next), quietly || say(what)), mine];
}

/** stop ends a long planning; what is shown stays as it was. */
export function stop(): void {
  stopped = planning;
  core.stop(byHand);
}
