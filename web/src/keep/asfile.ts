// The way out when sending never works: what has not gone up as one file, and such a file taken in again, here or elsewhere.
import { base64, fromBase64 } from "./base64";
import { during, type Attachment, type JobHead, type Revision } from "./db";
import { inOrder, namedIn, put } from "./outbox";

const format = "trenchwright-unsent/1";

interface Packed {
  format: string;
  jobs: JobHead[];
  revisions: Omit<Revision, "unsent" | "refused">[];
  files: { sha256: string; base64: string }[];
}

/** unsentFile is everything that has not gone up, refused or not, with the files that came from here; as text. Its name says
 * of which job it is, or of how many, and how many changes it holds. */
export async function unsentFile(): Promise<{ name: string; text: string }> {
  const [unsent, jobs] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.unsent(), await t.all("jobs")] as const);
  const revisions = inOrder(unsent).map(({ unsent: _, refused: __, ...r }) => r);
  const named = new Set(revisions.flatMap((r) => namedIn(r.content).map((a) => a.sha256)));
  const files: Packed["files"] = [];
  for (const sha256 of named) {
    const a = await during(["attachments"], "readonly", (t) => t.get("attachments", sha256));
    if (a?.unsent) files.push({ sha256, base64: base64(a.bytes) });
  }
  const packed: Packed = { format, jobs: jobs.filter((j) => revisions.some((r) => r.job === j.id)), revisions, files };
  const of = new Set(revisions.map((r) => r.job));
  const job = of.size === 1 ? [...of][0]!.replace(/[^A-Za-z0-9.]+/g, "-") : `${of.size}-jobs`;
  return { name: `${job}_${revisions.length}-unsent_${new Date().toISOString().slice(0, 10)}.json`, text: JSON.stringify(packed) };
}

/** isUnsentFile tells whether a text is such a file. */
export const isUnsentFile = (text: string): boolean => text.slice(0, 60).includes(format);

/** takeIn takes in such a file: what is kept here already stays as it is. It gives the jobs and how many revisions were new. */
export async function takeIn(text: string): Promise<{ jobs: string[]; fresh: number }> {
  const p = JSON.parse(text) as Packed;
  if (p.format !== format || !Array.isArray(p.revisions)) throw new Error("This is not a file of unsent changes.");
  for (const f of p.files ?? []) {
    const a: Attachment = { sha256: f.sha256, bytes: fromBase64(f.base64), unsent: true };
    await during(["attachments"], "readwrite", async (t) => (await t.get("attachments", a.sha256)) ?? t.put("attachments", a));
  }
  let fresh = 0;
  for (const r of p.revisions) {
    if (typeof r.id !== "string" || typeof r.content !== "string" || !Array.isArray(r.parents)) throw new Error("This file of unsent changes is damaged.");
    const said = JSON.parse(r.content) as { id?: string; name?: string; owner?: string };
    const job = p.jobs.find((j) => j.id === r.job) ?? { id: r.job, name: said.name ?? r.job, owner: said.owner ?? "", heads: [], issued: [], seen: 0 };
    const made: Revision = { ...r, unsent: 1 };
    if ((await put({ ...job, heads: [] }, made)) === made) fresh++;
  }
  return { jobs: [...new Set(p.revisions.map((r) => r.job))], fresh };
}
