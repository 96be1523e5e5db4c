// The list of jobs that this browser keeps, and what was seen of each last.
import { during, type JobHead, type Revision } from "./keep/db";
import * as now from "./state";

/** listed reads which jobs this browser keeps. */
export async function listed(): Promise<JobHead[]> {
  const all = await during(["jobs"], "readonly", (t) => t.all("jobs"));
  all.sort((a, b) => a.name.localeCompare(b.name));
  return (now.jobs.value = all);
}

/** seen keeps what was seen of a job last, and of which of its states. */
export async function seen(r: Revision, said: string): Promise<void> {
  const changed = await during(["jobs"], "readwrite", async (t) => {
    const j = await t.get("jobs", r.job);
    if (!j || (j.said === said && j.saidOf === r.id && j.stage === now.stage.value)) return false;
    await t.put("jobs", { ...j, said, saidOf: r.id, stage: now.stage.value });
    return true;
  });
  if (changed) await listed();
}
