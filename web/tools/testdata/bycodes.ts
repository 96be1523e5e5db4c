// A day's work through codes: drawn as pictures, some of them missed, in any order, read by the reader and put together again.
import { codes } from "../../src/codes/codes";
import { base45, frames, fromBase45, Gathering } from "../../src/codes/frames";
import { carded, odds } from "../../src/codes/place";

const seed = Number(process.argv[2]);
let state = seed;
const dice = (): number => { // mulberry32
  state = (state + 0x6d2b79f5) | 0;
  let t = Math.imul(state ^ (state >>> 15), 1 | state);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
};
const must = (yes: boolean, what: string): void => {
  if (!yes) throw new Error(`seed ${seed}: ${what}`);
};
const picked = (n: number, from: string): string => Array.from({ length: n }, () => from[Math.floor(dice() * from.length)]).join("");
const ulid = (): string => "01KB" + picked(22, "0123456789ABCDEFGHJKMNPQRSTVWXYZ");

// records as phones keep them
const device = ulid();
let before = ulid();
const many = 120;
const lines = Array.from({ length: many }, (_, i) => {
  const id = ulid();
  const r = i % 3
    ? { person: "Ada Brand", made: `2026-11-27T0${i % 10}:1${i % 6}:00+01:00`, kind: "gap", from: `A-${String(i).padStart(3, "0")}/A-${String(i + 1).padStart(3, "0")}`, after: [before], instrument: { id: "wedge 2", checked: "2026-11-02" }, says: { left_mm: 9 + Math.floor(dice() * 5), right_mm: 9 + Math.floor(dice() * 5) }, id, job: "tram-depot", device, number: i + 1 }
    : { person: "Ada Brand", made: `2026-11-27T0${i % 10}:1${i % 6}:00+01:00`, kind: "set", from: `A-${String(i).padStart(3, "0")}`, to: `A-${String(i + 3).padStart(3, "0")}`, text: i === 30 ? "gruß ⌀ 中" : "", says: { within: true }, id, job: "tram-depot", device, number: i + 1 };
  before = id;
  return JSON.stringify(r) + "\n";
});
const text = lines.join("");

// a picture of a code as a camera sees it: five pixels a module, noise, something round it
const picture = (code: string) => {
  const rows = codes.modules(code);
  const [each, edge] = [4, 17];
  const side = rows.length * each + 2 * edge;
  const data = new Uint8ClampedArray(4 * side * side);
  for (let y = 0; y < side; y++) for (let x = 0; x < side; x++) {
    const dark = rows[Math.floor((y - edge) / each)]?.[Math.floor((x - edge) / each)];
    const grey = (dark === undefined ? 140 : dark ? 40 : 210) + Math.floor(dice() * 30);
    data.set([grey, grey, grey, 255], 4 * (y * side + x));
  }
  return { width: side, height: side, data };
};

const all = await frames(text);
let [looks, misses] = [0, 0];
const seen = all.map((code) => codes.read(picture(code), 1000));
seen.forEach((s, i) => must(s === all[i], `frame ${i + 1} was read as ${s.slice(0, 40)}`));

const g = new Gathering();
must(g.take("no code of ours") === "none" && g.take("TW1/0/4/0123456789ABCDEF/AAA") === "none" && g.take("TW1/1/4/0123456789ABCDEF/AA~") === "none", "what is no frame was taken");
for (let round = 0; g.count === 0 || g.missing().length > 0; round++) {
  must(round < 200, "it never ends");
  for (const code of [...seen].sort(() => dice() - 0.5)) {
    looks++;
    if (dice() < 0.4) { misses++; continue; }
    const known = g.count > 0 && !g.missing().includes(Number(code.split("/")[1]));
    must(g.take(code) === (known ? "known" : "new"), "a frame was taken for what it is not");
  }
  must(g.here + g.missing().length === all.length, "what is here and what is missing are not all");
}
must((await g.whole()) === text, "what came is not what was sent");

// a frame of another whole is not mixed in; a damaged part is found by the hash
const others = await frames(text + lines[0]!.replace("2026", "2027"));
must(g.take(others[0]!) === "another", "a frame of another whole was taken");
const damaged = new Gathering();
seen.forEach((code, i) => damaged.take(i === 1 ? code.slice(0, -3) + "000" : code));
must(await damaged.whole().then(() => false, () => true), "a damaged frame went through");

for (let n = 0; n < 200; n++) {
  const b = Uint8Array.from({ length: Math.floor(dice() * 40) }, () => Math.floor(dice() * 256));
  must(String(fromBase45(base45(b))) === String(b), "base 45 of " + b);
}
must(base45(new TextEncoder().encode("base-45")) === "UJCLQE7W581", "base 45, an example of RFC 9285, 4.3");

// typed or scanned: one place
must(carded("tram-depot / file 0123456789ab / A-014 to A-020").place === "A-014" && carded("https://here/jobs/x#unit/A-014").place === "A-014" && carded(" 100 % ").place === "100 %", "the place of a code");
must(odds(carded("other / file 0 / A-1"), "tram-depot", "f", "").includes("of job other"), "a card of another job");
must(odds(carded("j / file 0123456789ab / A-1"), "j", "0123456789abcdef", "state 7, ABCDEF · NOT ISSUED") === "" && odds(carded("j / state 7, ABCDEF / A-1"), "j", "ffff", "state 7, ABCDEF · NOT ISSUED") === "", "a card of this state");
must(odds(carded("j / state 6, ABCDEF / A-1"), "j", "ffff", "state 7, ABCDEF · NOT ISSUED").includes("state 6"), "a card of an older state");

const modules = Math.max(...all.map((c) => codes.modules(c).length));
console.log(`${many} records, ${text.length} bytes, ${all.length} codes of ${modules} modules or fewer; read after ${looks} looks of which ${misses} missed. Without a miss ${Math.round((many / (all.length * 0.3)) * 60)} records a minute at 0.3 s a code`);
