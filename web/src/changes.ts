// What changes the open job: every change goes to the core, is kept as a revision, and is then planned. What was changed elsewhere
// comes in here, too.
import { batch } from "@preact/signals";
import { about, core } from "./asking";
import { Lane } from "./core/lane";
import * as backward from "./keep/backward";
import { during, why, type Revision } from "./keep/db";
import { listed } from "./jobs";
import { join, settle } from "./keep/join";
import { keep } from "./keep/outbox";
import { counted, sync } from "./keep/sync";
import { Unreached } from "./net/api";
import { plan } from "./planning";
import type { Edit, Edited, Sketch, Snap } from "./screen";
import * as now from "./state";

const dragging = new Lane();

/** quiet takes away what was said of a change: it goes with the next one. */
export function quiet(): void {
  now.said.value = [];
  now.faults.value = [];
  now.fresh.value = undefined;
  now.changedAt.value = "";
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
    });
    return next;
  });
  if (made) await plan(made);
  return made !== undefined;
}

/** replaced gives the open job another content as a whole, from a file; or from another state of it; it can be undone like any change. */
export async function replaced(content: string, note: string): Promise<boolean> {
  const made = await inTurn(async () => {
    const r = now.revision.value;
    const next = r && (await becomes(r, content, note));
    if (next) quiet();
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
    await Promise.all([counted(), listed()]);
    void sync();
    return r;
  } catch (fault) {
    now.sketch.value = undefined;
    now.trouble.value = { text: why(fault) };
    return undefined;
  }
}

/** undo makes a new revision of what was before; nothing that was made is taken away. */
export const undo = (): Promise<void> => stepped("undo");
export const redo = (): Promise<void> => stepped("redo");

const did = { undo: "undone", redo: "done again" };

async function stepped(way: "undo" | "redo"): Promise<void> {
  const made = await inTurn(async () => {
    const r = now.revision.value;
    if (!r) return undefined;
    const w = await backward.wayOf(r);
    const step = w[way].at(-1);
    if (!step) {
      quiet();
      now.said.value = [backward.nothing(w, way)];
      return undefined;
    }
    const content = await backward.contentOf(step.revision).catch((fault) => void (now.trouble.value = { text: `This was not ${did[way]}: ${why(fault)}`, again: () => void stepped(way) }));
    const next = content && (await becomes(r, content, way));
    if (next) batch(() => {
      quiet();
      now.said.value = [`${did[way]}: ${step.note}`];
    });
    return next;
  });
  if (made) await plan(made);
}

/** goneBack gives the open job what it was in another state. */
export async function goneBack(revision: string, said: string): Promise<void> {
  try {
    await replaced(await backward.contentOf(revision), "back to " + said);
  } catch (fault) {
    now.trouble.value = { text: "The job was not put back: " + why(fault), again: () => void goneBack(revision, said) };
  }
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

// What was made elsewhere takes the place of what is open.
async function moveOn(next: Revision): Promise<void> {
  quiet();
  now.ends.value = undefined;
  now.revision.value = next;
  await plan(next);
}

/** joined makes one of two ends of the open job, once both are on the server. */
let joining = false;
export async function joined(): Promise<void> {
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
