// What lies along and across the run in plan: zones, services, crossings, supports, entries; curves with what drags their radius; and
// what a place that is being dragged is drawn to.
import type { Curve, PlanLine, Screen } from "../screen";
import { beside, callings, type Labels } from "./labels";
import { hatch, lettering, type Ink } from "./pen";
import { path, seen, type Frame, type Mark } from "./plan";

const dashes: Record<string, number[]> = { service: [7, 4], crossing: [2, 3], zone: [1, 3] };

/** shown tells whether a thing is large enough to be drawn, or is the one that is selected. */
export function shown(f: Frame, l: PlanLine, key: string): boolean {
  const small = l.kind === "entry" ? 0 : 4; // shorter ones would lie under the run
  return seen(f, l.line_m, l.key === key ? 0 : small) && (l.kind !== "entry" || l.key === key || f.look.scale > 3);
}

/** bands are zones and crossings, hatched below the run. */
export function bands(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, mark: Mark): void {
  for (const l of s.plan.lines) {
    if (!l.closed || !shown(f, l, mark.key)) continue;
    path(g, f, l.line_m);
    g.closePath();
    g.fillStyle = hatch(g, l.kind === "zone" ? "dots" : "rising", ink.line);
    g.fill();
    stroke(g, l, ink, mark);
  }
}

/** things are what crosses or stands in the run, over its units. */
export function things(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, mark: Mark): void {
  for (const l of s.plan.lines) {
    if (l.closed || !shown(f, l, mark.key)) continue;
    path(g, f, l.line_m);
    stroke(g, l, ink, mark);
    if (l.kind !== "entry") continue;
    const [x, y] = [f.x(l.line_m.at(-2)!), f.y(l.line_m.at(-1)!)];
    g.beginPath();
    g.arc(x, y, 4, 0, 7);
    g.fillStyle = ink.paper;
    g.fill();
    g.stroke();
  }
}

function stroke(g: CanvasRenderingContext2D, l: PlanLine, ink: Ink, mark: Mark): void {
  const here = l.key === mark.key;
  g.lineWidth = here ? 3.5 : l.kind === "support" ? 1.5 : l.kind === "forced" ? 3 : 2;
  g.strokeStyle = here ? ink.here : ink.ink;
  g.setLineDash(dashes[l.kind] ?? []);
  g.stroke();
  g.setLineDash([]);
}

/** keepEntries keeps the rings of entries free of names. */
export function keepEntries(s: Screen, f: Frame, mark: Mark, labels: Labels): void {
  for (const l of s.plan.lines) {
    if (l.kind !== "entry" || !shown(f, l, mark.key)) continue;
    const [x, y] = [f.x(l.line_m.at(-2)!), f.y(l.line_m.at(-1)!)];
    labels.keep([x - 5, y - 5, x + 5, y + 5]);
  }
}

/** thingNames writes what they are called, or their ids where there is no more room; that of the selected one always. */
export function thingNames(g: CanvasRenderingContext2D, s: Screen, f: Frame, mark: Mark, labels: Labels): void {
  g.font = lettering(12);
  const all = s.plan.lines.filter((l) => shown(f, l, mark.key) && (l.key === mark.key || l.kind !== "support" && seen(f, l.line_m, l.kind === "entry" ? 20 : l.kind === "forced" ? 24 : l.kind === "service" ? 8 : 16)));
  for (const l of [...all.filter((l) => l.key === mark.key), ...all.filter((l) => l.key !== mark.key)]) {
    callings(l.name, l.key).some((text) => {
      const wide = g.measureText(text).width;
      return labels.put(text, (l.key === mark.key ? [...ends(l, f), ...along(l, f)] : ends(l, f)).flatMap(([x, y]) => beside(x, y, wide, 6)), wide, l.key);
    });
  }
}

function ends(l: PlanLine, f: Frame): [number, number][] {
  const out: [number, number][] = [];
  for (let i = 0; i + 1 < l.line_m.length; i += l.closed && l.line_m.length > 8 ? 4 : 2) out.push([f.x(l.line_m[i]!), f.y(l.line_m[i + 1]!)]);
  return out;
}

// Places on the line itself, from its middle outwards, for where both ends are out of view.
function along(l: PlanLine, f: Frame): [number, number][] {
  const out: [number, number][] = [];
  for (const t of [0.5, 0.4, 0.6, 0.25, 0.75, 0.1, 0.9]) {
    for (let i = 0; i + 3 < l.line_m.length; i += 2) {
      const [a, b, c, d] = [l.line_m[i]!, l.line_m[i + 1]!, l.line_m[i + 2]!, l.line_m[i + 3]!];
      out.push([f.x(a + t * (c - a)), f.y(b + t * (d - b))]);
    }
  }
  return out;
}

/** Grip is one of the three places by which a curve is dragged. */
export type Grip = "begin_m" | "middle_m" | "end_m";

/** places are where a curve's grips lie in metres, at a radius. The middle is one only where it stands clear of the corner. */
export function grips(c: Curve, f: Frame, radius = c.radius_m): [Grip, number, number][] {
  const all: [Grip, number, number][] = [];
  for (const g of ["begin_m", "middle_m", "end_m"] as const) {
    const [e, n] = [(c[g][0] * radius) / reach, (c[g][1] * radius) / reach];
    if (Math.hypot(e, n) * f.look.scale >= 14) all.push([g, c.corner_m[0] + e, c.corner_m[1] + n]);
  }
  return all;
}

/** radiusAt is the radius that a curve has where one of its grips is pulled to a place, in metres. */
export function radiusAt(c: Curve, grip: Grip, e: number, n: number): number {
  const [x, y] = c[grip];
  return Math.max(0.1, (reach * ((e - c.corner_m[0]) * x + (n - c.corner_m[1]) * y)) / (x * x + y * y));
}

const reach = 1e6; // m: the radius that the core tells grips for

/** curves have squares to drag their radius by; the selected one shows the corner of its straights. */
export function curves(g: CanvasRenderingContext2D, f: Frame, ink: Ink, mark: Mark, all: Curve[]): void {
  for (const c of all) {
    const here = c.key === mark.key;
    const at = grips(c, f);
    if (at.length < 2) continue;
    g.strokeStyle = here ? ink.here : ink.ink;
    if (here) {
      g.beginPath();
      g.moveTo(f.x(at[0]![1]), f.y(at[0]![2]));
      g.lineTo(f.x(c.corner_m[0]), f.y(c.corner_m[1]));
      g.lineTo(f.x(at.at(-1)![1]), f.y(at.at(-1)![2]));
      g.lineWidth = 1.5;
      g.setLineDash([4, 4]);
      g.stroke();
      g.setLineDash([]);
    }
    for (const [, e, n] of at) {
      const r = here ? 6 : 4;
      g.fillStyle = ink.paper;
      g.fillRect(f.x(e) - r, f.y(n) - r, 2 * r, 2 * r);
      g.lineWidth = here ? 3 : 1.5;
      g.strokeRect(f.x(e) - r, f.y(n) - r, 2 * r, 2 * r);
    }
  }
}

export function curveNames(g: CanvasRenderingContext2D, f: Frame, mark: Mark, all: Curve[], labels: Labels): void {
  g.font = lettering(12);
  for (const c of all) {
    const at = grips(c, f);
    for (const [, e, n] of at) labels.keep([f.x(e) - 6, f.y(n) - 6, f.x(e) + 6, f.y(n) + 6]);
    if (at.length < 2 && c.key !== mark.key) continue;
    const wide = g.measureText(c.label).width;
    const [x, y] = [f.x(c.corner_m[0] + (c.middle_m[0] * c.radius_m) / reach), f.y(c.corner_m[1] + (c.middle_m[1] * c.radius_m) / reach)];
    labels.put(c.label, beside(x, y, wide), wide, c.key);
  }
}

/** guide shows what a dragged place is drawn to: a ring round a point, a line from the end of a leg, or the lines of the grid. */
export function guide(g: CanvasRenderingContext2D, f: Frame, ink: Ink, mark: Mark): void {
  const m = mark.moving;
  if (!m?.drawn) return;
  const [x, y] = [f.x(m.at[0]), f.y(m.at[1])];
  g.strokeStyle = ink.here;
  g.lineWidth = 1.5;
  g.beginPath();
  if (m.drawn === "point") g.arc(x, y, 15, 0, 7);
  else if (m.drawn === "grid") (g.moveTo(x - 26, y), g.lineTo(x + 26, y), g.moveTo(x, y - 26), g.lineTo(x, y + 26));
  else if (m.guide) {
    const [a, b] = [f.x(m.guide[0]), f.y(m.guide[1])];
    const far = Math.hypot(x - a, y - b) || 1;
    g.setLineDash([6, 4]);
    g.moveTo(a, b);
    g.lineTo(x + ((x - a) / far) * 40, y + ((y - b) / far) * 40);
  }
  g.stroke();
  g.setLineDash([]);
}
