// The run from above, north up: contours of the ground, what crosses, legs and units, nodes that can be dragged, a north arrow and
// a scale bar. Only what lies in view is drawn, and of that only what is large enough to be seen.
import type { Node, Screen, Sketch } from "../screen";
import { even } from "./axis";
import { under, type Placing } from "./picture";
import { hatch, lettering, Row, write, type Ink } from "./pen";

/** Look is which part of the plan is shown: what lies in the middle, and how many pixels a metre has. */
export interface Look {
  x: number;
  y: number;
  scale: number;
}

export function whole(s: Screen, width: number, height: number): Look {
  const [w, so, e, n] = s.plan.extent_m;
  const scale = Math.min((width - 80) / Math.max(1, e - w), (height - 80) / Math.max(1, n - so));
  return { x: (w + e) / 2, y: (so + n) / 2, scale: Math.max(scale, 0.001) };
}

export class Frame {
  constructor(
    readonly look: Look,
    readonly width: number,
    readonly height: number,
  ) {}
  x(e: number): number {
    return this.width / 2 + (e - this.look.x) * this.look.scale;
  }
  y(n: number): number {
    return this.height / 2 - (n - this.look.y) * this.look.scale;
  }
  place(x: number, y: number): [number, number] {
    return [this.look.x + (x - this.width / 2) / this.look.scale, this.look.y - (y - this.height / 2) / this.look.scale];
  }
}

type Box = [number, number, number, number]; // metres: west, south, east, north
const boxes = new WeakMap<number[], Box>(); // of lines that do not change

function boxOf(line: number[]): Box {
  let b = boxes.get(line);
  if (b) return b;
  b = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i + 1 < line.length; i += 2) {
    b[0] = Math.min(b[0], line[i]!);
    b[1] = Math.min(b[1], line[i + 1]!);
    b[2] = Math.max(b[2], line[i]!);
    b[3] = Math.max(b[3], line[i + 1]!);
  }
  boxes.set(line, b);
  return b;
}

/** seen tells whether a line comes near the view, and is at least so many pixels long or wide. */
function seen(f: Frame, line: number[], least = 0): boolean {
  const [w, s, e, n] = boxOf(line);
  const room = 30;
  if (f.x(e) < -room || f.x(w) > f.width + room || f.y(s) < -room || f.y(n) > f.height + room) return false;
  return Math.max(e - w, n - s) * f.look.scale >= least;
}

/** Backdrop is a picture and where it belongs. */
export interface Backdrop {
  image: ImageBitmap;
  placing: Placing;
}

export interface Mark {
  key: string;
  here: number;
  moving?: { node: string; at: [number, number] };
}

export function plan(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, mark: Mark, sketch?: Sketch, below?: Backdrop): void {
  if (below) under(g, f, s.plan.origin_m, below.image, below.placing);
  contours(g, s, f, ink);
  crossing(g, s, f, ink, mark);
  const moved = new Map(sketch?.touched.map((t) => [t.leg, t]));
  s.legs.forEach((l, i) => {
    const t = moved.get(i);
    const line = t ? t.line.line_m : s.plan.legs[i]!.line_m;
    if (!seen(f, line)) return;
    path(g, f, line);
    g.lineWidth = 3;
    g.lineJoin = g.lineCap = "round";
    g.strokeStyle = l.verdict === "found" ? ink.ink : ink.line;
    g.setLineDash(l.verdict === "found" ? [] : [9, 6]);
    g.stroke();
    g.setLineDash([]);
    const u = t ? t.units.mark.length : l.units;
    const length = (l.to - l.from) / 1000;
    if (u === 0 || (length * f.look.scale) / u < 4) return;
    if (t) for (let k = 0; k < u; k++) unit(g, f, ink, t.corners_m, k * 8, t.units.flags[k]!, t.units.mark[k]!, mark);
    else for (let k = l.first; k < l.first + u; k++) unit(g, f, ink, s.plan.corners_m, k * 8, s.units.flags[k]!, s.units.mark[k]!, mark);
  });
  nodes(g, sketch?.nodes ?? s.nodes, f, ink, mark);
  peg(g, s, f, ink, mark, sketch);
  north(g, f, ink);
  bar(g, s, f, ink);
}

function path(g: CanvasRenderingContext2D, f: Frame, line: number[]): void {
  g.beginPath();
  for (let i = 0; i + 1 < line.length; i += 2) {
    if (i) g.lineTo(f.x(line[i]!), f.y(line[i + 1]!));
    else g.moveTo(f.x(line[i]!), f.y(line[i + 1]!));
  }
}

function contours(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink): void {
  g.font = lettering(11);
  const row = new Row();
  for (const c of s.plan.contours) {
    g.strokeStyle = c.major ? ink.line : ink.faint;
    g.lineWidth = 1;
    for (const l of c.lines_m) {
      if (!seen(f, l, 2)) continue;
      path(g, f, l);
      g.stroke();
      if (!c.major || l.length < 8) continue;
      const k = 2 * Math.floor(l.length / 4);
      const x = f.x(l[k]!);
      const y = f.y(l[k + 1]!);
      if (x > 20 && x < f.width - 40 && y > 20 && y < f.height - 20 && row.room(x + y * 7, x + y * 7 + 40)) write(g, c.label, x, y, ink, ink.soft);
    }
  }
}

function crossing(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, mark: Mark): void {
  for (const l of s.plan.lines) {
    if (!seen(f, l.line_m, l.key === mark.key ? 0 : 4)) continue; // shorter ones would lie under the run
    path(g, f, l.line_m);
    if (l.closed) {
      g.closePath();
      g.fillStyle = hatch(g, "rising", ink.line);
      g.fill();
    }
    g.lineWidth = l.key === mark.key ? 3.5 : 2;
    g.strokeStyle = l.key === mark.key ? ink.here : ink.ink;
    g.setLineDash(l.kind === "service" ? [7, 4] : l.kind === "entry" ? [] : [2, 3]);
    g.stroke();
    g.setLineDash([]);
  }
}

function unit(g: CanvasRenderingContext2D, f: Frame, ink: Ink, c: number[], at: number, flags: number, name: string, mark: Mark): void {
  const x0 = f.x(c[at]!);
  const y0 = f.y(c[at + 1]!);
  if (x0 < -200 || x0 > f.width + 200 || y0 < -200 || y0 > f.height + 200) return;
  g.beginPath();
  g.moveTo(x0, y0);
  for (let i = 2; i < 8; i += 2) g.lineTo(f.x(c[at + i]!), f.y(c[at + i + 1]!));
  g.closePath();
  g.fillStyle = flags & 16 ? ink.stone : ink.paper;
  g.fill();
  if (flags & 1) (g.fillStyle = hatch(g, "falling", ink.line)), g.fill();
  const here = mark.key === "unit/" + name;
  g.strokeStyle = here ? ink.here : ink.ink;
  g.lineWidth = here ? 3 : 1;
  g.stroke();
  const mx = (f.x(c[at]!) + f.x(c[at + 4]!)) / 2;
  const my = (f.y(c[at + 1]!) + f.y(c[at + 5]!)) / 2;
  if (f.look.scale > 18) {
    g.font = lettering(11);
    g.textAlign = "center";
    write(g, name, mx, my + 4, ink);
    g.textAlign = "start";
  }
}

function nodes(g: CanvasRenderingContext2D, list: Node[], f: Frame, ink: Ink, mark: Mark): void {
  g.font = lettering(12, true);
  const shown = list.filter((n) => inView(f, n.at_m) || mark.moving?.node === n.id);
  const marks = apart(shown, f, mark);
  const taken: [number, number, number, number][] = marks.map((n) => [f.x(n.at_m[0]) - 8, f.y(n.at_m[1]) - 8, f.x(n.at_m[0]) + 8, f.y(n.at_m[1]) + 8]);
  for (const n of marks) {
    const at = mark.moving?.node === n.id ? mark.moving.at : n.at_m;
    const x = f.x(at[0]);
    const y = f.y(at[1]);
    const here = mark.key === n.key;
    g.beginPath();
    g.arc(x, y, here ? 9 : 6, 0, 7);
    g.fillStyle = ink.paper;
    g.fill();
    g.lineWidth = here ? 3 : 2;
    g.strokeStyle = here ? ink.here : ink.ink;
    g.stroke();
    const text = n.hand ? `${n.id} ${n.angle}` : n.id;
    const w = g.measureText(text).width;
    for (const [dx, dy] of [[11, -8], [11, 18], [-11 - w, -8], [-11 - w, 18]] as const) {
      const box: [number, number, number, number] = [x + dx, y + dy - 12, x + dx + w, y + dy + 3];
      if (box[0] < 2 || box[2] > f.width - 2 || taken.some((t) => box[0] < t[2] && box[2] > t[0] && box[1] < t[3] && box[3] > t[1])) continue;
      taken.push(box);
      write(g, text, x + dx, y + dy, ink);
      break;
    }
  }
}

const inView = (f: Frame, at: readonly [number, number]): boolean => {
  const x = f.x(at[0]);
  const y = f.y(at[1]);
  return x > -30 && x < f.width + 30 && y > -30 && y < f.height + 30;
};

// From far off nodes lie over each other: of those within some pixels one is drawn, the selected one always.
function apart(list: Node[], f: Frame, mark: Mark): Node[] {
  const taken = new Set<number>();
  return list.filter((n) => {
    const cell = Math.floor(f.x(n.at_m[0]) / 9) * 100_000 + Math.floor(f.y(n.at_m[1]) / 9);
    if (taken.has(cell) && n.key !== mark.key && n.id !== mark.moving?.node) return false;
    taken.add(cell);
    return true;
  });
}

/** where the strip's place lies in plan, and which way the run goes there. */
export function placeOf(s: Screen, mm: number): { at: [number, number]; way: [number, number] } | undefined {
  const i = s.legs.findIndex((l) => mm >= l.from - 0.5 && mm <= l.to + 0.5);
  const l = s.plan.legs[i];
  if (!l) return undefined;
  let k = 1;
  while (k < l.strip.length - 1 && l.strip[k]! < mm) k++;
  const a = l.strip[k - 1]!;
  const b = l.strip[k]!;
  const t = b > a ? Math.min(1, Math.max(0, (mm - a) / (b - a))) : 0;
  const [x0, y0, x1, y1] = [l.line_m[2 * k - 2]!, l.line_m[2 * k - 1]!, l.line_m[2 * k]!, l.line_m[2 * k + 1]!];
  const d = Math.hypot(x1 - x0, y1 - y0) || 1;
  return { at: [x0 + t * (x1 - x0), y0 + t * (y1 - y0)], way: [(x1 - x0) / d, (y1 - y0) / d] };
}

function peg(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, mark: Mark, sketch?: Sketch): void {
  const p = sketch ? undefined : placeOf(s, mark.here);
  if (!p) return;
  const x = f.x(p.at[0]);
  const y = f.y(p.at[1]);
  const [nx, ny] = [-p.way[1], p.way[0]];
  g.beginPath();
  g.moveTo(x - nx * 14, y + ny * 14);
  g.lineTo(x + nx * 14, y - ny * 14);
  g.lineWidth = 3;
  g.strokeStyle = ink.here;
  g.stroke();
}

function north(g: CanvasRenderingContext2D, f: Frame, ink: Ink): void {
  const x = f.width - 24;
  g.beginPath();
  g.moveTo(x, 44);
  g.lineTo(x, 16);
  g.moveTo(x - 6, 25);
  g.lineTo(x, 15);
  g.lineTo(x + 6, 25);
  g.lineWidth = 2;
  g.strokeStyle = ink.ink;
  g.stroke();
  g.font = lettering(13, true);
  g.textAlign = "center";
  write(g, "N", x, 60, ink);
  g.textAlign = "start";
}

function bar(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink): void {
  const unit = s.axis.unit_mm / 1000;
  const step = even(90 / (f.look.scale * unit));
  const w = step * unit * f.look.scale;
  const y = f.height - 16;
  g.fillStyle = ink.ink;
  g.fillRect(16, y, w, 3);
  g.fillRect(16, y - 4, 2, 11);
  g.fillRect(16 + w - 2, y - 4, 2, 11);
  g.font = lettering(12);
  write(g, `${step} ${s.axis.unit}`, 22 + w, y + 5, ink);
}

/** nearest is what lies under a place of the canvas: a node first, then a unit, else the run itself. */
export function nearest(s: Screen, f: Frame, x: number, y: number): { key: string; strip?: number } | undefined {
  for (const n of s.nodes) if (Math.hypot(f.x(n.at_m[0]) - x, f.y(n.at_m[1]) - y) < 14) return { key: n.key, strip: n.strip[0] };
  for (const l of s.plan.lines) if (near(f, l.line_m, x, y) < 8) return { key: l.key };
  let best = 22;
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
