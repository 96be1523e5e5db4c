// The field book of this browser: every record that was made here or came here, and whether the server has it.
//
// A record is kept in one entry with the mark that it waits, and that it is kept is said when it is on the disk. It is never
// changed and never taken away. Two different texts that came under one id are both kept.
import { signal } from "@preact/signals";
import { author, role } from "./author";
import { during, setting, why, type DeviceRow, type RecordRow, type Work } from "./db";
import { numbered, unnumbered } from "./numbered";
import { others } from "./pages";
import { letters, ulid } from "./ulid";

/** Made is a record as the screens make it: what it is about and says. Who, when and on what device is added when it is kept. */
export interface Made {
  kind: string;
  person?: string;
  made?: string;
  [what: string]: unknown;
}

export interface Counts {
  here: number; // on this device
  unsent: number; // of them not on the server yet
  lastSent: number; // when one went up last; 0: never
}

export type Device = DeviceRow;

type Heard = (job: string, lines: string[]) => void;
const heard = new Set<Heard>();
const senders = new Set<() => void>();

/** onWaiting is told when something was kept here that the server has to get. */
export function onWaiting(f: () => void): void {
  senders.add(f);
}

/** waits tells that. */
export function waits(): void {
  for (const f of senders) f();
}

/** noRoom says that something could not be kept, and why; empty: the last thing was. */
export const noRoom = signal("");

/** records counts all of this browser, of every job; it changes whenever something is kept or sent. */
export const records = signal<Counts>({ here: 0, unsent: 0, lastSent: 0 });

/** unread are the records that the server takes for none; oldest is when the first that waits was made, in ms since 1970, by the
 * device's clock; Infinity: none waits. */
export const unread = signal<RecordRow[]>([]);
export const oldest = signal(Infinity);

/** onRecords is told which records are kept here since, from whatever page of this browser or from wherever they came; what it
 * gives ends that. */
export function onRecords(f: Heard): () => void {
  heard.add(f);
  return () => heard.delete(f);
}

others.hear((w) => {
  if (w.records) tell(w.records.job, w.records.lines);
  if (w.sent) void counted();
});

function tell(job: string, lines: string[]): void {
  for (const f of heard) f(job, lines);
  void counted();
}

/** add keeps a record that was made here. It ends when the disk has it, and gives the record as it is kept. */
export async function add(job: string, record: Made): Promise<string> {
  return (await addAll(job, [record]))[0]!;
}

/** addAll keeps several records that were made here, in their order: all of them or none. */
export async function addAll(job: string, records: Made[]): Promise<string[]> {
  const lines = await kept(() => during(["records", "device", "settings"], "readwrite", async (t) => {
    const d = await deviceIn(t);
    const lines: string[] = [];
    let number = d.numbers[job] ?? 0;
    for (const record of records) {
      number++;
      const id = ulid();
      const as = record.person === undefined ? role() : ""; // of somebody who is named with the record it says that itself
      const said = { person: author() || d.name, ...(as && { role: as }), made: local(new Date()), ...record };
      const text = JSON.stringify({ ...said, id, job, device: d.id, number });
      await t.put("records", { id, n: 0, job, text, sent: 0 });
      lines.push(text);
    }
    await t.put("device", { ...d, numbers: { ...d.numbers, [job]: number } });
    return lines;
  }));
  others.tell({ records: { job, lines } });
  tell(job, lines);
  waits();
  return lines;
}

/** kept does what keeps something, and has it said for as long as it is not: nothing that a person entered goes without a word. */
export async function kept<T>(work: () => Promise<T>): Promise<T> {
  try {
    const v = await work();
    noRoom.value = "";
    void lasting();
    return v;
  } catch (fault) {
    noRoom.value = why(fault);
    throw fault;
  }
}

let asked = false;

// Browsers throw away what pages keep when they are short of room, unless they said that they do not.
async function lasting(): Promise<void> {
  if (asked) return;
  asked = true;
  await navigator.storage?.persist?.().catch(() => false);
}

/** all are the lines of a job's records, with the numbers that they have at the server. */
export async function all(job: string): Promise<string[]> {
  const rows = await during(["records"], "readonly", (t) => t.of("records", "job", job));
  return rows.map((r) => numbered(r.text, r.seq));
}

/** counts is how many records of a job are here and how many of them wait. */
export async function counts(job: string): Promise<Counts> {
  const [here, up] = await during(["records"], "readonly", async (t) => [await t.count("records", "job", job), await t.count("records", "waits", [job, 1])] as const);
  return { here, unsent: here - up, lastSent: await setting(sentOf(job), 0) };
}

/** sentOf is the name of the setting that says when a record of a job went up last. */
export const sentOf = (job: string): string => "records sent " + job;

/** counted brings up to date what is known of all records here. */
export async function counted(): Promise<void> {
  const [here, up, no, first] = await during(["records"], "readonly", async (t) =>
    [await t.count("records"), await t.count("records", "sent", 1), await t.of("records", "sent", 2), await t.of("records", "sent", 0, 1)] as const);
  unread.value = no;
  oldest.value = first[0] ? madeAt(first[0].id) : Infinity;
  records.value = { here, unsent: here - up, lastSent: await setting("records sent", 0) };
}

/** device is this browser as the others know it; it has its name for good from the first time on. */
export function device(): Promise<Device> {
  return during(["device", "settings"], "readwrite", deviceIn);
}

/** setDevice changes what is known of this browser: what people call it, what the server lets it in by. */
export function setDevice(change: { name?: string; token?: string | undefined }): Promise<Device> {
  return during(["device", "settings"], "readwrite", async (t) => {
    const { token, ...d } = { ...(await deviceIn(t)), ...change };
    const next = token === undefined ? d : { ...d, token };
    await t.put("device", next);
    return next;
  });
}

// The name that revisions made here carry is the name that records carry.
async function deviceIn(t: Work): Promise<Device> {
  const [known] = await t.all("device");
  if (known) return known;
  const named = await t.get("settings", "device");
  const made: Device = { id: (named?.value as string | undefined) ?? ulid(), name: "", numbers: {} };
  if (!named) await t.put("settings", { key: "device", value: made.id });
  await t.put("device", made);
  return made;
}

/** take takes in records that came from the server or from a file, as lines of JSON. What is here already stays as it is; what is
 * no record is left out. It gives how many were new. upTo: they came from the server, which has told everything up to that
 * sequence now; without it they wait here to be sent, and the server takes what it has already once. */
export async function take(job: string, lines: string[], upTo?: number): Promise<number> {
  const told: string[] = []; // what is new of them: a record, or its number
  let fresh = 0;
  await kept(() => during(["records", "settings"], "readwrite", async (t) => {
    told.length = fresh = 0; // it may be done once more
    for (const line of lines) {
      const { text, seq } = unnumbered(line);
      const id = idOf(text);
      const is = id ? await put(t, { id, n: 0, job, text, sent: upTo === undefined ? 0 : 1, ...(seq && { seq }) }) : "known";
      if (is !== "known") told.push(line);
      if (is === "fresh") fresh++;
    }
    if (upTo !== undefined) await t.put("settings", { key: toldOf(job), value: upTo });
  }));
  if (told.length || upTo !== undefined) {
    others.tell({ records: { job, lines: told } });
    tell(job, told);
  }
  if (upTo === undefined) waits();
  return fresh;
}

/** toldOf is the name of the setting that says up to which of its sequence the server has told of a job's records, with their numbers. */
export const toldOf = (job: string): string => "records numbered " + job;

// put keeps a record unless its text is here. That the server has it is marked on either, and its number there: what the server says
// of that goes before what a file says.
async function put(t: Work, r: RecordRow): Promise<"fresh" | "numbered" | "known"> {
  const same = await t.all("records", IDBKeyRange.bound([r.id, 0], [r.id, Infinity]));
  const here = same.find((x) => x.text === r.text);
  if (!here) {
    await t.put("records", { ...r, n: same.length });
    return "fresh";
  }
  const seq = (r.sent === 1 ? r.seq ?? here.seq : here.seq ?? r.seq) ?? 0;
  const sent = r.sent === 1 ? 1 : here.sent;
  if (seq !== (here.seq ?? 0) || sent !== here.sent) await t.put("records", { ...here, sent, ...(seq && { seq }) });
  return seq !== (here.seq ?? 0) ? "numbered" : "known";
}

/** asFile is the records of a job as lines of JSON, all or those that the server has not; without a job those of all jobs. */
export async function asFile(job: string, onlyUnsent: boolean): Promise<Blob> {
  const all = await during(["records"], "readonly", (t) => (job ? t.of("records", "job", job) : t.all("records")));
  const rows = onlyUnsent ? all.filter((r) => r.sent !== 1) : all;
  return new Blob(rows.map((r) => numbered(r.text, r.seq) + "\n"), { type: "application/x-ndjson" });
}

/** idOf is the id of a line that is a record; empty: it is none. */
export function idOf(text: string): string {
  const r = parsed(text);
  return typeof r["id"] === "string" && isULID.test(r["id"]) && typeof r["kind"] === "string" && typeof r["device"] === "string" ? r["id"] : "";
}

// madeAt is the time in an id, in ms since 1970.
const madeAt = (id: string): number => [...id.slice(0, 10)].reduce((ms, c) => ms * 32 + letters.indexOf(c), 0);

const isULID = /^[0-7][0-9A-HJKMNP-TV-Z]{25}$/;

/** jobOf is the job that a line says it is of; empty: it says none. */
export const jobOf = (text: string): string => String(parsed(text)["job"] ?? "");

function parsed(text: string): Record<string, unknown> {
  try {
    const v = JSON.parse(text) as unknown;
    return v !== null && typeof v === "object" ? (v as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}

/** local is a moment by this device's clock and in its zone, as RFC 3339: people read it, and nothing is decided by it. */
export function local(at: Date): string {
  const off = -at.getTimezoneOffset(); // minutes
  const two = (n: number): string => String(Math.trunc(Math.abs(n))).padStart(2, "0");
  const there = new Date(at.getTime() + off * 60_000).toISOString().slice(0, 19);
  return off === 0 ? there + "Z" : `${there}${off < 0 ? "-" : "+"}${two(off / 60)}:${two(off % 60)}`;
}
