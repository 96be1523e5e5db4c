// Bytes as codes that are shown one after the other and read in any order: each says which of how many it is and of what whole, by its
// hash, so that some may be missed and read the next time round.
//
// A frame is TW1/number/count/hash/payload: number from 1, the first 16 hex digits of the SHA-256 of the whole, payload in base 45
// (RFC 9285). All of it is letters that a code takes two of in 11 bits (ISO/IEC 18004, alphanumeric mode).
import { sha256 } from "../keep/sha256";

const size = 300; // bytes a frame: with its head a code of version 14 or less, 73 modules, some 4 pixels each on a phone of 360
const most = 4000; // frames
const mostBytes = 64 << 20; // of a whole, unpacked
const letters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/** frames are the codes of a text, packed. */
export async function frames(text: string): Promise<string[]> {
  const bytes = await through(new Blob([text]).stream().pipeThrough(new CompressionStream("deflate-raw")));
  const hash = (await sha256(bytes)).slice(0, 16).toUpperCase();
  const count = Math.ceil(bytes.length / size);
  if (count > most) throw new Error(`That is too much for codes: ${count} of them, ${most} at the most. Save it as a file.`);
  return Array.from({ length: count }, (_, i) => `TW1/${i + 1}/${count}/${hash}/${base45(bytes.subarray(i * size, (i + 1) * size))}`);
}

// All of a stream, up to so many bytes: a few that unpack without end would take all of the memory.
async function through(s: ReadableStream<Uint8Array>): Promise<Uint8Array<ArrayBuffer>> {
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let bytes = 0;
  const from = s.getReader();
  for (let r = await from.read(); !r.done; r = await from.read()) {
    if ((bytes += r.value.length) > mostBytes) {
      void from.cancel().catch(() => undefined);
      throw new Error(`What was read unpacks to more than ${mostBytes >> 20} MB, which no day's work is. Nothing was kept.`);
    }
    parts.push(r.value as Uint8Array<ArrayBuffer>);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

export function base45(b: Uint8Array): string {
  let out = "";
  for (let i = 0; i < b.length; i += 2) {
    const pair = i + 1 < b.length;
    let n = pair ? b[i]! * 256 + b[i + 1]! : b[i]!;
    for (let k = pair ? 3 : 2; k > 0; k--, n = Math.floor(n / 45)) out += letters[n % 45];
  }
  return out;
}

/** fromBase45 is the bytes of such a text; undefined: it is none. */
export function fromBase45(s: string): Uint8Array | undefined {
  if (s.length % 3 === 1) return undefined;
  const out: number[] = [];
  for (let i = 0; i < s.length; i += 3) {
    const digits = [...s.slice(i, i + 3)].map((c) => letters.indexOf(c));
    const n = digits.reduceRight((sum, d) => sum * 45 + d, 0);
    if (digits.includes(-1) || n >= (digits.length === 3 ? 65536 : 256)) return undefined;
    if (digits.length === 3) out.push(n >> 8);
    out.push(n & 255);
  }
  return Uint8Array.from(out);
}

/** Gathering is what was read so far of one whole. */
export class Gathering {
  count = 0; // frames of the whole; 0: none was read yet
  private hash = "";
  private parts = new Map<number, Uint8Array>();

  /** take takes a code in and says whether it was a new part; another: it is of another whole than those before. */
  take(code: string): "new" | "known" | "another" | "none" {
    const m = /^TW1\/(\d{1,4})\/(\d{1,4})\/([0-9A-F]{16})\/(.*)$/s.exec(code);
    const [n, count] = [Number(m?.[1]), Number(m?.[2])];
    const part = m && fromBase45(m[4]!);
    if (!part || n < 1 || n > count || count > most) return "none";
    if (this.count === 0) [this.count, this.hash] = [count, m[3]!];
    else if (this.hash !== m[3] || this.count !== count) return "another";
    if (this.parts.has(n)) return "known";
    this.parts.set(n, part);
    return "new";
  }

  get here(): number {
    return this.parts.size;
  }

  /** missing are the numbers that were not read yet. */
  missing(): number[] {
    return Array.from({ length: this.count }, (_, i) => i + 1).filter((n) => !this.parts.has(n));
  }

  /** whole is the text, when every part is here. It throws where they do not come to what was sent. */
  async whole(): Promise<string> {
    const bytes = new Uint8Array(await new Blob(this.missing().length ? [] : [...this.parts].sort(([a], [b]) => a - b).map(([, p]) => p as Uint8Array<ArrayBuffer>)).arrayBuffer());
    if ((await sha256(bytes)).slice(0, 16).toUpperCase() !== this.hash) throw new Error("What was read is not what was shown. Nothing was kept: read the codes once more.");
    return new TextDecoder().decode(await through(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"))));
  }
}
