// What is recorded of the open job: handed to the core, asked of it, and kept. The core holds no record that is not kept here first,
// and loses them all when it is started anew: then it is handed them again.
import { batch, effect, signal } from "@preact/signals";
import { about, alongOf } from "./asking";
import { here } from "./fixing";
import { setting, set, why } from "./keep/db";
import * as book from "./keep/fieldbook";
import type { Form, Heard, Next, Screen, Site, Yard } from "./screen";
import * as now from "./state";

/** site is what the records of the open job come to; undefined: the core was not handed them yet. */
export const site = signal<Site | undefined>(undefined);
/** next is the next thing to do in the open stage, forms are the records that it makes. */
export const next = signal<Next | undefined>(undefined);
/** nextOf is the plan that it was asked of: once another one is open, it is out of date until it is asked anew. */
export const nextOf = signal("");
export const forms = signal<Form[]>([]);
export const formsOf = signal(""); // the stage that they belong to
/** yard is what lies in the yard, where the open stage asks for that. */
export const yard = signal<Yard | undefined>(undefined);
/** onLeg is the leg that somebody chose to work on; empty: the core says. */
export const onLeg = signal("");

/** Draft is a record in the making. */
export interface Draft {
  form: string;
  leg: string; // that a chainage is on
  from: string;
  to: string;
  fields: Record<string, string>;
  rows: Record<string, string>[];
  text: string;
  photos: string[];
  corrects: string;
}
export const draft = signal<Draft | undefined>(undefined);

/** kept is the record that was kept last, until somebody puts the note away. */
export const kept = signal<{ id: string; words: string; back?: boolean } | undefined>(undefined); // back: it was taken back

/** toWays says that somebody asked for the ways on: they come into view once they are worked out. */
export const toWays = signal(false);

/** loud says whether "kept on this phone" is heard and felt as well. */
export const loud = signal(true);
/** instrument is what is read with, the day of its last check, and until when its calibration holds by which certificate. */
export interface Instrument {
  kind?: string;
  name: string;
  checked: string;
  certificate?: string;
  plus?: string; // how well it is read, each way
  due?: string;
}
export const instrument = signal<Instrument>({ name: "", checked: "" });
/** instrumentSaid is how records name it; empty: nobody said. */
export const instrumentSaid = (i: Instrument): string => [i.kind, i.name.trim()].filter(Boolean).join(" ");

const handed = new WeakSet<Screen>(); // the screens whose core has the records

// The core is handed all records of a plan when that comes on the screen, and each that is kept after it.
effect(() => {
  const s = now.screen.value;
  if (!s || s.tables.length === 0) return void (site.value = undefined);
  void feed(s).catch(() => undefined);
});
book.onRecords((job, lines) => {
  const s = now.screen.value;
  if (s && job === now.job.value?.id && handed.has(s)) void more(s, lines).catch(() => undefined);
});

/** moment is now, as records are held against it: in whole seconds. */
export const moment = (): string => new Date().toISOString().slice(0, 19) + "Z";

async function feed(s: Screen): Promise<void> {
  const job = now.job.value?.id ?? "";
  const lines = await book.all(job);
  if (now.screen.value !== s) return;
  handed.add(s);
  came(s, await about<Site>("site", { hash: s.hash, lines: lines.join("\n"), now: moment() }));
}

async function more(s: Screen, lines: string[]): Promise<void> {
  try {
    came(s, await about<Site>("site", { hash: s.hash, lines: lines.join("\n"), more: true, now: moment() }));
  } catch (fault) {
    if (!lost(fault)) throw fault;
    await feed(s);
  }
}

const lost = (fault: unknown): boolean => String(fault).includes("records of this job are not here");

function came(s: Screen, is: Site): void {
  if (now.screen.value !== s) return;
  const shows = is.records > 0 || (site.value?.records ?? 0) > 0;
  site.value = is;
  if (shows) void alongOf(s).then((a) => a && a.stage === now.stage.value && now.screen.value === s && (now.along.value = a), () => undefined);
}

/** ask asks the core about the site; where it was started anew meanwhile, it is handed the records first. */
export async function ask<T>(name: string, args: Record<string, unknown>, files?: Record<string, Uint8Array>): Promise<T> {
  try {
    return await about<T>(name, args, files);
  } catch (fault) {
    const s = now.screen.value;
    if (!s || !lost(fault)) throw fault;
    await feed(s);
    return about<T>(name, args, files);
  }
}

// What comes next, and what can be recorded, follow the stage, the records and the height of the instrument.
effect(() => {
  const is = site.value;
  const s = now.screen.value;
  const [name, height, leg] = [now.stage.value, now.height.value, onLeg.value];
  if (!is || !s) return void batch(() => ((next.value = yard.value = undefined), (forms.value = []), (formsOf.value = "")));
  const current = (): boolean => site.value === is && now.stage.value === name;
  void ask<Next>("next", { name, height, leg }).then((n) => {
    if (!current() || now.height.value !== height || onLeg.value !== leg) return;
    batch(() => ((next.value = n), (nextOf.value = s.hash)));
    if (n.place && !now.selected.value && (leg || is.records > 0)) {
      now.here.value = n.strip;
      now.reveal(n.strip);
    }
  }, () => undefined);
  if (name === "order") void ask<Yard>("yard", {}).then((y) => current() && (yard.value = y), () => undefined);
  void ask<Form[]>("forms", { name }).then((f) => current() && batch(() => ((forms.value = f), (formsOf.value = name))), () => undefined);
});

/** begin opens a record, at the thing that comes next or at a place. */
export function begin(form: string, from = "", corrects = ""): void {
  const f = forms.value.find((x) => x.id === form);
  const n = next.value;
  const fields: Record<string, string> = {};
  for (const x of f?.fields ?? []) if (x.first) fields[x.name] = x.first;
  if (n?.layer && fields["number"] === undefined && f?.fields.some((x) => x.name === "number")) fields["number"] = String(n.layer);
  const s = now.screen.value!;
  const leg = legAt(s);
  if (f?.at === "chainage") fields["at"] = chainage(s, Math.max(0, now.here.value - (s.legs.find((l) => l.id === leg)?.from ?? 0)));
  draft.value = { form, leg, from: from || placeFor(f?.at ?? ""), to: "", fields, rows: form === "count" && yard.value?.rows.length ? yard.value.rows.map((y) => ({ piece: y.piece, count: "" })) : f && f.rows.length > 0 && f.at === "" ? [firsts(f, "")] : [], text: "", photos: [], corrects };
}

/** chainage is one as people of this job write it. */
export const chainage = (s: Screen, mm: number): string => (s.job.system === "imperial" ? `${(mm / 304.8).toFixed(1)} ft` : `${(mm / 1000).toFixed(2)} m`);

// Where a record is meant unless somebody says otherwise: what is selected, where it is a place of that kind, else the next one.
function placeFor(at: string): string {
  const s = now.screen.value!;
  const [kind, ...rest] = now.selected.value.split("/");
  const id = rest.join("/");
  const unit = kind === "unit" ? id : kind === "joint" || kind === "cover" ? id.split(/[/.]/)[0]! : "";
  const place = unit || next.value?.place || s.units.mark[0] || "";
  if (at === "node") return kind === "node" ? id : s.nodes.find((n) => n.kind === "bend")?.id ?? s.nodes[0]?.id ?? "";
  if (at === "entry") return kind === "entry" ? rest[1] ?? "" : s.entries[0]?.id ?? "";
  if (at === "joint") return kind === "joint" ? id : jointsOf(s).find((j) => j.endsWith("/" + place)) ?? jointsOf(s)[0] ?? "";
  return at === "" || at === "chainage" ? "" : place;
}

/** firsts is what a new line of a list begins with: its first choices, and the last place of the stretch. */
export const firsts = (f: Form, last: string): Record<string, string> =>
  Object.fromEntries(f.rows.map((x) => [x.name, x.kind === "place" ? last : x.kind === "cover" ? coversOf(now.screen.value!, last)[0] ?? "" : x.first]));

/** another is one more line of a list: of what no line before it names, where something is left. */
export function another(f: Form, d: Draft): Record<string, string> {
  const row = firsts(f, d.to || d.from);
  const named = f.rows.find((x) => x.kind === "choice" && x.choice.length > 5);
  const free = named?.choice.find((c) => !d.rows.some((r) => r[named.name] === c));
  return named && free ? { ...row, [named.name]: free } : row;
}

/** coversOf are the covers of a unit by name. */
export function coversOf(s: Screen, unit: string): string[] {
  const u = s.units.mark.indexOf(unit);
  return s.covers.unit.flatMap((of, i) => (of === u ? [`${unit}.${s.covers.number[i]}`] : []));
}

/** jointsOf are the names of all joints. */
export const jointsOf = (s: Screen): string[] => s.joints.before.map((b) => `${s.units.mark[b]}/${s.units.mark[b + 1]}`);

/** legAt is the leg on which the peg stands. */
export const legAt = (s: Screen): string => (s.legs.find((l) => now.here.value >= l.from - 0.5 && now.here.value <= l.to + 0.5) ?? s.legs[0])?.id ?? "";

/** heard is how the core understands a record in the making. */
export function heard(d: Draft): Promise<Heard> {
  const is = instrument.value;
  return ask<Heard>("say", { ...d, height: now.height.value, instrument: instrumentSaid(is), checked: is.checked, certificate: is.certificate ?? "", due: is.due ?? "", plus: is.plus ?? "" });
}

/** stateHere is the state of the job that this page shows: what a record is written against. */
export const stateHere = (): { plan?: string } => (now.revision.value ? { plan: now.revision.value.id } : {});

/** keep keeps a record as it was understood; it is there for good when the disk has it. */
export async function keep(h: Heard): Promise<boolean> {
  const job = now.job.value?.id;
  if (!job || !h.record) return false;
  try {
    const at = here();
    const text = await book.add(job, { ...(JSON.parse(h.record) as book.Made), ...stateHere(), ...(at && { fix: at }) });
    batch(() => {
      draft.value = undefined;
      kept.value = { id: book.idOf(text), words: h.words };
      if (h.height) now.height.value = h.height; // an instrument was set up: what is read from now on is read from it
    });
    signalled();
    if (matchMedia("(max-width: 699px)").matches) scrollTo({ top: 0 }); // what comes next, and that it is kept
    return true;
  } catch (fault) {
    now.trouble.value = { text: why(fault), again: () => void keep(h) };
    return false;
  }
}

/** takeBack withdraws a record by another one that names it: nothing is deleted. */
export async function takeBack(id: string, words: string): Promise<void> {
  const job = now.job.value?.id;
  if (!job || backed.has(id)) return;
  backed.add(id); // a second tap is no second record
  try {
    const text = await book.add(job, { kind: "note", corrects: id, text: "taken back: " + words });
    kept.value = { id: book.idOf(text), words, back: true };
    signalled();
  } catch (fault) {
    backed.delete(id);
    now.trouble.value = { text: why(fault), again: () => void takeBack(id, words) };
  }
}
const backed = new Set<string>(); // records that were taken back here

// What is kept is heard and felt, for whoever wears ear defenders or looks elsewhere; the words stay until they are put away.
function signalled(): void {
  if (!loud.value) return;
  if (navigator.userActivation?.hasBeenActive !== false) navigator.vibrate?.(60);
  try {
    const c = new AudioContext();
    const tone = c.createOscillator();
    const much = c.createGain();
    much.gain.value = 0.15;
    tone.frequency.value = 880;
    tone.connect(much).connect(c.destination);
    tone.start();
    tone.stop(c.currentTime + 0.12);
    tone.onended = () => void c.close();
  } catch {
    // a browser that plays nothing: the words are there
  }
}

export async function setLoud(on: boolean): Promise<void> {
  loud.value = on;
  await set("loud", on);
}

export async function setInstrument(is: Instrument): Promise<void> {
  instrument.value = is;
  await set("instrument", is);
}

/** recalled is what this phone was set to. */
export async function recalled(): Promise<void> {
  [loud.value, instrument.value] = await Promise.all([setting("loud", true), setting<Instrument>("instrument", { name: "", checked: "" })]);
}
void recalled().catch(() => undefined);

// The height of the instrument stays with the job over a reload: whoever stands in the trench set it up once.
let of = "";
effect(() => {
  const job = now.job.value?.id ?? "";
  const height = now.height.value;
  if (!job) return;
  if (of !== job) {
    of = job;
    void setting("height " + job, "").then((h) => of === job && h && !now.height.value && (now.height.value = h), () => undefined);
    return;
  }
  void set("height " + job, height).catch(() => undefined);
});
