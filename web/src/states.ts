// Which state of the job is open, as every paper and every print says it; and what changed since another state.
import { effect, signal } from "@preact/signals";
import { about, attachments, core } from "./actions";
import { during, type Revision } from "./keep/db";
import { stateOf } from "./keep/history";
import { get, making, Unreached } from "./net/api";
import type { Difference, Earlier, State } from "./screen";
import * as now from "./state";

/** stamp is which state is open; undefined: it is not known yet. */
export const stamp = signal<State | undefined>(undefined);

let looked = 0;
const soon = 250; // ms that what is drawn goes before
effect(() => {
  const [r, s] = [now.revision.value, now.screen.value];
  void [now.job.value?.issued, now.unsent.value];
  const mine = ++looked;
  if (!r || !s) return void (stamp.value = undefined);
  setTimeout(() => {
    if (mine === looked) void look(r, s.hash, () => mine === looked).catch(() => undefined); // the core was ended: it is asked again with the next change
  }, soon);
});

async function look(r: Revision, hash: string, newest: () => boolean): Promise<void> {
  const at = JSON.parse(await stateOf(r)) as object;
  const s = await core.ask<State>("state", { ...at, hash });
  if (newest()) stamp.value = s;
}

/** fileName is what a file of the open state is called: by its job, its state and what it is, as the server calls it. */
export async function fileName(path: string): Promise<string> {
  const r = now.revision.value!;
  const at = JSON.parse(await stateOf(r)) as object;
  return (await core.ask<State>("state", { ...at, id: r.job })).files + path.slice(path.lastIndexOf("/") + 1);
}

/** earlier are the other states of the job, the latest first. */
export async function earlier(): Promise<Earlier[]> {
  return core.ask<Earlier[]>("earlier", JSON.parse(await stateOf(now.revision.value!)) as object);
}

/** Since is what the open plan was compared with. */
export interface Since {
  said: string;
  again(): Promise<Difference>;
}
export const since = signal<Since | undefined>(undefined);

/** compare says what changed since something; it is said anew whenever something more changes. */
export async function compare(what: Since): Promise<void> {
  const d = await what.again();
  since.value = what;
  now.differs.value = d;
}

export function putAway(): void {
  since.value = undefined;
  now.differs.value = undefined;
}

let told: string | undefined; // hash and view that a difference was told of
effect(() => {
  const s = now.screen.value;
  const what = since.peek();
  const at = s && `${s.hash} ${s.job.system} ${s.job.words}`;
  if (!what || !s || at === told) return void (told = at);
  told = at;
  now.differs.value = undefined; // it was of the plan before
  void what.again().then((d) => since.value === what && (now.differs.value = d), () => putAway());
});

/** sinceState compares with another state of the job: with its content, where that is kept here, or else with the plan that the
 * server has of it. */
export const sinceState = (revision: string, said: string): Since => ({
  said,
  again: async () => {
    const r = await during(["revisions"], "readonly", (t) => t.get("revisions", revision));
    if (r) return about<Difference>("differ", { was: r.content }, await attachments(r.content));
    try {
      return await about<Difference>("differ", { issued: await get<unknown>(`/revisions/${encodeURIComponent(revision)}/plan`, making) });
    } catch (fault) {
      if (fault instanceof Unreached) throw new Error("that state is not kept in this browser, and no server answers");
      throw fault;
    }
  },
});

/** sinceIssue compares with a plan byte by byte as it was issued; without a server with the state that was issued, planned again. */
export const sinceIssue = (id: string, revision: string, said: string): Since => ({
  said,
  again: async () => {
    try {
      return await about<Difference>("differ", { issued: await get<unknown>(`/issued/${encodeURIComponent(id)}/plan`, making) });
    } catch (fault) {
      if (fault instanceof Unreached) return sinceState(revision, said).again();
      throw fault;
    }
  },
});
