// What is known of the history of a job: the revisions that the server told of, by whom and when, and those that were made here.
import { during, set, setting, type Issued } from "./db";

/** Step is one revision in a history, without its content. */
export interface Step {
  id: string;
  parents: string[];
  author: string;
  device?: string; // that it was made on; history that was kept by older versions does not say
  note: string;
  at: string;
  unsent?: boolean;
}

/** History is what stamps on papers follow from; the core and the server make the same of it. */
export interface History {
  revisions: Step[];
  issued: Issued[];
}

const place = (job: string): string => "history of " + job;

/** told keeps what the server told of a job's revisions. */
export const told = (job: string, all: Step[]): Promise<unknown> =>
  set(place(job), all.map(({ id, parents, author, device, note, at }) => ({ id, parents, author, ...(device && { device }), note, at })));

/** stateOf says which state of its job a revision is, as the core and the writer of papers take it. */
export const stateOf = async (r: { id: string; job: string }): Promise<string> => JSON.stringify({ revision: r.id, history: await historyOf(r.job) });

/** historyOf is all that is known here of a job. */
export async function historyOf(job: string): Promise<History> {
  const [head, mine] = await during(["jobs", "revisions"], "readonly", async (t) => [await t.get("jobs", job), await t.revisionsOf(job)] as const);
  const all = new Map((await setting<Step[]>(place(job), [])).map((s) => [s.id, s]));
  for (const { id, parents, author, device, note, made, unsent } of mine) {
    const known = all.get(id);
    all.set(id, known ? { ...known, device } : { id, parents, author, device, note, at: new Date(made || 0).toISOString(), ...(unsent && { unsent: true }) });
  }
  return { revisions: [...all.values()], issued: head?.issued ?? [] };
}
