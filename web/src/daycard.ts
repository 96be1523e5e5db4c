// A day card as it is keyed in at the office: what stands on top of it, its rows, its photos. It stays over a reload until its records
// are kept; the core reads every figure as it is typed, and makes the records.
import { batch, computed, effect, signal } from "@preact/signals";
import { Lane } from "./core/lane";
import { set, setting, why } from "./keep/db";
import * as book from "./keep/fieldbook";
import { addPhoto } from "./keep/photos";
import type { Grid, Keyed } from "./screen";
import { ask, site, stateHere } from "./site";
import * as now from "./state";

/** Card is what was typed: by the name of a field, by place and box. */
export interface Card {
  top: Record<string, string>;
  rows: Record<string, Record<string, string>>;
  photos: string[]; // SHA-256
  system: string; // that bare figures were typed in; empty: none was yet, and it is that of the view
}
const empty = (top: Record<string, string> = {}): Card => ({ top, rows: {}, photos: [], system: "" });

export const card = signal<Card>(empty());
/** at is where the rows begin; both empty: where the first unit is not set yet. */
export const at = signal({ leg: "", from: "" });
export const open = signal(false);
export const grid = signal<Grid | undefined>(undefined);
export const keyed = signal<Keyed | undefined>(undefined);
/** told is what became of the last card, or why something did not work. */
export const told = signal<{ text: string; fault?: boolean } | undefined>(undefined);

const typed = (c: Card) => Object.entries(c.rows).filter(([, r]) => Object.values(r).some((t) => t.trim())).map(([place, r]) => ({ place, ...r }));

// A card that was begun in one system is read in that one, whatever the page is shown in meanwhile.
const spoken = (c: Card) => (c.system ? { system: c.system } : {});

// What the core is asked with. Rows go in laying order, so that it knows which place comes before which.
function args(c: Card): Record<string, unknown> {
  const order = grid.value?.rows.map((r) => r.place) ?? [];
  const rows = typed(c).sort((a, b) => order.indexOf(a.place) - order.indexOf(b.place));
  const { height = "", instrument = "", checked = "", certificate = "", due = "", plus = "", ...fields } = c.top;
  return { ...spoken(c), fields, rows, height, instrument, checked, certificate, due, plus, photos: c.photos, now: new Date().toISOString().slice(0, 19) + "Z" };
}

// The rows follow the records: those that were kept show what is recorded now.
const levelsOf = computed(() => card.value.top["of"] ?? "");
const boxesOf = computed(() => card.value.top["boxes"] ?? "");
const begunIn = computed(() => card.value.system);
effect(() => {
  const is = site.value;
  const { leg, from } = at.value;
  const [of, boxes, system] = [levelsOf.value, boxesOf.value, begunIn.value];
  if (!is || !open.value) return;
  void ask<Grid>("grid", { ...(system && { system }), leg, from, fields: { of, boxes } }).then((g) => {
    if (site.value === is && at.value.leg === leg && at.value.from === from) batch(() => ((grid.value = g), told.value?.fault && (told.value = undefined)));
  }, (fault: unknown) => (told.value = { text: why(fault), fault: true }));
});

const reading = new Lane();
effect(() => {
  const [c, is, g] = [card.value, site.value, grid.value];
  if (!is || !g || !open.value) return;
  reading.run(async () => {
    const k = await ask<Keyed>("keyed", args(c)).catch(() => undefined);
    if (k && card.value === c) keyed.value = k;
  });
});

// What was typed stays with its job.
let of = "";
effect(() => {
  const job = now.job.value?.id ?? "";
  const c = card.value;
  if (!job) return;
  if (of !== job) {
    of = job;
    batch(() => ((card.value = empty()), (at.value = { leg: "", from: "" }), (grid.value = keyed.value = told.value = undefined)));
    void setting<Card>("day card " + job, empty()).then((was) => of === job && (card.value = { ...empty(), ...was }), () => undefined);
    return;
  }
  void set("day card " + job, c).catch(() => undefined);
});

/** put takes what was typed into a field on top of the card. */
export function put(name: string, text: string): void {
  card.value = { ...card.value, top: { ...card.value.top, [name]: text } };
}

/** type takes what was typed into a box. */
export function type(place: string, box: string, text: string): void {
  const { rows } = card.value;
  batch(() => {
    const system = card.value.system || (now.screen.value?.job.system ?? "");
    card.value = { ...card.value, system, rows: { ...rows, [place]: { ...rows[place], [box]: text } } };
    told.value = undefined;
  });
}

/** pictured keeps a photo of the card; every record of it names it. */
export async function pictured(file: Blob | undefined): Promise<void> {
  const job = now.job.value?.id;
  if (!job || !file) return;
  try {
    const sum = await addPhoto(job, file, grid.value?.from ?? "");
    if (!card.value.photos.includes(sum)) card.value = { ...card.value, photos: [...card.value.photos, sum] };
  } catch (fault) {
    told.value = { text: why(fault), fault: true };
  }
}

/** keep keeps the records of the whole card at once, or none of them. The next card begins with the same people and instrument. */
export async function keep(): Promise<boolean> {
  const job = now.job.value?.id;
  const c = card.value;
  if (!job) return false;
  try {
    const k = await ask<Keyed>("keyed", args(c));
    keyed.value = k;
    if (!k.full) return false;
    const says = { person: c.top["person"]!.trim(), made: book.local(new Date(k.made)), ...(c.top["role"]?.trim() && { role: c.top["role"].trim() }), ...stateHere() };
    await book.addAll(job, [...k.rows.flatMap((r) => r.records), ...k.records].map((text) => ({ ...(JSON.parse(text) as book.Made), ...says })));
    batch(() => {
      card.value = empty({ ...c.top, remarks: "" });
      at.value = { leg: "", from: "" };
      told.value = { text: "Kept on this machine: " + k.said.split(";")[0] + "." };
    });
    return true;
  } catch (fault) {
    told.value = { text: why(fault), fault: true };
    return false;
  }
}
