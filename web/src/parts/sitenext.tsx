// The next thing, as whoever stands in the trench asks for it: the place, what goes there, the gap to hold, where the last joint lies,
// one reading of the rod. Below it what else there is to record here, and what was recorded last.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { select } from "../actions";
import type { Form, SiteSaid } from "../screen";
import { asFile } from "../keep/fieldbook";
import * as site from "../site";
import * as now from "../state";
import { keepAs } from "./files";
import { opened } from "./hand";
import { thing } from "./signalsite";
import { WhereSwitch } from "./readwith";
import { Height, pending } from "./siterecord";
import { Stops } from "./stage";
import { YardCard } from "./yard";

const settingOut = new Set<now.StageID>(["dig", "bed", "set"]);

/** useAwake keeps the screen lit while somebody sets out: pegs and levels, then units. */
export function useAwake(): void {
  const setting = settingOut.has(now.stage.value);
  useEffect(() => {
    if (!setting || !navigator.wakeLock) return undefined;
    let lock: WakeLockSentinel | undefined;
    let over = false;
    const ask = (): void => {
      if (document.visibilityState !== "visible" || over) return;
      navigator.wakeLock.request("screen").then((l) => (over ? void l.release() : (lock = l)), () => undefined); // a battery that is low refuses
    };
    ask();
    document.addEventListener("visibilitychange", ask);
    return () => {
      over = true;
      document.removeEventListener("visibilitychange", ask);
      void lock?.release();
    };
  }, [setting]);
}

// CSS pixels that the next thing and what else to record take on a phone, by stage, until they are told: nothing jumps then.
const rooms: Partial<Record<now.StageID, number>> = { order: 430, dig: 569, bed: 622, set: 926, fill: 436, cables: 418, cover: 436, handover: 478 };

/** OnSite is what a phone shows first: that the last record is kept, what comes next, what else there is to record. */
export function OnSite() {
  const at = useRef<HTMLDivElement>(null);
  const stage = now.stage.value;
  const there = site.site.value !== undefined && site.formsOf.value === stage && (stage !== "order" || site.yard.value !== undefined) && (!staged.has(stage) || site.next.value?.stage === stage);
  useLayoutEffect(() => {
    at.current!.style.minHeight = there || !rooms[stage] ? "" : rooms[stage] + "px";
    if (there && stage !== "route" && !site.kept.value) rooms[stage] = at.current!.offsetHeight;
  });
  return (
    <div class="onsite" ref={at}>
      {there && <Kept />}
      {there && <NextThing stops={false} />}
      {there && stage === "order" && <YardCard />}
      {there && stage !== "route" && <SiteDeeds but={stage === "order" ? "count" : ""} />}
    </div>
  );
}
const staged = new Set<now.StageID>(["dig", "bed", "set", "fill", "cables", "cover"]);

/** NextThing is the card of what comes next. */
export function NextThing({ stops = true }: { stops?: boolean }) {
  const n = site.next.value;
  if (!n || n.stage !== now.stage.value || n.legs.length === 0) return null;
  const past = site.nextOf.value !== now.screen.value?.hash;
  const open = n.open.map((t) => <p key={t} class="not-checked">{t}</p>);
  return (
    <section class="nextthing" aria-label={n.said}>
      <header>
        <p class="said">{n.said}</p>
        {n.legs.length > 1 && (
          <select aria-label="leg to work on" value={n.leg} onChange={(e) => (site.onLeg.value = e.currentTarget.value)}>
            {n.legs.map((l) => <option key={l.id} value={l.id}>{`leg ${l.id}, ${l.said}`}</option>)}
          </select>
        )}
      </header>
      {past ? (
        <p class="not-checked">The plan is another one now: what comes next is worked out anew.</p>
      ) : n.place ? (
        <>
          <p class="place">
            <button type="button" class="link" onClick={() => void select(n.key, n.strip)}>{n.place}</button>
            {(n.what || n.aside) && <span>{n.what}{n.aside && <><br />{n.aside}</>}</span>}
          </p>
          {stops && <Stops all={n.stop} />}
          {n.answers && <>{open}<button type="button" onClick={toWays}>look at the answers</button></>}
          <dl>
            {n.figures.map((f) => (
              <div key={f.label} class={(f.open ? "open " : "") + (f.long ? "long " : "") + (f.label.startsWith("gap") ? "first" : "")}>
                <dt>{f.label}</dt>
                <dd><strong>{f.text}</strong>{f.other && <span>{f.other}</span>}</dd>
              </div>
            ))}
          </dl>
          {!n.answers && open}
        </>
      ) : (
        <p>{n.leg ? `Nothing is left to do on leg ${n.leg}.` : "Nothing is left to do in this stage."}</p>
      )}
      {!past && n.asks.length > 0 && (
        <div class="asks" role="group" aria-label="readings that are wanted">
          <p>the contract wants, of {n.asks[0]!.place.split("/")[0]}:</p>
          <div class="choice">{n.asks.map((a) => <button key={a.form + a.name} type="button" onClick={() => site.begin(a.form, a.place)}>{a.name}</button>)}</div>
        </div>
      )}
      {(n.stage === "set" || n.stage === "bed" || n.stage === "dig") && <Height />}
    </section>
  );
}

function toWays(): void {
  const fold = document.querySelector<HTMLDetailsElement>("details.ways-on");
  if (!fold) return;
  site.toWays.value = !fold.open;
  opened(fold);
}

/** SiteDeeds are the records of the stage beside the one that is made most, and but for one that has a button elsewhere. */
export function SiteDeeds({ but = "" }: { but?: string }) {
  const all = site.formsOf.value === now.stage.value ? site.forms.value.filter((f) => f.id !== but) : [];
  if (!site.site.value || all.length === 0) return null;
  const photo = (): void => {
    pending.photo = true;
    site.begin("note");
  };
  const deed = (f: Form) => <button key={f.id} type="button" onClick={() => site.begin(f.id)}>{f.name}</button>;
  return (
    <section class="sitedeeds" aria-label="what else to record">
      <h3>Record {site.next.value?.form ? "something else" : ""}</h3>
      <div class="choice">
        <button type="button" onClick={photo}>Photo</button>
        {all.filter((f) => !f.seldom && (f.id !== site.next.value?.form || now.selected.value)).map(deed)}
      </div>
      {all.some((f) => f.seldom) && (
        <details class="seldom">
          <summary>notice, release, weather, instrument</summary>
          <div class="choice">{all.filter((f) => f.seldom).map(deed)}</div>
        </details>
      )}
    </section>
  );
}

/** Records is what was recorded last, each to be taken back by one more record; on a desk also what can be recorded. */
export function Records({ narrow }: { narrow: boolean }) {
  const is = site.site.value;
  const n = site.next.value;
  if (!is) return <details class="fold log"><summary>{records}</summary><p>They are looked up.</p></details>;
  return (
    <details class="fold log">
      <summary>{records} {is.records > 0 && <span class="count">{is.records}</span>}</summary>
      {!narrow && (
        <div class="atdesk">
          <div>
            <NextThing />
            {n?.place && <button type="button" class="record" onClick={() => site.begin(n.form, n.place)}>record: {n.deed} {n.place}</button>}
          </div>
          <SiteDeeds />
        </div>
      )}
      {is.findings.map((f) => <p key={f.text} class="told-by-records">{f.kind !== "not checked" && <strong>{f.kind}</strong>} {f.text} {f.try && <em>Try: {f.try}</em>}</p>)}
      {is.unread.map((t) => <p key={t} class="fault">{t}</p>)}
      {is.records === 0 && <p>Nothing is recorded on this run yet.</p>}
      {is.records > 0 && <button type="button" class="asfile" onClick={() => void saved()}>save them as a file, for another {thing()}</button>}
      <ol>{is.log.map((r) => <Line key={r.id} r={r} />)}</ol>
      <label class="loud"><input type="checkbox" checked={site.loud.value} onChange={(e) => void site.setLoud(e.currentTarget.checked)} /> sound and vibration when something is kept</label>
      <WhereSwitch />
    </details>
  );
}

// All records of this run as a file: another phone takes it in without any network, on its list of jobs.
async function saved(): Promise<void> {
  const job = now.job.value!.id;
  keepAs(`records_${job.replace(/[^A-Za-z0-9.]+/g, "-")}_${new Date().toISOString().slice(0, 10)}.ndjson`, await asFile(job, false));
}

/** records is the word on that fold. */
export const records = "Records of the site";

function Line({ r }: { r: SiteSaid }) {
  const [back, setBack] = useState(false);
  return (
    <li class={r.gone ? "gone" : ""}>
      <p>{r.words}{r.gone && " (a later record took its place)"}</p>
      <p class="note">{[r.person, r.made.replace("T", " ").slice(0, 16), `number ${r.number}`, r.with].filter(Boolean).join(" · ")}</p>
      <div class="choice">
        {r.key && <button type="button" onClick={() => void select(r.key)}>show it</button>}
        {!r.gone && r.kind !== "note" && !back && <button type="button" onClick={() => setBack(true)}>take it back</button>}
        {!r.gone && back && <><button type="button" onClick={() => setBack(false)}>no, it stands</button><button type="button" onClick={() => void site.takeBack(r.id, r.words)}>yes, take it back</button></>}
      </div>
    </li>
  );
}

/** Kept says that a record is kept on this phone, until somebody puts it away. It is taken back in two places, as it was kept. */
export function Kept() {
  const k = site.kept.value;
  const [back, setBack] = useState("");
  if (!k) return null;
  return (
    <div class="told kept" role="status">
      <p><strong>{k.back ? `Taken back on this ${thing()}.` : `Kept on this ${thing()}.`}</strong> <Marks text={k.words} /></p>
      <div class="does">
        {back === k.id ? (
          <><button type="button" onClick={() => setBack("")}>no, it stands</button><button type="button" onClick={() => void site.takeBack(k.id, k.words)}>yes, take it back</button></>
        ) : (
          <>{!k.back && <button type="button" onClick={() => setBack(k.id)}>take it back</button>}<button type="button" onClick={() => (site.kept.value = undefined)}>good</button></>
        )}
      </div>
    </div>
  );
}

// Names of places are not broken where they have a dash.
function Marks({ text }: { text: string }) {
  return <>{text.split(/(\S*-\S*)/).map((t, i) => (i % 2 ? <span key={i} class="mark">{t}</span> : t))}</>;
}
