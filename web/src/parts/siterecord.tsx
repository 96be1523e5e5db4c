// A record in the making: where, what, said back by the core as it was understood; then confirmed in another place than it was
// recorded at, so that no drop of rain confirms it.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { Lane } from "../core/lane";
import { author, role, workedBy, worksAs } from "../keep/author";
import { local } from "../keep/fieldbook";
import { addPhoto } from "../keep/photos";
import { why } from "../keep/db";
import type { Form, FormField, Heard } from "../screen";
import * as site from "../site";
import * as now from "../state";
import { Keypad } from "./keypad";
import { ReadWith } from "./readwith";
import { Places } from "./siteplace";
import { Who } from "./who";
import { CountRow } from "./yard";

/** Recorder is open while a record is being made. */
export function Recorder() {
  const d = site.draft.value;
  const f = site.forms.value.find((x) => x.id === d?.form);
  const at = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => {
    if (d && f && !at.current!.open) at.current!.showModal();
  }, [d, f]);
  if (!d || !f) return null;
  return (
    <dialog class="recorder" ref={at} aria-label={"record: " + f.name} onClose={() => at.current?.open || (site.draft.value = undefined)}>
      <Making key={d.form + d.corrects} d={d} f={f} />
    </dialog>
  );
}

const hearing = new Lane();
const levels = ["length", "off", "line", "reading", "level", "rod", "chainage", "coordinate", "angle"];

function Making({ d, f }: { d: site.Draft; f: Form }) {
  const [h, setH] = useState<{ of: site.Draft; is: Heard }>();
  const [wrong, setWrong] = useState("");
  const [sure, setSure] = useState(false);
  const [open, setOpen] = useState(""); // the field whose keypad is there
  useEffect(() => {
    hearing.run(async () => {
      const is = await site.heard(d).catch((fault: unknown) => (setWrong(why(fault)), undefined));
      if (is && site.draft.value === d) setH({ of: d, is });
    });
  }, [d, now.height.value, site.instrument.value]);
  const put = (change: Partial<site.Draft>): void => void (site.draft.value = { ...d, ...change });
  const ready = h?.of === d && h.is.record !== "";
  const asked = useRef<HTMLDivElement>(null);
  const added = useRef(false);
  useLayoutEffect(() => {
    if (added.current) asked.current?.querySelector("fieldset:last-of-type")?.scrollIntoView({ block: "start" });
    if (added.current) asked.current?.querySelector("fieldset:last-of-type .keypad")?.scrollIntoView({ block: "nearest" }); // its keys before the head of the line
    added.current = false;
  }, [d.rows.length]);
  if (sure && h) return <Sure h={h.is} back={() => setSure(false)} />;
  const counted = (i: number) => { // a piece that the yard has is counted on one line
    const piece = d.rows[i]!["piece"];
    return f.id === "count" && d.rows.findIndex((r) => r["piece"] === piece) === i ? site.yard.value?.rows.find((y) => y.piece === piece) : undefined;
  };
  const echo = (name: string) => h?.is.echo.find((e) => e.name === name);
  const field = (x: FormField, value: string, set: (v: string) => void, name: string) => (
    <Asked key={name} x={x} value={value} put={set} echo={echo(name)} open={open === name} turn={() => setOpen(open === name ? "" : name)} done={() => setOpen(after(f, name))} d={d} />
  );
  const asks = (x: FormField) => field(x, d.fields[x.name] ?? "", (v) => put({ fields: { ...d.fields, [x.name]: v } }), x.name);
  const more = f.fields.filter((x) => x.more);
  return (
    <form class="making" onSubmit={(e) => (e.preventDefault(), ready && setSure(true))}>
      <header>
        <h2 tabIndex={-1} autofocus>{f.name}</h2>
        <button type="button" onClick={() => (site.draft.value = undefined)}>leave</button>
      </header>
      <div class="asked" ref={asked}>
        {f.about && <p class="note">{f.about}</p>}
        {d.corrects && <p class="note">This takes the place of a record that was made before; that one is kept.</p>}
        {f.at === "chainage" && <OnLeg d={d} put={put} />}
        {f.at && f.at !== "chainage" && <Places at={f.at} from={d.from} to={d.to} put={put} />}
        {f.fields.some((x) => x.kind === "reading") && <Height />}
        {[...f.fields, ...f.rows].some((x) => levels.includes(x.kind) && x.kind !== "chainage") && <ReadWith />}
        {f.fields.filter((x) => !x.more).map(asks)}
        {d.rows.map((r, i) => counted(i) ? (
          <CountRow key={i} y={counted(i)!} value={r["count"] ?? ""} put={(count) => put({ rows: d.rows.map((o, k) => (k === i ? { ...o, count } : o)) })} />
        ) : (
          <fieldset key={i}>
            <legend>{f.each} {i + 1}</legend>
            {f.rows.map((x) => field(x, r[x.name] ?? "", (v) => put({ rows: d.rows.map((o, k) => (k === i ? { ...o, [x.name]: v } : o)) }), `${i}.${x.name}`))}
            <button type="button" onClick={() => put({ rows: d.rows.filter((_, k) => k !== i) })}>leave this out</button>
          </fieldset>
        ))}
        {f.row && <button type="button" class="more" onClick={() => ((added.current = true), put({ rows: [...d.rows, site.another(f, d)] }), setOpen(keyed(f, d.rows.length)))}>{f.row}</button>}
        {more.length > 0 && (
          <details class="more-asked" open={more.some((x) => d.fields[x.name])}>
            <summary>more: {[...new Set(more.map((x) => x.label.split(",")[0]))].join(", ")}</summary>
            <div>{more.map(asks)}</div>
          </details>
        )}
        <More d={d} f={f} put={put} wrong={setWrong} />
      </div>
      <footer>
        <div class="said" role="status">
          {wrong && <p class="fault">{wrong}</p>}
          {h?.is.stop.map((t) => <p key={t} class="stop">{t}</p>)}
          {h?.is.warn.map((t) => <p key={t} class="not-checked">{t}</p>)}
          {h?.is.words ? <p class="words">{h.is.words}</p> : h && h.is.missing.length > 0 && <p>still to say: {[...new Set(h.is.missing)].join(", ")}</p>}
        </div>
        <button type="submit" class="main" disabled={!ready}>record <small>then confirm at the top</small></button>
      </footer>
    </form>
  );
}

// Behind the reading of one corner comes that of the next: the keypad goes on by itself.
const after = (f: Form, name: string): string => {
  const i = f.fields.findIndex((x) => x.name === name);
  const next = f.fields[i + 1];
  return i >= 0 && f.fields[i]!.kind === "reading" && f.fields[i]!.name !== "one" && next?.kind === "reading" ? next.name : "";
};

// A chainage is on a leg; which one is said and can be chosen, for the peg stands wherever somebody left it.
function OnLeg({ d, put }: { d: site.Draft; put(c: Partial<site.Draft>): void }) {
  const legs = now.screen.value!.legs;
  return (
    <div class="ask" role="group" aria-label="leg">
      <span class="label">on leg</span>
      {legs.length > 5 ? (
        <select aria-label="leg" value={d.leg} onChange={(e) => put({ leg: e.currentTarget.value })}>{legs.map((l) => <option key={l.id} value={l.id}>leg {l.id}</option>)}</select>
      ) : (
        <div class="choice">{legs.map((l) => <button key={l.id} type="button" aria-pressed={d.leg === l.id} onClick={() => put({ leg: l.id })}>{l.id}</button>)}</div>
      )}
    </div>
  );
}

const keyed = (f: Form, n: number): string => {
  const x = f.rows.find((x) => levels.includes(x.kind) || x.kind === "count");
  return x ? `${n}.${x.name}` : "";
};

// The words of the record once more, large, and the way to keep it where the thumb was not. What stood under the thumb is empty.
function Sure({ h, back }: { h: Heard; back(): void }) {
  const [by, setBy] = useState(() => ({ name: author(), as: role() }));
  const [busy, setBusy] = useState(false);
  const keep = async (): Promise<void> => {
    setBusy(true);
    workedBy(by.name);
    worksAs(by.name, by.as);
    if (!(await site.keep(h))) setBusy(false);
  };
  return (
    <div class="making sure">
      <button type="button" class="main" disabled={busy} onClick={() => void keep()}>yes, keep it</button>
      <p>Is this so?</p>
      <p class="words">{h.words}</p>
      {h.stop.map((t) => <p key={t} class="stop">{t}</p>)}
      {h.warn.map((t) => <p key={t} class="not-checked">{t}</p>)}
      {now.trouble.value && <p class="fault" role="alert">{now.trouble.value.text}</p>}
      <Who put={(name, as) => setBy({ name, as })} />
      <button type="button" onClick={back}>not yet, go back</button>
    </div>
  );
}

/** Height is how high the instrument stands: with it, what the rod shows is typed; without it, levels are. */
export function Height() {
  const [open, setOpen] = useState(false);
  const s = now.screen.value!;
  return (
    <div class="ask">
      <button type="button" class="figure-button" aria-expanded={open} onClick={() => setOpen(!open)}>
        <span>{s.words.instrument}</span> <strong class={now.height.value ? "" : "none"}>{now.height.value || "none: levels are typed"}</strong>
      </button>
      {open && <Keypad label={s.words.instrument} kind="reading" text={now.height.value} typed={(t) => (now.height.value = t)} done={() => setOpen(false)} />}
    </div>
  );
}

// One thing that is asked, by its kind.
function Asked({ x, value, put, echo, open, turn, done, d }: { x: FormField; value: string; put(v: string): void; echo: { text: string; fault: string } | undefined; open: boolean; turn(): void; done(): void; d: site.Draft }) {
  const s = now.screen.value!;
  const said = echo ? <p class={echo.fault ? "echo fault" : "echo"}>{echo.fault || echo.text}</p> : null;
  if (x.kind === "choice" || x.kind === "some") {
    const on = value.split(", ").filter(Boolean);
    const pick = (c: string): void => put(x.kind === "choice" ? c : (on.includes(c) ? on.filter((o) => o !== c) : [...on, c]).join(", "));
    return (
      <div class="ask" role="group" aria-label={x.label}>
        <span class="label">{x.label}</span>
        {x.choice.length > 5 ? (
          <select aria-label={x.label} value={value} onChange={(e) => put(e.currentTarget.value)}>{x.choice.map((c) => <option key={c}>{c}</option>)}</select>
        ) : (
          <div class="choice">{x.choice.map((c) => <button key={c} type="button" aria-pressed={x.kind === "choice" ? value === c : on.includes(c)} onClick={() => pick(c)}>{c}</button>)}</div>
        )}
        {said}
      </div>
    );
  }
  if (x.kind === "place") return <Places at="unit" label={x.label} from={value} to="" within={[d.from, d.to]} put={(c) => c.from !== undefined && put(c.from)} />;
  if (x.kind === "cover") {
    const of = s.units.mark.slice(s.units.mark.indexOf(d.from), s.units.mark.indexOf(d.to || d.from) + 1).flatMap((u) => site.coversOf(s, u));
    return <label class="ask"><span class="label">{x.label}</span><select value={value} onChange={(e) => put(e.currentTarget.value)}>{of.map((c) => <option key={c}>{c}</option>)}</select></label>;
  }
  if (x.kind === "count") {
    const n = Number(value) || 0;
    return (
      <div class="ask" role="group" aria-label={x.label}>
        <span class="label">{x.label}</span>
        <div class="stepper">
          <button type="button" aria-label={"one less, " + x.label} disabled={n === 0} onClick={() => put(String(n - 1))}>−</button>
          <input inputMode="numeric" aria-label={x.label} value={value} onInput={(e) => put(e.currentTarget.value.replace(/\D/g, ""))} />
          <button type="button" aria-label={"one more, " + x.label} onClick={() => put(String(n + 1))}>+</button>
        </div>
        {said}
      </div>
    );
  }
  if (x.kind === "moment") { // it is chosen by this phone's clock, and written with its zone
    const set = (v: string): void => put(v ? local(new Date(v)) : "");
    return <label class="ask"><span class="label">{x.label}</span><input type="datetime-local" value={value && local(new Date(value)).slice(0, 16)} onInput={(e) => set(e.currentTarget.value)} /></label>;
  }
  if (!levels.includes(x.kind)) {
    return <label class="ask"><span class="label">{x.label}</span><input value={value} maxLength={400} onInput={(e) => put(e.currentTarget.value)} /></label>;
  }
  const sides: [string, string] | undefined = x.kind === "off" ? ["ahead", "behind"] : x.kind === "line" ? ["right", "left"] : x.kind === "angle" ? ["left", "right"] : undefined;
  const typed = x.kind === "angle" ? value.replace(/^(.*)° left$/, "$1").replace(/^(.*)° right$/, "-$1") : value;
  const write = (t: string): void => put(x.kind === "angle" && t ? `${t.replace("-", "")}° ${t.startsWith("-") ? "right" : "left"}` : t);
  return (
    <div class="ask">
      <button type="button" class="figure-button" aria-expanded={open} onClick={turn}>
        <span>{x.kind === "reading" && now.height.value ? `${s.words.rod_reading}, ${x.label}` : x.label}</span> <strong>{shown(value, x.kind)}</strong>
      </button>
      {!open && said}
      {open && <Keypad key="pad" label={x.label} kind={x.kind === "line" ? "off" : x.kind === "level" || x.kind === "rod" ? "reading" : x.kind} text={typed} sides={sides} typed={write} done={done} said={said} />}
    </div>
  );
}

const sided: Record<string, [string, string]> = { off: [" ahead", " behind"], line: [" right", " left"] };
const shown = (value: string, kind: string): string => {
  const words = sided[kind];
  return !value ? "–" : !words ? value : value.startsWith("-") ? value.slice(1) + words[1] : value + words[0];
};

// What can stand beside any record: words, a photo, a voice note.
function More({ d, f, put, wrong }: { d: site.Draft; f: Form; put(c: Partial<site.Draft>): void; wrong(text: string): void }) {
  const [open, setOpen] = useState(f.id === "note" || f.id === "diary");
  const photo = useRef<HTMLInputElement>(null);
  const take = async (file: Blob | undefined): Promise<void> => {
    if (!file || !now.job.value) return;
    try {
      const sum = await addPhoto(now.job.value.id, file, d.from);
      const is = site.draft.value;
      if (is) site.draft.value = { ...is, photos: [...is.photos, sum] };
    } catch (fault) {
      wrong(why(fault));
    }
  };
  useEffect(() => {
    if (pending.photo) photo.current?.click();
    pending.photo = false;
  }, []);
  return (
    <div class="beside">
      <input ref={photo} class="hidden" type="file" accept="image/*" capture="environment" aria-label="photo" onChange={(e) => (void take(e.currentTarget.files?.[0]), (e.currentTarget.value = ""))} />
      <div class="choice">
        <button type="button" onClick={() => photo.current?.click()}>photo</button>
        <Voice take={(b) => void take(b)} />
        {!open && <button type="button" onClick={() => setOpen(true)}>words</button>}
      </div>
      {d.photos.length > 0 && <p class="note">{d.photos.length === 1 ? "1 photo or voice note is with it" : `${d.photos.length} photos or voice notes are with it`}, kept on this phone.</p>}
      {open && <label class="ask"><span class="label">in your own words</span><textarea rows={3} value={d.text} onInput={(e) => put({ text: e.currentTarget.value })} /></label>}
    </div>
  );
}

/** pending says that the record that opens begins with a photo. */
export const pending = { photo: false };

function Voice({ take }: { take(b: Blob): void }) {
  const [on, setOn] = useState<MediaRecorder>();
  const [not, setNot] = useState("");
  useEffect(() => () => on?.state === "recording" && on.stop(), [on]);
  if (typeof MediaRecorder === "undefined" || !navigator.mediaDevices) return <button type="button" aria-disabled="true" title="this browser records no voice notes: write words">no voice notes in this browser</button>;
  const start = async (): Promise<void> => {
    try {
      const from = await navigator.mediaDevices.getUserMedia({ audio: true });
      const r = new MediaRecorder(from);
      const parts: Blob[] = [];
      r.ondataavailable = (e) => parts.push(e.data);
      r.onstop = () => (from.getTracks().forEach((t) => t.stop()), setOn(undefined), take(new Blob(parts, { type: r.mimeType })));
      r.start();
      setOn(r);
    } catch (fault) {
      setNot(fault instanceof DOMException ? "no microphone: " + fault.name : String(fault));
    }
  };
  return <button type="button" aria-pressed={on !== undefined} onClick={() => (on ? on.stop() : void start())}>{on ? "stop the voice note" : not || "voice note"}</button>;
}
