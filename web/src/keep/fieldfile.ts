// The way out when sending never works, and from one phone to another: records as a file of lines, photos as a file beside it; and
// both taken in again, here or elsewhere.
import { base64, fromBase64 } from "./base64";
import { during } from "./db";
import { asFile, idOf, jobOf, take } from "./fieldbook";
import { unnumbered } from "./numbered";
import { addPhoto } from "./photos";

const photoFormat = "trenchwright-photos/1";
const atOnce = 1000; // records
const today = (): string => new Date().toISOString().slice(0, 10);

/** recordsFile is every record that the server has not, of all jobs, with a name for it. */
export async function recordsFile(): Promise<{ name: string; blob: Blob }> {
  const blob = await asFile("", true);
  const n = (await blob.text()).split("\n").length - 1;
  return { name: `records_${n}-unsent_${today()}.ndjson`, blob };
}

/** photosFile is every photo that the server has not, with a name for it. */
export async function photosFile(): Promise<{ name: string; blob: Blob }> {
  const parts = [JSON.stringify({ format: photoFormat }) + "\n"];
  const all = await during(["fieldphotos"], "readonly", (t) => t.all("fieldphotos"));
  const rows = all.filter((p) => p.sent !== 1);
  for (const { sha256, job, place, type, bytes } of rows) parts.push(JSON.stringify({ sha256, job, place, type, base64: base64(bytes) }) + "\n");
  return { name: `photos_${rows.length}-unsent_${today()}.ndjson`, blob: new Blob(parts, { type: "application/x-ndjson" }) };
}

/** isFromSite tells whether a text begins as such a file does. */
export function isFromSite(beginning: string): boolean {
  return beginning.includes(photoFormat) || /^\s*\{[^\n]*"id"\s*:\s*"[0-7][0-9A-HJKMNP-TV-Z]{25}"/.test(beginning);
}

/** takeFile takes in such a file and says what came of it. What is here already stays as it is; what is no record is counted. */
export async function takeFile(text: string): Promise<string> {
  const lines = text.split("\n").filter((l) => l.trim());
  return lines[0]?.includes(photoFormat) ? takePhotos(lines.slice(1)) : takeRecords(lines);
}

async function takeRecords(lines: string[]): Promise<string> {
  const of = new Map<string, string[]>();
  let none = 0;
  for (const l of lines.map((x) => x.trim())) {
    const { text } = unnumbered(l);
    const job = idOf(text) && jobOf(text);
    if (!job) none++;
    else if (of.has(job)) of.get(job)!.push(l);
    else of.set(job, [l]);
  }
  let fresh = 0;
  for (const [job, list] of of) for (let i = 0; i < list.length; i += atOnce) fresh += await take(job, list.slice(i, i + atOnce));
  const all = lines.length - none;
  const strange = none > 0 ? ` ${none} ${none === 1 ? "line is" : "lines are"} no record of a job and ${none === 1 ? "was" : "were"} left out: keep the file.` : "";
  return `${all === 1 ? "1 record" : all + " records"}, ${fresh} of them not here before. What the server has not goes up when it is reached.${strange}`;
}

async function takePhotos(lines: string[]): Promise<string> {
  let n = 0;
  for (const l of lines) {
    const p = JSON.parse(l) as { sha256: string; job: string; place: string; type: string; base64: string };
    const sum = await addPhoto(p.job, new Blob([fromBase64(p.base64) as Uint8Array<ArrayBuffer>], { type: p.type }), p.place);
    if (sum !== p.sha256) throw new Error(`Photo ${n + 1} of the file is damaged; the ${n} before it are kept.`);
    n++;
  }
  return `${n === 1 ? "1 photo is" : n + " photos are"} kept here now.`;
}
