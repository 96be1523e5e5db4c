// Photos and voice notes from site: kept by their SHA-256, apart from the records that name them, and sent apart from them.
import { signal } from "@preact/signals";
import { during, type PhotoRow } from "./db";
import { others } from "./pages";
import { sha256 } from "./sha256";

/** photos counts all of this browser. */
export const photos = signal({ here: 0, unsent: 0 });

/** largest is what the server takes of one, in bytes. */
export const largest = 64 << 20;

others.hear((w) => w.sent && void counted());

/** addPhoto keeps a photo or a voice note. It ends when the disk has it, and gives the sum by which a record names it: so it is
 * kept before the record is. */
export async function addPhoto(job: string, file: Blob, place: string): Promise<string> {
  if (file.size > largest) throw new Error(`This file has ${megabytes(file.size)}; the most that one photo or voice note may have is ${megabytes(largest)}. Try: a smaller picture.`);
  const bytes = new Uint8Array(await file.arrayBuffer());
  const sum = await sha256(bytes);
  const row: PhotoRow = { sha256: sum, job, place, type: file.type, made: Date.now(), bytes, offset: 0, sent: 0 };
  await during(["fieldphotos"], "readwrite", async (t) => (await t.get("fieldphotos", sum)) ?? t.put("fieldphotos", row));
  await counted();
  others.tell({ sent: true });
  return sum;
}

const megabytes = (n: number): string => (n / 1e6).toFixed(1) + " MB";

/** photo is a photo that is kept here. */
export async function photo(sum: string): Promise<Blob | undefined> {
  const p = await during(["fieldphotos"], "readonly", (t) => t.get("fieldphotos", sum));
  return p && new Blob([p.bytes as Uint8Array<ArrayBuffer>], { type: p.type });
}

/** counted brings up to date how many there are. */
export async function counted(): Promise<void> {
  const [here, unsent] = await during(["fieldphotos"], "readonly", async (t) => [await t.count("fieldphotos"), await t.count("fieldphotos", "sent", 0)] as const);
  photos.value = { here, unsent };
}
