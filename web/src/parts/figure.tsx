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
    const pane = new Pane(at.current!, (g, width, height) => draw(g, width, height, figure));
    const stop = effect(() => {
      void now.ink.value;
      pane.again();
    });
    return () => (stop(), pane.end());
  }, [figure]);
  return (
    <figure>
      <canvas ref={at} class={tall ? "figure tall" : "figure"} role="img" aria-label={figure.labels.map((l) => l.text).join(", ")} />
      {(figure.notes ?? []).map((n) => <figcaption key={n}>{n}</figcaption>)}
    </figure>
  );
}

function draw(g: CanvasRenderingContext2D, width: number, height: number, f: Figure): void {
  const ink = now.ink.value;
  const [l, b, r, t] = f.box;
  const k = Math.min((width - 60) / Math.max(1, r - l), (height - 46) / Math.max(1, t - b));
  const x = (v: number): number => width / 2 + (v - (l + r) / 2) * k;
  const y = (v: number): number => height / 2 - (v - (b + t) / 2) * k;
  for (const line of f.lines) {
    g.beginPath();
    for (let i = 0; i + 1 < line.points.length; i += 2) {
      if (i) g.lineTo(x(line.points[i]!), y(line.points[i + 1]!));
      else g.moveTo(x(line.points[i]!), y(line.points[i + 1]!));
    }
    if (line.closed) g.closePath();
    if (line.area) {
      const fill = fills[line.of] ?? "paper";
      g.fillStyle = fill === "paper" ? ink.paper : fill === "stone" ? ink.stone : hatch(g, fill, ink.line);
      g.fill();
    }
    g.lineWidth = line.of === "unit" || line.of === "dig" ? 2 : 1.25;
    g.setLineDash(line.of === "existing" ? [] : line.of === "finished" ? [8, 3, 2, 3] : line.of === "water" ? [10, 4] : []);
    g.strokeStyle = line.of === "existing" || line.of === "finished" ? ink.ground : ink.ink;
    g.stroke();
    g.setLineDash([]);
  }
  g.font = lettering(13);
  g.textAlign = "center";
  for (const label of f.labels) {
    const w = g.measureText(label.text).width / 2;
    write(g, label.text, Math.min(width - w - 2, Math.max(w + 2, x(label.at[0]))), y(label.at[1]) + 4, ink);
  }
  g.textAlign = "start";
}
