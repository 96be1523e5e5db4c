// The long section, on the strip's own axis: the ground as it is and as it will be, the wall top, the bed and what the dig goes
// down to; grades in words; pins that can be dragged, services at their depth.
import type { Screen, SectionLine } from "../screen";
import { Axis, ticks } from "./axis";
import { callings, Labels, type Label } from "./labels";
import { crisp, hatch, lettering, Row, write, type Ink } from "./pen";
import { first, stations } from "./strip";

export interface Stroke {
  name: string;
  width: number;
  dash: number[];
  colour: keyof Ink;
}

/** how each line is drawn: told apart by width and dash, and named below the section. */
export const strokes: Record<string, Stroke> = {
  existing: { name: "ground", width: 1.75, dash: [], colour: "ground" },
  finished: { name: "finished ground", width: 1.5, dash: [10, 3, 2, 3], colour: "ground" },
  rock: { name: "rock", width: 1.5, dash: [2, 3], colour: "ink" },
  water: { name: "water", width: 1.5, dash: [12, 4], colour: "ink" },
  cover: { name: "cover", width: 1, dash: [], colour: "line" },
  wall: { name: "wall top", width: 3, dash: [], colour: "ink" },
  invert: { name: "invert", width: 1, dash: [6, 3], colour: "line" },
  underside: { name: "underside", width: 1.5, dash: [], colour: "ink" },
  formation: { name: "formation", width: 2, dash: [], colour: "ink" },
  drain: { name: "drain", width: 2, dash: [3, 3, 9, 3], colour: "ink" },
};

export interface Scale {
  y(level: number): number;
  level(y: number): number;
}

const foot = 22;
const head = 20;

/** upright is the scale of levels of what is shown, so that it fills the height. */
export function upright(s: Screen, axis: Axis, height: number): Scale {
  let low = Infinity;
  let high = -Infinity;
  const from = axis.mm(axis.left);
  const to = axis.mm(axis.right);
  for (const l of s.section.lines) {
    const at = s.section.stations[l.stations]!;
    const i0 = Math.max(0, first(at, from) - 1);
    const i1 = Math.min(at.length - 1, first(at, to));
    for (let i = i0; i <= i1; i++) {
      const v = l.levels_m[i];
      if (v == null) continue;
      low = Math.min(low, v);
      high = Math.max(high, v);
    }
  }
  if (!(high > low)) (low = s.section.low_m), (high = Math.max(s.section.high_m, s.section.low_m + 1));
  const room = (high - low) * 0.06;
  const k = (height - head - foot) / (high - low + 2 * room);
  return { y: (v) => head + (high + room - v) * k, level: (y) => high + room - (y - head) / k };
}

export function section(g: CanvasRenderingContext2D, s: Screen, axis: Axis, height: number, ink: Ink, mark: { here: number; key: string }, quiet = false): Label[] {
  if (s.section.lines.length === 0) {
    g.font = lettering(14);
    write(g, s.section.said, axis.left + 8, height / 2, ink);
    return [];
  }
  const scale = upright(s, axis, height);
  grid(g, s, axis, height, scale, ink);
  bed(g, s, axis, scale, ink);
  uprights(g, s, axis, scale, ink);
  for (const l of s.section.lines) line(g, s, l, axis, scale, ink);
  const labels = new Labels(g, axis.right + axis.left, height - foot, ink);
  const x = crisp(axis.x(mark.here));
  labels.keep([x - 2, 0, x + 2, height - foot]); // no word stands behind the peg
  levels(g, s, axis, height, scale, ink, labels);
  if (!quiet) grades(g, s, axis, ink, labels); // the row of the stage says them
  things(g, s, axis, scale, ink, mark.key, labels, height - foot);
  g.strokeStyle = ink.here;
  g.lineWidth = 2;
  g.beginPath();
  g.moveTo(x, 0);
  g.lineTo(x, height - foot);
  g.stroke();
  return labels.written;
}

const metres = (s: Screen): number => (s.words.coord_unit === "m" ? 1 : 0.3048);

function even(s: Screen, height: number, scale: Scale): number[] {
  const unit = metres(s);
  return ticks(scale.level(height - foot) / unit, scale.level(head) / unit, (scale.level(0) - scale.level(44)) / unit);
}

function levels(g: CanvasRenderingContext2D, s: Screen, axis: Axis, height: number, scale: Scale, ink: Ink, labels: Labels): void {
  g.font = lettering(12);
  for (const v of even(s, height, scale)) {
    const text = `${Math.round(v * 1000) / 1000} ${s.words.coord_unit === "m" ? "m" : "ft"}`;
    const y = crisp(scale.y(v * metres(s))) - 6;
    write(g, text, axis.left + 2, y, ink, ink.soft);
    labels.keep([axis.left, y - 12, axis.left + 4 + g.measureText(text).width, y + 4]);
  }
}

function grid(g: CanvasRenderingContext2D, s: Screen, axis: Axis, height: number, scale: Scale, ink: Ink): void {
  g.font = lettering(12);
  g.lineWidth = 1;
  g.strokeStyle = ink.faint;
  for (const v of even(s, height, scale)) {
    const y = crisp(scale.y(v * metres(s)));
    g.beginPath();
    g.moveTo(axis.left, y);
    g.lineTo(axis.right, y);
    g.stroke();
  }
  const row = new Row();
  g.textAlign = "center";
  for (const t of stations(s, axis, 78)) {
    g.lineWidth = 1;
    const x = crisp(axis.x(t.at));
    g.strokeStyle = ink.faint;
    g.beginPath();
    g.moveTo(x, head);
    g.lineTo(x, height - foot + 4);
    g.stroke();
    const w = g.measureText(t.text).width;
    const cx = Math.min(axis.right + 8 - w / 2, Math.max(axis.left - 8 + w / 2, x));
    if (row.room(cx - w / 2, cx + w / 2)) write(g, t.text, cx, height - 6, ink, ink.soft);
  }
  for (const l of s.legs) {
    const x = crisp(axis.x(l.from));
    if (x < axis.left - 1 || x > axis.right + 1) continue;
    g.strokeStyle = ink.line;
    g.setLineDash([2, 4]);
    g.beginPath();
    g.moveTo(x, head - 12);
    g.lineTo(x, height - foot);
    g.stroke();
    g.setLineDash([]);
  }
  g.textAlign = "start";
}

function find(s: Screen, leg: number, of: string): SectionLine | undefined {
  return s.section.lines.find((l) => l.leg === leg && l.of === of);
}

// The bed is dotted between what it lies on and what lies on it.
function bed(g: CanvasRenderingContext2D, s: Screen, axis: Axis, scale: Scale, ink: Ink): void {
  s.legs.forEach((_, leg) => {
    const lower = find(s, leg, "formation");
    const upper = find(s, leg, "underside");
    if (!lower || !upper) return;
    g.beginPath();
    if (!trace(g, s, upper, axis, scale, true)) return;
    const at = s.section.stations[lower.stations]!;
    for (let i = at.length - 1; i >= 0; i--) if (lower.levels_m[i] != null) g.lineTo(axis.x(at[i]!), scale.y(lower.levels_m[i]!));
    g.closePath();
    g.fillStyle = hatch(g, "dots", ink.line);
    g.fill();
  });
}

function trace(g: CanvasRenderingContext2D, s: Screen, l: SectionLine, axis: Axis, scale: Scale, whole = false): boolean {
  const at = s.section.stations[l.stations]!;
  const i0 = whole ? 0 : Math.max(0, first(at, axis.mm(axis.left - 40)) - 1);
  const i1 = whole ? at.length - 1 : Math.min(at.length - 1, first(at, axis.mm(axis.right + 40)));
  let on = false;
  let any = false;
  for (let i = i0; i <= i1; i++) {
    const v = l.levels_m[i];
    if (v == null) {
      on = false;
      continue;
    }
    if (on) g.lineTo(axis.x(at[i]!), scale.y(v));
    else g.moveTo(axis.x(at[i]!), scale.y(v));
    on = any = true;
  }
  return any;
}

function line(g: CanvasRenderingContext2D, s: Screen, l: SectionLine, axis: Axis, scale: Scale, ink: Ink): void {
  const k = strokes[l.of];
  if (!k) return;
  g.beginPath();
  if (!trace(g, s, l, axis, scale)) return;
  g.strokeStyle = ink[k.colour];
  g.lineWidth = k.width;
  g.setLineDash(k.dash);
  g.lineJoin = "round";
  g.stroke();
  g.setLineDash([]);
}

// Unit ends, from wall top to underside, where they are far enough apart to be told.
function uprights(g: CanvasRenderingContext2D, s: Screen, axis: Axis, scale: Scale, ink: Ink): void {
  g.strokeStyle = ink.line;
  g.lineWidth = 1;
  g.beginPath();
  for (const wall of s.section.lines) {
    if (wall.of !== "wall") continue;
    const under = find(s, wall.leg, "underside");
    if (!under || under.stations !== wall.stations) continue;
    const at = s.section.stations[wall.stations]!;
    const leg = s.legs[wall.leg]!;
    if (leg.units === 0 || ((leg.to - leg.from) * axis.scale) / leg.units < 6) continue;
    for (let i = 0; i < at.length; i++) {
      const a = wall.levels_m[i];
      const b = under.levels_m[i];
      const x = crisp(axis.x(at[i]!));
      if (a == null || b == null || x < axis.left - 2 || x > axis.right + 2) continue;
      g.moveTo(x, scale.y(a));
      g.lineTo(x, scale.y(b));
    }
  }
  g.stroke();
}

// Services lie at their depth; one of which nobody knows it is a dashed stroke from top to bottom, and says so. Whatever is selected is
// named first, the rest where there is room, by less and less.
function things(g: CanvasRenderingContext2D, s: Screen, axis: Axis, scale: Scale, ink: Ink, key: string, labels: Labels, bottom: number): void {
  g.font = lettering(12);
  const inView = (t: { at: number }): boolean => axis.x(t.at) > axis.left - 20 && axis.x(t.at) < axis.right + 20;
  const named: (() => void)[] = [];
  const services = s.section.services.filter(inView);
  for (const t of [...services.filter((t) => t.key === key), ...services.filter((t) => t.key !== key)]) {
    const x = axis.x(t.at);
    if (t.top_m === null) {
      unknown(g, x, bottom, ink, t.key === key);
      named.push(() => name(g, callings(t.label, t.key), t.key, x, head + 14, 5, labels, [0, 16, 32]));
      continue;
    }
    const a = scale.y(t.top_m);
    const b = t.bottom_m === null ? a + 8 : scale.y(t.bottom_m);
    const w = Math.max(4, (axis.x(t.to) - axis.x(t.from)) / 2);
    const h = Math.max(4, (b - a) / 2);
    g.beginPath();
    g.ellipse(x, (a + b) / 2, w, h, 0, 0, 7);
    g.fillStyle = ink.paper;
    g.fill();
    g.lineWidth = t.key === key ? 3 : 2;
    g.strokeStyle = ink.ink;
    g.stroke();
    labels.keep([x - w, (a + b) / 2 - h, x + w, (a + b) / 2 + h]);
    named.push(() => name(g, callings(t.label, t.key), t.key, x, (a + b) / 2 + 4, w + 5, labels, [0, h + 13, -h - 8, h + 29, -h - 24]));
  }
  for (const p of s.section.pins.filter(inView)) {
    if (p.top_m === null) continue;
    const x = axis.x(p.at);
    const y = scale.y(p.top_m);
    g.beginPath();
    g.moveTo(x, y);
    g.lineTo(x - 7, y - 13);
    g.lineTo(x + 7, y - 13);
    g.closePath();
    g.fillStyle = p.key === key ? ink.here : ink.ink;
    g.fill();
    labels.keep([x - 7, y - 13, x + 7, y]);
    named.push(() => name(g, callings(p.label, p.key), p.key, x, y - 5, 10, labels, [-30, -46, -14, 0, 16])); // above the levels, where there is room
  }
  for (const o of s.section.outlets.filter(inView)) {
    if (o.bottom_m === null && o.top_m === null) continue;
    const x = axis.x(o.at);
    const y = scale.y(o.bottom_m ?? o.top_m!);
    g.beginPath();
    g.moveTo(x, y);
    g.lineTo(x, y + 16);
    g.moveTo(x - 5, y + 10);
    g.lineTo(x, y + 17);
    g.lineTo(x + 5, y + 10);
    g.lineWidth = 2;
    g.strokeStyle = ink.ink;
    g.stroke();
    labels.keep([x - 5, y, x + 5, y + 17]);
    named.push(() => name(g, ["outlet " + o.id, o.id], o.key, x, y + 16, 9, labels, [0, -14])); // its card says the rest
  }
  for (const n of named) n();
}

function unknown(g: CanvasRenderingContext2D, x: number, bottom: number, ink: Ink, here: boolean): void {
  g.beginPath();
  g.moveTo(crisp(x), head);
  g.lineTo(crisp(x), bottom);
  g.setLineDash([5, 3]);
  g.lineWidth = here ? 3 : 2;
  g.strokeStyle = ink.ink;
  g.stroke();
  g.setLineDash([]);
}

// A name stands right or left of its thing, or so much lower or higher; the fullest one that finds room.
function name(g: CanvasRenderingContext2D, said: string[], key: string, x: number, y: number, off: number, labels: Labels, rows: number[]): void {
  said.some((text) => {
    const w = g.measureText(text).width;
    return labels.put(text, rows.flatMap((row): [number, number][] => [[x + off, y + row], [x - off - w, y + row], ...(row === 0 ? [] : [[x - w / 2, y + row] as [number, number]])]), w, key);
  });
}

function grades(g: CanvasRenderingContext2D, s: Screen, axis: Axis, ink: Ink, labels: Labels): void {
  g.font = lettering(12, true);
  g.textAlign = "center";
  const row = new Row();
  for (const gr of s.section.grades) {
    if (gr.of !== "run") continue;
    const a = Math.max(axis.left, axis.x(gr.from));
    const b = Math.min(axis.right, axis.x(gr.to));
    const w = g.measureText(gr.label).width;
    if (b - a < w + 8 || !row.room((a + b - w) / 2, (a + b + w) / 2)) continue;
    write(g, gr.label, (a + b) / 2, 13, ink);
    labels.keep([(a + b - w) / 2, 1, (a + b + w) / 2, 17]);
  }
  g.textAlign = "start";
}

/** dragged is a pin on its way up or down. The figure is for the eye; the one of record comes back from the core. */
export function dragged(g: CanvasRenderingContext2D, s: Screen, axis: Axis, height: number, ink: Ink, p: { at: number; level: number }): void {
  const y = upright(s, axis, height).y(p.level);
  const x = axis.x(p.at);
  g.strokeStyle = ink.here;
  g.lineWidth = 2;
  g.setLineDash([6, 4]);
  g.beginPath();
  g.moveTo(x - 60, y);
  g.lineTo(x + 60, y);
  g.stroke();
  g.setLineDash([]);
  g.font = lettering(14, true);
  const unit = metres(s);
  write(g, (p.level / unit).toFixed(3) + " " + s.words.coord_unit, x + 10, y - 8, ink, ink.here);
}
