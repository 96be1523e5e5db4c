// What the page knows at this moment. Everything drawn follows from these signals.
import { computed, signal } from "@preact/signals";
import type { JobHead, Revision } from "./keep/db";
import type { Way } from "./keep/backward";
import type { Ends } from "./keep/join";
import type { Along, Card, Difference, Fresh, Here, Screen, Sketch, View } from "./screen";
import { kept, type Window } from "./draw/axis";
import { inks } from "./draw/pen";

export const jobs = signal<JobHead[]>([]);
export const job = signal<JobHead | undefined>(undefined);
/** revision is what is open; the job in it is what the screen shows. */
export const revision = signal<Revision | undefined>(undefined);
export const screen = signal<Screen | undefined>(undefined);
/** planned is the revision that the screen was planned of. */
export const planned = signal("");
/** sketch is what a drag has changed so far; undefined: nothing is being dragged. */
export const sketch = signal<Sketch | undefined>(undefined);
/** before says that what is written on the page is still of the plan before a change that is being dragged, planned, or was not. */
export const before = computed(() => screen.value !== undefined && (sketch.value !== undefined || planned.value !== (revision.value?.id ?? "")));

export type StageID = "route" | "order" | "dig" | "bed" | "set" | "fill" | "cables" | "cover" | "handover";
export const stage = signal<StageID>("route");

/** along is what the open stage shows along the run, beside what counts for it where the peg stands; undefined: not told yet. */
export const along = signal<Along | undefined>(undefined);
export const beside = signal<Here | undefined>(undefined);
/** told is the screen that those two were told of. */
export const told: { along?: Screen | undefined; beside?: Screen | undefined; here?: number } = {};
/** height is that of the instrument as typed, for readings on the bed. */
export const height = signal("");
/** pictured is how the run is shown in the middle; tabled which table stands beside it, "" the stage's first. */
export const pictured = signal<"plan" | "across" | "solid">("plan");
export const tabled = signal("");

/** selected is the key of the one thing that is selected everywhere; here is where the peg stands, in mm of the strip. */
export const selected = signal("");
export const here = signal(0);
/** sought is the key whose card is on its way: of what the address names, before the run is there; empty: none. */
export const sought = signal("");
export const card = signal<Card | undefined>(undefined);

/** tapping waits for a place in the plan; undefined: a tap selects. */
export const tapping = signal<{ say: string; tapped(at: [number, number]): void } | undefined>(undefined);

export const shown = signal<Window>({ from: 0, to: 1 });
/** view changes texts alone; undefined: as the job itself has them. */
export const view = signal<View | undefined>(undefined);
export const sun = signal(false);
export const ink = computed(() => inks[sun.value ? "sun" : "light"]);

/** differs is what changed against an issued plan; undefined: nobody asked. */
export const differs = signal<Difference | undefined>(undefined);

/** doing is what the core is at; said is what the last change was and how it was understood, faults what was wrong with it: both go
 * with the next change, whoever makes it. */
export const doing = signal("");
export const said = signal<string[]>([]);
/** way is where undo and redo go from what is open; undefined: it is not known yet. */
export const way = signal<Way | undefined>(undefined);
/** made are the keys of what the last edit made or changed. */
export const made = signal<string[]>([]);
export const faults = signal<{ text: string; try?: string }[]>([]);

/** fresh is what the last change made be found anew, and what it made go; undefined: nobody changed anything. */
export const fresh = signal<Fresh | undefined>(undefined);
/** changedAt is the part of the page where that change was made; empty: anywhere else. */
export const changedAt = signal("");

/** news is what came from elsewhere into the open job. */
export const news = signal("");

/** trouble is what did not work, and how to try it again; it stays until it works or is put away. */
export const trouble = signal<{ text: string; again?(): void } | undefined>(undefined);

export const unsent = signal(0);
export const unsentOf = signal<Record<string, number>>({}); // by job
export const oldest = signal(Infinity); // when the oldest of them was made; Infinity: none
export const refused = signal<Revision[]>([]); // those of them that the server does not take
export const sent = signal(0); // when something went up the last time; 0: never
export const tried = signal(false); // whether it is known yet if the server answers
export const reached = signal(false); // whether the server answered the last time
export const waiting = signal(0); // how many questions have waited for its answer for longer than a moment
export const failing = signal(""); // why it did not do what was asked, where it answered
export interface Server {
  version: string;
  core: string;
  office: boolean; // this browser is on the machine that the workspace runs on
}
export const server = signal<Server | undefined>(undefined);
export const room = signal<{ used: number; of: number } | undefined>(undefined); // bytes; undefined: the browser does not say
export const lasts = signal(false); // whether the browser said that it throws nothing away
export const ready = signal(false); // whether this browser would do without it
export const plain = signal(false); // this address is not secure: browsers keep no page of it
export const newer = signal(false); // a new version waits
/** ends are two ends of the open job that both changed the same to different things: a person says which holds. */
export const ends = signal<Ends | undefined>(undefined);

/** may says whether this page may issue: its core has to be the server's. */
export const mayIssue = computed(() => reached.value && server.value !== undefined && screen.value?.core === server.value.core);

/** busy says what would have to end first, where somebody is in the middle of something here that a reload would take away. */
export function busy(): string {
  const at = document.activeElement;
  const typing = (at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement) && at.value !== at.defaultValue;
  const form = [...document.querySelectorAll(".putform")].some((f) => !f.closest("details:not([open])"));
  if (sketch.value !== undefined || tapping.value !== undefined || ends.value !== undefined || typing || form) return "first finish or leave what is open here";
  return doing.value && "first let the run be worked out";
}

export function show(w: Window): void {
  const s = screen.value;
  if (s) shown.value = kept(w, s.length_mm);
}

/** reveal brings a place of the strip into what is shown. */
export function reveal(at: number): void {
  const { from, to } = shown.value;
  if (at < from || at > to) show({ from: at - (to - from) / 2, to: at + (to - from) / 2 });
}

export function showAll(): void {
  const s = screen.value;
  if (s) shown.value = kept({ from: 0, to: s.length_mm }, s.length_mm);
}
