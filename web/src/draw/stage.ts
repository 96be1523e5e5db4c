// The row of a stage under the strip: its stretches with a word each, and its places with a figure each, as a line that hangs
// down, as bars, or as ticks. What is told by hatch here is told by word in the legend.
import type { Along } from "../screen";
import type { Axis } from "./axis";
import { crisp, hatch, lettering, Row, write, type Hatch, type Ink } from "./pen";

/** filling is what a kind is filled with. */
export function filling(g: CanvasRenderingContext2D, kind: string, ink: Ink, line = ink.line): string | CanvasPattern {
  if (kind === "paper" || kind === "") return ink.paper;
  if (kind === "solid") return ink.line;
  return kind === "stone" ? ink.stone : hatch(g, kind as Hatch, line);
}

/** plain tells whether a kind is told by its paper or stone alone: it is not picked out where units are too narrow for a hatch. */
export const plain = (kind: string): boolean => kind === "paper" || kind === "stone" || kind === "dots" || kind === "level";

/** stageRow draws the row between top and bottom. */
export function stageRow(g: CanvasRenderingContext2D, a: Along, axis: Axis, [top, bottom]: [number, number], ink: Ink, thin: boolean): void {
  const words = a.row.from.length > 0;
  const places = a.places.at.length > 0;
  if (thin) {
    if (a.shape === "hang") hanging(g, a, axis, top, bottom, ink, true);
    else if (a.shape === "bar" && places) bars(g, a, axis, top, bottom, ink, true);
    else if (words) stretches(g, a, axis, top + 1, bottom - 1, ink, true);
    return;
  }
  if (words) stretches(g, a, axis, places ? top : top + 12, places ? top + 18 : bottom - 16, ink, false);
  if (!places) return;
  const from = words ? top + 20 : top;
  if (a.shape === "hang") hanging(g, a, axis, from, bottom, ink, false);
  else if (a.shape === "bar") bars(g, a, axis, from, bottom, ink, false);
  else pointed(g, a, axis, from, bottom, ink);
}

function stretches(g: CanvasRenderingContext2D, a: Along, axis: Axis, top: number, bottom: number, ink: Ink, thin: boolean): void {
  const r = a.row;
  g.font = lettering(12);
  g.textAlign = "center";
  g.lineWidth = 1;
  g.strokeStyle = ink.line;
  let last = -Infinity;
  for (let i = 0; i < r.from.length; i++) {
    const x = crisp(axis.x(r.from[i]!));
    const y = crisp(axis.x(r.to[i]!));
    if (y < 0 || x > axis.right + 20 || y - last < 0.5) continue;
    last = y;
    g.fillStyle = filling(g, a.kinds[r.kind[i]!]!.hatch, ink);
    g.fillRect(x, top, y - x, bottom - top);
    if (y - x > 2) g.strokeRect(x, crisp(top), y - x, Math.round(bottom - top));
    const l = Math.max(x, axis.left);
    const right = Math.min(y, axis.right);
    if (!thin && right - l > g.measureText(r.texts[i]!).width + 8) write(g, r.texts[i]!, (l + right) / 2, (top + bottom) / 2 + 4, ink);
  }
  g.textAlign = "start";
}

// What a bar of full height is: a third above the middle one at most, so that a single high one does not press the others flat.
function full(sizes: (number | null)[]): number {
  const known = sizes.filter((v): v is number => v != null && v > 0).sort((a, b) => a - b);
  return known.length ? Math.min(known.at(-1)!, 1.35 * known[known.length >> 1]!) : 1;
}

const most = (sizes: (number | null)[]): number => sizes.reduce<number>((m, v) => Math.max(m, v ?? 0), 0) || 1;

// A line that hangs down from the row's top by so much, filled by what each stretch is; figures where there is room.
function hanging(g: CanvasRenderingContext2D, a: Along, axis: Axis, top: number, bottom: number, ink: Ink, thin: boolean): void {
  const p = a.places;
  const k = (bottom - top - 1) / most(p.sizes_mm);
  const y = (i: number): number => top + p.sizes_mm[i]! * k;
  for (let i = 0; i + 1 < p.at.length; i++) {
    if (p.sizes_mm[i] == null || p.sizes_mm[i + 1] == null) continue;
    const x0 = axis.x(p.at[i]!);
    const x1 = axis.x(p.at[i + 1]!);
    if (x1 < 0 || x0 > axis.right + 20) continue;
    g.beginPath();
    g.moveTo(x0, top);
    g.lineTo(x0, y(i));
    g.lineTo(x1, y(i + 1));
    g.lineTo(x1, top);
    g.closePath();
    g.fillStyle = filling(g, a.kinds[p.kind[i]!]!.hatch, ink);
    g.fill();
    g.beginPath();
    g.moveTo(x0, y(i));
    g.lineTo(x1, y(i + 1));
    g.lineWidth = 2;
    g.strokeStyle = ink.ink;
    g.stroke();
  }
  if (!thin) figures(g, a, axis, top + 13, ink);
}

function bars(g: CanvasRenderingContext2D, a: Along, axis: Axis, top: number, bottom: number, ink: Ink, thin: boolean): void {
  const p = a.places;
  const room = bottom - top - (thin ? 1 : 15);
  const k = room / full(p.sizes_mm);
  g.lineWidth = 1;
  g.strokeStyle = ink.ink;
  if (!p.at.length) return;
  const mean = p.at.length > 1 ? ((p.at.at(-1)! - p.at[0]!) * axis.scale) / p.at.length : 20;
  const w = Math.max(2, Math.min(14, mean * 0.6));
  if (mean < 4) {
    silhouette(g, a, axis, bottom, (v) => Math.min(room, v * k), ink);
    if (!thin) figures(g, a, axis, top + 10, ink);
    return;
  }
  let last = -Infinity;
  for (let i = 0; i < p.at.length; i++) {
    const x = axis.x(p.at[i]!);
    if (x < -20 || x > axis.right + 20 || x - last < 1.5) continue;
    last = x;
    const size = p.sizes_mm[i];
    const h = size == null ? room / 2 : Math.min(room, Math.max(1, size * k));
    g.fillStyle = filling(g, a.kinds[p.kind[i]!]!.hatch, ink, ink.ink);
    g.fillRect(crisp(x - w / 2), bottom - h, w, h);
    if (w >= 4) g.strokeRect(crisp(x - w / 2), bottom - h, w, h);
    else (g.fillStyle = ink.line), g.fillRect(x - w / 2, bottom - h, w, h);
  }
  g.fillStyle = ink.line;
  g.fillRect(axis.x(0), bottom - 0.5, axis.x(p.at.at(-1) ?? 0) - axis.x(0), 1);
  if (!thin) figures(g, a, axis, top + 10, ink);
}

// Bars that stand too close to be told are one figure: as high as the highest of those within three pixels.
function silhouette(g: CanvasRenderingContext2D, a: Along, axis: Axis, bottom: number, high: (v: number) => number, ink: Ink): void {
  const p = a.places;
  const highest = new Map<number, number>();
  for (let i = 0; i < p.at.length; i++) {
    const x = Math.floor(axis.x(p.at[i]!) / 3);
    if (x < -2 || x * 3 > axis.right + 6) continue;
    highest.set(x, Math.max(highest.get(x) ?? 0, high(p.sizes_mm[i] ?? 0)));
  }
  g.beginPath();
  let last: number | undefined;
  for (const [x, h] of highest) {
    if (last === undefined || x - last > 3) {
      if (last !== undefined) g.lineTo(last * 3 + 3, bottom);
      g.moveTo(x * 3, bottom);
    }
    g.lineTo(x * 3, bottom - h);
    g.lineTo(x * 3 + 3, bottom - h);
    last = x;
  }
  if (last !== undefined) g.lineTo(last * 3 + 3, bottom);
  g.fillStyle = ink.stone;
  g.fill();
  g.lineWidth = 1.5;
  g.strokeStyle = ink.ink;
  g.stroke();
}

function pointed(g: CanvasRenderingContext2D, a: Along, axis: Axis, top: number, bottom: number, ink: Ink): void {
  const p = a.places;
  g.lineWidth = 1.5;
  g.strokeStyle = ink.ink;
  const shown = figures(g, a, axis, bottom - 3, ink);
  for (let i = 0; i < p.at.length; i++) {
    const x = crisp(axis.x(p.at[i]!));
    if (x < -5 || x > axis.right + 5) continue;
    const long = shown.has(i);
    g.fillStyle = filling(g, a.kinds[p.kind[i]!]!.hatch, ink, ink.ink);
    g.fillRect(x - 3.5, top + 1, 7, long ? 8 : 6);
    g.strokeRect(x - 3.5, top + 1.5, 7, long ? 8 : 6);
  }
}

// Figures stand centred at their places, as many as have room; it tells which.
function figures(g: CanvasRenderingContext2D, a: Along, axis: Axis, y: number, ink: Ink): Set<number> {
  const p = a.places;
  const row = new Row();
  const shown = new Set<number>();
  g.font = lettering(12);
  g.textAlign = "center";
  let free = -Infinity; // they come from left to right: no need to look at more than the last one
  for (let i = 0; i < p.at.length; i++) {
    const x = axis.x(p.at[i]!);
    const text = p.texts[i]!;
    if (!text || x < axis.left - 2 || x > axis.right + 2 || x < free) continue;
    const w = g.measureText(text).width;
    const cx = Math.min(axis.right + 6 - w / 2, Math.max(axis.left - 6 + w / 2, x));
    if (!row.room(cx - w / 2, cx + w / 2, 8)) continue;
    free = cx + w / 2;
    write(g, text, cx, y, ink);
    shown.add(i);
  }
  g.textAlign = "start";
  return shown;
}
