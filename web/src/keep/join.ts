// Two ends of one job joined again. Where both changed different things, every browser joins them to the same revision with the
// same name, so that it is one; where both changed the same thing, a person says which holds.
import { get } from "../net/api";
import { during, type JobHead, type Revision } from "./db";
import { keep, put } from "./outbox";

export interface Clash {
  path: string;
  was?: string;
  one?: string;
  other?: string;
  text: string;
}

/** Ends are two ends of a job and what both changed to different things. */
export interface Ends {
  job: string;
  one: Revision; // the one whose values stand unless a person says otherwise
  other: Revision;
  clashes: Clash[];
}

interface Merged {
  content: unknown;
  clashes: Clash[] | null;
}

function asked(one: Revision, other: Revision, take: string[] = []): Promise<Merged> {
  const q = new URLSearchParams({ one: one.id, other: other.id });
  if (take.length) q.set("take", take.join(","));
  return get<Merged>("/merge?" + q);
}

/** join joins the two oldest ends of a job where nothing clashes, and gives what it was joined to; or the clashes; or undefined,
 * where there is nothing to join yet: a single end, or one that has to go up first. */
export async function join(id: string): Promise<{ joined: Revision; of: Revision[] } | Ends | undefined> {
  const [job, all] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.get("jobs", id), await t.revisionsOf(id)] as const);
  const ends = all.filter((r) => job?.heads.includes(r.id)).sort((a, b) => (a.id < b.id ? -1 : 1));
  const [one, other] = ends;
  if (!job || !one || !other || one.unsent || other.unsent) return undefined;
  const m = await asked(one, other);
  if (m.clashes?.length) return { job: id, one, other, clashes: m.clashes };
  const joined: Revision = {
    id: both(one.id, other.id), job: id, parents: [one.id, other.id], author: "", device: "", note: "joined", made: Math.max(one.made, other.made) + 1,
    content: JSON.stringify(m.content), unsent: 1,
  };
  return { joined: await put(job, joined), of: [one, other] };
}

/** settle joins two ends as a person said: take are the paths whose value the other end gives. */
export async function settle(e: Ends, job: JobHead, take: string[]): Promise<Revision> {
  const m = await asked(e.one, e.other, take);
  const words = e.clashes.map((c) => `${c.path}: ${(take.includes(c.path) ? c.other : c.one) || "taken away"}`);
  return keep(job, [e.one.id, e.other.id], JSON.stringify(m.content), ("settled: " + words.join("; ")).slice(0, 1000));
}

// both is the name of what two revisions were joined to: it follows from theirs, so that whoever joins them makes the same one.
function both(one: string, other: string): string {
  const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
  const at = (s: string, i: number): number => {
    const n = letters.indexOf(s.charAt(i % s.length).toUpperCase());
    return n < 0 ? s.charCodeAt(i % s.length) % 32 : n;
  };
  let out = other.length === 26 ? other.slice(0, 10) : "0000000000";
  for (let i = 10; i < 26; i++) out += letters.charAt((at(one, i) + 7 * at(other, i) + 1) % 32);
  return out;
}
