// SHA-256 (FIPS 180-4), by the browser where it has it, and by our own hand at addresses that are not secure, where it has not.

/** sha256 is the sum of b in hexadecimal digits. */
export async function sha256(b: Uint8Array<ArrayBuffer>): Promise<string> {
  const sum = globalThis.crypto?.subtle ? new Uint8Array(await crypto.subtle.digest("SHA-256", b)) : byHand(b);
  return Array.from(sum, (x) => x.toString(16).padStart(2, "0")).join("");
}

// The first 32 bits behind the point of the square (cube) roots of the first primes.
const primes = ((): number[] => {
  const list: number[] = [];
  for (let n = 2; list.length < 64; n++) if (list.every((p) => n % p !== 0)) list.push(n);
  return list;
})();
const behindPoint = (x: number): number => Math.floor((x - Math.floor(x)) * 2 ** 32) | 0;
const rounds = Int32Array.from(primes, (p) => behindPoint(Math.cbrt(p)));
const turned = (x: number, n: number): number => (x >>> n) | (x << (32 - n));

/** byHand is the same sum as bytes. */
export function byHand(b: Uint8Array): Uint8Array {
  const state = Int32Array.from(primes.slice(0, 8), (p) => behindPoint(Math.sqrt(p)));
  const whole = b.length - (b.length % 64);
  const w = new Int32Array(64);
  const view = new DataView(b.buffer, b.byteOffset, b.length);
  for (let at = 0; at < whole; at += 64) block(state, w, view, at);
  const end = new Uint8Array(b.length - whole < 56 ? 64 : 128);
  end.set(b.subarray(whole));
  end[b.length - whole] = 0x80;
  const tail = new DataView(end.buffer);
  tail.setUint32(end.length - 8, Math.floor(b.length / 2 ** 29));
  tail.setUint32(end.length - 4, (b.length << 3) >>> 0);
  for (let at = 0; at < end.length; at += 64) block(state, w, tail, at);
  const sum = new DataView(new ArrayBuffer(32));
  state.forEach((x, i) => sum.setInt32(4 * i, x));
  return new Uint8Array(sum.buffer);
}

function block(state: Int32Array, w: Int32Array, from: DataView, at: number): void {
  for (let i = 0; i < 16; i++) w[i] = from.getInt32(at + 4 * i);
  for (let i = 16; i < 64; i++) {
    const x = w[i - 15]!, y = w[i - 2]!;
    w[i] = (w[i - 16]! + w[i - 7]! + (turned(x, 7) ^ turned(x, 18) ^ (x >>> 3)) + (turned(y, 17) ^ turned(y, 19) ^ (y >>> 10))) | 0;
  }
  let [a, b, c, d, e, f, g, h] = state as unknown as [number, number, number, number, number, number, number, number];
  for (let i = 0; i < 64; i++) {
    const one = (h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + rounds[i]! + w[i]!) | 0;
    const two = ((turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((x, i) => (state[i] = (state[i]! + x) | 0));
}
