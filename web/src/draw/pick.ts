// What a place of the plan means: a node, what drags a curve, the name that stands there, something that crosses, a unit, or the run.
import type { Curve, Screen } from "../screen";
import { named, type Label } from "./labels";
import type { Frame } from "./plan";
import { grips, shown, type Grip } from "./planthings";

export interface Hit {
  key: string;
  strip?: number;
  grip?: { curve: Curve; of: Grip };
}

/** finger is how much further off a finger may be than a pointer. */
export const finger = 1.7;

/** nearest is what lies under a place of the canvas; wide is how far off it may be, 1 for a pointer; key is what is selected. */
export function nearest(s: Screen, f: Frame, x: number, y: number, written: readonly Label[] = [], wide = 1, key = ""): Hit | undefined {
  const [n, c] = [node(s, f, x, y, 14 * wide), curve(s, f, x, y, 10 * wide)];
  if (n || c) return !c || (n && n.off < c.off && key !== c.key) ? n : c;
  const name = named(written, x, y);
  if (name) return { key: name.key };
  return thing(s, f, x, y, wide, key) ?? onRun(s, f, x, y, 12 * wide) ?? within(s, f, x, y, key) ?? onRun(s, f, x, y, 22 * wide);
}

function node(s: Screen, f: Frame, x: number, y: number, best: number): (Hit & { off: number }) | undefined {
  let hit: (Hit & { off: number }) | undefined;
  for (const n of s.nodes) {
    const d = Math.hypot(f.x(n.at_m[0]) - x, f.y(n.at_m[1]) - y);
    if (d < best) (best = d), (hit = { key: n.key, off: d, ...(n.strip.length > 0 && { strip: n.strip[0]! }) });
  }
  return hit;
}

function curve(s: Screen, f: Frame, x: number, y: number, best: number): (Hit & { off: number }) | undefined {
  let hit: (Hit & { off: number }) | undefined;
  for (const l of s.plan.legs) {
    for (const c of l.curves) {
      const all = grips(c, f);
      if (all.length < 2) continue;
      for (const [of, e, n] of all) {
        const d = Math.hypot(f.x(e) - x, f.y(n) - y);
        if (d < best) (best = d), (hit = { key: c.key, off: d, strip: c.strip[1], grip: { curve: c, of } });
      }
    }
  }
  return hit;
}

// Of lines the nearest; supports stand close to each other in units that want to be met as well.
function thing(s: Screen, f: Frame, x: number, y: number, wide: number, key: string): Hit | undefined {
  let best = Infinity;
  let hit: Hit | undefined;
  for (const l of s.plan.lines) {
    if (!shown(f, l, key)) continue;
    const line = l.closed ? [...l.line_m, l.line_m[0]!, l.line_m[1]!] : l.line_m;
    const d = near(f, line, x, y);
    if (d < Math.min(best, (l.kind === "support" ? 4 : 8) * wide)) (best = d), (hit = { key: l.key });
  }
  return hit;
}

// A place within a zone or a crossing, beside the run.
function within(s: Screen, f: Frame, x: number, y: number, key: string): Hit | undefined {
  for (const l of s.plan.lines) {
    if (!l.closed || !shown(f, l, key)) continue;
    let inside = false;
    for (let i = 0, k = l.line_m.length - 2; i < l.line_m.length; k = i, i += 2) {
      const [ax, ay, bx, by] = [f.x(l.line_m[i]!), f.y(l.line_m[i + 1]!), f.x(l.line_m[k]!), f.y(l.line_m[k + 1]!)];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    }
    if (inside) return { key: l.key };
  }
  return undefined;
}

// Of the run the unit that lies there, else the leg.
function onRun(s: Screen, f: Frame, x: number, y: number, best: number): Hit | undefined {
  let found: { leg: number; strip: number } | undefined;
  s.plan.legs.forEach((l, leg) => {
    for (let i = 2; i + 1 < l.line_m.length; i += 2) {
      const [d, t] = off(f.x(l.line_m[i - 2]!), f.y(l.line_m[i - 1]!), f.x(l.line_m[i]!), f.y(l.line_m[i + 1]!), x, y);
      if (d >= best) continue;
      best = d;
      found = { leg, strip: l.strip[i / 2 - 1]! + t * (l.strip[i / 2]! - l.strip[i / 2 - 1]!) };
    }
  });
  if (!found) return undefined;
  const l = s.legs[found.leg]!;
  for (let k = l.first; k < l.first + l.units; k++)
    if (found.strip >= s.units.from[k]! && found.strip <= s.units.to[k]!) return { key: "unit/" + s.units.mark[k]!, strip: found.strip };
  return { key: l.key, strip: found.strip };
}

function near(f: Frame, line: number[], x: number, y: number): number {
  let best = Infinity;
  for (let i = 2; i + 1 < line.length; i += 2) best = Math.min(best, off(f.x(line[i - 2]!), f.y(line[i - 1]!), f.x(line[i]!), f.y(line[i + 1]!), x, y)[0]);
  return best;
}

function off(ax: number, ay: number, bx: number, by: number, x: number, y: number): [number, number] {
  const dx = bx - ax;
  const dy = by - ay;
  const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
  return [Math.hypot(ax + t * dx - x, ay + t * dy - y), t];
}
