// Records and photos between this browser and the server. A record goes up until the server acknowledges it by its id; what comes
// twice is taken once. Photos go up on their own, piece by piece, on from where the server has them.
import { signal } from "@preact/signals";
import { asDevice, post, Refused, Unreached } from "../net/api";
import { during, setting, type PhotoRow, type RecordRow } from "./db";
import { counted, device, sentOf, setDevice, take, toldOf } from "./fieldbook";
import { alone } from "./outbox";
import { others } from "./pages";
import { counted as countedPhotos } from "./photos";
import { wanted } from "./pull";
import { sha256 } from "./sha256";

/** stopped says what does not go up and why, where the server answered; empty: nothing stands against them. shutOut: because this
 * device is not let in. */
export const stopped = signal("");
export const shutOut = signal(false);

/** going is the photo that is on its way; undefined: none. */
export const going = signal<{ here: number; of: number } | undefined>(undefined);

const batch = 200; // records at once
const batchBytes = 1 << 20; // of text at once: a weak net gets that through
const piece = 256 << 10; // bytes of a photo at once

/** fieldsync sends what waits and fetches what others recorded. Where the server takes nothing from this device, it says so and
 * throws nothing; where no server answers, it throws as every question does. */
export async function fieldsync(): Promise<void> {
  const { token } = await device();
  try {
    await alone("sends records", () => sendAll(token));
    await alone("fetches records", () => fetchAll(token));
    stopped.value = "";
    shutOut.value = false;
  } catch (fault) {
    if (fault instanceof Unreached || !(fault instanceof Refused)) throw fault;
    stopped.value = "Records do not go up: " + fault.message;
    shutOut.value = fault.status === 401;
    return;
  } finally {
    await counted();
  }
  void sendPhotos(token);
}

async function sendAll(token: string | undefined): Promise<void> {
  for (let rows = await next(); rows.length > 0; rows = await next()) {
    const job = rows[0]!.job;
    const r = await asDevice(`/jobs/${encodeURIComponent(job)}/records`, token, {
      method: "POST", headers: { "content-type": "application/x-ndjson" }, body: rows.map((x) => x.text).join("\n"),
    });
    const said = (await r.json()) as { acknowledged: string[]; unread?: { line: number; why: string }[] };
    const has = new Set(said.acknowledged);
    const no = new Map((said.unread ?? []).map((u) => [u.line - 1, u.why]));
    const now = Date.now();
    let done = 0;
    await during(["records", "settings"], "readwrite", async (t) => {
      done = 0;
      for (const [i, x] of rows.entries()) {
        const why = no.get(i);
        if (why === undefined && !has.has(x.id)) continue;
        const is = (await t.get("records", [x.id, x.n])) ?? x;
        await t.put("records", why === undefined ? { ...is, sent: 1 } : { ...is, sent: 2, refused: why });
        done++;
      }
      await t.put("settings", { key: sentOf(job), value: now });
      await t.put("settings", { key: "records sent", value: now });
    });
    others.tell({ sent: true });
    await counted();
    if (done === 0) throw new Refused(500, "the server acknowledged none of the records that it was sent; they stay here and are sent again");
  }
}

// The next that wait, of one job.
async function next(): Promise<RecordRow[]> {
  const rows = await during(["records"], "readonly", (t) => t.of("records", "sent", 0, batch));
  const out: RecordRow[] = [];
  let bytes = 0;
  for (const r of rows) {
    if (r.job !== rows[0]!.job) continue;
    bytes += r.text.length;
    if (out.length > 0 && bytes > batchBytes) break;
    out.push(r);
  }
  return out;
}

async function fetchAll(token: string | undefined): Promise<void> {
  for (const job of await setting<string[]>(wanted, [])) {
    for (let more = true; more; ) {
      const after = await setting(toldOf(job), 0);
      const r = await asDevice(`/jobs/${encodeURIComponent(job)}/records?numbered=true&after=${after}&limit=1000`, token);
      const last = Number(r.headers.get("Last-Seq") ?? after);
      const lines = (await r.text()).split("\n").filter(Boolean);
      more = last > after;
      if (more) await take(job, lines, last);
    }
    await during(["settings"], "readwrite", async (t) => {
      const left = ((await t.get("settings", wanted))?.value ?? []) as string[];
      await t.put("settings", { key: wanted, value: left.filter((j) => j !== job) });
    });
  }
}

let photographing: Promise<void> | undefined;

// sendPhotos lets photos go up one after the other; what breaks off goes on the next time.
function sendPhotos(token: string | undefined): Promise<void> {
  photographing ??= alone("sends photos", () => allPhotos(token))
    .catch((fault: unknown) => {
      if (fault instanceof Refused) stopped.value = "Photos do not go up: " + fault.message;
    })
    .finally(() => {
      photographing = going.value = undefined;
      void countedPhotos();
    });
  return photographing;
}

async function allPhotos(token: string | undefined): Promise<void> {
  for (;;) {
    const [p] = await during(["fieldphotos"], "readonly", (t) => t.of("fieldphotos", "sent", 0, 1));
    if (!p) return;
    try {
      await onePhoto(p, token);
      await during(["fieldphotos"], "readwrite", (t) => t.put("fieldphotos", { ...p, sent: 1 }));
    } catch (fault) {
      if (!(fault instanceof Refused)) throw fault;
      const damaged = fault.status === 409 && (await sha256(p.bytes as Uint8Array<ArrayBuffer>)) !== p.sha256; // here, not on the way
      if (!damaged && ![413, 422].includes(fault.status)) throw fault;
      const refused = damaged ? "it has another SHA-256 sum than when it was taken: what this device keeps of it is damaged" : fault.message;
      await during(["fieldphotos"], "readwrite", (t) => t.put("fieldphotos", { ...p, sent: 2, refused })); // the others go on
    }
    others.tell({ sent: true });
    await countedPhotos();
  }
}

async function onePhoto(p: PhotoRow, token: string | undefined): Promise<void> {
  const at = "/photos/" + p.sha256;
  const head = await asDevice(at, token, { method: "HEAD" });
  let here = Number(head.headers.get("Here") ?? 0);
  let whole = head.headers.get("Whole") === "true";
  while (!whole) {
    going.value = { here, of: p.bytes.length };
    const part = p.bytes.slice(here, here + piece) as Uint8Array<ArrayBuffer>;
    const range = `bytes ${here}-${here + part.length - 1}/${p.bytes.length}`;
    const r = await asDevice(at, token, { method: "PUT", headers: { "content-type": "application/octet-stream", "content-range": range }, body: part });
    ({ here, whole } = (await r.json()) as { here: number; whole: boolean });
  }
}

/** letIn has the server let this device in by a code from the office, under a name. What was recorded before goes up then, too. */
export async function letIn(code: string, name: string): Promise<void> {
  const { id } = await device();
  const said = await post<{ token: string }>("/devices", { code, name, device: id });
  await setDevice({ name, token: said.token });
  stopped.value = "";
  shutOut.value = false;
}
