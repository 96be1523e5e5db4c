// A figure to scale on a card: a unit from above with its saw angles, or the trench across.
import { useEffect, useRef } from "preact/hooks";
import { effect } from "@preact/signals";
import { Pane } from "../draw/pane";
import { hatch, lettering, write, type Hatch } from "../draw/pen";
import type { Figure } from "../screen";
import * as now from "../state";

const fills: Record<string, Hatch | "paper" | "stone"> = {
  unit: "stone", section: "stone", cover: "paper", bed: "dots", pad: "upright", rock: "crossed", zone: "rising", fill: "dots", spoil: "dots",
};

export function FigurePane({ figure, tall = false }: { figure: Figure; tall?: boolean }) {
  const at = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const pane = new Pane(at.current!, (g, width, height) => draw(g, width, height, figure, tall));
    const stop = effect(() => {
      void now.ink.value;
      pane.again();
    });
    return () => (stop(), pane.end());
  }, [figure]);
  return (
    <figure>
      <canvas ref={at} class={tall ? "figure tall" : "figure"} role="img" aria-label={figure.labels.map((l) => l.text).join(", ")} />
      {tall && (
        <ul class="figure-levels">
          {figure.labels.filter((l) => !isWidth(l.of)).map((l) => <li key={l.text}>{l.text}</li>)}
        </ul>
      )}
      {(figure.notes ?? []).map((n) => <figcaption key={n}>{n}</figcaption>)}
    </figure>
  );
}

// What a section across is drawn for: the trench, not the heaps beside it.
const trench = new Set(["sides", "bottom", "unit", "cover", "bed", "pad", "formation", "drain", "underside", "wall", "top"]);

function boxOf(f: Figure, tall: boolean): [number, number, number, number] {
  const of = tall ? f.lines.filter((l) => trench.has(l.of) || (l.area && l.of !== "heap")) : [];
  if (of.length === 0) return f.box;
  const xs = of.flatMap((l) => l.points.filter((_, i) => i % 2 === 0));
  const ys = of.flatMap((l) => l.points.filter((_, i) => i % 2 === 1));
  const [l, r, b, t] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const more = Math.max(r - l, t - b) * 0.04;
  return [l - more, b - more, r + more, t + more];
}

function draw(g: CanvasRenderingContext2D, width: number, height: number, f: Figure, tall: boolean): void {
  const ink = now.ink.value;
  const [l, b, r, t] = boxOf(f, tall);
  g.font = lettering(13);
  const levels = tall && width > narrowest ? f.labels.filter((l) => !isWidth(l.of)) : [];
  const side = tall ? Math.max(30, ...levels.map((l) => g.measureText(l.text).width + 50)) : 30; // room for what is written at the right
  const k = Math.min((width - side - 30) / Math.max(1, r - l), (height - 46) / Math.max(1, t - b));
  const x = (v: number): number => (tall ? (width - side) / 2 : width / 2) + (v - (l + r) / 2) * k;
  const y = (v: number): number => height / 2 - (v - (b + t) / 2) * k;
  g.save();
  if (tall) g.beginPath(), g.rect(0, 0, width - side + 14, height), g.clip();
  const filled = new Path2D();
  for (const line of f.lines) {
    if (line.of !== "fill" || !line.area) continue;
    for (let i = 0; i + 1 < line.points.length; i += 2) filled[i ? "lineTo" : "moveTo"](x(line.points[i]!), y(line.points[i + 1]!));
    filled.closePath();
  }
  for (const line of f.lines) {
    g.beginPath();
    for (let i = 0; i + 1 < line.points.length; i += 2) {
      if (i) g.lineTo(x(line.points[i]!), y(line.points[i + 1]!));
      else g.moveTo(x(line.points[i]!), y(line.points[i + 1]!));
    }
    if (line.closed) g.closePath();
    if (line.of === "layer") {
      g.save();
      g.clip(filled); // a layer is where the fill is
      g.lineWidth = 1.25;
      g.strokeStyle = ink.ink;
      g.stroke();
      g.restore();
      continue;
    }
    if (line.area) {
      const fill = fills[line.of] ?? "paper";
      g.fillStyle = fill === "paper" ? ink.paper : fill === "stone" ? ink.stone : hatch(g, fill, ink.line);
      g.fill();
    }
    g.lineWidth = line.of === "unit" || line.of === "sides" ? 2 : 1.25;
    g.setLineDash(dashes[line.of] ?? []);
    g.strokeStyle = line.of === "existing" || line.of === "finished" ? ink.ground : ink.ink;
    g.stroke();
    g.setLineDash([]);
  }
  g.restore();
  g.font = lettering(13);
  if (tall) beside(g, f, x, y, width, height, side);
  else {
    g.textAlign = "center";
    const taken: [number, number, number][] = []; // lettering is kept apart: middle, height, half a width
    for (const label of f.labels) {
      const inside = label.of === "cover"; // it stands in what it is of or nowhere, without the decimals of a fraction
      const text = inside ? label.text.replace(/ \(.*\)$/, "") : label.text;
      const w = g.measureText(text).width / 2;
      const cx = Math.min(width - w - 2, Math.max(w + 2, x(label.at[0])));
      const free = (at: number): boolean => !taken.some(([x, y, half]) => Math.abs(y - at) < 14 && Math.abs(x - cx) < half + w + 3);
      const cy = (inside ? [0] : label.at[1] > (b + t) / 2 ? [0, -14, 14] : [0, 14, -14, 28]).map((off) => y(label.at[1]) + 4 + off).find(free);
      if (cy === undefined) continue;
      taken.push([cx, cy, w]);
      write(g, text, cx, cy, ink);
    }
  }
  g.textAlign = "start";
}

const narrowest = 420; // pixels: a narrower figure has its levels in a list under it

const isWidth = (of: string): boolean => of === "top" || of === "bottom" || of === "sides";

const dashes: Record<string, number[]> = { finished: [10, 3, 2, 3], water: [12, 4], rock: [2, 3], zone: [2, 3] };

// Levels are written at the right, each with a leader to its line, kept apart; widths stand where they are.
function beside(g: CanvasRenderingContext2D, f: Figure, x: (v: number) => number, y: (v: number) => number, width: number, height: number, side: number): void {
  const ink = now.ink.value;
  const widths = f.labels.filter((l) => isWidth(l.of));
  const levels = (width > narrowest ? f.labels : []).filter((l) => !widths.includes(l)).map((l) => ({ ...l, x: x(l.at[0]), y: y(l.at[1]) })).sort((a, b) => a.y - b.y);
  g.textAlign = "center";
  const drain = Math.max(...f.lines.filter((l) => l.of === "drain").flatMap((l) => l.points.filter((_, i) => i % 2 === 0)));
  for (const l of widths) {
    const half = g.measureText(l.text).width / 2;
    const at = l.of === "bottom" && Number.isFinite(drain) ? Math.max(x(l.at[0]), x(drain) + 14 + half) : x(l.at[0]); // beside the pipe, not on it
    write(g, l.text, at, y(l.at[1]) - 6, ink);
  }
  g.textAlign = "end";
  let last = 6;
  for (const l of levels) {
    const at = Math.max(last + 17, Math.min(l.y + 4, height - 8 - 17 * (levels.length - 1 - levels.indexOf(l))));
    last = at;
    const w = g.measureText(l.text).width;
    g.lineWidth = 1;
    g.strokeStyle = ink.line;
    g.beginPath();
    g.moveTo(Math.min(l.x, width - side + 16), l.y);
    g.lineTo(width - w - 14, at - 4);
    g.stroke();
    write(g, l.text, width - 6, at, ink);
  }
}
