// The plan: pan, closer, select, drag a node or the radius of a curve; while it is dragged only the legs that it touches are laid
// anew. Everything that is dragged is moved by keys as well, and typed on its card.
import { useEffect, useRef } from "preact/hooks";
import { effect } from "@preact/signals";
import type { Label } from "../draw/labels";
import { Pane } from "../draw/pane";
import { Frame, placeOf, plan, whole, type Look } from "../draw/plan";
import type { Screen } from "../screen";
import * as now from "../state";
import { nudge } from "./deeds";
import { background, chosen, PictureView } from "./picture";
import { hint, look, moving, note, planHand, snapping, zoom } from "./planhand";
import { walked } from "./steps";

/** Drawn is a canvas that knows what is written on it, and which part of the plan it shows. */
interface Drawn extends HTMLCanvasElement {
  written?: readonly Label[];
  frame?: Frame;
}

// The whole run fills the pane until somebody moves or closes in. It is fitted anew when the pane gets another size, not when the
// run changes: what one works on stays where it is.
let fitted: { look: Look; job: string; width: number; height: number } | undefined;

function framed(width: number, height: number): Frame {
  const s = now.screen.value!;
  if (fitted?.job !== s.job.id || fitted.width !== width || fitted.height !== height) {
    if (fitted?.job !== s.job.id) look.value = undefined;
    fitted = { look: whole(s, width, height), job: s.job.id, width, height };
  }
  return new Frame(look.value ?? fitted.look, width, height);
}


export function PlanPane() {
  const at = useRef<Drawn>(null);
  const size = useRef<Pane | undefined>(undefined);
  useEffect(() => {
    const canvas = at.current!;
    const frame = (): Frame => framed(pane.width, pane.height);
    const hand = planHand(frame, () => canvas.written ?? []);
    const pane: Pane = new Pane(
      canvas,
      (g, width, height) => {
        const s = now.screen.value;
        if (!s || width < 20) return;
        canvas.frame = framed(width, height);
        canvas.written = plan(g, s, canvas.frame, now.ink.value, { key: now.selected.value, here: now.here.value, ...(moving.value && { moving: moving.value }) }, now.sketch.value, background());
      },
      hand,
    );
    size.current = pane;
    const stop = effect(() => {
      void [now.screen.value, now.selected.value, now.here.value, now.sketch.value, now.ink.value, look.value, moving.value, background()];
      pane.again();
    });
    const follow = effect(() => followed(pane));
    const escape = (e: KeyboardEvent): void => void (e.key === "Escape" && hand.free());
    addEventListener("keydown", escape);
    return () => (stop(), follow(), removeEventListener("keydown", escape), hand.left!(), pane.end());
  }, []);
  const pointed = useRef<{ x: number; y: number } | undefined>(undefined); // where a mouse stands on the plan
  const closer = (factor: number, pointing = false): void => {
    const p = size.current;
    const s = now.screen.value;
    if (!s || !p) return;
    const f = framed(p.width, p.height);
    const middle = { x: p.width / 2, y: p.height / 2 };
    const { x, y } = (pointing && pointed.current) || chosenOn(f, s) || middle;
    zoom(f, x, y, factor);
  };
  const dropped = (e: DragEvent): void => { // pictures alone: other files are for the list of jobs
    const file = [...(e.dataTransfer?.files ?? [])].find((f) => f.type.startsWith("image/"));
    if (!file) return;
    e.preventDefault();
    e.stopPropagation();
    void chosen(file);
  };
  return (
    <div class="plan" onDrop={dropped}>
      {now.tapping.value && <p class="tapping" role="status">{now.tapping.value.say}: tap the place. <button type="button" onClick={() => (now.tapping.value = undefined)}>cancel</button></p>}
      <div class="sheet-of-plan">
        <canvas
          ref={at}
          class={/^(node|curve)\//.test(now.selected.value) ? "" : "still"} // what cannot be dragged leaves a finger the page to scroll
          tabIndex={0}
          role="application"
          aria-label="plan, north up. N and P select the next and the previous node, T and shift T what crosses or stands in the run, C a curve. Arrow keys move the selected node, or make the selected curve wider and tighter; with shift by ten times as much. S switches drawing to points"
          onPointerMove={(e) => (pointed.current = e.pointerType === "mouse" ? { x: e.offsetX, y: e.offsetY } : undefined)}
          onPointerLeave={() => (pointed.current = undefined)}
          onKeyDown={(e) => {
            const k = (e.shiftKey ? 1 : 0.1) * 0.5;
            const way = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] }[e.key];
            if (way ? nudge(way[0]! * k, way[1]! * k) : walked(e)) e.preventDefault();
            else if (e.key === "Escape") now.tapping.value = undefined;
            else if (e.key === "s") snap();
            else if (e.key === "+" || e.key === "=") closer(1.6, true);
            else if (e.key === "-") closer(1 / 1.6, true);
          }}
        />
        <p class="note-of-plan" aria-live={note.value?.dragged ? "off" : "polite"}>{note.value?.text}</p>
      </div>
      <div class="closeness">
        <button type="button" aria-pressed={snapping.value} onClick={snap}>draw to points</button>
        <button type="button" aria-label="plan closer" onClick={() => closer(1.6)}>+</button>
        <button type="button" aria-label="plan further" onClick={() => closer(1 / 1.6)}>−</button>
        <button type="button" onClick={() => ((fitted = undefined), (look.value = undefined), size.current?.again())}>whole plan</button>
      </div>
      <PictureView />
    </div>
  );
}

// Where what is selected lies on the plan, as far as it is in view: closing in closes in on that.
function chosenOn(f: Frame, s: Screen): { x: number; y: number } | undefined {
  const n = s.nodes.find((n) => n.key === now.selected.value);
  const at = n?.at_m ?? (now.selected.value ? placeOf(s, now.here.value)?.at : undefined);
  if (!at) return undefined;
  const [x, y] = [f.x(at[0]), f.y(at[1])];
  return x >= 0 && y >= 0 && x <= f.width && y <= f.height ? { x, y } : undefined;
}

function snap(): void {
  snapping.value = !snapping.value;
  hint(snapping.value ? "What is dragged is drawn to points, straights, right angles and full steps." : "What is dragged is drawn to nothing: it lies where the hand is.");
}

// What gets selected elsewhere comes into view, as close as the plan is.
let followedTo = "";
function followed(pane: Pane): void {
  const key = now.selected.value;
  const here = now.here.value;
  const s = now.screen.value;
  const told = now.card.value?.key === key; // before that the peg stands where it stood
  if (!s || !told || key + here === followedTo || now.sketch.value || moving.value) return;
  followedTo = key + here;
  const l = look.peek();
  const p = l && key ? placeOf(s, here) : undefined;
  if (!p) return;
  const f = new Frame(l!, pane.width, pane.height);
  const [x, y] = [f.x(p.at[0]), f.y(p.at[1])];
  if (x < 20 || y < 20 || x > pane.width - 20 || y > pane.height - 20) look.value = { ...l!, x: p.at[0], y: p.at[1] };
}
