// What can be put onto the run where the peg stands. Everything is typed: no gesture is the only way, and a hand in a glove can do
// it. What was understood of the typed figures comes back from the core, and so does what is wrong with them.
import { useEffect, useRef, useState } from "preact/hooks";
import { computed } from "@preact/signals";
import { edit, select } from "../actions";
import { placeOf } from "../draw/plan";
import { chainage } from "../draw/strip";
import type { Edit, Leg, Screen } from "../screen";
import * as now from "../state";
import { Outcome } from "./told";
import { toMissing, Wanted } from "./wanted";

interface Asked {
  name: string; // of the field in the job
  label: string;
  like: string; // an example
  from?: string[]; // words to choose from
  must?: boolean;
  first?: boolean; // may stay empty, and is asked for all the same
}
interface Kind {
  kind: string;
  label(s: Screen): string;
  asked: Asked[];
}

const kinds: Kind[] = [
  {
    kind: "crossing", label: () => "crossing", asked: [
      { name: "name", label: "what it is", like: "depot gate" },
      { name: "path", label: "width driven over, square to it", like: "3500 mm", must: true },
      { name: "margin", label: "more on each side", like: "500 mm" },
      { name: "skew", label: "angle to the run", like: "90°" },
      { name: "vehicle", label: "what crosses", like: "lorry, 40 t" },
    ],
  },
  {
    kind: "service", label: (s) => s.words.service, asked: [
      { name: "name", label: "what it is", like: "water main", must: true },
      { name: "width", label: "how wide it is", like: "200 mm", must: true },
      { name: "clear", label: "no joint within, each side", like: "300 mm", must: true },
      { name: "depth", label: "down to its top", like: "900 mm", first: true },
      { name: "quality", label: "how this is known", like: "trial hole" },
    ],
  },
  {
    kind: "entry", label: () => "conduit entry", asked: [
      { name: "side", label: "side, looking along", like: "left", from: ["left", "right", "floor"], must: true },
      { name: "diameter", label: "outside diameter", like: "110 mm", must: true },
      { name: "clear", label: "no joint within, each side", like: "200 mm", must: true },
    ],
  },
  {
    kind: "support", label: () => "support", asked: [
      { name: "width", label: "along the run", like: "60 mm", must: true },
      { name: "clear", label: "no joint within, each side", like: "50 mm" },
      { name: "every", label: "again every", like: "1500 mm" },
    ],
  },
  {
    kind: "zone", label: () => "no-joint zone", asked: [
      { name: "to", label: "to chainage", like: "14.5 m", must: true },
      { name: "why", label: "why", like: "mast foundation", must: true },
    ],
  },
  {
    kind: "joint", label: () => "joint that has to stand here", asked: [
      { name: "tol", label: "may stand off by", like: "5 mm" },
      { name: "why", label: "why", like: "movement joint of the building" },
    ],
  },
  {
    kind: "pin", label: () => "pinned level", asked: [
      { name: "level", label: "level", like: "101.25", must: true },
      { name: "of", label: "of what", like: "cover", from: ["cover", "wall", "invert"] },
      { name: "why", label: "why", like: "kerb of the gate road" },
    ],
  },
  {
    kind: "outlet", label: () => "outlet", asked: [
      { name: "into", label: "into what", like: "manhole 7" },
    ],
  },
];

/** the leg at the peg. */
const under = computed<Leg | undefined>(() => now.screen.value?.legs.find((l) => now.here.value >= l.from - 0.5 && now.here.value <= l.to + 0.5));

export function Put() {
  const s = now.screen.value!;
  const leg = under.value;
  const [open, setOpen] = useState("");
  if (!leg) return null;
  const kind = kinds.find((k) => k.kind === open);
  return (
    <section class="put" aria-label="put at the peg">
      <h3>At {chainage(s, now.here.value)}, where the peg stands</h3>
      <Outcome at="put" />
      <div class="which" role="group" aria-label="what to put">
        <button type="button" aria-pressed={open === "bend"} onClick={() => setOpen(open === "bend" ? "" : "bend")}>bend</button>
        {kinds.map((k) => (
          <button key={k.kind} type="button" aria-pressed={open === k.kind} onClick={() => setOpen(open === k.kind ? "" : k.kind)}>
            {k.label(s)}
          </button>
        ))}
      </div>
      {open === "bend" && <BendForm leg={leg} s={s} done={() => setOpen("")} />}
      {kind && <PutForm key={kind.kind} kind={kind} leg={leg} s={s} done={() => setOpen("")} />}
    </section>
  );
}

// A bend has to turn: it is put where the peg stands and moved aside, by a typed distance or to a place tapped in the plan.
function BendForm({ leg, s, done }: { leg: Leg; s: Screen; done(): void }) {
  const [side, setSide] = useState("left");
  const [far, setFar] = useState("2");
  const at = useBroughtIn();
  const put = async (to: [number, number]): Promise<void> => {
    const e = { op: "insert-bend", leg: leg.id, at_mm: now.here.value - leg.from, place_m: to, origin_m: s.plan.origin_m } as Edit;
    if (!(await edit([e], `bend put into leg ${leg.id}`, "put"))) return;
    done();
    const made = now.made.value.find((k) => k.startsWith("node/"));
    if (made) await select(made);
    if (narrow()) scrollTo({ top: 0 }); // there its card lies far above
  };
  const aside = (): void => {
    const p = placeOf(s, now.here.value);
    const d = Number(far.replace(",", ".")) * (side === "left" ? 1 : -1);
    if (p && d) void put([p.at[0] - p.way[1] * d, p.at[1] + p.way[0] * d]);
  };
  return (
    <form class="putform" ref={at} onSubmit={(e) => (e.preventDefault(), aside())}>
      <label>
        moved aside, metres
        <input required inputMode="decimal" pattern="[0-9]+([.,][0-9]+)?" value={far} onInput={(e) => setFar(e.currentTarget.value)} />
      </label>
      <label>
        to which side
        <select value={side} onChange={(e) => setSide(e.currentTarget.value)}>
          <option>left</option>
          <option>right</option>
        </select>
      </label>
      <button type="submit">put the bend</button>
      <button type="button" onClick={() => (now.tapping.value = { say: "a bend from the peg", tapped: (at) => void put(at) })}>or tap in the plan</button>
    </form>
  );
}

function PutForm({ kind, leg, s, done }: { kind: Kind; leg: Leg; s: Screen; done(): void }) {
  const [where, setWhere] = useState("");
  const [texts, setTexts] = useState<Record<string, string>>({});
  const [pressed, setPressed] = useState(false);
  const at = useBroughtIn();
  const put = async (form: HTMLElement): Promise<void> => {
    setPressed(true);
    if (kind.asked.some((a) => a.must && !a.from && !(texts[a.name] ?? "").trim())) return toMissing(form);
    const fields = kind.asked.map((a) => ({ name: a.name, text: (texts[a.name] ?? (a.must && a.from ? a.from[0] : "") ?? "").trim() })).filter((f) => f.text !== "");
    const place = where.trim() ? { at: where.trim() } : { at_mm: now.here.value - leg.from };
    const e = { op: "add", kind: kind.kind, leg: leg.id, ...place, fields } as Edit;
    if (!(await edit([e], `${kind.label(s)} put on leg ${leg.id}`, "put"))) return;
    done();
    const made = now.made.value[0];
    if (made) await select(made);
    if (narrow()) scrollTo({ top: 0 }); // there its card lies far above
  };
  const field = (a: Asked) => a.from ? (
    <label key={a.name}>
      {a.label}
      <select value={texts[a.name] ?? a.from[0]} onChange={(e) => setTexts({ ...texts, [a.name]: e.currentTarget.value })}>
        {a.from.map((f) => <option key={f}>{f}</option>)}
      </select>
    </label>
  ) : (
    <Wanted key={a.name} id={`put-${kind.kind}-${a.name}`} label={a.label} like={a.like} value={texts[a.name] ?? ""}
      missing={a.must && pressed ? `Missing: ${a.label}. Type it like ${a.like}.` : ""} typed={(text) => setTexts({ ...texts, [a.name]: text })} />
  );
  return (
    <form class="putform" noValidate ref={at} onSubmit={(e) => (e.preventDefault(), void put(e.currentTarget))}>
      {kind.asked.filter(foremost).map(field)}
      <button type="submit">put it here</button>
      <details class="fold more" open={!narrow()}>
        <summary>what may stay empty</summary>
        <div class="putform">
          <label>
            {s.words.chainage} on leg {leg.id}
            <input value={where} placeholder="where the peg stands" onInput={(e) => setWhere(e.currentTarget.value)} />
          </label>
          {kind.asked.filter((a) => !foremost(a)).map(field)}
        </div>
      </details>
      <p class="note">A bare number is taken in {s.words.length_unit}, a {s.words.chainage} in {s.words.length_unit === "in" ? "ft" : "m"}.</p>
    </form>
  );
}

const foremost = (a: Asked): boolean => Boolean(a.must || a.first);
const narrow = (): boolean => matchMedia("(max-width: 699px)").matches;

// On a phone a form that opens is brought into view: what leads to it fills the screen there.
function useBroughtIn() {
  const at = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (narrow()) at.current!.scrollIntoView({ block: "nearest" });
  }, []);
  return at;
}
