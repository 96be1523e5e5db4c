// On the spot: what stops a job, a few figures as they are read, and the answer in lines that can be read aloud. It is worked out here,
// with or without a signal.
import { useEffect, useState } from "preact/hooks";
import { about } from "../actions";
import type { Moment, MomentAnswer, Spot } from "../screen";
import { legAt } from "../site";
import * as now from "../state";
import { Groups } from "./groups";

export function OnSpot() {
  const s = now.screen.value;
  const [spot, setSpot] = useState<Spot | undefined>(undefined);
  const [open, setOpen] = useState(false);
  const [chosen, setChosen] = useState("");
  const leg = s ? legAt(s) : "";
  const at = s ? Math.round(now.here.value - (s.legs.find((l) => l.id === leg)?.from ?? 0)) : 0;
  useEffect(() => {
    if (open && s && leg) void about<Spot>("moments", { leg, at_mm: at }).then(setSpot, () => undefined);
  }, [open, s?.hash, leg, at]);
  const moments = [...(spot?.moments ?? [])].sort((a, b) => Number(b.stage === now.stage.value) - Number(a.stage === now.stage.value));
  const one = moments.find((m) => m.id === chosen);
  return (
    <details class="fold onspot" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>On the spot</summary>
      {open && spot && (one
        ? <Ask key={one.id + spot.place} m={one} leg={leg} at={at} place={spot.place} away={() => setChosen("")} />
        : <ul class="moments">{moments.map((m) => <li key={m.id}><button type="button" onClick={() => setChosen(m.id)}>{m.name}</button></li>)}</ul>)}
    </details>
  );
}

function Ask({ m, leg, at, place, away }: { m: Moment; leg: string; at: number; place: string; away(): void }) {
  const [typed, setTyped] = useState<Record<string, string>>({});
  const [answer, setAnswer] = useState<MomentAnswer | undefined>(undefined);
  const [fault, setFault] = useState("");
  const typing = (name: string, text: string): void => setTyped((was) => ({ ...was, [name]: text }));
  const ask = async (): Promise<void> => {
    try {
      setAnswer(await about<MomentAnswer>("moment", { name: m.id, leg, at_mm: at, fields: typed }));
      setFault("");
    } catch (e) {
      setFault((e as Error).message);
    }
  };
  return (
    <section class="moment" aria-label={m.name}>
      <h3>{m.name}, at {place}</h3>
      {m.first && <p class="stop">{m.first}</p>}
      <form onSubmit={(e) => (e.preventDefault(), void ask())}>
        {m.fields.map((f) => (
          <label key={f.name}>
            {f.label}{f.leave && !f.is && ", or nothing"}
            {f.choice.length > 0
              ? <select value={typed[f.name] ?? f.is} onChange={(e) => typing(f.name, e.currentTarget.value)}>{f.choice.map((c) => <option key={c}>{c}</option>)}</select>
              : <input value={typed[f.name] ?? f.is} placeholder={f.like} autocomplete="off" onInput={(e) => typing(f.name, e.currentTarget.value)} />}
            {f.from && <small>{typed[f.name] === undefined || typed[f.name] === f.is ? f.from : "as typed"}</small>}
          </label>
        ))}
        <button type="submit" class="record">answer</button>
        <button type="button" onClick={away}>something else</button>
      </form>
      {fault && <p role="alert">{fault}</p>}
      {answer && (
        <div class="answered" role="status">
          {answer.faults.map((t) => <p key={t} class="fault">{t}</p>)}
          {answer.stop.filter((t) => t !== m.first).map((t) => <p key={t} class="stop">{t}</p>)}
          {answer.lines.map((t) => <p key={t}>{t}</p>)}
          {answer.open.map((t) => <p key={t} class="not-checked">{t}</p>)}
          {answer.given.length + answer.work.length > 0 && (
            <details class="fold">
              <summary>How it was worked out</summary>
              <Groups groups={[{ name: "asked with", rows: answer.given }, ...answer.work.map((w) => ({ name: w.what, rows: w.rows }))].filter((g) => g.rows.length > 0)} />
            </details>
          )}
        </div>
      )}
    </section>
  );
}
