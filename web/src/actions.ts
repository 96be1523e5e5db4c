// What a person can do, as the page does it: every change goes to the core, is kept as a revision, and is then planned.
import { batch, signal, type Signal } from "@preact/signals";
import { Core } from "./core/client";
import { Lane } from "./core/lane";
import type { Planned } from "./core/pack";
import { during, set, why, type JobHead, type Revision } from "./keep/db";
import { stateOf } from "./keep/history";
import { join, settle } from "./keep/join";
import { keep, namedIn } from "./keep/outbox";
import * as screens from "./keep/screens";
import { counted, sync } from "./keep/sync";
import { Unreached } from "./net/api";
import { keptKey, stands, stood } from "./peg";
import type { Along, Card, Edit, Edited, Finding, Fresh, Here, Screen, Sketch, Snap } from "./screen";
import * as now from "./state";

export const core = new Core();
const dragging = new Lane();
interface Step {
  content: string; // that it goes back to
  note: string; // of the change that it takes back, or makes again
}
const undone = signal<Step[]>([]); // that redo goes to, the next one last
const before = signal<Step[]>([]); // that undo goes to, the last one last

/** NotKept says that this browser has no such job. */
export class NotKept extends Error {}

/** open opens a job at its newest revision. Where it has several ends, the one that was made last. */
export async function open(id: string): Promise<void> {
  const [job, revisions] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.get("jobs", id), await t.revisionsOf(id)] as const);
  if (!job) throw new NotKept(`no job ${id} is kept in this browser`);
  const ends = revisions.filter((r) => job.heads.includes(r.id)).sort((a, b) => (a.id < b.id ? 1 : -1));
  const r = ends[0];
  if (!r) throw new NotKept(`nothing of job ${id} is kept in this browser`);
  before.value = [];
  undone.value = [];
  batch(() => {
    now.job.value = job;
    now.revision.value = r;
    now.selected.value = "";
    now.card.value = undefined;
    now.here.value = 0;
    now.screen.value = undefined;
    now.sketch.value = undefined;
    now.trouble.value = undefined;
    now.ends.value = undefined;
    now.news.value = "";
    quiet();
  });
  await plan(r);
  void joined();
}

// What was said of a change goes with the next one.
function quiet(): void {
  now.said.value = [];
  now.faults.value = [];
  now.fresh.value = undefined;
  now.changedAt.value = "";
}

/** attachments are the files of a job that this browser has. */
export async function attachments(content: string): Promise<Record<string, Uint8Array>> {
  const out: Record<string, Uint8Array> = {};
  for (const a of namedIn(content)) {
    const kept = await during(["attachments"], "readonly", (t) => t.get("attachments", a.sha256));
    if (kept) out[a.name] = kept.bytes;
  }
  return out;
}

// What every question about the open job waits for: the core gets it in the background where its screen was there without.
let opening: Promise<unknown> = Promise.resolve();

async function opened(r: Revision): Promise<Uint8Array> {
  const files = await attachments(r.content);
  return core.bytes("open", JSON.stringify({ job: r.content, ...now.view.value }), files);
}

// What all screens need that come to be shown.
function put(r: Revision, s: Screen): void {
  now.screen.value = s;
  now.planned.value = r.id;
  now.sketch.value = undefined;
  now.trouble.value = undefined;
  void remembered(r.job, s.job.said);
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

/** alongOf is what the open stage shows along the run; undefined: a run that is only outlined has nothing to show. */
export async function alongOf(s: Screen): Promise<Along | undefined> {
  return s.tables.length > 0 ? about<Along>("along", { name: now.stage.value, hash: s.hash }) : undefined;
}

/** besideOf is what counts for the open stage at a place of the strip. */
export async function besideOf(s: Screen, here: number): Promise<Here | undefined> {
  const l = s.legs.find((l) => here >= l.from - 0.5 && here <= l.to + 0.5);
  if (!l || s.tables.length === 0) return undefined;
  const at_mm = Math.min(l.to - l.from, Math.max(0, here - l.from));
  return about<Here>("here", { name: now.stage.value, leg: l.id, at_mm, height: now.height.value, hash: s.hash });
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
    .then(() => (now.revision.value === r ? opened(r) : undefined))
    .catch((fault) => {
      if (stopped !== mine || now.revision.value !== r) return;
      now.trouble.value = { text: "Cards and tables are not told: stopped by hand.", again: () => takenUpAgain(r) };
      throw fault;
    })
    .finally(end);
  taken.catch(() => undefined);
  opening = taken;
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
    opening = Promise.resolve();
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

// The list of jobs says of each what was seen of it last.
async function remembered(id: string, said: string): Promise<void> {
  await during(["jobs"], "readwrite", async (t) => {
    const j = await t.get("jobs", id);
    if (j && (j.said !== said || j.stage !== now.stage.value)) await t.put("jobs", { ...j, said, stage: now.stage.value });
  });
}

/** about asks about the open job. Where the core was started anew meanwhile, the job is opened there once more. */
export async function about<T>(name: string, args: Record<string, unknown>, files?: Record<string, Uint8Array>): Promise<T> {
  return JSON.parse(new TextDecoder().decode(await answered(name, args, files))) as T;
}

async function answered(name: string, args: Record<string, unknown>, files?: Record<string, Uint8Array>): Promise<Uint8Array> {
  const full = JSON.stringify({ hash: now.screen.value?.hash, ...now.view.value, ...args });
  await opening;
  try {
    return await core.bytes(name, full, files);
  } catch (fault) {
    const r = now.revision.value;
    if (!r || !String(fault).includes("is not open")) throw fault;
    await opened(r);
    return core.bytes(name, full, files);
  }
}

/** planned is what papers of the open revision are made of. */
export function planned(): Planned {
  const r = now.revision.value!;
  return { job: r.content, state: () => stateOf(r), plan: () => answered("plan", {}), attachments: () => attachments(r.content) };
}

/** select selects one thing everywhere; where it lies on the strip, the peg goes there. */
export async function select(key: string, at?: number): Promise<void> {
  const r = now.revision.value;
  now.selected.value = key;
  now.sought.value = key;
  if (at !== undefined) now.here.value = at;
  if (!key || !r) {
    now.card.value = undefined;
    return;
  }
  try {
    const c = await about<Card>("card", { id: key });
    if (now.selected.value !== key) return;
    batch(() => {
      now.card.value = c;
      if (at === undefined && c.strip[1] > 0) now.here.value = standsAt(c);
    });
  } catch {
    if (now.selected.value === key) now.card.value = undefined; // it is gone with the last change
  } finally {
    if (now.sought.value === key) now.sought.value = "";
  }
}

// Where the peg goes for a card: to the middle of a thing, to the beginning of what is laid, into a leg rather than to the node
// that it shares with the one before.
function standsAt(c: Card): number {
  if (c.kind === "leg") return c.strip[0] + 1;
  return c.kind === "unit" || c.kind === "cover" ? c.strip[0] : (c.strip[0] + c.strip[1]) / 2;
}

/** edit changes the open job: all of the edits or none. What is wrong with them is shown, and nothing is lost. at names the part of
 * the page where the change was made: what came of it is told there, too. */
export async function edit(edits: Edit[], note: string, at = ""): Promise<boolean> {
  const made = await inTurn(async () => {
    const r = now.revision.value;
    if (!r) return undefined;
    let e: Edited;
    try {
      e = await core.ask<Edited>("edit", { job: r.content, edits, ...now.view.value });
    } catch (fault) {
      now.sketch.value = undefined;
      now.trouble.value = { text: "This was not done: " + why(fault), again: () => void edit(edits, note, at) };
      return undefined;
    }
    const next = e.job ? await becomes(r, e.job, note) : undefined;
    batch(() => {
      quiet();
      now.changedAt.value = at;
      now.said.value = (e.said ?? []).map((t) => "understood: " + t);
      now.made.value = e.keys ?? [];
      now.faults.value = (e.faults ?? []).map((f) => ({ text: f.text, try: f.try }));
      if (!e.job) now.sketch.value = undefined;
      if (!next) return;
      before.value = [...before.value, { content: r.content, note }];
      undone.value = [];
    });
    return next;
  });
  if (made) await plan(made);
  return made !== undefined;
}

/** replaced gives the open job another content as a whole, from a file; it can be undone like any change. */
export async function replaced(content: string, note: string): Promise<boolean> {
  const made = await inTurn(async () => {
    const r = now.revision.value;
    const next = r && (await becomes(r, content, note));
    if (r && next) {
      quiet();
      before.value = [...before.value, { content: r.content, note }];
      undone.value = [];
    }
    return next;
  });
  if (made) await plan(made);
  return made !== undefined;
}

// One change at a time: each stands on the one before.
let turn: Promise<unknown> = Promise.resolve();
function inTurn<T>(f: () => Promise<T>): Promise<T> {
  const mine = turn.then(f);
  turn = mine.catch(() => undefined);
  return mine;
}

// A job gets another content, kept before anything is said of it. It stands on the revision that it was made from: where the page
// went on meanwhile to what somebody else made, there are two ends, and they are joined.
async function becomes(from: Revision, content: string, note: string): Promise<Revision | undefined> {
  try {
    const job = (await during(["jobs"], "readonly", (t) => t.get("jobs", from.job))) ?? now.job.value!;
    const r = await keep(job, [from.id], content, note);
    if (now.job.value?.id === from.job) batch(() => {
      now.revision.value = r;
      now.ends.value = undefined; // they are looked for anew from here
      now.trouble.value = undefined;
    });
    await counted();
    void sync();
    return r;
  } catch (fault) {
    now.sketch.value = undefined;
    now.trouble.value = { text: why(fault) };
    return undefined;
  }
}

export const canUndo = (): boolean => before.value.length > 0;
export const canRedo = (): boolean => undone.value.length > 0;

/** undo makes a new revision of what was before; nothing that was made is taken away. */
export const undo = (): Promise<void> => stepped(before, undone, "undo", "undone");
export const redo = (): Promise<void> => stepped(undone, before, "redo", "done again");

async function stepped(from: Signal<Step[]>, to: Signal<Step[]>, note: string, did: string): Promise<void> {
  const made = await inTurn(async () => {
    const r = now.revision.value;
    const step = from.value.at(-1);
    if (step === undefined || !r) return undefined;
    const next = await becomes(r, step.content, note);
    if (next) batch(() => {
      quiet();
      now.said.value = [`${did}: ${step.note}`];
      from.value = from.value.slice(0, -1);
      to.value = [...to.value, { content: r.content, note: step.note }];
    });
    return next;
  });
  if (made) await plan(made);
}

/** drag shows what an edit would do, without keeping it: only the legs that it touches are laid anew. Where the place is drawn to
 * something near, it says so to whoever asked; undefined: nothing came of it. */
export function drag(edits: Edit[], snap?: Snap, came?: (k: Sketch | undefined) => void): void {
  const r = now.revision.value;
  if (!r) return;
  dragging.run(async () => {
    const k = await about<Sketch>("sketch", { edits, ...(snap && { snap }) }).catch(() => undefined);
    came?.(now.revision.value === r ? k : undefined);
    if (!k || now.revision.value !== r) return;
    if (k.faults.length + now.faults.value.length) now.faults.value = k.faults.map((f) => ({ text: f.text, try: f.try }));
    if (k.faults.length === 0) now.sketch.value = k;
  });
}

/** undrag puts back what was dragged, also where an answer is still on its way. */
export function undrag(): void {
  now.sketch.value = undefined;
  dragging.run(async () => void (now.sketch.value = undefined));
}

/** stop ends a long planning; what is shown stays as it was. */
export function stop(): void {
  stopped = planning;
  core.stop(byHand);
}

/** jobs reads which jobs this browser keeps. */
export async function listed(): Promise<JobHead[]> {
  const all = await during(["jobs"], "readonly", (t) => t.all("jobs"));
  all.sort((a, b) => a.name.localeCompare(b.name));
  return (now.jobs.value = all);
}

/** changed looks whether the open job has a new end from elsewhere. Work in hand is never thrown over: where this page stands on
 * an older revision and has nothing of its own, it goes on to the new one; otherwise both ends are joined. */
export async function changed(ids: string[]): Promise<void> {
  const open = now.job.value;
  const r = now.revision.value;
  if (!open || !r || !ids.includes(open.id)) return;
  const [job, revisions] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.get("jobs", open.id), await t.revisionsOf(open.id)] as const);
  if (!job || now.revision.value !== r) return;
  now.job.value = job;
  if (!job.heads.includes(r.id)) {
    const next = revisions.find((x) => job.heads.includes(x.id) && (x.parents.includes(r.id) || job.heads.length === 1));
    if (next) await moveOn(next);
  }
  await joined();
}

// What was made elsewhere takes the place of what is open. Undo goes back over what was done here alone, so it starts anew.
async function moveOn(next: Revision): Promise<void> {
  before.value = [];
  undone.value = [];
  quiet();
  now.ends.value = undefined;
  now.revision.value = next;
  await plan(next);
}

// Two ends of the open job become one again, once both are on the server.
let joining = false;
async function joined(): Promise<void> {
  const job = now.job.value;
  if (!job || job.heads.length < 2 || !now.reached.value || joining) return;
  joining = true;
  try {
    const j = await join(job.id);
    if (!j || now.job.value?.id !== job.id) return;
    if ("clashes" in j) {
      now.ends.value = j;
      return;
    }
    const theirs = j.of.filter((x) => x.id !== now.revision.value?.id).map((x) => `${x.author || "somebody else"}: ${x.note || "a change"}`);
    now.news.value = "What two people changed at once is joined. Also in it now, by " + theirs.join("; by ") + ".";
    await moveOn(j.joined);
    now.job.value = await during(["jobs"], "readonly", (t) => t.get("jobs", job.id));
    void sync();
  } catch (fault) {
    if (!(fault instanceof Unreached)) now.trouble.value = { text: "Two ends of this job were not joined: " + why(fault), again: () => void joined() };
  } finally {
    joining = false;
  }
}

/** settled joins the two ends as a person said; take are the paths where the other end's value holds. */
export async function settled(take: string[]): Promise<void> {
  const e = now.ends.value;
  const job = now.job.value;
  if (!e || !job) return;
  try {
    const r = await settle(e, job, take);
    now.ends.value = undefined;
    now.job.value = await during(["jobs"], "readonly", (t) => t.get("jobs", job.id));
    await moveOn(r);
    await counted();
    void sync();
  } catch (fault) {
    now.trouble.value = { text: "The two were not joined: " + why(fault), again: () => void settled(take) };
  }
}

/** look switches how texts are shown; no number of record changes. */
export async function look(view: { system: string; words: string }): Promise<void> {
  now.view.value = view;
  await set("view", view);
  if (now.revision.value) await plan(now.revision.value);
}

export async function inSun(on: boolean): Promise<void> {
  now.sun.value = on;
  await set("sun", on);
}
