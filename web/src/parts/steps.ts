// From thing to thing by keys: nodes, what crosses or stands in the run, curves, in the order of the strip.
import { select } from "../actions";
import { moved } from "../draw/axis";
import type { Screen } from "../screen";
import * as now from "../state";

interface Stop {
  key: string;
  at: number; // strip
}

const stops: Record<"node" | "thing" | "curve", (s: Screen) => Stop[]> = {
  node: (s) => s.nodes.map((n) => ({ key: n.key, at: n.strip[0] ?? 0 })),
  thing: (s) => [...s.crossings, ...s.services, ...s.entries, ...s.supports, ...s.forced, ...s.zones.filter((z) => z.kind === "zone").map((z) => ({ key: z.key, at: (z.from + z.to) / 2 }))],
  curve: (s) => s.plan.legs.flatMap((l) => l.curves.map((c) => ({ key: c.key, at: c.strip[1] }))),
};

/** walk selects the next of a kind, or the one before; false: there is none. */
export function walk(kind: keyof typeof stops, by: 1 | -1): boolean {
  const s = now.screen.value;
  const seen = new Set<string>();
  const all = s ? stops[kind](s).filter((x) => !seen.has(x.key) && seen.add(x.key)).sort((a, b) => a.at - b.at) : [];
  if (!s || all.length === 0) return false;
  const at = all.findIndex((x) => x.key === now.selected.value);
  const here = now.here.value;
  const next = at >= 0 ? all[(at + by + all.length) % all.length]! : by > 0 ? all.find((x) => x.at >= here) ?? all[0]! : all.findLast((x) => x.at <= here) ?? all.at(-1)!;
  void select(next.key, next.at);
  const w = now.shown.value;
  if (next.at < w.from || next.at > w.to) now.show(moved(w, next.at - (w.from + w.to) / 2, s.length_mm));
  return true;
}

/** walked is what the keys for that do: N and P nodes, T things, C curves, with shift the one before. */
export function walked(e: KeyboardEvent): boolean {
  if (e.ctrlKey || e.metaKey || e.altKey) return false;
  const back = e.shiftKey ? -1 : 1;
  switch (e.key.toLowerCase()) {
    case "n":
      return walk("node", back);
    case "p":
      return walk("node", -1);
    case "t":
      return walk("thing", back);
    case "c":
      return walk("curve", back);
  }
  return false;
}
