// What a person can do, as the page does it: open a job, look at it in this or that way, select, change, take back.
import { batch, effect } from "@preact/signals";
import { joined, quiet } from "./changes";
import { wayOf } from "./keep/backward";
import { during, set } from "./keep/db";
import { plan } from "./planning";
import * as now from "./state";

export { about, alongOf, attachments, besideOf, core, planned, select } from "./asking";
export { changed, drag, edit, goneBack, redo, replaced, settled, undo, undrag } from "./changes";
export { listed } from "./jobs";
export { plan, stop } from "./planning";

/** NotKept says that this browser has no such job. */
export class NotKept extends Error {}

/** open opens a job at its newest revision. Where it has several ends, the one that was made last. */
export async function open(id: string): Promise<void> {
  const [job, revisions] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.get("jobs", id), await t.revisionsOf(id)] as const);
  if (!job) throw new NotKept(`no job ${id} is kept in this browser`);
  const ends = revisions.filter((r) => job.heads.includes(r.id)).sort((a, b) => (a.id < b.id ? 1 : -1));
  const r = ends[0];
  if (!r) throw new NotKept(`nothing of job ${id} is kept in this browser`);
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

// What undo and redo would do, beside their buttons.
effect(() => {
  const r = now.revision.value;
  void now.sent.value; // the server may have told of more
  if (!r) return void (now.way.value = undefined);
  void wayOf(r).then((w) => now.revision.peek() === r && (now.way.value = w), () => undefined);
});
