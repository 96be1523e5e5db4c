// Codes as they come in the hand: cut, doubled, out of order, of another day or another job, changed in a letter; cards' codes and lines
// with numbers likewise. Whatever is read, nothing comes through that was not sent, and nothing breaks.
import { frames, Gathering } from "../../src/codes/frames";
import { carded, odds } from "../../src/codes/place";
import { numbered, unnumbered } from "../../src/keep/numbered";
import { sha256 } from "../../src/keep/sha256";
import { base45 } from "../../src/codes/frames";

const seed = Number(process.argv[2]);
let state = seed;
const dice = (): number => { // mulberry32
  state = (state + 0x6d2b79f5) | 0;
  let t = Math.imul(state ^ (state >>> 15), 1 | state);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
};
const below = (n: number): number => Math.floor(dice() * n);
const must = (yes: boolean, what: string): void => {
  if (!yes) throw new Error(`seed ${seed}: ${what}`);
};
const picked = (n: number, from: string): string => Array.from({ length: n }, () => from[below(from.length)]).join("");
const signs = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const ulid = (): string => "01KB" + picked(22, "0123456789ABCDEFGHJKMNPQRSTVWXYZ");
const record = (job: string, day: string): string =>
  JSON.stringify({ person: "Ada Brand", made: `2026-11-${day}T08:00:00Z`, kind: "gap", from: `A-${picked(3, "0123456789")}`, text: picked(below(40), "aäß中/{}\"\\ 1,"), id: ulid(), job, device: ulid(), number: 1 + below(900) });
const day = (job: string, on: string): string => Array.from({ length: 20 + below(40) }, () => record(job, on) + "\n").join("");

const wholes = [day("tram-depot", "27"), day("tram-depot", "28"), day("battery-yard", "27")];
const sets = await Promise.all(wholes.map(frames));

const cut = (c: string): string => c.slice(0, below(c.length));
const doubled = (c: string): string => c + c;
const changed = (c: string): string => {
  const at = below(c.length);
  return c.slice(0, at) + picked(1, signs + "~é\n") + c.slice(at + 1);
};
const turned = (c: string): string => [...c].reverse().join("");
const spoilt = [cut, doubled, changed, turned, (c: string) => c + "\n", (c: string) => " " + c, (c: string) => c.toLowerCase(), () => picked(below(80), signs)];

let [through, refused] = [0, 0];
for (let round = 0; round < 40; round++) {
  const g = new Gathering();
  const own = below(sets.length);
  must(g.take(sets[own]![below(sets[own]!.length)]!) === "new", "the first frame was not taken");
  let touched = false; // a frame that was changed and still is one: its whole must not come through otherwise than it was sent
  for (let n = 0; n < 4000 && g.missing().length > 0; n++) {
    const set = below(3) === 0 ? below(sets.length) : own;
    const code = sets[set]![below(sets[set]!.length)]!;
    const odd = below(12) === 0;
    const shown = odd ? spoilt[below(spoilt.length)]!(code) : code;
    const before = g.here;
    const is = g.take(shown);
    must(["new", "known", "another", "none"].includes(is), "a code was read as " + is);
    must(g.here === before + (is === "new" ? 1 : 0), "what is here does not follow from what was said of it");
    if (shown === code && set !== own) must(is === "another", `a frame of another day or job was read as ${is}`);
    if (odd && is === "new" && !sets[own]!.includes(shown)) touched = true;
  }
  must(g.missing().length === 0, "it never ends");
  const text = await g.whole().catch(() => undefined);
  if (text === undefined) {
    must(touched, "what was read whole did not come through");
    refused++;
  } else {
    must(text === wholes[own], "what came through is not what was sent");
    through++;
  }
}
must(through > 0, "nothing came through");

// a few bytes that unpack to more than a day's work ever is are not unpacked to the end
const zeros = new Uint8Array(await new Response(new Blob([new Uint8Array(200 << 20)]).stream().pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer());
const hash = (await sha256(zeros)).slice(0, 16).toUpperCase();
const count = Math.ceil(zeros.length / 300);
const bomb = new Gathering();
for (let i = 0; i < count; i++) bomb.take(`TW1/${i + 1}/${count}/${hash}/${base45(zeros.subarray(i * 300, (i + 1) * 300))}`);
must(await bomb.whole().then(() => false, (fault: Error) => fault.message.includes("unpacks to more")), "what unpacks without end was unpacked");

// cards: any text is a place or a job's place, and a card of this job and state says nothing odd
for (let n = 0; n < 3000; n++) {
  const any = picked(below(30), "AZ09 -/#%.éß\n\t~&?=:");
  const c = carded(any);
  must(typeof c.place === "string" && (c.job === "") === (any.trim().split(" / ").length < 3 || c.job === ""), "a code of a card: " + JSON.stringify(any));
  must(odds(c, "x", "0123456789abcdef", "state 7").length >= 0, "odds");
  const [job, place] = ["job-" + picked(5, "abcxyz0189-"), `${picked(1, "ABCDEFG")}-${picked(3, "0123456789")}`];
  const card = `${job} / state ${1 + below(99)}, ABCDEF / ${place}`;
  const whole = carded(card);
  must(whole.job === job && whole.place === place, card);
  must(odds(whole, job, "0", whole.state + " · ISSUED") === "", "a card of this very state is odd: " + card);
  must(odds(whole, "other", "0", whole.state).includes(`of job ${job}`), "a card of another job is not odd: " + card);
  must(odds(whole, job, "0", "state 0, ABCDEF").includes("printed from"), "a card of another state is not odd: " + card);
  const short = carded(cut(card)); // a code that was cut names no place that its card does not begin with
  must(short.job === "" || place.startsWith(short.place), "a card cut short: " + JSON.stringify(short));
}

// numbers round lines
for (let n = 0; n < 2000; n++) {
  const line = record("tram-depot", "27");
  const seq = 1 + below(2 ** 31);
  const given = unnumbered(numbered(line, seq));
  must(given.text === line && given.seq === seq, "a numbered line: " + line);
  must(unnumbered(line).text === line && unnumbered(line).seq === 0 && numbered(line) === line, "a plain line: " + line);
  const bad = [cut, doubled, changed][below(3)]!(numbered(line, seq));
  const read = unnumbered(bad);
  must(read.text === bad || bad.includes(read.text), "a spoilt line became another text: " + bad);
}
console.log(`${through} days through, ${refused} found damaged`);
