// What can be done with the selected thing: moved, taken away, gone on from. Every drag has its typed way and its buttons here.
import { useState } from "preact/hooks";
import { drag, edit } from "../actions";
import type { Curve, Edit, Node, Screen } from "../screen";
import * as now from "../state";
import { Outcome } from "./told";

const things = ["crossing", "service", "entry", "support", "zone", "forced", "pin", "outlet"];

/** doable tells whether anything can be done with the thing of this key. */
export const doable = (key: string): boolean => ["node", "leg", "curve", ...things].includes(key.slice(0, key.indexOf("/")));

export function Deeds() {
  const s = now.screen.value;
  const [kind, a, b] = now.selected.value.split("/");
  if (!s || !a) return null;
  const node = kind === "node" ? s.nodes.find((n) => n.id === a) : undefined;
  if (node) return <NodeDeeds key={node.key} s={s} node={node} />;
  const curve = kind === "curve" ? s.plan.legs.flatMap((l) => l.curves).find((c) => c.key === now.selected.value) : undefined;
  if (curve) return <CurveDeeds key={curve.key} s={s} c={curve} />;
  if (kind === "leg") return <LegDeeds s={s} leg={a} />;
  if (kind && things.includes(kind)) {
    return <ThingDeeds key={now.selected.value} kind={kind} leg={b ? a : ""} id={b ?? a} />;
  }
  return null;
}

const steps = [0.05, 0.5, 5]; // metres

/** moved is the edit that moves a node by so much east and north. */
export function moved(s: Screen, n: Node, east: number, north: number): Edit {
  return { op: "move-node", node: n.id, place_m: [n.at_m[0] + east, n.at_m[1] + north], origin_m: s.plan.origin_m } as Edit;
}

function NodeDeeds({ s, node }: { s: Screen; node: Node }) {
  const [step, setStep] = useState(steps[1]!);
  const [text, setText] = useState("");
  const by = (e: number, n: number, name: string): void => void edit([moved(s, node, e * step, n * step)], `${node.id} moved ${name}`, "deeds");
  const end = node.kind === "end";
  return (
    <section class="deeds" aria-label={"what can be done with " + node.id}>
      <h3>Do with {node.id}</h3>
      <Outcome at="deeds" />
      {node.moves && (
        <>
          <form class="field" onSubmit={(e) => (e.preventDefault(), text.trim() && void edit([{ op: "move-node", node: node.id, text } as Edit], `${node.id} moved`, "deeds"))}>
            <label for="node-place">easting, northing</label>
            <input id="node-place" value={text} placeholder="1000.00, 2000.00" onInput={(e) => setText(e.currentTarget.value)} />
            <button type="submit">move there</button>
          </form>
          <div class="compass">
            <button type="button" onClick={() => by(0, 1, "north")}>north</button>
            <button type="button" onClick={() => by(-1, 0, "west")}>west</button>
            <select aria-label="how far" value={String(step)} onChange={(e) => setStep(Number(e.currentTarget.value))}>
              {steps.map((m) => <option key={m} value={String(m)}>{m} m</option>)}
            </select>
            <button type="button" onClick={() => by(1, 0, "east")}>east</button>
            <button type="button" onClick={() => by(0, -1, "south")}>south</button>
          </div>
        </>
      )}
      {node.kind === "bend" && <button type="button" onClick={() => void edit([{ op: "remove-bend", node: node.id } as Edit], `bend ${node.id} taken out`, "deeds")}>take the bend out</button>}
      {end && <Onward say={`go on from ${node.id}`} make={(more) => ({ op: "extend", node: node.id, ...more }) as Edit} s={s} />}
    </section>
  );
}

// A new leg to a place that is typed, or tapped in the plan.
function Onward({ say, make, s }: { say: string; make(more: object): Edit; s: Screen }) {
  const [text, setText] = useState("");
  const tapping = now.tapping.value?.say === say;
  return (
    <form class="field" onSubmit={(e) => (e.preventDefault(), text.trim() && void edit([make({ text })], say, "deeds"))}>
      <label for="onward">{say}, to</label>
      <input id="onward" value={text} placeholder="easting, northing" onInput={(e) => setText(e.currentTarget.value)} />
      <button type="submit">lay a leg</button>
      <button
        type="button"
        aria-pressed={tapping}
        onClick={() => {
          now.tapping.value = tapping ? undefined : { say, tapped: (at) => void edit([make({ place_m: at, origin_m: s.plan.origin_m })], say, "deeds") };
        }}
      >
        {tapping ? "tap the place in the plan" : "or tap in the plan"}
      </button>
    </form>
  );
}

function LegDeeds({ s, leg }: { s: Screen; leg: string }) {
  const l = s.legs.find((l) => l.id === leg);
  if (!l) return null;
  return (
    <section class="deeds" aria-label={"what can be done with leg " + leg}>
      <h3>Do with leg {leg}</h3>
      <Outcome at="deeds" />
      <Onward say={`branch from the peg on ${leg}`} make={(more) => ({ op: "branch", leg, at_mm: Math.min(l.to, Math.max(l.from, now.here.value)) - l.from, ...more }) as Edit} s={s} />
      <button type="button" onClick={() => void edit([{ op: "remove-leg", leg } as Edit], `leg ${leg} taken away`, "deeds")}>take the leg away</button>
    </section>
  );
}

function ThingDeeds({ kind, leg, id }: { kind: string; leg: string; id: string }) {
  const [at, setAt] = useState("");
  const s = now.screen.value!;
  const l = s.legs.find((l) => now.here.value >= l.from - 0.5 && now.here.value <= l.to + 0.5);
  return (
    <section class="deeds" aria-label={"what can be done with " + id}>
      <h3>Do with {id}</h3>
      <Outcome at="deeds" />
      <form class="field" onSubmit={(e) => (e.preventDefault(), at.trim() && void edit([{ op: "move", kind, leg, id, at } as Edit], `${id} moved`, "deeds"))}>
        <label for="thing-at">{s.words.chainage}</label>
        <input id="thing-at" value={at} placeholder="12.40 m" onInput={(e) => setAt(e.currentTarget.value)} />
        <button type="submit">move there</button>
      </form>
      <div class="which">
        {l && (!leg || leg === l.id) && (
          <button type="button" onClick={() => void edit([{ op: "move", kind, leg: leg || l.id, id, at_mm: now.here.value - l.from } as Edit], `${id} moved to the peg`, "deeds")}>
            move to the peg
          </button>
        )}
        <button type="button" onClick={() => void edit([{ op: "remove", kind, leg, id } as Edit], `${id} taken away`, "deeds")}>take it away</button>
      </div>
    </section>
  );
}

/** radiusSet is the edit that gives a curve another radius, in metres on the ground. */
const radiusSet = (c: Curve, metres: number): Edit => ({ op: "set", path: c.path, radius_m: metres }) as Edit;

// A radius is typed here, or made wider and tighter by steps; on the plan it is dragged by its squares.
function CurveDeeds({ s, c }: { s: Screen; c: Curve }) {
  const unit = s.axis.unit_mm / 1000;
  const [step, setStep] = useState(10);
  const [text, setText] = useState("");
  const by = (more: number): void => void edit([radiusSet(c, Math.max(unit / 10, c.radius_m + more * step * unit))], `${c.name} made ${more > 0 ? "wider" : "tighter"}`, "deeds");
  return (
    <section class="deeds" aria-label={"what can be done with " + c.name}>
      <h3>Do with {c.name}, {c.label}</h3>
      <Outcome at="deeds" />
      <form class="field" onSubmit={(e) => (e.preventDefault(), text.trim() && void edit([{ op: "set", path: c.path, text } as Edit], `${c.name} given another radius`, "deeds"))}>
        <label for="curve-radius">radius</label>
        <input id="curve-radius" value={text} placeholder={s.axis.unit === "ft" ? "1475'" : "450 m"} onInput={(e) => setText(e.currentTarget.value)} />
        <button type="submit">make it so</button>
      </form>
      <div class="which">
        <button type="button" onClick={() => by(-1)}>tighter</button>
        <select aria-label="by how much" value={String(step)} onChange={(e) => setStep(Number(e.currentTarget.value))}>
          {[1, 10, 50].map((k) => <option key={k} value={String(k)}>{k} {s.axis.unit}</option>)}
        </select>
        <button type="button" onClick={() => by(1)}>wider</button>
      </div>
    </section>
  );
}

/** nudge moves what is selected by keys in the plan, a node by so much, a curve's radius by ten times that: it is shown at once, and
 * kept when the keys rest. */
let nudged: { key: string; east: number; north: number } | undefined;
let resting = 0;
export function nudge(east: number, north: number): boolean {
  const s = now.screen.value;
  const key = now.selected.value;
  const n = s?.nodes.find((n) => n.key === key);
  const c = s?.plan.legs.flatMap((l) => l.curves).find((c) => c.key === key);
  if (!s || !(n?.moves || c)) return false;
  nudged = nudged?.key === key ? { key, east: nudged.east + east, north: nudged.north + north } : { key, east, north };
  const wider = (nudged.east + nudged.north) * 20 * (s.axis.unit_mm / 1000);
  const e = c ? radiusSet(c, Math.max(0.1, c.radius_m + wider)) : moved(s, n!, nudged.east, nudged.north);
  drag([e]);
  clearTimeout(resting);
  resting = window.setTimeout(() => {
    nudged = undefined;
    void edit([e], c ? `${c.name} given another radius` : `${n!.id} moved`);
  }, 500);
  return true;
}
