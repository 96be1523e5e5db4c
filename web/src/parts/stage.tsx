// What the open stage has to say: along the run, and large where the peg stands. The core is asked anew when the stage, the plan
// or the peg changes; an answer that comes late is not shown.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { about, alongOf, besideOf, select } from "../actions";
import { Lane } from "../core/lane";
import type { AlongKind, Here } from "../screen";
import * as now from "../state";
import { beginning, called, type Found } from "./find";
import { opened } from "./hand";
import { carded, odds } from "../codes/place";
import { next as due, nextOf } from "../site";
import { stamp } from "../states";
import { Scan } from "./scan";
import { openPaper } from "./sheets";

const asking = new Lane();

/** useStage keeps what the stage says up to date. */
export function useStage(): void {
  const s = now.screen.value;
  const stage = now.stage.value;
  const here = now.here.value;
  const height = now.height.value;
  useEffect(() => {
    if (now.told.along === s && now.along.value?.stage === stage) return undefined; // it came with the plan
    let current = true;
    now.along.value = undefined;
    if (s) alongOf(s).then((a) => current && now.screen.value === s && ((now.along.value = a), (now.told.along = s)), () => undefined);
    return () => {
      current = false;
    };
  }, [s, stage]);
  useEffect(() => {
    if (!s) return void (now.beside.value = undefined);
    const came = now.told.beside === s && now.told.here === here && now.beside.value?.stage === stage; // with the plan
    now.told.beside = undefined;
    if (came) return;
    const meant = (): boolean => now.screen.value === s && now.stage.value === stage && now.here.value === here;
    asking.run(async () => {
      const h = await besideOf(s, here).catch(() => undefined);
      if (meant()) now.beside.value = h;
    });
  }, [s, stage, here, height]);
}

let room = matchMedia("(max-width: 699px)").matches ? 400 : 280; // CSS pixels that the figures took the last time

/** Stops say what holds the work, white on black, as the papers have it. */
export function Stops({ all }: { all: string[] | null }) {
  return <>{(all ?? []).map((t) => <p key={t} class="stop">{t}</p>)}</>;
}

/** StopsFirst are all that hold the work in the open stage, before anything else that a phone shows. What holds up the thing that is
 * selected says which that is. */
export function StopsFirst() {
  const [c, h, n, stage] = [now.card.value, now.beside.value, due.value, now.stage.value];
  const all = [...(h?.stage === stage ? h.stop : []), ...(n?.stage === stage && nextOf.value === now.screen.value?.hash ? n.stop : [])];
  return <>{c?.stop?.map((t) => <p key={t} class="stop"><small>{c.title}</small> {t}</p>)}<Stops all={[...new Set(all)]} /></>;
}

/** Large is what counts for the stage where the peg stands, in large figures, with what can be done about it. */
export function Large({ stops = true }: { stops?: boolean }) {
  const s = now.screen.value!;
  const h = now.beside.value;
  const name = s.stages.find((g) => g.id === now.stage.value)?.name ?? "";
  const at = useRef<HTMLElement>(null);
  const there = h && h.stage === now.stage.value;
  useLayoutEffect(() => { // the room stays taken while figures are asked for
    if (there) room = at.current!.offsetHeight;
    else at.current!.style.minHeight = room + "px";
  });
  if (!there) return <section key="waiting" class="large-figures" ref={at} />;
  return (
    <section key="there" class="large-figures" ref={at} aria-label={`${name} at ${h.title}`}>
      <h3>
        {name} {h.key !== now.selected.value && <span class="at">{h.title}</span>}
      </h3>
      {stops && <Stops all={h.stop} />}
      <dl>
        {h.big.map((b, i) => (
          <div key={b.label + i} class={(b.open ? "open " : "") + (b.long ? "long" : "")}>
            <dt>{b.label}</dt>
            <dd>
              <Figure text={b.text} />
              {b.other && <span class="other">{b.other}</span>}
            </dd>
          </div>
        ))}
      </dl>
      {h.open.map((t) => <p key={t} class="not-checked">{t}</p>)}
      {now.along.value?.open && <p class="yet">{now.along.value.open}</p>}
      <Doing />
    </section>
  );
}

// The unit of a figure stands small behind it.
function Figure({ text }: { text: string }) {
  const parts = /^(-?[\d.,]+) ([a-zA-Z]+[²³]?)$/.exec(text);
  if (!parts) return <span class={text.length > 12 && text.includes(" ") ? "middling wide" : text.length > 7 && text.includes(" ") || text.length > 10 ? "middling" : ""}>{text}</span>;
  return <span class="figured">{parts[1]}<small> {parts[2]}</small></span>;
}

interface Deed {
  name: string;
  do(): void;
}

const table = (name: string, say: string): Deed => ({
  name: say,
  do: () => ((now.tabled.value = name), document.querySelector(".tables")?.scrollIntoView({ block: "nearest" })),
});
const picture = (kind: "plan" | "across" | "solid", say: string): Deed => ({
  name: say,
  do: () => ((now.pictured.value = kind), document.querySelector(".above")?.scrollIntoView({ block: "nearest" })),
});
const paper = (path: string, say: string): Deed => ({ name: say, do: () => openPaper(path) });
const issue: Deed = {
  name: "issue this revision",
  do: () => {
    const fold = document.querySelector<HTMLDetailsElement>("details.issue");
    if (!fold) return;
    opened(fold);
    fold.querySelector("input")?.focus({ preventScroll: true });
  },
};

const dossier: Deed = {
  name: "the dossier",
  do: () => {
    const fold = document.querySelector<HTMLDetailsElement>("details.handing");
    if (fold) opened(fold);
  },
};

const deeds: Record<now.StageID, Deed[]> = {
  route: [table("joints", "joints and their budgets"), table("findings", "findings"), table("checks", "checks and verdicts")],
  order: [table("cutting", "cutting list"), table("bill", "what to buy"), paper("cut-cards-A4.pdf", "cut cards"), issue],
  dig: [picture("across", "cut across here"), table("dig", "dig by joints"), table("dig-running", "volumes along the run")],
  bed: [paper("set-out-cards-A4.pdf", "cards of levels"), table("grades", "grades"), picture("across", "cut across here")],
  set: [paper("checking-pages-A4.pdf", "pages to check by"), table("schedule", "schedule"), table("joints", "gaps"), table("checks", "checks and verdicts")],
  fill: [table("dig-layers", "layers"), picture("across", "cut across here"), table("dig-balance", "what leaves, what comes")],
  cables: [table("checks", "checks and verdicts"), picture("across", "cut across here"), picture("plan", "turns from above")],
  cover: [paper("cut-cards-A4.pdf", "cut cards"), picture("solid", "lift covers off"), table("covers", "covers")],
  handover: [dossier, table("proof", "what was proven"), table("findings", "findings"), paper("interchange/plan.xml", "alignments as LandXML"), issue],
};

// What can be done in this stage, as far as this plan has it. On the bed, where the instrument stands is typed here.
function Doing() {
  const s = now.screen.value!;
  const stage = now.stage.value;
  const have = new Set([...s.tables.map((t) => t.name), ...s.sheets.map((t) => t.name)]);
  const needs: Record<string, string> = { "cut cards": "cut-cards-A4.pdf", "cards of levels": "set-out-cards-A4.pdf", "pages to check by": "checking-pages-A4.pdf", "alignments as LandXML": "interchange/plan.xml", "checks and verdicts": "checks" };
  const all = deeds[stage].filter((d) => !needs[d.name] || have.has(needs[d.name]!));
  return (
    <>
      {(stage === "bed" || stage === "set") && <Instrument />}
      <div class="stage-deeds" role="group" aria-label="what can be done in this stage">
        {all.map((d) => <button key={d.name} type="button" onClick={d.do}>{d.name}</button>)}
      </div>
    </>
  );
}

function Instrument() {
  const s = now.screen.value!;
  const [text, setText] = useState(now.height.value);
  if (now.stage.value !== "bed") return null;
  const read = (e: Event): void => {
    e.preventDefault();
    now.height.value = text.trim();
    if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur(); // or its keys would cover what comes
    document.querySelector(".large-figures")?.scrollIntoView({ block: matchMedia("(max-width: 699px)").matches ? "start" : "nearest" });
  };
  return (
    <form class="instrument" onSubmit={read}>
      <label>
        {s.words.instrument}, {s.words.coord_unit} <input value={text} inputMode="decimal" placeholder="as levelled" onInput={(e) => setText(e.currentTarget.value)} />
      </label>
      <button type="submit" disabled={text.trim() === now.height.value}>{s.words.rod_reading} here</button>
    </form>
  );
}

/** Peg puts the peg at a place that is typed: the name or id of a thing, a chainage, a unit, a joint, a node. went is called when it
 * stands there. */
export function Peg({ went, scans }: { went?: (() => void) | undefined; scans?: boolean }) {
  const [text, setText] = useState("");
  const [not, setNot] = useState("");
  const [several, setSeveral] = useState<Found[]>([]);
  const stay = useRef(false);
  const s = now.screen.value;
  const level = now.stage.value === "dig" || now.stage.value === "fill"; // there every place has a cut of its own
  const stand = async (key: string, at: number): Promise<void> => {
    setSeveral([]);
    setNot("");
    const there = select(key, at);
    now.reveal(at);
    if (!stay.current) went?.();
    await there;
  };
  const things = (all: Found[]): boolean => {
    if (all.length === 1) void stand(all[0]!.key, all[0]!.at);
    else setSeveral(all);
    return all.length > 0;
  };
  const go = async (typed: string): Promise<void> => {
    setNot("");
    const c = carded(typed);
    const odd = s ? odds(c, s.job.id, s.hash, stamp.value?.brief ?? "") : "";
    if (odd && c.job !== s?.job.id) return setNot(odd);
    stay.current = odd !== ""; // what is odd about the card is read here first
    await find(c.place);
    if (odd) setNot(odd);
  };
  const find = async (text: string): Promise<void> => {
    if (!s || things(called(s, text, now.here.value).filter((t) => !level || !/^(node|unit)\//.test(t.key)))) return;
    const here = s.legs.find((l) => now.here.value >= l.from && now.here.value <= l.to)?.id;
    const ask = (leg?: string): Promise<Here> => about<Here>("here", { name: now.stage.value, from: text.trim(), ...(leg && { leg }) });
    try {
      const h = await ask().catch(() => ask(here));
      await stand(level ? `place/${h.leg}/${Math.round(h.strip - s.legs.find((l) => l.id === h.leg)!.from)}` : h.key, h.strip);
    } catch (e) {
      if (!things(beginning(s, text))) setNot(`${(e as Error).message}. Nor is anything on the run called so: ${s.words.service}, crossing, entry or support.`);
    }
  };
  return (
    <form class="peg" onSubmit={(e) => (e.preventDefault(), void (text.trim() && go(text)))}>
      <label>
        find <input value={text} placeholder={`${s?.units.mark[3] ?? "B 12.5"}, a name`} aria-label="find a unit, a joint, a node, a chainage or a name, and put the peg there" onInput={(e) => (setText(e.currentTarget.value), setSeveral([]))} />
      </label>
      <button type="submit">go</button>
      {scans && <Scan read={(place) => (setText(place), void go(place))} />}
      {not && <span role="alert">{not}</span>}
      {several.length > 0 && (
        <div class="several" role="group" aria-label={"which " + text.trim()}>
          <p role="status">{several.length} are called so: which one?</p>
          {several.map((t) => <button key={t.key} type="button" onClick={() => void stand(t.key, t.at)}>{t.said}</button>)}
        </div>
      )}
    </form>
  );
}

/** Key is the legend of the stage: each hatch with its word, and how many there are. */
export function Key() {
  const a = now.along.value;
  const s = now.screen.value;
  if (!a || !s) return null;
  const name = s.stages.find((g) => g.id === a.stage)?.name ?? "";
  const counted = (k: AlongKind): boolean => k.of === "unit" || k.of === "cover" || a.stage === "handover";
  return (
    <div class="key">
      <p><strong>{name}</strong>: {a.said}</p>
      <ul class="legend" aria-label={"hatches of the stage " + name}>
        {a.kinds.filter((k) => k.of !== "row" || k.hatch !== "paper").map((k) => (
          <li key={k.of + k.name}>
            <Swatch hatch={k.hatch} />
            {k.name}{counted(k) && <span class="count"> {k.count}</span>}
          </li>
        ))}
      </ul>
    </div>
  );
}

const strokesOf: Record<string, string> = {
  rising: "M-4 18L14 0M4 18L22 0M12 18L30 0", falling: "M-4 0L14 18M4 0L22 18M12 0L30 18", upright: "M3 0V16M11 0V16M19 0V16", level: "M0 3H24M0 10H24",
  crossed: "M-4 18L14 0M4 18L22 0M12 18L30 0M-4 0L14 18M4 0L22 18M12 0L30 18",
};

function Swatch({ hatch }: { hatch: string }) {
  const ink = now.ink.value;
  return (
    <svg class="swatch" width="24" height="14" viewBox="0 0 24 14" aria-hidden="true">
      <rect x="0.75" y="0.75" width="22.5" height="12.5" fill={hatch === "stone" ? ink.stone : hatch === "solid" ? ink.line : ink.paper} />
      {strokesOf[hatch] && <path d={strokesOf[hatch]} stroke={ink.line} stroke-width="1.4" fill="none" />}
      {hatch === "dots" && [4, 10, 16, 21].map((x, i) => <circle key={x} cx={x} cy={i % 2 ? 9.5 : 4.5} r="1.2" fill={ink.line} />)}
      <rect x="0.75" y="0.75" width="22.5" height="12.5" fill="none" stroke={ink.ink} stroke-width="1.2" />
    </svg>
  );
}
