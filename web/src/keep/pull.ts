// What the server has and this browser has not: jobs, revisions that stand at their end, and attachments.
import { bytes, get } from "../net/api";
import * as histories from "./history";
import { namedIn } from "./outbox";
import { during, setting, set, type Issued, type JobHead } from "./db";

interface Changes {
  last: number;
  jobs: string[];
  records?: string[]; // jobs that have records which this browser may not have
}
interface Told {
  id: string;
  name: string;
  owner: string;
  heads: string[];
  issued: Issued[];
  revisions: { id: string; parents: string[]; author: string; device: string; note: string; at: string }[];
}

/** wanted is the name of the setting with the jobs that records are still to be fetched of. */
export const wanted = "records wanted";

/** pull fetches what changed on the server since the last time, whole jobs at once; it gives the ids of the jobs that changed. */
export async function pull(): Promise<string[]> {
  const after = await setting("sequence", 0);
  const changes = await get<Changes>(`/changes?after=${after}`);
  for (const id of changes.jobs) await job(id, changes.last);
  if (changes.last !== after) {
    await during(["settings"], "readwrite", async (t) => {
      const before = ((await t.get("settings", wanted))?.value ?? []) as string[];
      await t.put("settings", { key: wanted, value: [...new Set([...before, ...(changes.records ?? [])])] });
      await t.put("settings", { key: "sequence", value: changes.last });
    });
  }
  await set("fetched", true); // all that the server had, once
  return changes.jobs;
}

/** one fetches one job that is asked for before everything else was fetched. */
export async function one(id: string): Promise<void> {
  await job(id, await setting("sequence", 0));
}

async function job(id: string, seen: number): Promise<void> {
  const told = await get<Told>(`/jobs/${encodeURIComponent(id)}`);
  const have = new Map((await during(["revisions"], "readonly", (t) => t.revisionsOf(id))).map((r) => [r.id, r]));
  await histories.told(id, told.revisions);
  for (const r of told.revisions) {
    if (have.has(r.id) || !told.heads.includes(r.id)) continue;
    const content = new TextDecoder().decode(await bytes(`/revisions/${r.id}`));
    await attachments(content);
    await during(["revisions"], "readwrite", (t) =>
      t.put("revisions", { ...r, job: id, made: Date.parse(r.at) || 0, content, unsent: 0 }));
  }
  await during(["jobs", "revisions"], "readwrite", async (t) => {
    const known = new Set(told.revisions.map((r) => r.id));
    const mine = (await t.revisionsOf(id)).filter((r) => r.unsent === 1 || !known.has(r.id)); // some may have gone up meanwhile
    const covered = new Set(mine.flatMap((r) => r.parents));
    const heads = [...told.heads, ...mine.map((r) => r.id)].filter((h) => !covered.has(h));
    const last = told.revisions.at(-1);
    const before = await t.get("jobs", id); // what this browser knows of it besides stays
    const head: JobHead = {
      ...before, id, name: told.name, owner: told.owner, heads: [...new Set(heads)], issued: told.issued ?? [], seen,
      saved: Date.parse(last?.at ?? "") || 0, by: last?.author ?? "",
    };
    await t.put("jobs", head);
  });
}

/** attachments fetches those files of a job that this browser has not. */
async function attachments(content: string): Promise<void> {
  for (const { sha256 } of namedIn(content)) {
    if (await during(["attachments"], "readonly", (t) => t.get("attachments", sha256))) continue;
    const b = await bytes(`/attachments/${sha256}`);
    await during(["attachments"], "readwrite", (t) => t.put("attachments", { sha256, bytes: b }));
  }
}
