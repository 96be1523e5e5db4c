// What the page knows at this moment. Everything drawn follows from these signals.
import { computed, signal } from "@preact/signals";
import type { JobHead, Revision } from "./keep/db";
import type { Card, Difference, Screen, Sketch, View } from "./screen";
import { kept, type Window } from "./draw/axis";
import { inks } from "./draw/pen";

export const jobs = signal<JobHead[]>([]);
export const job = signal<JobHead | undefined>(undefined);
/** revision is what is open; the job in it is what the screen shows. */
export const revision = signal<Revision | undefined>(undefined);
export const screen = signal<Screen | undefined>(undefined);
/** sketch is what a drag has changed so far; undefined: nothing is being dragged. */
export const sketch = signal<Sketch | undefined>(undefined);

export type StageID = "route" | "order" | "dig" | "bed" | "set" | "fill" | "cables" | "cover" | "handover";
export const stage = signal<StageID>("route");

/** selected is the key of the one thing that is selected everywhere; here is where the peg stands, in mm of the strip. */
export const selected = signal("");
export const here = signal(0);
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

/** doing is what the core is at; said is what the last edit was understood as, faults what was wrong with it. */
export const doing = signal("");
export const said = signal<string[]>([]);
/** made are the keys of what the last edit made or changed. */
export const made = signal<string[]>([]);
export const faults = signal<{ text: string; try?: string }[]>([]);

export const unsent = signal(0);
export const reached = signal(false); // whether the server answered the last time
export const ready = signal(false); // whether this browser would do without it
export const newer = signal(false); // a new version waits

export function show(w: Window): void {
  const s = screen.value;
  if (s) shown.value = kept(w, s.length_mm);
}

export function showAll(): void {
  const s = screen.value;
  if (s) shown.value = kept({ from: 0, to: s.length_mm }, s.length_mm);
}
