// The plan: pan, closer, select, drag a node; while it is dragged only the legs that it touches are laid anew.
import { useEffect, useRef } from "preact/hooks";
import { effect, signal } from "@preact/signals";
import { drag, edit, select } from "../actions";
import { Pane } from "../draw/pane";
import { Frame, nearest, plan, whole, type Look } from "../draw/plan";
import type { Edit, Screen } from "../screen";
import * as now from "../state";
import { nudge } from "./deeds";
import { background, chosen, PictureView } from "./picture";

const look = signal<Look | undefined>(undefined);
const moving = signal<{ node: string; at: [number, number] } | undefined>(undefined);
let lookOf = "";

export function PlanPane() {
  const at = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    let from: { x: number; y: number; look: Look } | undefined;
    let node = "";
    let dragged = false;
    let drawn: [number, number] | undefined; // where it was drawn to by something near
    const frame = (): Frame => new Frame(look.value!, pane.width, pane.height);
    const move = (s: Screen, at: [number, number]): Edit => ({ op: "move-node", node, place_m: at, origin_m: s.plan.origin_m } as Edit);
    const pane: Pane = new Pane(
      at.current!,
      (g, width, height) => {
        const s = now.screen.value;
        if (!s || width < 20) return;
        if (!look.value || lookOf !== s.job.id) (look.value = whole(s, width, height)), (lookOf = s.job.id);
        plan(g, s, new Frame(look.value, width, height), now.ink.value, { key: now.selected.value, here: now.here.value, ...(moving.value && { moving: moving.value }) }, now.sketch.value, background());
      },
      {
        down(x, y) {
          const s = now.screen.value;
          if (!s || !look.value) return false;
          from = { x, y, look: look.value };
          dragged = false;
          const hit = nearest(s, frame(), x, y);
          const n = hit && s.nodes.find((n) => n.key === hit.key);
          node = n?.moves && now.selected.value === n.key ? n.id : "";
          return true;
        },
        move(x, y) {
          const s = now.screen.value;
          if (!s || !from || (!dragged && Math.hypot(x - from.x, y - from.y) < 5)) return;
          dragged = true;
          if (node) {
            moving.value = { node, at: frame().place(x, y) };
            drawn = undefined;
            const snap = { within_m: 9 / look.value!.scale, grid_m: grid(look.value!.scale) };
            drag([move(s, moving.value.at)], snap, (k) => (drawn = k.place_m ?? undefined));
          } else look.value = { ...from.look, x: from.look.x - (x - from.x) / from.look.scale, y: from.look.y + (y - from.y) / from.look.scale };
        },
        up(x, y) {
          const s = now.screen.value;
          if (!s || !from) return;
          if (!dragged && now.tapping.value) {
            const t = now.tapping.value;
            now.tapping.value = undefined;
            t.tapped(frame().place(x, y));
          } else if (!dragged) {
            const hit = nearest(s, frame(), x, y);
            void select(hit?.key ?? "", hit?.strip);
          } else if (node && moving.value) {
            const at = drawn ?? moving.value.at;
            void edit([move(s, at)], `${node} moved`).finally(() => (moving.value = undefined));
          }
          from = undefined;
          node = "";
        },
        wheel(x, y, _, dy) {
          if (!look.value) return;
          zoom(frame(), x, y, Math.exp(-dy / 300));
        },
        pinch(x, y, dx, dy, factor) {
          if (!look.value) return;
          zoom(frame(), x, y, factor);
          look.value = { ...look.value, x: look.value.x - dx / look.value.scale, y: look.value.y + dy / look.value.scale };
        },
      },
    );
    const stop = effect(() => {
      void [now.screen.value, now.selected.value, now.here.value, now.sketch.value, now.ink.value, look.value, moving.value, background()];
      pane.again();
    });
    return () => (stop(), pane.end());
  }, []);
  const dropped = (e: DragEvent): void => { // pictures alone: other files are for the list of jobs
    const file = [...(e.dataTransfer?.files ?? [])].find((f) => f.type.startsWith("image/"));
    if (!file) return;
    e.preventDefault();
    e.stopPropagation();
    void chosen(file);
  };
  return (
    <div class="plan" onDrop={dropped}>
      {now.tapping.value && <p class="tapping" role="status">{now.tapping.value.say}: tap the place. <button type="button" onClick={() => (now.tapping.value = undefined)}>leave it</button></p>}
      <canvas
        ref={at}
        tabIndex={0}
        role="application"
        aria-label="plan, north up. Arrow keys move the selected node; with shift by ten times as much. N and P select the next and the previous node"
        onKeyDown={(e) => {
          const k = (e.shiftKey ? 1 : 0.1) * 0.5;
          const way = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] }[e.key];
          if (way && nudge(way[0]! * k, way[1]! * k)) e.preventDefault();
          else if (e.key === "n" || e.key === "p") nextNode(e.key === "n" ? 1 : -1);
          else if (e.key === "Escape") now.tapping.value = undefined;
          else if (e.key === "+" || e.key === "=") by(1.6);
          else if (e.key === "-") by(1 / 1.6);
        }}
      />
      <div class="closeness">
        <button type="button" aria-label="plan closer" onClick={() => by(1.6)}>+</button>
        <button type="button" aria-label="plan further" onClick={() => by(1 / 1.6)}>−</button>
        <button type="button" onClick={() => (look.value = undefined)}>whole plan</button>
      </div>
      <PictureView />
    </div>
  );
}

// The grid that a node is drawn to: a round part of a metre that is some pixels wide.
function grid(scale: number): number {
  return [0.1, 0.5, 1, 5, 10].find((m) => m * scale > 6) ?? 0;
}

function nextNode(by: number): void {
  const s = now.screen.value;
  if (!s?.nodes.length) return;
  const i = s.nodes.findIndex((n) => n.key === now.selected.value);
  const n = s.nodes[(i + by + s.nodes.length) % s.nodes.length]!;
  void select(n.key, n.strip[0]);
}

function by(factor: number): void {
  if (look.value) look.value = { ...look.value, scale: look.value.scale * factor };
}

function zoom(f: Frame, x: number, y: number, factor: number): void {
  const [e, n] = f.place(x, y);
  const scale = Math.min(400, Math.max(0.0005, f.look.scale * factor));
  const k = f.look.scale / scale;
  look.value = { x: e - (e - f.look.x) * k, y: n - (n - f.look.y) * k, scale };
}
