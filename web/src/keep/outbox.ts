// Revisions made here: kept first, sent when there is a server, and never lost between the two.
import { author } from "./author";
import { post, putBytes, Refused } from "../net/api";
import { during, type JobHead, type Revision } from "./db";
import { others } from "./pages";
import { ulid } from "./ulid";

/** device is this browser's own name; made once. */
export function device(): Promise<string> {
  return during(["settings"], "readwrite", async (t) => {
    const kept = await t.get("settings", "device");
    if (kept) return kept.value as string;
    const made = ulid();
    await t.put("settings", { key: "device", value: made });
    return made;
  });
}

/** keep keeps a changed job as a new revision on its parents, not yet sent. It gives the revision when it is on the disk. */
export async function keep(job: JobHead, parents: string[], content: string, note: string): Promise<Revision> {
  return put(job, { id: ulid(), job: job.id, parents, author: author(), device: await device(), note, made: Date.now(), content, unsent: 1 });
}

/** put keeps a revision as it is; one that is kept already stays as it was. */
export async function put(job: JobHead, made: Revision): Promise<Revision> {
  const kept = await during(["jobs", "revisions"], "readwrite", async (t) => {
    const before = await t.get("revisions", made.id);
    if (before) return before;
    const known = (await t.get("jobs", job.id)) ?? job;
    await t.put("revisions", made);
    const heads = [...known.heads.filter((h) => !made.parents.includes(h)), made.id];
    await t.put("jobs", { ...known, heads, saved: made.made, by: made.author });
    return made;
  });
  others.tell({ kept: [job.id] });
  return kept;
}

/** send sends what has not been sent, in the order in which it was made, and stops where there is no server. One page of this
 * browser sends at a time. What the server refuses stays, with its words, for a person to look at. It gives how many went up. */
export const send = (): Promise<number> => alone("sends", sendAll);

/** alone does something while no other page of this browser does the same; a page that is at it for too long is not waited for. */
export async function alone<T>(what: string, work: () => Promise<T>): Promise<T> {
  // a page at a plain address of the local net has no locks, and a page that ended in the middle may leave its own behind: then
  // two pages may send the same twice, and the server takes it once
  if (!navigator.locks) return work();
  const late = AbortSignal.timeout(turn);
  let mine = false;
  const working = (): Promise<T> => ((mine = true), work());
  try {
    return await (navigator.locks.request("trenchwright " + what, { signal: late }, working) as Promise<T>);
  } catch (fault) {
    if (mine || !late.aborted) throw fault;
    return work();
  }
}

const turn = 30_000; // ms that another page has to send what there is

async function sendAll(): Promise<number> {
  let sent = 0;
  for (const r of inOrder(await during(["revisions"], "readonly", (t) => t.unsent()))) {
    if (r.refused) continue;
    const { id, parents, author, device, note } = r;
    try {
      await attachments(r.content);
      await post(`/jobs/${encodeURIComponent(r.job)}/revisions`, { id, parents, author, device, note, content: JSON.parse(r.content) });
    } catch (fault) {
      if (!(fault instanceof Refused) || !final(fault.status)) throw fault;
      const words = [fault.message, ...fault.faults.map((f) => [f.path, f.text, f.try].filter(Boolean).join(": "))].join(" ");
      await during(["revisions"], "readwrite", (t) => t.put("revisions", { ...r, refused: words }));
      continue;
    }
    await during(["revisions", "settings"], "readwrite", async (t) => {
      await t.put("revisions", { ...r, unsent: 0 });
      await t.put("settings", { key: "sent", value: Date.now() });
    });
    sent++;
  }
  if (sent) others.tell({ sent: true });
  return sent;
}

// Whether the same would be refused again: a server that is busy, or one between that asks for patience, has not answered yet.
const final = (status: number): boolean => status < 500 && status !== 408 && status !== 429;

/** inOrder puts revisions so that none comes before one that it was made from. */
export function inOrder(all: Revision[]): Revision[] {
  const left = new Map([...all].sort((a, b) => a.made - b.made || (a.id < b.id ? -1 : 1)).map((r) => [r.id, r]));
  const out: Revision[] = [];
  const take = (r: Revision): void => {
    if (!left.delete(r.id)) return;
    for (const p of r.parents) {
      const parent = left.get(p);
      if (parent) take(parent);
    }
    out.push(r);
  };
  for (const r of [...left.values()]) take(r);
  return out;
}

// Files of a job that came from here go up before the revision that names them.
async function attachments(content: string): Promise<void> {
  for (const { sha256 } of namedIn(content)) {
    const a = await during(["attachments"], "readonly", (t) => t.get("attachments", sha256));
    if (!a?.unsent) continue;
    await putBytes(`/attachments/${sha256}`, a.bytes);
    await during(["attachments"], "readwrite", (t) => t.put("attachments", { sha256, bytes: a.bytes }));
  }
}

/** namedIn is which files a job names. */
export function namedIn(content: string): { name: string; sha256: string }[] {
  return (JSON.parse(content) as { attachments?: { name: string; sha256: string }[] }).attachments ?? [];
}

/** again lets what was refused go up once more: what stood against it may have been mended. */
export async function again(): Promise<void> {
  await during(["revisions"], "readwrite", async (t) => {
    for (const { refused, ...r } of await t.unsent()) if (refused) await t.put("revisions", r);
  });
}
