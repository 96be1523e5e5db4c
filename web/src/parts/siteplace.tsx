// Where a record is: one place or a stretch, chosen by steps along the run, never by typing alone.
import type { Screen } from "../screen";
import { jointsOf, next } from "../site";
import * as now from "../state";

/** placesOf are the places of a kind, in the order in which they are walked: units of the leg of one of them in laying order. */
export function placesOf(s: Screen, at: string, near: string): string[] {
  if (at === "node") return s.nodes.map((n) => n.id);
  if (at === "entry") return s.entries.map((e) => e.id);
  const mark = near.split(/[/.]/)[0]!;
  const u = s.units.mark.indexOf(mark);
  const leg = s.legs[u < 0 ? 0 : s.units.leg[u]!];
  if (!leg) return [];
  const units = s.units.mark.slice(leg.first, leg.first + leg.units);
  if (at === "joint") {
    const of = new Set(units);
    const joints = jointsOf(s).filter((j) => of.has(j.split("/")[0]!));
    return leg.from_end ? joints.reverse() : joints;
  }
  return leg.from_end ? units.reverse() : units;
}

interface Chosen {
  from?: string;
  to?: string;
}

/** Places chooses a place, or for units a stretch of them. within says where a place of a stretch may lie. */
export function Places({ at, from, to, within, label, put }: { at: string; from: string; to: string; within?: [string, string]; label?: string; put(c: Chosen): void }) {
  const s = now.screen.value!;
  let all = placesOf(s, at, from);
  if (within?.[1]) {
    const [a, b] = [all.indexOf(within[0]), all.indexOf(within[1])].sort((x, y) => x - y) as [number, number];
    if (a >= 0) all = all.slice(a, b + 1);
  }
  const i = all.indexOf(from);
  const last = Math.max(i, to ? all.indexOf(to) : i);
  const stretch = at === "units";
  const step = (say: string, value: string, less: string | undefined, more: string | undefined, set: (v: string) => void) => (
    <div class="stepper" role="group" aria-label={say}>
      <button type="button" aria-label={"one back, " + say} disabled={!less} onClick={() => set(less!)}>−</button>
      <span><small>{say}</small> <strong>{value || "–"}</strong></span>
      <button type="button" aria-label={"one on, " + say} disabled={!more} onClick={() => set(more!)}>+</button>
    </div>
  );
  const legs = s.legs.filter((l) => l.units > 0);
  const start = (v: string): void => put({ from: v, to: stretch && to && all.indexOf(v) < last ? to : "" });
  return (
    <div class="ask places">
      {stretch && <span class="label">where</span>}
      {step(label ?? (stretch ? "from" : at), from, all[i - 1], all[i + 1], start)}
      {stretch && step("to", all[last] ?? from, last > i ? all[last - 1] : undefined, all[last + 1], (v) => put({ to: v === from ? "" : v }))}
      {stretch && (
        <div class="choice" role="group" aria-label="how many">
          {[...new Set([1, 5, 10, all.length - i])].filter((n) => n > 0 && i + n <= all.length).sort((a, b) => a - b).map((n) => (
            <button key={n} type="button" aria-pressed={last - i + 1 === n} onClick={() => put({ to: n === 1 ? "" : all[i + n - 1]! })}>{n}</button>
          ))}
        </div>
      )}
      {!within && at !== "node" && at !== "entry" && legs.length > 1 && !next.value?.place && (
        <select aria-label="leg" value={s.legs.findIndex((l) => l.units > 0 && placesOf(s, "unit", from).includes(s.units.mark[l.first]!))} onChange={(e) => put({ from: s.units.mark[s.legs[Number(e.currentTarget.value)]!.first]!, to: "" })}>
          {s.legs.map((l, n) => l.units > 0 && <option key={l.id} value={n}>leg {l.id}</option>)}
        </select>
      )}
    </div>
  );
}
