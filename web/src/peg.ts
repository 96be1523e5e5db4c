// Where the peg stands once a change is planned: it goes with the thing that it stood at, or stays at its chainage of its leg.
// Chainages of the strip alone would put it elsewhere, for every leg that grows pushes what comes after it along.
import type { Screen } from "./screen";

interface Place {
  at: number;
  from: number;
  to: number;
}

// Everywhere on the strip where the thing of a key lies.
function places(s: Screen, key: string): Place[] {
  const [kind, ...rest] = key.split("/");
  const point = (at: number): Place => ({ at, from: at, to: at });
  const unit = (mark: string | undefined): number => (mark ? s.units.mark.indexOf(mark) : -1);
  const cell = (from: number | null | undefined, to: number | null | undefined): Place[] => (from == null || to == null ? [] : [{ at: from, from, to }]);
  switch (kind) {
    case "node":
      return (s.nodes.find((n) => n.key === key)?.strip ?? []).map(point);
    case "unit": {
      const i = unit(rest[0]);
      return cell(s.units.from[i], s.units.to[i]);
    }
    case "joint": {
      const before = unit(rest[0]);
      const at = s.joints.at[s.joints.before.indexOf(before)];
      return before < 0 || at == null ? [] : [point(at)];
    }
    case "cover": {
      const [mark, number] = (rest[0] ?? "").split(".");
      const on = unit(mark);
      const i = s.covers.unit.findIndex((u, k) => u === on && s.covers.number[k] === Number(number));
      return on < 0 ? [] : cell(s.covers.from[i], s.covers.to[i]);
    }
    case "leg":
      return s.legs.filter((l) => l.key === key).map((l) => ({ at: l.from, from: l.from, to: l.to }));
    case "zone":
      return s.zones.filter((z) => z.key === key).map((z) => ({ at: (z.from + z.to) / 2, from: z.from, to: z.to }));
  }
  const things = [...s.crossings, ...s.services, ...s.entries, ...s.supports, ...s.forced].filter((t) => t.key === key);
  const upright = [...s.section.pins, ...s.section.outlets].filter((t) => t.key === key);
  return [...things, ...upright.map((t) => point(t.at))];
}

/** Stood is where the peg stood, in words that outlive a change. */
export interface Stood {
  key: string;
  nth: number; // of the places of the thing; -1: it did not stand at it
  off: number; // from that place
  leg: string;
  along: number; // that leg
  here: number;
}

const beside = 1000; // mm: what is further from a thing does not stand at it

/** stood is where the peg stands on a screen. */
export function stood(s: Screen, key: string, here: number): Stood {
  const off = (p: Place): number => Math.max(p.from - here, here - p.to, 0);
  let nth = -1;
  const all = places(s, key);
  all.forEach((p, i) => {
    if (off(p) <= beside && (nth < 0 || off(p) < off(all[nth]!))) nth = i;
  });
  const leg = s.legs.find((l) => here >= l.from - 0.5 && here <= l.to + 0.5);
  return { key, nth, off: nth < 0 ? 0 : here - all[nth]!.at, leg: leg?.id ?? "", along: here - (leg?.from ?? 0), here };
}

/** stands is where it stands on another screen of the same job. */
export function stands(s: Screen, was: Stood): number {
  const within = (x: number, from: number, to: number): number => Math.min(Math.max(x, from), Math.max(from, to));
  const all = was.nth < 0 ? [] : places(s, was.key);
  const p = all[was.nth] ?? all[0];
  if (p) return within(p.at + was.off, p.from, p.to);
  const leg = s.legs.find((l) => l.id === was.leg);
  return leg ? within(leg.from + was.along, leg.from, leg.to) : within(was.here, 0, s.length_mm);
}

/** keptKey is the key by which the thing of a key is found on another screen: findings are numbered anew with every plan. */
export function keptKey(old: Screen, s: Screen, key: string): string {
  if (!key.startsWith("finding/")) return key;
  const f = old.findings.find((f) => "finding/" + f.name === key);
  const same = f && (s.findings.find((g) => g.kind === f.kind && g.text === f.text) ?? s.findings.find((g) => g.id === f.id && g.kind === f.kind && g.path === f.path && g.where === f.where));
  return same ? "finding/" + same.name : "";
}
