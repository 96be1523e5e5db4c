// The spine of every screen: the strip, and the long section under it on the same axis. Selecting here selects everywhere.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { effect, signal } from "@preact/signals";
import { edit, select } from "../actions";
import { Axis, moved, zoomed } from "../draw/axis";
import { Pane, type Hand } from "../draw/pane";
import { dragged, section, strokes, upright, type Scale } from "../draw/section";
import { named, type Label } from "../draw/labels";
import { besideUnits, chainage, first, nameable, strip } from "../draw/strip";
import type { Edit, Screen, SectionThing } from "../screen";
import * as now from "../state";
import { Peg } from "./stage";
import { walked } from "./steps";

const edge = 10; // CSS pixels beside the axis

export const axisOf = (width: number): Axis => new Axis(now.shown.value, edge, width - edge);

/** unitAt is the unit at a place of the strip, or the one nearest to it; -1: there are none. */
export function unitAt(s: Screen, mm: number): number {
  const i = Math.max(0, first(s.units.from, mm + 0.001) - 1);
  return s.units.mark.length ? i : -1;
}

/** step selects the unit so many further along. */
export function step(by: number): void {
  const s = now.screen.value;
  if (!s || s.units.mark.length === 0) return;
  const at = now.selected.value.startsWith("unit/") ? s.units.mark.indexOf(now.selected.value.slice(5)) : -1;
  const next = at < 0 ? unitAt(s, now.here.value) : Math.min(s.units.mark.length - 1, Math.max(0, at + by));
  choose(s, next);
}

function choose(s: Screen, i: number): void {
  const from = s.units.from[i]!;
  void select("unit/" + s.units.mark[i]!, from);
  const w = now.shown.value;
  if (from < w.from || s.units.to[i]! > w.to) now.show(moved(w, from - (w.from + w.to) / 2, s.length_mm));
}

function hand(width: () => number, wants: (s: Screen, axis: Axis, x: number, y: number, touch: boolean) => void): Hand {
  let from: { x: number; w: { from: number; to: number } } | undefined;
  let dragged = false;
  return {
    down(x) {
      from = { x, w: now.shown.value };
      dragged = false;
      return true;
    },
    move(x) {
      const s = now.screen.value;
      if (!s || !from || (!dragged && Math.abs(x - from.x) < 5)) return;
      dragged = true;
      const scale = (width() - 2 * edge) / (from.w.to - from.w.from);
      now.show(moved(from.w, (from.x - x) / scale, s.length_mm));
    },
    up(x, y, e) {
      const s = now.screen.value;
      if (s && !dragged) wants(s, axisOf(width()), x, y, e.pointerType === "touch");
      from = undefined;
    },
    wheel(x, _, dx, dy, zoom) {
      const s = now.screen.value;
      if (!s) return;
      const axis = axisOf(width());
      if (!zoom && Math.abs(dx) > Math.abs(dy)) now.show(moved(now.shown.value, dx / axis.scale, s.length_mm));
      else now.show(zoomed(now.shown.value, axis.mm(x), Math.exp(-dy / 300), s.length_mm));
    },
    pinch(x, _, dx, __, factor) {
      const s = now.screen.value;
      if (!s) return;
      const axis = axisOf(width());
      now.show(moved(zoomed(now.shown.value, axis.mm(x), factor, s.length_mm), -dx / axis.scale, s.length_mm));
    },
  };
}

export function Strip({ thin = false }: { thin?: boolean }) {
  const at = useRef<HTMLCanvasElement & { written?: readonly Label[] }>(null);
  useEffect(() => {
    const canvas = at.current!;
    const pane: Pane = new Pane(
      canvas,
      (g, width, height) => {
        const s = now.screen.value;
        if (s) canvas.written = strip(g, s, axisOf(width), height, now.ink.value, { thin }, { key: now.selected.value, here: now.here.value }, now.sketch.value, now.differs.value, now.along.value);
      },
      hand(() => pane.width, (s, axis, x, y, touch) => {
        const name = named(canvas.written ?? [], x, y);
        if (name) void select(name.key, nameable(s).find((t) => t.key === name.key)?.at);
        else pick(s, axis, x, y, pane.height, thin, touch);
      }),
    );
    const stop = effect(() => {
      void [now.screen.value, now.shown.value, now.selected.value, now.here.value, now.sketch.value, now.differs.value, now.along.value, now.ink.value];
      pane.again();
    });
    return () => (stop(), pane.end());
  }, [thin]);
  const s = now.screen.value;
  const n = s && now.selected.value.startsWith("unit/") ? s.units.mark.indexOf(now.selected.value.slice(5)) : -1;
  const thing = s && [...nameable(s), ...s.supports, ...s.forced].find((t) => t.key === now.selected.value);
  return (
    <canvas
      ref={at}
      class={thin ? "strip thin" : "strip"}
      tabIndex={0}
      role="slider"
      aria-label="strip: the run unrolled. T and shift T select what crosses or stands in it, N and P nodes"
      aria-valuemin={1}
      aria-valuemax={Math.max(1, s?.units.mark.length ?? 1)}
      aria-valuenow={n + 1}
      aria-valuetext={s ? (n >= 0 ? s.units.mark[n] + ", " : thing ? thing.label + ", " : "") + chainage(s, now.here.value) : "no run"}
      onKeyDown={(e) => {
        const by = { ArrowRight: 1, ArrowLeft: -1, PageDown: 10, PageUp: -10 }[e.key];
        if (by !== undefined) step(by);
        else if (e.key === "Home" && s) choose(s, 0);
        else if (e.key === "End" && s) choose(s, s.units.mark.length - 1);
        else if (e.key === "+" || e.key === "=") closer(1.5);
        else if (e.key === "-") closer(1 / 1.5);
        else if (e.key === "0") now.showAll();
        else if (!walked(e)) return;
        e.preventDefault();
      }}
    />
  );
}

// What a tap means: the thing nearest to it, and the peg goes to that thing, so that the card speaks of one place. Things stand
// above the strip and cross it as thin lines; nodes are met on the strip itself. Zones and supports are met above and below the
// units, where their hatch shows; a finger may be further off.
function pick(s: Screen, axis: Axis, x: number, y: number, high: number, thin: boolean, touch: boolean): void {
  const mm = axis.mm(x);
  const wide = touch ? 2 : 1;
  let best: { key: string; at: number; off: number } | undefined;
  const meets = (key: string, at: number, within: number): void => {
    const off = Math.abs(axis.x(at) - x);
    if (off < within && (!best || off < best.off)) best = { key, at, off };
  };
  const [above, below] = besideUnits(high, thin, now.along.value);
  const things = [...s.services, ...s.crossings, ...s.entries];
  for (const t of things) meets(t.key, t.at, (y < above ? 10 : 4) * wide);
  if (y > above - 6) for (const n of s.nodes) for (const at of n.strip) meets(n.key, at, 10 * wide);
  if (!best && (y < above || y > below)) {
    const over = things.find((t) => mm > t.from && mm < t.to) ?? s.zones.find((z) => mm > z.from && mm < z.to);
    if (over) best = { key: over.key, at: "at" in over ? over.at : (over.from + over.to) / 2, off: 0 };
    for (const t of [...s.supports, ...s.forced]) meets(t.key, t.at, 6 * wide);
  }
  if (best) return void select(best.key, best.at);
  const i = unitAt(s, mm);
  if (i < 0) return void select("", mm);
  void select("unit/" + s.units.mark[i]!, mm);
}

/** pinned is a pin that is being dragged, with the level where the hand is. */
const pinned = signal<{ id: string; key: string; at: number; level: number } | undefined>(undefined);

// A pin is dragged up and down; its card takes a typed level.
function pinHand(pane: () => Pane, other: Hand): Hand {
  const under = (x: number, y: number): SectionThing | undefined => {
    const s = now.screen.value;
    if (!s) return undefined;
    const axis = axisOf(pane().width);
    const scale = upright(s, axis, pane().height);
    return s.section.pins.find((p) => p.top_m !== null && Math.abs(axis.x(p.at) - x) < 12 && Math.abs(scale.y(p.top_m) - 7 - y) < 16);
  };
  let scale: Scale | undefined;
  let from = 0;
  return {
    ...other,
    down(x, y, e) {
      const p = under(x, y);
      const s = now.screen.value;
      if (!p || !s) return other.down!(x, y, e);
      scale = upright(s, axisOf(pane().width), pane().height);
      from = y;
      pinned.value = { id: p.id, key: p.key, at: p.at, level: p.top_m! };
      void select(p.key, p.at);
      return true;
    },
    move(x, y, e) {
      const p = pinned.value;
      if (!p || !scale) return other.move!(x, y, e);
      pinned.value = { ...p, level: p.level + scale.level(y) - scale.level(from) };
      from = y;
    },
    left() {
      pinned.value = undefined;
    },
    up(x, y, e) {
      const p = pinned.value;
      pinned.value = undefined;
      if (!p) return other.up!(x, y, e);
      const was = now.screen.value?.section.pins.find((q) => q.key === p.key)?.top_m;
      if (was == null || Math.abs(was - p.level) < 0.0005) return;
      void edit([{ op: "set", path: `levels.pins[${p.id}].level`, level_m: Math.round(p.level * 1000) / 1000 } as Edit], `pin ${p.id} moved`);
    },
  };
}

export function LongSection() {
  const at = useRef<HTMLCanvasElement & { written?: readonly Label[] }>(null);
  useEffect(() => {
    const canvas = at.current!;
    const pane: Pane = new Pane(
      canvas,
      (g, width, height) => {
        const s = now.screen.value;
        if (!s) return;
        canvas.written = section(g, s, axisOf(width), height, now.ink.value, { key: now.selected.value, here: now.here.value }, now.along.value?.stage === "bed");
        const p = pinned.value;
        if (p) dragged(g, s, axisOf(width), height, now.ink.value, p);
      },
      pinHand(() => pane, hand(() => pane.width, (s, axis, x, y, touch) => {
        const name = named(canvas.written ?? [], x, y);
        const thing = [...s.section.pins, ...s.section.outlets, ...s.section.services].find((p) => p.key === name?.key) ?? [...s.section.outlets, ...s.section.services].find((p) => Math.abs(axis.x(p.at) - x) < 10);
        if (thing) void select(thing.key, thing.at);
        else pick(s, axis, x, 100, 206, false, touch);
      })),
    );
    const stop = effect(() => {
      void [now.screen.value, now.shown.value, now.selected.value, now.here.value, now.along.value, now.ink.value, pinned.value];
      pane.again();
    });
    return () => (stop(), pane.end());
  }, []);
  const s = now.screen.value;
  const buried = s && s.services.length > 0 ? ` ${s.words.services} on it: ${listed(s.services.map((t) => t.id + " " + t.label))}.` : "";
  return <canvas ref={at} class="section" role="img" aria-label={"long section under the strip; its figures stand in the tables and on the cards, where levels can be typed." + buried} />;
}

/** listed is a list that can be said: its first ones, and how many more there are. */
function listed(all: string[]): string {
  const most = 12;
  return all.slice(0, most).join("; ") + (all.length > most ? `; ${all.length - most} more` : "");
}

export function closer(factor: number): void {
  const s = now.screen.value;
  if (s) now.show(zoomed(now.shown.value, now.here.value, factor, s.length_mm));
}

export function Closeness() {
  return <Closer><Peg /></Closer>;
}

/** Closer are the buttons that show more or less of the strip, behind what else stands in their row. */
export function Closer({ children }: { children?: ComponentChildren }) {
  return (
    <div class="closeness">
      {children}
      <button type="button" onClick={() => closer(1.6)} aria-label="closer">+</button>
      <button type="button" onClick={() => closer(1 / 1.6)} aria-label="further">−</button>
      <button type="button" onClick={() => now.showAll()}>whole run</button>
    </div>
  );
}

/** Legend names the lines of the long section that this run has, each with a sample of its stroke. */
export function Legend() {
  const s = now.screen.value;
  if (!s) return null;
  const ink = now.ink.value;
  const have = new Set(s.section.lines.map((l) => l.of));
  return (
    <ul class="legend" aria-label="lines of the long section">
      {Object.entries(strokes).filter(([of]) => have.has(of)).map(([of, k]) => (
        <li key={of}>
          <svg width="34" height="10" viewBox="0 0 34 10" aria-hidden="true">
            <line x1="0" x2="34" y1="5" y2="5" stroke={ink[k.colour]} stroke-width={k.width} stroke-dasharray={k.dash.join(" ") || undefined} />
          </svg>
          {of === "formation" ? s.words.formation : k.name}
        </li>
      ))}
      {s.services.length > 0 && (
        <li>
          <svg width="44" height="12" viewBox="0 0 44 12" aria-hidden="true">
            <ellipse cx="8" cy="6" rx="6" ry="4" fill="none" stroke={ink.ink} stroke-width="2" />
            <line x1="20" x2="44" y1="6" y2="6" stroke={ink.ink} stroke-width="2" stroke-dasharray="5 3" />
          </svg>
          {s.words.services} (dashed: from above, or depth unknown)
        </li>
      )}
    </ul>
  );
}
