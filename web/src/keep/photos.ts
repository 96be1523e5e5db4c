// Photos and voice notes from site: kept by their SHA-256, apart from the records that name them, and sent apart from them.
import { signal } from "@preact/signals";
import { during, type PhotoRow } from "./db";
import { kept, waits } from "./fieldbook";
import { bytes } from "../net/api";
import { others } from "./pages";
import { sha256 } from "./sha256";

/** photos counts all of this browser. */
export const photos = signal({ here: 0, unsent: 0 });

/** refused are those that the server does not take. */
export const refused = signal<(Omit<PhotoRow, "bytes"> & { size: number })[]>([]);

/** largest is what the server takes of one, in bytes. */
export const largest = 64 << 20;

others.hear((w) => w.sent && void counted());

/** addPhoto keeps a photo or a voice note. It ends when the disk has it, and gives the sum by which a record names it: so it is
 * kept before the record is. */
export async function addPhoto(job: string, file: Blob, place: string): Promise<string> {
  if (file.size === 0) throw new Error("This file is empty: nothing was kept. Try: take it once more.");
  if (file.size > largest) throw new Error(`This file has ${megabytes(file.size)}; the most that one photo or voice note may have is ${megabytes(largest)}. Try: a smaller picture.`);
  const bytes = new Uint8Array(await file.arrayBuffer());
  const sum = await sha256(bytes);
  const row: PhotoRow = { sha256: sum, job, place, type: file.type, made: Date.now(), bytes, sent: 0 };
  await kept(() => during(["fieldphotos"], "readwrite", async (t) => (await t.get("fieldphotos", sum)) ?? t.put("fieldphotos", row)));
  await counted();
  others.tell({ sent: true });
  waits();
  return sum;
}

const megabytes = (n: number): string => (n / 1e6).toFixed(1) + " MB";

/** photo is a photo or voice note, from here or from the server; it fails where neither has it now. */
export async function photo(sum: string): Promise<Blob> {
  const p = await during(["fieldphotos"], "readonly", (t) => t.get("fieldphotos", sum));
  if (p) return new Blob([p.bytes as Uint8Array<ArrayBuffer>], { type: p.type });
  return new Blob([(await bytes("/attachments/" + sum)) as Uint8Array<ArrayBuffer>]);
}

/** letGo takes the photos that the server has off this device, to make room; it gives how many bytes that was. The records stay, and
 * the photos come from the server where they are looked at. */
export async function letGo(): Promise<number> {
  const gone = await during(["fieldphotos"], "readwrite", async (t) => {
    let n = 0;
    for (const p of await t.of("fieldphotos", "sent", 1)) {
      await t.remove("fieldphotos", p.sha256);
      n += p.bytes.length;
    }
    return n;
  });
  await counted();
  others.tell({ sent: true });
  return gone;
}

/** sendAgain has the photos wait once more that the server did not take. */
export async function sendAgain(): Promise<void> {
  await during(["fieldphotos"], "readwrite", async (t) => {
    for (const { refused: _, ...p } of await t.of("fieldphotos", "sent", 2)) await t.put("fieldphotos", { ...p, sent: 0 });
  });
  await counted();
  others.tell({ sent: true });
  waits();
}

/** counted brings up to date how many there are. */
export async function counted(): Promise<void> {
  const [here, up, no] = await during(["fieldphotos"], "readonly", async (t) =>
    [await t.count("fieldphotos"), await t.count("fieldphotos", "sent", 1), await t.of("fieldphotos", "sent", 2)] as const);
  refused.value = no.map(({ bytes, ...p }) => ({ ...p, size: bytes.length }));
  photos.value = { here, unsent: here - up };
}
