// What a typed name means: things along the run are called by their names and ids, as people and drawings call them.
import type { Screen, Thing } from "../screen";

/** Found is one thing that a name fits. */
export interface Found {
  key: string;
  said: string; // what it is called where several fit
  at: number; // strip
}

interface Named extends Found {
  names: string[]; // small letters
}

const plain = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, " ");

function things(s: Screen): Named[] {
  const called = new Map(s.plan.lines.map((l) => [l.key, l.name]));
  const kinds: [string, Thing[]][] = [[s.words.service, s.services], ["crossing", s.crossings], ["entry", s.entries], ["support", s.supports]];
  const seen = new Set<string>(); // a support stands at many places
  return kinds.flatMap(([kind, all]) => all.filter((t) => !seen.has(t.key) && seen.add(t.key)).map((t) => {
    const name = called.get(t.key) ?? t.id;
    return { key: t.key, at: t.at, names: [plain(t.id), plain(name)], said: `${name === t.id ? "" : name + ", "}${kind} ${t.id}, leg ${s.legs[t.leg]?.id ?? ""}` };
  }));
}

// A node lies on several legs: the peg stays on the one where it stands.
function nodes(s: Screen, here: number): Named[] {
  const leg = s.legs.find((l) => here >= l.from && here <= l.to);
  return s.nodes.filter((n) => n.strip.length > 0).map((n) => {
    const at = n.strip.find((x) => leg && x >= leg.from && x <= leg.to) ?? n.strip[0]!;
    return { key: n.key, at, names: [plain(n.id)], said: "node " + n.id };
  });
}

// A unit is called by its mark.
function units(s: Screen, text: string): Found[] {
  const i = s.units.mark.findIndex((m) => plain(m) === plain(text));
  return i < 0 ? [] : [{ key: "unit/" + s.units.mark[i]!, at: s.units.from[i]!, said: `${s.words.unit} ${s.units.mark[i]!}` }];
}

/** called are the units, things and nodes that have exactly this name or id. */
export function called(s: Screen, text: string, here: number): Found[] {
  return [...units(s, text), ...[...things(s), ...nodes(s, here)].filter((t) => t.names.includes(plain(text)))];
}

/** beginning are the things whose name or id begins so. */
export function beginning(s: Screen, text: string): Found[] {
  return things(s).filter((t) => t.names.some((n) => n.startsWith(plain(text))));
}
