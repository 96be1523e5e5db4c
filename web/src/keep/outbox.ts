// Revisions made here: kept first, sent when there is a server, and never lost between the two.
import { post, Refused } from "../net/api";
import { during, setting, set, type JobHead, type Revision } from "./db";
import { ulid } from "./ulid";

/** device is this browser's own name; made once. */
export async function device(): Promise<string> {
  let d = await setting("device", "");
  if (!d) await set("device", (d = ulid()));
  return d;
}

/** keep keeps a changed job as a new revision on a parent, not yet sent. It gives the revision when it is on the disk. */
export async function keep(job: JobHead, parents: string[], content: string, note: string): Promise<Revision> {
  const [by, author] = await Promise.all([device(), setting("author", "")]);
  const made: Revision = {
    id: ulid(), job: job.id, parents, author, device: by, note, made: Date.now(), content, unsent: 1,
  };
  await during(["jobs", "revisions"], "readwrite", async (t) => {
    const known = (await t.get("jobs", job.id)) ?? job;
    await t.put("revisions", made);
    await t.put("jobs", { ...known, heads: [...known.heads.filter((h) => !parents.includes(h)), made.id] });
  });
  return made;
}

/** send sends what has not been sent, oldest first, and stops where there is no server. One page of this browser sends at a
 * time. What the server refuses stays, with its words, for a person to look at. It gives how many went up. */
export async function send(): Promise<number> {
  const work = async () => {
    let sent = 0;
    const waiting = (await during(["revisions"], "readonly", (t) => t.unsent())).filter((r) => !r.refused);
    waiting.sort((a, b) => (a.id < b.id ? -1 : 1));
    for (const r of waiting) {
      const { id, parents, author, device, note } = r;
      try {
        await post(`/jobs/${encodeURIComponent(r.job)}/revisions`, { id, parents, author, device, note, content: JSON.parse(r.content) });
      } catch (fault) {
        if (!(fault instanceof Refused) || fault.status >= 500) throw fault;
        await during(["revisions"], "readwrite", (t) => t.put("revisions", { ...r, refused: fault.message }));
        continue;
      }
      await during(["revisions"], "readwrite", (t) => t.put("revisions", { ...r, unsent: 0 }));
      sent++;
    }
    return sent;
  };
  // a page at a plain address of the local net has no locks; then two pages may send the same twice, and the server takes it once
  return navigator.locks ? navigator.locks.request("trenchwright sends", work) : work();
}
