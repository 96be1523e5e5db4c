// The run from above, north up: contours of the ground, what crosses, legs and units, nodes that can be dragged, a north arrow and
// a scale bar. Only what lies in view is drawn, and of that only what is large enough to be seen.
import type { Curve, Node, Screen, Sketch } from "../screen";
import { even } from "./axis";
import { beside, Labels, type Label } from "./labels";
import { under, type Placing } from "./picture";
import { hatch, lettering, write, type Ink } from "./pen";
import { bands, curveNames, curves, guide, keepEntries, thingNames, things } from "./planthings";

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
export function seen(f: Frame, line: number[], least = 0): boolean {
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
  moving?: Moving;
}

/** Moving is what a hand drags: a node, to where it comes to lie; or a curve, with the key of that. */
export interface Moving {
  node: string;
  at: [number, number];
  drawn?: string; // to what it is drawn: point, straight, right angle, grid
  guide?: readonly [number, number]; // where the leg ends that it is straight on from, or square to
}

/** plan draws it all, and gives what was written where. */
export function plan(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, mark: Mark, sketch?: Sketch, below?: Backdrop): Label[] {
  if (below) under(g, f, s.plan.origin_m, below.image, below.placing);
  contours(g, s, f, ink);
  bands(g, s, f, ink, mark);
  const names: Named[] = [];
  const moved = new Map(sketch?.touched.map((t) => [t.leg, t]));
  const arcs: Curve[] = [];
  s.legs.forEach((l, i) => {
    const t = moved.get(i);
    const leg = t ? t.line : s.plan.legs[i]!;
    if (!seen(f, leg.line_m)) return;
    arcs.push(...leg.curves);
    path(g, f, leg.line_m);
    g.lineWidth = 3;
    g.lineJoin = g.lineCap = "round";
    g.strokeStyle = l.verdict === "found" ? ink.ink : ink.line;
    g.setLineDash(l.verdict === "found" ? [] : [9, 6]);
    g.stroke();
    g.setLineDash([]);
    const u = t ? t.units.mark.length : l.units;
    const length = (l.to - l.from) / 1000;
    if (u === 0 || (length * f.look.scale) / u < 4) return;
    if (t) for (let k = 0; k < u; k++) unit(g, f, ink, t.corners_m, k * 8, t.units.flags[k]!, t.units.mark[k]!, mark, names);
    else for (let k = l.first; k < l.first + u; k++) unit(g, f, ink, s.plan.corners_m, k * 8, s.units.flags[k]!, s.units.mark[k]!, mark, names);
  });
  things(g, s, f, ink, mark);
  curves(g, f, ink, mark, arcs);
  guide(g, f, ink, mark);
  const marks = nodes(g, sketch?.nodes ?? s.nodes, f, ink, mark);
  peg(g, s, f, ink, mark, sketch);
  const labels = new Labels(g, f.width, f.height, ink);
  north(g, f, ink, labels);
  bar(g, s, f, ink, labels);
  keepEntries(s, f, mark, labels);
  nodeNames(g, marks, f, mark, labels);
  curveNames(g, f, mark, arcs, labels);
  thingNames(g, s, f, mark, labels);
  unitNames(g, names, labels);
  levels(g, s, f, ink, labels);
  return labels.written;
}

export function path(g: CanvasRenderingContext2D, f: Frame, line: number[]): void {
  g.beginPath();
  for (let i = 0; i + 1 < line.length; i += 2) {
    if (i) g.lineTo(f.x(line[i]!), f.y(line[i + 1]!));
    else g.moveTo(f.x(line[i]!), f.y(line[i + 1]!));
  }
}

function contours(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink): void {
  for (const c of s.plan.contours) {
    g.strokeStyle = c.major ? ink.line : ink.faint;
    g.lineWidth = 1;
    for (const l of c.lines_m) {
      if (!seen(f, l, 2)) continue;
      path(g, f, l);
      g.stroke();
    }
  }
}

// Levels of contours come last: they stand where everything else left room, and not twice near each other.
function levels(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, labels: Labels): void {
  g.font = lettering(11);
  for (const c of s.plan.contours) {
    if (!c.major) continue;
    const wide = g.measureText(c.label).width;
    for (const l of c.lines_m) {
      if (l.length < 8 || !seen(f, l, 30)) continue;
      const places = [0.5, 0.3, 0.7, 0.15, 0.85].map((t) => {
        const k = 2 * Math.floor((l.length / 2) * t);
        return [f.x(l[k]!) - wide / 2, f.y(l[k + 1]!) + 4] as const;
      });
      labels.put(c.label, places, wide, "", ink.soft);
    }
  }
}

function unit(g: CanvasRenderingContext2D, f: Frame, ink: Ink, c: number[], at: number, flags: number, name: string, mark: Mark, names: Named[]): void {
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
  if (f.look.scale <= 18) return;
  const mx = (f.x(c[at]!) + f.x(c[at + 4]!)) / 2;
  const my = (f.y(c[at + 1]!) + f.y(c[at + 5]!)) / 2;
  if (mx > 0 && mx < f.width && my > 0 && my < f.height) names.push([name, mx, my + 4]);
}

type Named = [text: string, x: number, y: number]; // of units, written once the rest is there

function unitNames(g: CanvasRenderingContext2D, all: Named[], labels: Labels): void {
  g.font = lettering(11);
  for (const [name, x, y] of all) {
    const wide = g.measureText(name).width;
    labels.put(name, [[x - wide / 2, y], [x - wide / 2, y + 16], [x - wide / 2, y - 16]], wide); // no key: what a unit's name stands on is the unit
  }
}

function nodes(g: CanvasRenderingContext2D, list: Node[], f: Frame, ink: Ink, mark: Mark): Node[] {
  const marks = apart(list.filter((n) => inView(f, n.at_m) || mark.moving?.node === n.id), f, mark);
  for (const n of marks) {
    const [x, y] = spotOf(n, f, mark);
    const here = mark.key === n.key;
    g.beginPath();
    g.arc(x, y, here ? 9 : 6, 0, 7);
    g.fillStyle = ink.paper;
    g.fill();
    g.lineWidth = here ? 3 : 2;
    g.strokeStyle = here ? ink.here : ink.ink;
    g.stroke();
  }
  return marks;
}

function spotOf(n: Node, f: Frame, mark: Mark): [number, number] {
  const at = mark.moving?.node === n.id ? mark.moving.at : n.at_m;
  return [f.x(at[0]), f.y(at[1])];
}

// The one that is selected is named first.
function nodeNames(g: CanvasRenderingContext2D, marks: Node[], f: Frame, mark: Mark, labels: Labels): void {
  g.font = lettering(12, true);
  for (const n of marks) {
    const [x, y] = spotOf(n, f, mark);
    labels.keep([x - 8, y - 8, x + 8, y + 8]);
  }
  for (const n of [...marks.filter((n) => n.key === mark.key), ...marks.filter((n) => n.key !== mark.key)]) {
    const [x, y] = spotOf(n, f, mark);
    const text = n.hand ? `${n.id} ${n.angle}` : n.id;
    const wide = g.measureText(text).width;
    if (!labels.put(text, beside(x, y, wide), wide, n.key) && n.hand) {
      const short = g.measureText(n.id).width;
      labels.put(n.id, beside(x, y, short), short, n.key);
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

function north(g: CanvasRenderingContext2D, f: Frame, ink: Ink, labels: Labels): void {
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
  labels.keep([x - 10, 10, x + 10, 64]);
}

function bar(g: CanvasRenderingContext2D, s: Screen, f: Frame, ink: Ink, labels: Labels): void {
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
  labels.keep([12, y - 8, 26 + w + g.measureText(`${step} ${s.axis.unit}`).width, y + 10]);
}
