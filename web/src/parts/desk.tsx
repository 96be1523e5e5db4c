// One job: its head, the stages, the strip with the long section, and under it what the stage shows.
import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import * as act from "../actions";
import type { StageID } from "../state";
import * as now from "../state";
import * as site from "../site";
import { AcrossView } from "./across";
import { CardView, Hint } from "./card";
import { Next } from "./next";
import { PlanPane } from "./plan";
import { Closeness, Legend, LongSection, Strip } from "./run";
import { EndsView } from "./ends";
import { Kept, OnSite, useAwake } from "./sitenext";
import { Recorder } from "./siterecord";
import { Told } from "./sheets";
import { OtherCore, Plain, Signal, SignalInShort } from "./signal";
import { Switches } from "./switches";
import { SolidView } from "./solid";
import { Hand } from "./hand";
import { Key, StopsFirst, useStage } from "./stage";
import { Stamp } from "./stamp";
import { TableView } from "./table";
import { Said } from "./told";
import { Viewer } from "./viewer";

export function Desk({ go }: { go(to: string): void }) {
  const s = now.screen.value;
  const narrow = useNarrow();
  const to = (stage: StageID): void => {
    now.stage.value = stage;
    if (now.job.value) go(`/jobs/${encodeURIComponent(now.job.value.id)}/${stage}`);
  };
  useKeys();
  useStage();
  useAwake();
  return (
    <>
      <header class="head">
        <div>
          <h1>
            <a href="/" onClick={(e) => (e.preventDefault(), go("/"))} aria-label="all jobs">‹</a> {now.job.value?.name ?? ""}
          </h1>
          <p class="run-said">{s ? s.job.said : now.job.value?.said}{s?.job.revision && <span class="more"> · declared revision {s.job.revision}</span>}</p>
          <Stamp />
        </div>
        {narrow ? <SignalInShort /> : <div class="standing"><Signal /><Switches /></div>}
      </header>
      <Plain />
      <OtherCore />
      <Stages to={to} />
      <section class="run" aria-label="the run">
        <Strip thin={narrow} />
      </section>
      {!narrow && <LongSection />}
      {!narrow && (
        <div class="below">
          {s && <Closeness />}
          {s && <Legend />}
          <Key />
        </div>
      )}
      {s && !narrow && <Hand narrow={narrow} />}
      <EndsView />
      <Faults />
      {s ? <Stage narrow={narrow} /> : <p class="waiting">{now.trouble.value ? "Nothing is planned yet." : "Planning the run."}</p>}
      {s && narrow && <Hand narrow={narrow} />}
      <Foot>{narrow ? <><Said /><Doing />{s && <Next to={to} />}</> : <><Doing /><Kept /><Said /></>}</Foot>
      {s && <Recorder />}
      {s && <Viewer />}
    </>
  );
}

// What stays at the bottom stands in one piece there: the last note, what the core is at, on a phone the bar. What is brought into
// view on a phone keeps clear of it, whatever its height.
function Foot({ children }: { children: ComponentChildren }) {
  const at = useRef<HTMLElement>(null);
  useLayoutEffect(() => {
    const root = document.documentElement.style;
    const sizes = new ResizeObserver(() => root.setProperty("--foot", at.current!.offsetHeight + "px"));
    sizes.observe(at.current!);
    return () => (sizes.disconnect(), root.removeProperty("--foot"));
  }, []);
  return <footer class="foot" ref={at}>{children}</footer>;
}

// What the core is at, in view wherever one is, beside the note: nothing moves when it comes and goes.
function Doing() {
  const what = now.doing.value;
  return (
    <p class="doing" role="status">
      {what && <>{what} <button type="button" onClick={act.stop}>stop</button></>}
    </p>
  );
}

// The nine are there before the run is: what stands under each comes with it.
const names: [StageID, string][] = [
  ["route", "Route"], ["order", "Order"], ["dig", "Dig"], ["bed", "Bed"], ["set", "Set"], ["fill", "Fill"], ["cables", "Cables"], ["cover", "Cover"], ["handover", "Hand over"],
];
const unplanned = names.map(([id, name]) => ({ id, name, said: "" }));

function Stages({ to }: { to(stage: StageID): void }) {
  const s = now.screen.value;
  const at = useRef<HTMLElement>(null);
  useEffect(() => {
    const nav = at.current!;
    const inView = (): void => {
      const b = nav.querySelector("[aria-current]");
      if (b) nav.scrollLeft += b.getBoundingClientRect().left - nav.getBoundingClientRect().left - 44; // clear of the sign that there is more
    };
    const further = (): void => { // that there is more on either side
      nav.classList.toggle("more-before", nav.scrollLeft > 4);
      nav.classList.toggle("more-behind", nav.scrollLeft + nav.clientWidth < nav.scrollWidth - 4);
    };
    const sizes = new ResizeObserver(() => (inView(), further())); // the page may be drawn before it has its looks
    sizes.observe(nav);
    const pressed = (e: MouseEvent): void => { // the sign that there is more is pressed as well as wiped past
      const box = nav.getBoundingClientRect();
      const by = nav.classList.contains("more-behind") && e.clientX > box.right - 32 ? 1 : nav.classList.contains("more-before") && e.clientX < box.left + 32 ? -1 : 0;
      if (!by || e.detail === 0) return; // a key chooses what it is on
      e.preventDefault();
      e.stopPropagation();
      nav.scrollBy({ left: by * (nav.clientWidth - 90), behavior: "smooth" });
    };
    nav.addEventListener("scroll", further);
    nav.addEventListener("click", pressed, true);
    return () => (sizes.disconnect(), nav.removeEventListener("scroll", further), nav.removeEventListener("click", pressed, true));
  }, [now.stage.value, s]);
  return (
    <nav class={s ? "nine stages" : "nine"} aria-label="stages" ref={at}>
      {(s?.stages ?? unplanned).map((g) => (
        <button
          key={g.id}
          type="button"
          aria-current={now.stage.value === g.id ? "page" : undefined}
          onClick={() => to(g.id as StageID)}
        >
          <span class="name">{g.name}</span>
          <span class="said">{site.site.value?.stages.find((x) => x.id === g.id)?.said || g.said || "\u00a0"}</span>
        </button>
      ))}
    </nav>
  );
}

// A job that cannot be planned as it stands says why, whatever stage is open.
function Faults() {
  const s = now.screen.value;
  const wrong = s?.findings.filter((f) => f.kind === "fault") ?? [];
  if (wrong.length === 0) return null;
  return (
    <section class="told" role="alert" aria-label="why this run is not laid out">
      <h2>This run cannot be laid out as it stands</h2>
      {wrong.map((f) => (
        <p key={f.name + f.text} class="fault">
          {f.text} {f.try && <em>Try: {f.try}</em>}
        </p>
      ))}
      {now.way.value?.undo.length ? <button type="button" onClick={() => void act.undo()}>undo the last change</button> : null}
    </section>
  );
}

// What each stage is looked at by first: the run from above, or cut across where the peg stands.
const looked: Partial<Record<StageID, "across">> = { dig: "across", bed: "across", fill: "across" };

function Stage({ narrow }: { narrow: boolean }) {
  const s = now.screen.value!;
  const g = s.stages.find((g) => g.id === now.stage.value) ?? s.stages[0]!;
  useLayoutEffect(() => {
    now.pictured.value = looked[g.id as StageID] ?? "plan";
    now.tabled.value = "";
  }, [g.id]);
  const pictured = now.pictured.value;
  const tables = [...g.tables, now.tabled.value].map((name, i, all) => (all.indexOf(name) === i ? s.tables.find((t) => t.name === name) : undefined)).filter((t) => t !== undefined);
  const name = tables.some((t) => t.name === now.tabled.value) ? now.tabled.value : tables[0]?.name ?? "";
  return (
    <main class={"stage " + g.id}>
      <div class="side">
        {narrow && <StopsFirst />}
        {narrow && <OnSite />}
        {now.card.value ? <CardView key={now.card.value.key} card={now.card.value} narrow={narrow} /> : <Hint narrow={narrow} />}
        <Told />
      </div>
      <div class="above">
        <div class="which" role="group" aria-label="how the run is shown">
          {(["plan", "across", "solid"] as const).map((k) => (
            <button key={k} type="button" aria-pressed={pictured === k} onClick={() => (now.pictured.value = k)}>{{ plan: "from above", across: "cut across", solid: "solid" }[k]}</button>
          ))}
        </div>
        {pictured === "plan" ? <PlanPane /> : pictured === "across" ? <AcrossView /> : <SolidView />}
      </div>
      <section class="tables" aria-label="tables">
        {narrow ? (
          tables.length > 0 && (
            <label class="which">
              table{" "}
              <select value={name} onChange={(e) => (now.tabled.value = e.currentTarget.value)}>
                {tables.map((t) => <option key={t.name} value={t.name}>{`${t.title} (${t.rows})`}</option>)}
              </select>
            </label>
          )
        ) : (
          <div class="which" role="group" aria-label="which table">
            {tables.map((t) => (
              <button key={t.name} type="button" aria-pressed={t.name === name} onClick={() => (now.tabled.value = t.name)}>
                {t.title} <span>{t.rows}</span>
              </button>
            ))}
          </div>
        )}
        {name === "" && <p>{s.tables.length === 0 ? "The tables come with the plan." : "No table belongs to this stage yet."}</p>}
        {name && <TableView key={name} name={name} />}
      </section>
    </main>
  );
}

function useNarrow(): boolean {
  const query = matchMedia("(max-width: 699px)");
  const [narrow, set] = useState(query.matches);
  useEffect(() => {
    const f = (): void => set(query.matches);
    query.addEventListener("change", f);
    return () => query.removeEventListener("change", f);
  }, []);
  return narrow;
}

function useKeys(): void {
  useEffect(() => {
    const f = (e: KeyboardEvent): void => {
      if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z") return;
      if (e.target instanceof HTMLInputElement || e.target instanceof HTMLTextAreaElement) return;
      e.preventDefault();
      void (e.shiftKey ? act.redo() : act.undo());
    };
    addEventListener("keydown", f);
    return () => removeEventListener("keydown", f);
  }, []);
}
