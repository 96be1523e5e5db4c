// What a person can do, as the page does it: every change goes to the core, is kept as a revision, and is then planned.
import { batch } from "@preact/signals";
import { Core } from "./core/client";
import { Lane } from "./core/lane";
import { during, set, type JobHead, type Revision } from "./keep/db";
import { keep } from "./keep/outbox";
import { sync } from "./keep/sync";
import type { Card, Edit, Edited, Screen, Sketch, Snap } from "./screen";
import * as now from "./state";

export const core = new Core();
const dragging = new Lane();
let undone: string[] = []; // contents that redo goes to, the next one last
let before: string[] = []; // contents that undo goes to, the last one last

/** open opens a job at its newest revision. Where it has several ends, the one that was made last. */
export async function open(id: string): Promise<void> {
  const [job, revisions] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.get("jobs", id), await t.revisionsOf(id)] as const);
  if (!job) throw new Error(`no job ${id} is kept in this browser`);
  const ends = revisions.filter((r) => job.heads.includes(r.id)).sort((a, b) => (a.id < b.id ? 1 : -1));
  const r = ends[0];
  if (!r) throw new Error(`nothing of job ${id} is kept in this browser`);
  before = [];
  undone = [];
  batch(() => {
    now.job.value = job;
    now.revision.value = r;
    now.selected.value = "";
    now.card.value = undefined;
    now.here.value = 0;
    now.screen.value = undefined;
  });
  await plan(r);
  now.showAll();
}

async function attachments(content: string): Promise<Record<string, Uint8Array>> {
  const named = (JSON.parse(content) as { attachments?: { name: string; sha256: string }[] }).attachments ?? [];
  const out: Record<string, Uint8Array> = {};
  for (const a of named) {
    const kept = await during(["attachments"], "readonly", (t) => t.get("attachments", a.sha256));
    if (kept) out[a.name] = kept.bytes;
  }
  return out;
}

/** plan plans a revision whole, and shows it. */
export async function plan(r: Revision): Promise<void> {
  now.doing.value = "planning";
  try {
    const s = await core.ask<Screen>("open", { job: r.content, ...now.view.value }, await attachments(r.content));
    batch(() => {
      now.screen.value = s;
      now.sketch.value = undefined;
    });
    if (now.selected.value) await select(now.selected.value, now.here.value);
  } finally {
    now.doing.value = "";
  }
}

/** about asks about the open job. Where the core was started anew meanwhile, the job is opened there once more. */
export async function about<T>(name: string, args: Record<string, unknown>): Promise<T> {
  const full = { hash: now.screen.value?.hash, ...now.view.value, ...args };
  try {
    return await core.ask<T>(name, full);
  } catch (fault) {
    const r = now.revision.value;
    if (!r || !String(fault).includes("is not open")) throw fault;
    await core.ask<Screen>("open", { job: r.content, ...now.view.value }, await attachments(r.content));
    return core.ask<T>(name, full);
  }
}

/** select selects one thing everywhere; where it lies on the strip, the peg goes there. */
export async function select(key: string, at?: number): Promise<void> {
  const r = now.revision.value;
  now.selected.value = key;
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
      if (at === undefined && c.strip[1] > c.strip[0]) now.here.value = c.strip[0];
    });
  } catch {
    if (now.selected.value === key) now.card.value = undefined; // it is gone with the last change
  }
}

/** edit changes the open job: all of the edits or none. What is wrong with them is shown, and nothing is lost. */
export async function edit(edits: Edit[], note: string): Promise<boolean> {
  const r = now.revision.value;
  if (!r) return false;
  const e = await about<Edited>("edit", { edits });
  batch(() => {
    now.said.value = e.said ?? [];
    now.made.value = e.keys ?? [];
    now.faults.value = (e.faults ?? []).map((f) => ({ text: f.text, try: f.try }));
  });
  if (!e.job) {
    now.sketch.value = undefined;
    return false;
  }
  before.push(r.content);
  undone = [];
  await becomes(e.job, note);
  return true;
}

async function becomes(content: string, note: string): Promise<void> {
  const job = now.job.value!;
  const r = await keep(job, [now.revision.value!.id], content, note);
  now.revision.value = r;
  now.unsent.value++;
  void sync();
  await plan(r);
}

export const canUndo = (): boolean => before.length > 0;
export const canRedo = (): boolean => undone.length > 0;

/** undo makes a new revision of what was before; nothing that was made is taken away. */
export async function undo(): Promise<void> {
  const content = before.pop();
  if (!content) return;
  undone.push(now.revision.value!.content);
  await becomes(content, "undo");
}

export async function redo(): Promise<void> {
  const content = undone.pop();
  if (!content) return;
  before.push(now.revision.value!.content);
  await becomes(content, "redo");
}

/** drag shows what an edit would do, without keeping it: only the legs that it touches are laid anew. Where the place is drawn to
 * something near, it says so to whoever asked. */
export function drag(edits: Edit[], snap?: Snap, came?: (k: Sketch) => void): void {
  const r = now.revision.value;
  if (!r) return;
  dragging.run(async () => {
    const k = await about<Sketch>("sketch", { edits, ...(snap && { snap }) }).catch(() => undefined);
    if (!k || now.revision.value !== r) return;
    came?.(k);
    now.faults.value = k.faults.map((f) => ({ text: f.text, try: f.try }));
    if (k.faults.length === 0) now.sketch.value = k;
  });
}

/** stop ends a long planning; what is shown stays as it was. */
export function stop(): void {
  core.stop("stopped by hand");
}

/** jobs reads which jobs this browser keeps. */
export async function listed(): Promise<JobHead[]> {
  const all = await during(["jobs"], "readonly", (t) => t.all("jobs"));
  all.sort((a, b) => a.name.localeCompare(b.name));
  return (now.jobs.value = all);
}

/** changed looks whether the open job has a new end from elsewhere. Work in hand is never thrown over: where this page stands on
 * an older revision and has nothing of its own, it goes on to the new one; otherwise both ends stay, and the page says so. */
export async function changed(ids: string[]): Promise<void> {
  const open = now.job.value;
  const r = now.revision.value;
  if (!open || !r || !ids.includes(open.id)) return;
  const [job, revisions] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.get("jobs", open.id), await t.revisionsOf(open.id)] as const);
  if (!job) return;
  now.job.value = job;
  if (job.heads.includes(r.id)) return;
  const next = revisions.find((x) => job.heads.includes(x.id) && (x.parents.includes(r.id) || job.heads.length === 1));
  if (!next) return;
  now.revision.value = next;
  await plan(next);
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
