// The strip: the run unrolled on one line. From above: the peg's flag, things that cross, covers with their seams, units with
// their names, bends as notches cut in from the inside, pads, the row of the stage, what leg and bend are called.
import type { Along, Difference, Screen, Sketch } from "../screen";
import { Axis, ticks } from "./axis";
import { callings, Labels, type Label } from "./labels";
import { crisp, hatch, lettering, Row, write, type Ink } from "./pen";
import { filling, plain, stageRow } from "./stage";

export interface StripLook {
  thin: boolean; // a line with a peg: nothing but units, bends and the flag
}

interface Rows {
  flag: number;
  things: number;
  covers: [number, number];
  units: [number, number];
  pads: number;
  band: [number, number]; // the row of the stage
  names: number;
}

function rows(h: number, thin: boolean, along?: Along): Rows {
  const tall = along !== undefined && along.covers.length > 0; // where covers are the work, they are drawn so
  if (thin) return { flag: 4, things: 24, covers: tall ? [32, 45] : [32, 38], units: [tall ? 47 : 40, 60], pads: 61, band: [66, h - 2], names: h };
  return { flag: 6, things: 36, covers: tall ? [56, 78] : [56, 66], units: [tall ? 80 : 68, 110], pads: 113, band: [127, h - 24], names: h - 7 };
}

/** besideUnits are the heights above and below which nothing of covers and units is drawn, but what crosses them. */
export function besideUnits(height: number, thin: boolean, along?: Along): [above: number, below: number] {
  const r = rows(height, thin, along);
  return [r.covers[0], r.pads - 2];
}

export function strip(g: CanvasRenderingContext2D, s: Screen, axis: Axis, height: number, ink: Ink, look: StripLook, mark: { key: string; here: number }, sketch?: Sketch, differs?: Difference, along?: Along): Label[] {
  const r = rows(height, look.thin, along);
  if (sketch) {
    sketched(g, s, sketch, axis, r, ink);
    return [];
  }
  legs(g, s, axis, r, ink);
  zones(g, s, axis, r, ink);
  units(g, s, axis, r, ink, along);
  if (along) stageRow(g, along, axis, r.band, ink, look.thin);
  things(g, s, axis, r, ink);
  bends(g, s, axis, r, ink, look);
  findings(g, s, axis, r, ink);
  if (differs) changed(g, differs, axis, r, ink, look.thin);
  const flag = here(g, s, axis, r, ink, mark);
  const labels = new Labels(g, axis.right + axis.left, height, ink);
  const peg = axis.x(mark.here);
  if (flag) labels.keep(flag);
  labels.keep([peg - 4, r.flag + 16, peg + 4, r.things + 6]); // no word stands behind the peg
  names(g, s, axis, r, mark, labels, ink, look.thin ? flag ?? [peg, 0, peg, 0] : undefined);
  return labels.written;
}

/** the first of a column of positions in order that is not below v. */
export function first(column: number[], v: number): number {
  let lo = 0;
  let hi = column.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (column[mid]! < v) lo = mid + 1;
    else hi = mid;
  }
  return lo;
}

function legs(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink): void {
  for (const l of s.legs) {
    const a = axis.x(l.from);
    const b = axis.x(l.to);
    if (b < 0 || a > axis.right + 50) continue;
    g.fillStyle = ink.line;
    g.fillRect(a, (r.units[0] + r.units[1]) / 2 - 1.5, b - a, 3); // the run itself: never thinner than this
    if (l.verdict === "found") continue;
    g.fillStyle = hatch(g, "crossed", ink.ink);
    g.fillRect(a, r.units[0], b - a, r.units[1] - r.units[0]);
    g.font = lettering(13, true);
    write(g, l.verdict, Math.max(a, axis.left) + 4, (r.units[0] + r.units[1]) / 2 + 5, ink);
  }
}

function zones(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink): void {
  for (const z of s.zones) {
    const a = axis.x(z.from);
    const w = Math.max(3, axis.x(z.to) - a);
    if (a + w < 0 || a > axis.right + 50) continue;
    g.fillStyle = hatch(g, z.joint ? "rising" : "dots", ink.line);
    g.fillRect(a, r.things + 6, w, r.pads + 8 - r.things - 6);
  }
}

// Below two pixels a unit is part of one band; above, it has its edges, and where there is room its name.
function units(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink, along?: Along): void {
  const u = s.units;
  const from = axis.mm(-20);
  const to = axis.mm(axis.right + 20);
  const i0 = Math.max(0, first(u.from, from) - 1);
  const i1 = first(u.from, to);
  if (i1 <= i0) return;
  const mean = ((u.to[i1 - 1]! - u.from[i0]!) * axis.scale) / (i1 - i0);
  const [top, bottom] = r.units;
  const of = along && along.units.length === u.mark.length ? along : undefined;
  if (mean < 3) {
    bands(g, s, axis, r, ink, from, to, of?.built ? of : undefined);
    if (of && !of.built) pickedOut(g, s, of, axis, r, ink, i0, i1);
    return;
  }
  g.lineWidth = 1;
  g.font = lettering(12);
  g.textAlign = "center";
  for (let i = i0; i < i1; i++) {
    const a = crisp(axis.x(u.from[i]!));
    const b = crisp(axis.x(u.to[i]!));
    const f = u.flags[i]!;
    g.beginPath();
    const h = bottom - top;
    const lean = Math.min(7, (b - a) / 3);
    g.moveTo(a + (f & 4 ? lean : 0), top);
    g.lineTo(b - (f & 8 ? lean : 0), top);
    g.lineTo(b, bottom);
    g.lineTo(a, bottom);
    g.closePath();
    g.fillStyle = ink.paper;
    g.fill();
    g.fillStyle = filling(g, of ? of.kinds[of.units[i]!]!.hatch : f & 1 ? "falling" : f & 16 ? "stone" : "paper", ink);
    g.fill();
    g.strokeStyle = ink.ink;
    if (f & 2) g.setLineDash([4, 3]);
    g.stroke();
    g.setLineDash([]);
    const name = u.mark[i]!.slice(u.mark[i]!.lastIndexOf("-") + 1);
    if (b - a > 7 * name.length + 6) write(g, name, (a + b) / 2, top + h / 2 + 4, ink);
    if (f & 32) (g.fillStyle = ink.ink), g.fillRect((a + b) / 2 - 2, top + 3, 4, 4);
  }
  covers(g, s, axis, r, ink, from, to, along);
  pads(g, s, axis, r, ink, from, to, mean);
  g.textAlign = "start";
}

// Units that are too narrow for a hatch and are something else than whole have a dark stroke each.
function pickedOut(g: CanvasRenderingContext2D, s: Screen, a: Along, axis: Axis, r: Rows, ink: Ink, i0: number, i1: number): void {
  g.fillStyle = ink.ink;
  let last = -Infinity;
  for (let i = i0; i < i1; i++) {
    if (plain(a.kinds[a.units[i]!]!.hatch)) continue;
    const x = axis.x(s.units.from[i]!);
    if (x - last < 3) continue;
    last = x;
    g.fillRect(x, r.units[0], Math.max(2, (s.units.to[i]! - s.units.from[i]!) * axis.scale), r.units[1] - r.units[0]);
  }
}

function bands(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink, from: number, to: number, built?: Along): void {
  for (const l of s.legs) {
    if (l.to < from || l.from > to || l.units === 0) continue;
    const a = crisp(axis.x(Math.max(from, s.units.from[l.first]!)));
    const b = crisp(axis.x(Math.min(to, s.units.to[l.first + l.units - 1]!)));
    g.fillStyle = built ? ink.paper : ink.stone;
    g.fillRect(a, r.units[0], b - a, r.units[1] - r.units[0]);
    if (built) alike(l.first, l.units, built, (first, last, hatch) => {
      const x = axis.x(s.units.from[first]!);
      g.fillStyle = filling(g, hatch, ink, ink.ink);
      g.fillRect(x, r.units[0], Math.max(1, axis.x(s.units.to[last]!) - x), r.units[1] - r.units[0]);
    });
    g.lineWidth = 1.5;
    g.strokeStyle = ink.ink;
    g.strokeRect(a, r.units[0], b - a, r.units[1] - r.units[0]);
  }
}

// Neighbours on a leg that are of one kind, as long as they are.
function alike(first: number, n: number, a: Along, each: (first: number, last: number, hatch: string) => void): void {
  for (let i = first, from = first; i < first + n; i++) {
    if (i + 1 < first + n && a.units[i + 1] === a.units[i]) continue;
    each(from, i, a.kinds[a.units[i]!]!.hatch);
    from = i + 1;
  }
}

function covers(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink, from: number, to: number, along?: Along): void {
  const c = s.covers;
  const of = along && along.covers.length === c.unit.length ? along : undefined;
  const i0 = Math.max(0, first(c.from, from) - 1);
  const i1 = first(c.from, to);
  if (i1 <= i0 || ((c.to[i1 - 1]! - c.from[i0]!) * axis.scale) / (i1 - i0) < 3) return;
  const [top, bottom] = r.covers;
  g.beginPath();
  for (let i = i0; i < i1; i++) {
    const a = crisp(axis.x(c.from[i]!));
    const b = crisp(axis.x(c.to[i]!));
    const kind = of ? of.kinds[of.covers[i]!]!.hatch : c.flags[i]! & 1 ? "falling" : "paper";
    if (kind !== "paper") (g.fillStyle = filling(g, kind, ink, ink.ink)), g.fillRect(a, top, b - a, bottom - top);
    g.rect(a, top, b - a, bottom - top);
  }
  g.strokeStyle = ink.line;
  g.lineWidth = 1;
  g.stroke();
}

function pads(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink, from: number, to: number, mean: number): void {
  const j = s.joints;
  const i0 = first(j.at, from);
  const i1 = first(j.at, to);
  const w = Math.min(8, mean / 3);
  g.fillStyle = g.strokeStyle = ink.ink;
  for (let i = i0; i < i1; i++) {
    const x = axis.x(j.at[i]!);
    const f = j.flags[i]!;
    if (f & 1) g.strokeRect(crisp(x - w / 2), r.pads + 0.5, Math.round(w), 4);
    if (f & 2) g.fillRect(x - 1.5, r.covers[0] - 2, 3, r.pads - r.covers[0] + 2); // a joint that has to stand here
    if (f & 4) g.fillRect(x - 3, r.pads + 8, 6, 6);
  }
}

function things(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink): void {
  const dashed = (x: number): void => {
    g.beginPath();
    g.setLineDash([5, 3]);
    g.moveTo(crisp(x), r.things + 4);
    g.lineTo(crisp(x), r.pads + 10);
    g.lineWidth = 2;
    g.strokeStyle = ink.ink;
    g.stroke();
    g.setLineDash([]);
  };
  for (const t of s.services) if (axis.x(t.at) > -20 && axis.x(t.at) < axis.right + 20) dashed(axis.x(t.at));
  for (const t of s.entries) {
    const x = axis.x(t.at);
    if (x < -20 || x > axis.right + 20) continue;
    const y = t.side === "left" ? r.units[0] + 6 : t.side === "right" ? r.units[1] - 6 : (r.units[0] + r.units[1]) / 2;
    g.beginPath();
    g.arc(x, y, 4, 0, 7);
    g.lineWidth = 1.5;
    g.strokeStyle = ink.ink;
    g.fillStyle = ink.paper;
    g.fill();
    g.stroke();
  }
}

/** Named is what can be named over the strip. */
interface Named {
  key: string;
  at: number; // strip
  label: string;
}

/** nameable is all that crosses the run, stands in it or keeps a stretch of it free, what is named first before the rest. */
export function nameable(s: Screen): Named[] {
  const zones = s.zones.filter((z) => z.kind === "zone").map((z) => ({ key: z.key, at: (z.from + z.to) / 2, label: z.label }));
  return [...s.services, ...s.crossings, ...zones, ...s.entries];
}

// What crosses is named over its place, or beside the peg where that stands there; what is selected comes first. Where many lie
// close together some stand a line higher, with a stroke down to their place, and say no more than their name or their id. Over a
// thin strip, beside its flag, there is room for what is selected or lies at the peg. Rings of entries are named by the same rule.
function names(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, mark: { key: string; here: number }, labels: Labels, ink: Ink, thin?: readonly [number, number, number, number]): void {
  g.font = lettering(12);
  const peg = axis.x(mark.here);
  const near = (t: Named): boolean => t.key === mark.key || Math.abs(axis.x(t.at) - peg) < 40;
  const all = nameable(s).filter((t) => axis.x(t.at) >= axis.left && axis.x(t.at) <= axis.right && (near(t) || (!thin && !t.key.startsWith("entry/"))));
  const line = thin ? r.flag + 13 : r.things;
  for (const t of [...all.filter((t) => t.key === mark.key), ...all.filter((t) => t.key !== mark.key)]) {
    const x = axis.x(t.at);
    const fit = (text: string): [number, number[]] => {
      const w = g.measureText(text).width;
      const whole = (left: number): number => Math.min(axis.right - w, Math.max(axis.left, left));
      const beside = thin ? [x - w / 2, x + 6, x - w - 6, thin[2] + 4, thin[0] - w - 4] : [x - w / 2, peg + 8, peg - w - 8, x - 6, x - w + 6];
      return [w, beside.map(whole).filter((left) => left <= x + (thin ? 110 : 12) && left + w >= x - (thin ? 110 : 12))];
    };
    const over = (text: string): boolean => {
      const [w, places] = fit(text);
      return labels.put(text, places.map((left) => [left, line] as const), w, t.key);
    };
    const higher = (text: string): boolean => {
      const stroke: [number, number, number, number] = [x - 1, r.flag + 19, x + 1, r.things + 4];
      if (thin || !labels.free(stroke)) return false;
      const [w, places] = fit(text);
      if (!labels.put(text, places.map((left) => [left, r.flag + 13] as const), w, t.key)) return false;
      labels.keep(stroke);
      g.fillStyle = ink.ink;
      g.fillRect(crisp(x) - 0.5, stroke[1], 1, stroke[3] - stroke[1]);
      return true;
    };
    const said = callings(t.label, t.key);
    said.some((text, i) => over(text) || (i > 0 && higher(text)));
  }
}

// A notch is cut in from the inside of the bend: from above it turns left, from below right.
function bends(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink, look: StripLook): void {
  const line = new Row();
  g.font = lettering(12, true);
  g.textAlign = "center";
  const [top, bottom] = r.units;
  for (const n of s.nodes) {
    for (const at of n.strip) {
      const x = axis.x(at);
      if (x < -20 || x > axis.right + 20) continue;
      if (n.hand) {
        const deep = (bottom - top) * 0.62 + 6;
        const y = n.hand === "left" ? top - 6 : bottom + 6;
        const tip = n.hand === "left" ? y + deep : y - deep;
        const half = look.thin ? 5 : 7;
        g.beginPath();
        g.moveTo(x - half, y);
        g.lineTo(x + half, y);
        g.lineTo(x, tip);
        g.closePath();
        g.fillStyle = ink.paper;
        g.fill();
        g.lineWidth = 1.75;
        g.strokeStyle = ink.ink;
        g.stroke();
      } else {
        g.fillStyle = ink.ink;
        g.fillRect(x - 1.5, top - 4, 3, bottom - top + 8);
      }
      if (look.thin) continue;
      const text = n.label;
      const w = g.measureText(text).width;
      if (line.room(x - w / 2, x + w / 2) && x - w / 2 > 0 && x + w / 2 < axis.right + 20) write(g, text, x, r.names, ink);
    }
  }
  if (!look.thin) {
    for (const l of s.legs) {
      const a = Math.max(axis.x(l.from), axis.left);
      const b = Math.min(axis.x(l.to), axis.right);
      const w = g.measureText(l.id).width;
      if (b - a > w + 20 && line.room((a + b - w) / 2, (a + b + w) / 2)) write(g, l.id, (a + b) / 2, r.names, ink, ink.soft);
    }
  }
  g.textAlign = "start";
}

// What changed against an issued plan has a double line under it, and "gone" or "new" where there is room.
function changed(g: CanvasRenderingContext2D, d: Difference, axis: Axis, r: Rows, ink: Ink, thin: boolean): void {
  const row = new Row();
  g.font = lettering(11, true);
  g.fillStyle = ink.ink;
  for (const p of d.places) {
    if (p.of !== "unit" && p.of !== "node" && p.of !== "leg") continue;
    const a = axis.x(p.from);
    const b = Math.max(a + 4, axis.x(p.to));
    if (b < 0 || a > axis.right + 20) continue;
    g.fillRect(a, r.pads + 9, b - a, 2);
    g.fillRect(a, r.pads + 13, b - a, 2);
    if (thin) continue; // no room for words: the bars say where, the list says what
    const w = g.measureText(p.kind).width;
    if (row.room(a, a + w)) write(g, p.kind, a, r.covers[0] - 14, ink);
  }
}

const loud = new Set(["fault", "impossible", "attention"]);

function findings(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink): void {
  const line = new Row();
  g.font = lettering(13, true);
  g.textAlign = "center";
  for (const f of s.findings) {
    if (f.at === null || !loud.has(f.kind)) continue;
    const x = axis.x(f.at);
    if (x < 0 || x > axis.right + 20 || !line.room(x - 6, x + 6, 2)) continue;
    g.beginPath();
    g.moveTo(x, r.covers[0] - 12);
    g.lineTo(x + 7, r.covers[0] - 1);
    g.lineTo(x - 7, r.covers[0] - 1);
    g.closePath();
    g.fillStyle = ink.ink;
    g.fill();
    g.fillStyle = ink.paper;
    g.fillRect(x - 1, r.covers[0] - 8, 2, 3.5);
    g.fillRect(x - 1, r.covers[0] - 3.5, 2, 1.5);
  }
  g.textAlign = "start";
}

// Here: a heavy frame round the unit that is selected, and a peg with a flag that says the chainage.
function here(g: CanvasRenderingContext2D, s: Screen, axis: Axis, r: Rows, ink: Ink, mark: { key: string; here: number }): [number, number, number, number] | undefined {
  const x = axis.x(mark.here);
  const mark0 = mark.key.startsWith("unit/") ? s.units.mark.indexOf(mark.key.slice(5)) : -1;
  g.strokeStyle = ink.here;
  if (mark0 >= 0) {
    g.lineWidth = 3;
    const a = axis.x(s.units.from[mark0]!);
    g.strokeRect(a, r.covers[0] - 3, Math.max(4, axis.x(s.units.to[mark0]!) - a), r.units[1] - r.covers[0] + 6);
  }
  if (x < axis.left - 1 || x > axis.right + 1 || s.legs.length === 0) return undefined;
  g.lineWidth = 2.5;
  g.beginPath();
  g.moveTo(x, r.flag + 16);
  g.lineTo(x, r.band[1]);
  g.stroke();
  const text = chainage(s, mark.here);
  g.font = lettering(12, true);
  const w = g.measureText(text).width + 12;
  const left = Math.min(x, axis.right - w + 6);
  g.fillStyle = ink.here;
  g.fillRect(left, r.flag, w, 18);
  g.fillStyle = ink.paper;
  g.fillText(text, left + 6, r.flag + 13);
  return [left, r.flag, left + w, r.flag + 18];
}

/** chainage is where the peg stands, for the eye: its leg and the place along it. Figures of record stand on cards. */
export function chainage(s: Screen, mm: number): string {
  const l = s.legs.find((l) => mm >= l.from - 0.5 && mm <= l.to + 0.5);
  if (!l) return "";
  const v = (mm - l.from) / s.axis.unit_mm;
  if (s.axis.unit === "ft") {
    const major = Math.floor(v / s.axis.major);
    return `${l.id} ${major}+${(v - major * s.axis.major).toFixed(1).padStart(4, "0")}`;
  }
  return `${l.id} ${v.toFixed(2)}`;
}

function sketched(g: CanvasRenderingContext2D, s: Screen, k: Sketch, axis: Axis, r: Rows, ink: Ink): void {
  const [top, bottom] = r.units;
  const drawn = new Map(k.touched.map((t) => [t.leg, t]));
  g.lineWidth = 1;
  k.legs.forEach((l, i) => {
    const a = crisp(axis.x(l.from));
    const b = crisp(axis.x(l.to));
    const t = drawn.get(i);
    g.fillStyle = l.verdict === "found" ? ink.stone : hatch(g, "crossed", ink.ink);
    g.fillRect(a, top, b - a, bottom - top);
    g.strokeStyle = ink.ink;
    g.strokeRect(a, top, b - a, bottom - top);
    if (!t) return;
    for (let n = 0; n < t.units.mark.length; n++) {
      const x = crisp(axis.x(t.units.from[n]!));
      const w = crisp(axis.x(t.units.to[n]!)) - x;
      g.fillStyle = ink.paper;
      g.fillRect(x, top, w, bottom - top);
      if (t.units.flags[n]! & 1) (g.fillStyle = hatch(g, "falling", ink.line)), g.fillRect(x, top, w, bottom - top);
      g.strokeRect(x, top, w, bottom - top);
    }
  });
  void s;
}

/** even places along the strip and what stands beside them, leg by leg, for the axis below the long section. */
export function stations(s: Screen, axis: Axis, apart: number): { at: number; text: string }[] {
  const out: { at: number; text: string }[] = [];
  const unit = s.axis.unit_mm;
  for (const l of s.legs) {
    const from = Math.max(0, (axis.mm(axis.left) - l.from) / unit);
    const to = Math.min((l.to - l.from) / unit, (axis.mm(axis.right) - l.from) / unit);
    for (const v of ticks(from, to, apart / axis.scale / unit)) {
      const text = s.axis.unit === "ft" ? `${Math.floor(v / s.axis.major)}+${String(Math.round((v % s.axis.major) * 10) / 10).padStart(2, "0")}` : Math.round(v * 100) / 100 + " m";
      out.push({ at: l.from + v * unit, text });
    }
  }
  return out;
}
