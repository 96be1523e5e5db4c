// A keypad of our own: a phone's has no feet, no sixteenths and no sign in words. It writes what is pressed as text; the core reads
// it, and says how it was understood.
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import * as now from "../state";

const fractions = ["1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"];

/** Pressed is what a keypad wrote so far: feet, what is being typed behind them, a fraction of an inch, and the unit. */
interface Pressed {
  feet: string;
  digits: string;
  part: string;
  unit: string; // mm, m, in, ft; empty: as the field has it
}
const nothing: Pressed = { feet: "", digits: "", part: "", unit: "" };

const written = (p: Pressed): string => {
  if (p.feet || p.part) return [p.feet && p.feet + "'", [p.digits, p.part].filter(Boolean).join(" ") && [p.digits, p.part].filter(Boolean).join(" ") + '"'].filter(Boolean).join(" ");
  if (!p.digits) return "";
  return p.unit === '"' ? p.digits + '"' : p.digits + (p.unit && " " + p.unit);
};

const read = (text: string): Pressed => {
  const t = text.replace(/^-/, "").trim();
  const ft = /^(?:(\d+)')?\s*(?:(\d+)?\s*(\d+\/\d+)?")?$/.exec(t);
  if (ft && (ft[1] || ft[3])) return { feet: ft[1] ?? "", digits: ft[2] ?? "", part: ft[3] ?? "", unit: "" };
  const n = /^([\d.]*)\s*(mm|m|in|ft|")?$/.exec(t);
  return n ? { ...nothing, digits: n[1] ?? "", unit: n[2] ?? "" } : nothing;
};

/** Keypad writes a length, a level or an angle. sides are the words for its sign: what is said without one, and with a minus. said is
 * how it was understood, where whoever asks shows what is typed: it has its room from the start, so that no key moves under a finger. */
export function Keypad({ label, text, kind, typed, sides, done, said }: { label: string; text: string; kind: string; typed(text: string): void; sides?: [string, string] | undefined; done?: (() => void) | undefined; said?: ComponentChildren }) {
  const imperial = now.screen.value?.job.system === "imperial";
  const [p, setP] = useState(() => read(text));
  const [minus, setMinus] = useState(text.startsWith("-"));
  const at = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => at.current!.scrollIntoView({ block: "nearest" }), []);
  const units = kind === "length" || kind === "off" ? (imperial ? ['"', "mm"] : ["mm", "m"]) : kind === "reading" ? (imperial ? ["", "m"] : ["m", "ft"]) : [""];
  const put = (next: Pressed, sign = minus): void => {
    setP(next);
    setMinus(sign);
    const t = written(next);
    typed(t && sign ? "-" + t : t);
  };
  const unit = p.unit || units[0]!;
  const press = (k: string): void => put({ ...p, digits: p.digits + k, unit: p.unit || (p.feet || p.part ? "" : unit) });
  const back = (): void => put(p.part ? { ...p, part: "" } : p.digits ? { ...p, digits: p.digits.slice(0, -1) } : { ...p, feet: p.feet.slice(0, -1) });
  const turn = (): void => put({ ...nothing, digits: p.digits, unit: units[(units.indexOf(unit) + 1) % units.length]! });
  const key = (k: string, does: () => void, says = k, css = "") => <button key={says} type="button" class={css} aria-label={says === k ? undefined : says} onClick={does}>{k}</button>;
  const digit = (k: string) => key(k, () => press(k));
  const point = key(".", () => p.digits.includes(".") || press("."), "point");
  const rub = key("⌫", back, "rub out the last");
  const inches = imperial && kind !== "angle" && kind !== "coordinate";
  const [parts, setParts] = useState(false); // the fractions are there in place of the digits
  const says = unit === '"' || unit === "" ? (kind === "reading" ? "ft" : "ft-in") : unit;
  const last = done ? key("✓", done, "done") : key("C", () => put(nothing), "C: clear");
  return (
    <div ref={at} class={"keypad" + (inches ? " inches" : "")} role="group" aria-label={label}>
      <div class={sides ? "over sides" : "over"}>
        {sides?.map((s, i) => <button key={s} type="button" aria-pressed={minus === (i === 1)} onClick={() => put(p, i === 1)}>{s}</button>)}
        {said !== undefined ? <div class="understood"><p class="typing">{label} <strong>{text.replace(/^-/, "") || "–"}</strong></p>{said}</div> : <output class="typed">{written(p) || "–"}{!p.feet && !p.part && p.digits && !p.unit && <small> {kind === "reading" || kind === "coordinate" ? now.screen.value?.words.coord_unit : inches ? "in" : ""}</small>}</output>}
      </div>
      <div class="keys">
        {inches && parts ? [
          ...fractions.map((f) => key(f, () => (setParts(false), put({ ...p, part: p.part === f ? "" : f, unit: "" })), f + " inch", "fraction" + (p.part === f ? " on" : ""))),
          key("123", () => setParts(false), "123: digits", "small"),
        ] : inches ? [
          ...["1", "2", "3"].map(digit), rub,
          ...["4", "5", "6"].map(digit), key("ft", () => put({ ...nothing, feet: p.feet || p.digits }), "ft: what is typed are feet"),
          ...["7", "8", "9"].map(digit), key("n/16", () => setParts(true), "n/16: fractions of an inch", "small" + (p.part ? " on" : "")),
          point, digit("0"), key(says, turn, "unit: " + says, "small"), last,
        ] : [
          ...["1", "2", "3"].map(digit), rub,
          ...["4", "5", "6"].map(digit), key("C", () => put(nothing), "C: clear"),
          ...["7", "8", "9"].map(digit), units.length > 1 ? key(unit, turn, "unit: " + unit) : key("–", () => put(p, !minus), "other sign"),
          point, digit("0"), key("00", () => press("00")), done ? last : <span key="none" />,
        ]}
      </div>
    </div>
  );
}
