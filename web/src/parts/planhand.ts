// What a hand does on the plan: it pans and closes in, selects, and drags what is selected. A pointer may press and drag at once; a
// finger has to tap a thing first, so that nobody who only moves the plan moves the run. While it drags, the core says where the
// place is drawn to; a finger more, Escape or a call that comes in puts everything back.
import { signal } from "@preact/signals";
import { drag, edit, select, undrag } from "../actions";
import type { Label } from "../draw/labels";
import type { Hand } from "../draw/pane";
import { finger, nearest, type Hit } from "../draw/pick";
import { Frame, type Look, type Moving } from "../draw/plan";
import { radiusAt, type Grip } from "../draw/planthings";
import type { Curve, Edit, Node, Screen, Sketch, Snap } from "../screen";
import * as now from "../state";
import { metresIn } from "./picture";

export const look = signal<Look | undefined>(undefined); // undefined: the whole run
export const moving = signal<Moving | undefined>(undefined);
export const snapping = signal(true);
/** note is what the plan has to say of what is done on it; dragged ones change too often to be read out. */
export const note = signal<{ text: string; dragged: boolean } | undefined>(undefined);

export const hint = (text: string): void => void (note.value = { text, dragged: false });

/** Pull is one thing that is dragged. */
interface Pull {
  key: string;
  /** asked is what the core is asked for a place, and how that may be drawn. */
  asked(f: Frame, at: [number, number], free: boolean): { edits: Edit[]; snap: Snap | undefined };
  /** shown shows where it lies now; k: what the core said of the last place. */
  shown(f: Frame, at: [number, number], k: Sketch | undefined): void;
  said(k: Sketch): string;
  /** kept is the change that it comes to, or why there is none. */
  kept(at: [number, number], k: Sketch | undefined): { edits: Edit[]; note: string } | string;
}

const narrow = 420; // CSS pixels: a plan no wider has no room for a hint beside what it says
const within = 9; // CSS pixels: as near as that a place draws

function nodePull(s: Screen, n: Node): Pull {
  const to = (at: [number, number]): Edit[] => [{ op: "move-node", node: n.id, place_m: at, origin_m: s.plan.origin_m } as Edit];
  return {
    key: n.key,
    asked: (f, at, free) => ({ edits: to(at), snap: free ? undefined : { within_m: within / f.look.scale, grid_m: grid(f.look.scale, metresIn(s)) } }),
    shown(f, at, k) {
      const m = moving.value;
      if (k) moving.value = { node: n.id, at: k.place_m ?? at, drawn: k.drawn, ...(k.guide_m && { guide: k.guide_m }) };
      else if (!m?.drawn || Math.hypot(m.at[0] - at[0], m.at[1] - at[1]) * f.look.scale > within) moving.value = { node: n.id, at }; // until the core says where
    },
    said: (k) => (k.faults.length > 0 ? faultOf(k) : `${n.id} ${k.drawn_to || "where the hand is"}`),
    kept: (at, k) => (k && k.faults.length > 0 ? `${n.id} stays where it was: ${faultOf(k)}` : { edits: to(k?.place_m ?? at), note: `${n.id} moved` }),
  };
}

function curvePull(s: Screen, c: Curve, of: Grip): Pull {
  const leg = c.key.split("/")[1]!;
  const set = (r: number): Edit[] => [{ op: "set", path: c.path, radius_m: r } as Edit];
  const radius = (at: [number, number]): number => radiusAt(c, of, at[0], at[1]);
  const verdict = (k: Sketch): string => {
    const l = k.legs.find((l) => l.id === leg);
    return l && l.verdict !== "found" && s.legs.find((l) => l.id === leg)?.verdict === "found" ? `leg ${leg} would be ${l.verdict}: ${l.why}` : "";
  };
  const label = (k: Sketch): string => k.touched.flatMap((t) => t.line.curves).find((d) => d.key === c.key)?.label ?? c.name;
  return {
    key: c.key,
    asked: (f, at, free) => ({ edits: set(radius(at)), snap: { within_m: 0, grid_m: free ? 0 : radiusStep(s, (Math.hypot(...c[of]) / 1e6) * f.look.scale) } }),
    shown: (_, at) => void (moving.value = { node: "", at }),
    said: (k) => (k.faults.length > 0 ? faultOf(k) : [label(k), k.drawn_to, verdict(k)].filter((t) => t).join(", ")),
    kept(at, k) {
      if (k && k.faults.length > 0) return `${c.name} stays at ${c.label}: ${faultOf(k)}`;
      const why = k && verdict(k);
      if (why) return `${c.name} stays at ${c.label}: with ${label(k)} ${why}. Typed on its card it is kept all the same.`;
      return { edits: set(k?.radius_m ?? radius(at)), note: `${c.name} given another radius` };
    },
  };
}

const faultOf = (k: Sketch): string => k.faults.map((f) => f.text + (f.try ? ". Try: " + f.try : "")).join("; ");

const round = [0.1, 0.5, 1, 5, 10, 25, 50, 100, 250, 500];

// The grid that a node is drawn to: a round part of the unit of coordinates that is some pixels wide.
function grid(scale: number, unit: number): number {
  return (round.slice(0, 5).find((k) => k * unit * scale > 6) ?? 0) * unit;
}

// The step of a radius: a round part of the unit of chainage for which the hand moves some pixels.
function radiusStep(s: Screen, pixels: number): number {
  const unit = s.axis.unit_mm / 1000;
  return (round.find((k) => k * unit * pixels >= 5) ?? 500) * unit;
}

// What is under the hand and can be dragged; else why that is not so.
function pullOf(s: Screen, hit: Hit | undefined): Pull | string {
  if (!hit) return "";
  const n = s.nodes.find((n) => n.key === hit.key);
  if (n) return n.moves ? nodePull(s, n) : `${n.id} has no coordinates of its own that could be moved`;
  if (hit.grip) return curvePull(s, hit.grip.curve, hit.grip.of);
  const l = s.plan.lines.find((l) => l.key === hit.key);
  return l ? `${l.name} is moved on its card` : "";
}

const nameOf = (p: Pull): string => p.key.split("/")[0] === "node" ? p.key.slice(5) : "this curve";

interface Held {
  x: number;
  y: number;
  look: Look;
  pull: Pull | undefined;
  why: string; // that the plan moves, and not what is under the hand
  thing: Hit | undefined; // what is under the hand and cannot be dragged: it is selected, for its card moves it
  far: number; // CSS pixels that are no drag yet
  dragged: boolean;
}

/** planHand is the hand on a pane that shows a frame with some lettering. */
export function planHand(frame: () => Frame, written: () => readonly Label[]): Hand & { free(): void } {
  let held: Held | undefined;
  let pulled: { pull: Pull; at: [number, number]; last: Sketch | undefined; asked: number; answered: number; up: boolean } | undefined;

  const back = (): void => {
    held = pulled = undefined;
    moving.value = undefined;
    now.faults.value = [];
    undrag();
  };
  const finish = (): void => {
    const p = pulled!;
    pulled = undefined;
    const kept = p.pull.kept(p.at, p.last);
    if (typeof kept === "string") {
      hint(kept);
      moving.value = undefined;
      undrag();
    } else {
      note.value = undefined;
      void edit(kept.edits, kept.note).finally(() => (moving.value = undefined));
    }
  };
  const pull = (x: number, y: number, free: boolean, finger: boolean): void => {
    const f = frame();
    const p = (pulled ??= { pull: held!.pull!, at: [0, 0], last: undefined, asked: 0, answered: 0, up: false });
    p.at = f.place(x, y);
    p.pull.shown(f, p.at, undefined);
    const q = p.pull.asked(f, p.at, free);
    const mine = ++p.asked;
    const ask = (once = false): void => drag(q.edits, q.snap, (k) => {
      if (pulled !== p || mine !== p.asked) return; // the hand went on, or away
      if (!k && !once) return ask(true); // a hand that rests asks no more by itself: the core may have been started anew meanwhile
      p.last = k;
      p.answered = mine;
      if (k) {
        p.pull.shown(frame(), p.at, k);
        note.value = { text: p.pull.said(k) + (snapping.value && !finger && frame().width > narrow ? " (hold shift: drawn to nothing)" : ""), dragged: true };
      } else note.value = { text: `What this would do to ${nameOf(p.pull)} could not be worked out.`, dragged: true };
      if (p.up) finish();
    });
    ask();
  };

  return {
    free() {
      if (pulled || held?.dragged) (back(), hint("Nothing was moved."));
    },
    down(x, y, e) {
      const s = now.screen.value;
      if (!s || frame().width < 20) return false;
      if (pulled) back(); // what was let go is still on its way: it was not meant to last
      note.value = undefined;
      const touch = e.pointerType === "touch";
      const hit = nearest(s, frame(), x, y, written(), touch ? finger : 1, now.selected.value);
      const p = pullOf(s, hit);
      const fixed = typeof p === "string" && p !== "";
      held = { x, y, look: frame().look, pull: undefined, why: fixed ? p : "", thing: fixed ? hit : undefined, far: touch ? 10 : 5, dragged: false };
      if (typeof p === "string" || now.tapping.value) return true;
      if (now.selected.value === p.key) held.pull = p;
      else if (touch) held.why = `to move ${nameOf(p)}, tap it first, then drag it`;
      else {
        held.pull = p;
        void select(p.key, hit!.strip);
      }
      return true;
    },
    move(x, y, e) {
      if (!held || (!held.dragged && Math.hypot(x - held.x, y - held.y) < held.far)) return;
      if (!held.dragged && !held.pull && held.why) {
        hint(`The plan was moved: ${held.why}.`);
        if (held.thing && held.thing.key !== now.selected.value) void select(held.thing.key, held.thing.strip);
      }
      held.dragged = true;
      if (held.pull) pull(x, y, e.shiftKey || !snapping.value, e.pointerType === "touch");
      else look.value = { ...held.look, x: held.look.x - (x - held.x) / held.look.scale, y: held.look.y + (y - held.y) / held.look.scale };
    },
    up(x, y, e) {
      const s = now.screen.value;
      const h = held;
      held = undefined;
      if (!s || !h) return;
      if (pulled) {
        pulled.up = true;
        if (pulled.answered === pulled.asked) finish();
      } else if (!h.dragged && now.tapping.value) {
        const t = now.tapping.value;
        now.tapping.value = undefined;
        t.tapped(frame().place(x, y));
      } else if (!h.dragged) {
        const hit = nearest(s, frame(), x, y, written(), e.pointerType === "touch" ? finger : 1, now.selected.value);
        if (!h.pull || hit?.key !== now.selected.value) void select(hit?.key ?? "", hit?.strip);
      }
    },
    left: back,
    wheel(x, y, _, dy) {
      zoom(frame(), x, y, Math.exp(-dy / 300));
    },
    pinch(x, y, dx, dy, factor) {
      zoom(frame(), x, y, factor);
      const l = look.value!;
      look.value = { ...l, x: l.x - dx / l.scale, y: l.y + dy / l.scale };
    },
  };
}

/** zoom closes in on a place of the frame. */
export function zoom(f: Frame, x: number, y: number, factor: number): void {
  const [e, n] = f.place(x, y);
  const scale = Math.min(400, Math.max(0.0005, f.look.scale * factor));
  const k = f.look.scale / scale;
  look.value = { x: e - (e - f.look.x) * k, y: n - (n - f.look.y) * k, scale };
}
