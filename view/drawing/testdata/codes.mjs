// Reads the codes off pictures with a reader that shares nothing with the writer. In: by picture its width, its height (32 bits each,
// little-endian) and its pixels, four bytes each. Out: a JSON list of what each says; null: no code was found.
import { readFileSync } from "node:fs";
import decodeQR from "../../../web/node_modules/qr/decode.js";

const all = readFileSync(0);
const said = [];
for (let at = 0; at < all.length; ) {
  const width = all.readUInt32LE(at);
  const height = all.readUInt32LE(at + 4);
  const data = new Uint8Array(all.subarray(at + 8, at + 8 + 4 * width * height));
  at += 8 + data.length;
  try {
    said.push(decodeQR({ width, height, data }));
  } catch {
    said.push(null);
  }
}
process.stdout.write(JSON.stringify(said));
