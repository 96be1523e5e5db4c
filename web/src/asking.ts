// What is asked about the open job: of the core, which may have to open it once more, and by everybody who shows an answer.
import { batch } from "@preact/signals";
import { Core } from "./core/client";
import type { Planned } from "./core/pack";
import { during, type Revision } from "./keep/db";
import { stateOf } from "./keep/history";
import { namedIn } from "./keep/outbox";
import type { Along, Card, Here, Screen } from "./screen";
import * as now from "./state";

export const core = new Core();

/** attachments are the files of a job that this browser has. */
export async function attachments(content: string): Promise<Record<string, Uint8Array>> {
  const out: Record<string, Uint8Array> = {};
  for (const a of namedIn(content)) {
    const kept = await during(["attachments"], "readonly", (t) => t.get("attachments", a.sha256));
    if (kept) out[a.name] = kept.bytes;
  }
  return out;
}

// What every question about the open job waits for: the core gets it in the background where its screen was there without.
let opening: Promise<unknown> = Promise.resolve();

/** after lets every question wait for something. */
export function after(what: Promise<unknown>): void {
  opening = what;
}

/** opened has the core open a revision, with the files that it names; the answer is its screen. */
export function opened(r: Revision, files: Record<string, Uint8Array>): Promise<Uint8Array> {
  return core.bytes("open", JSON.stringify({ job: r.content, ...now.view.value }), files);
}

/** about asks about the open job. Where the core was started anew meanwhile, the job is opened there once more. */
export async function about<T>(name: string, args: Record<string, unknown>, files?: Record<string, Uint8Array>): Promise<T> {
  return JSON.parse(new TextDecoder().decode(await answered(name, args, files))) as T;
}

async function answered(name: string, args: Record<string, unknown>, files?: Record<string, Uint8Array>): Promise<Uint8Array> {
  await opening; // what is asked about is what is open then
  const shown = { ...now.view.value, ...args };
  const hash = now.screen.value?.hash;
  return orOpened(
    now.revision.value,
    () => core.bytes(name, JSON.stringify({ hash, ...shown }), files),
    () => core.bytes(name, JSON.stringify(shown), files), // of what is open now, unless the question itself says of what
  );
}

// A question about a job that the core does not have open, or no more, is put once more right behind the job itself: no other
// question comes between.
async function orOpened(r: Revision | undefined, ask: () => Promise<Uint8Array>, again = ask): Promise<Uint8Array> {
  try {
    return await ask();
  } catch (fault) {
    if (!r || !String(fault).includes("is not open")) throw fault;
    const files = await attachments(r.content);
    const [, answer] = await Promise.all([opened(r, files), again()]);
    return answer;
  }
}

/** planned is what papers of the open revision are made of: its plan, whatever is shown while a change is being planned. */
export function planned(): Planned {
  const r = now.revision.value!;
  const plan = async (): Promise<Uint8Array> => {
    await opening;
    return orOpened(r, () => core.bytes("plan", JSON.stringify({ job: r.content })));
  };
  return { job: r.content, state: () => stateOf(r), plan, attachments: () => attachments(r.content) };
}

/** alongOf is what the open stage shows along the run; undefined: a run that is only outlined has nothing to show. */
export async function alongOf(s: Screen): Promise<Along | undefined> {
  return s.tables.length > 0 ? about<Along>("along", { name: now.stage.value, hash: s.hash }) : undefined;
}

/** besideOf is what counts for the open stage at a place of the strip. */
export async function besideOf(s: Screen, here: number): Promise<Here | undefined> {
  const l = s.legs.find((l) => here >= l.from - 0.5 && here <= l.to + 0.5);
  if (!l || s.tables.length === 0) return undefined;
  const at_mm = Math.min(l.to - l.from, Math.max(0, here - l.from));
  return about<Here>("here", { name: now.stage.value, leg: l.id, at_mm, height: now.height.value, hash: s.hash });
}

/** select selects one thing everywhere; where it lies on the strip, the peg goes there. */
export async function select(key: string, at?: number): Promise<void> {
  const r = now.revision.value;
  now.selected.value = key;
  now.sought.value = key;
  if (at !== undefined) now.here.value = at;
  if (!key || !r) {
    now.card.value = undefined;
    return;
  }
  try {
    const c = await about<Card>("card", { id: key });
    if (now.selected.value !== key) return;
    batch(() => {
      now.card.value = c;
      if (at === undefined && c.strip[1] > 0) now.here.value = standsAt(c);
    });
  } catch {
    if (now.selected.value === key) now.card.value = undefined; // it is gone with the last change
  } finally {
    if (now.sought.value === key) now.sought.value = "";
  }
}

// Where the peg goes for a card: to the middle of a thing, to the beginning of what is laid, into a leg rather than to the node
// that it shares with the one before.
function standsAt(c: Card): number {
  if (c.kind === "leg") return c.strip[0] + 1;
  return c.kind === "unit" || c.kind === "cover" ? c.strip[0] : (c.strip[0] + c.strip[1]) / 2;
}
