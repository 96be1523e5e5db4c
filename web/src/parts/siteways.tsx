// Ways on from what lies: up to three answers a leg, what each spends and what comes out otherwise. Nothing changes until a person takes
// one; then it is a change of the job like any other, and what it changed stands on the strip, the section and the lists.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { attachments, select } from "../actions";
import { replaced } from "../changes";
import { why } from "../keep/db";
import type { Difference, SiteAnswer, SiteAnswers, SiteOffer, Taken } from "../screen";
import * as site from "../site";
import * as now from "../state";
import { compare, putAway, sinceState } from "../states";
import { opened } from "./hand";

export const ways = "Ways on from what lies";

/** Ways is there from the start, like its neighbours: folds that come later would move what stands below them. */
export function Ways() {
  const is = site.site.value;
  const [open, setOpen] = useState(false);
  const [all, setAll] = useState<SiteAnswers>();
  const [not, setNot] = useState("");
  const at = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    if (!open || !is) return undefined;
    let current = true;
    site.ask<SiteAnswers>("ways", {}).then((a) => {
      if (!current) return;
      setAll(a);
      if (site.toWays.value) requestAnimationFrame(() => at.current && opened(at.current)); // it is as long as it gets now
      site.toWays.value = false;
    }, (fault: unknown) => current && setNot(why(fault)));
    return () => {
      current = false;
    };
  }, [open, is]);
  const begun = all?.legs ?? [];
  const bends = all?.bends ?? [];
  return (
    <details class="fold ways-on" ref={at} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>{ways}</summary>
      {not && <p class="fault">{not}</p>}
      {!all && !not && <p>They are worked out.</p>}
      {all && begun.length + bends.length === 0 && <p>No leg is begun: the plan stands as it is.</p>}
      {begun.map((l) => <Leg key={l.leg} l={l} />)}
      {bends.map((l) => <Leg key={l.leg} l={l} bend />)}
      {begun.length + bends.length > 0 && <p class="note">What is set stays as it was recorded. Nothing changes until you take an answer; then it is a change like any other, and can be undone.</p>}
    </details>
  );
}

function Leg({ l, bend }: { l: SiteAnswer; bend?: boolean }) {
  const [not, setNot] = useState("");
  const [sure, setSure] = useState(0);
  const what = (bend ? "bend " : "leg ") + l.leg;
  const of = bend ? { node: l.leg } : { leg: l.leg };
  const [seen, setSeen] = useState<{ number: number; d?: Difference }>();
  const at = useRef<HTMLElement>(null);
  useLayoutEffect(() => { // what is pressed next stands at the head of the answer, in view
    if (sure) at.current?.querySelector(`[data-number="${sure}"]`)?.scrollIntoView({ block: "start" });
  }, [sure]);
  const look = async (o: SiteOffer): Promise<void> => {
    setSeen({ number: o.number });
    setNot("");
    try {
      const s = now.screen.value;
      const d = await site.ask<Difference>("would", { ...of, number: o.number }, await attachments(now.revision.value!.content));
      if (now.screen.value !== s) return;
      setSeen({ number: o.number, d });
      now.differs.value = d;
    } catch (fault) {
      setSeen(undefined);
      setNot(why(fault));
    }
  };
  const away = (): void => {
    setSeen(undefined);
    putAway();
  };
  const take = async (o: SiteOffer): Promise<void> => {
    const before = now.revision.value;
    try {
      const t = await site.ask<Taken>("taken", { ...of, number: o.number });
      away();
      if (!(await replaced(t.job, t.note))) return;
      if (before) void compare(sinceState(before.id, "what was planned before")).catch(() => undefined);
      now.said.value = [t.note];
    } catch (fault) {
      setNot(why(fault));
    }
    setSure(0);
  };
  return (
    <section class="way" aria-label={what} ref={at}>
      <h3><button type="button" class="link" onClick={() => void select(l.key)}>{what}</button>, {l.said}</h3>
      {l.from && <p>{l.from}.</p>}
      {l.stop.map((t) => <p key={t} class="stop">STOP: {t}</p>)}
      {l.open.map((t) => <p key={t} class="not-checked">{t}</p>)}
      {not && <p class="fault" role="alert">{not}</p>}
      <div class="offers">
        {l.offers.map((o) => (
          <article key={o.number} data-number={o.number}>
            <h4>{l.offers.length > 1 && `${o.number}: `}{o.name}</h4>
            {sure === o.number && <div class="choice"><button type="button" class="record" onClick={() => void take(o)}>yes, take it</button><button type="button" onClick={() => setSure(0)}>not yet</button></div>}
            <p>spends {o.spends.join(", ")}</p>
            {o.changes.length > 0 && (
              <ul>
                {o.changes.slice(0, most).map((c) => <li key={c.place + c.said}>{c.key ? <button type="button" class="link" onClick={() => void select(c.key)}>{c.place}</button> : <strong>{c.place}</strong>} {c.said}</li>)}
                {o.changes.length > most && <li>and {o.changes.length - most} more</li>}
              </ul>
            )}
            {seen?.number === o.number && <Would d={seen.d} away={away} />}
            {!o.same && seen?.number !== o.number && <button type="button" onClick={() => void look(o)}>see what it changes, on the strip and in the lists</button>}
            {o.same ? <p class="note">This is the plan as it stands: go on.</p>
              : sure !== o.number && <button type="button" onClick={() => setSure(o.number)}>take this answer</button>}
          </article>
        ))}
      </div>
    </section>
  );
}

// What an answer would change beyond the pieces and gaps of its leg, with the whole run planned by it; nothing is changed by looking.
function Would({ d, away }: { d: Difference | undefined; away(): void }) {
  if (!d) return <p role="status">The run is planned with this answer, to see what it changes.</p>;
  const rest = d.places.filter((p) => p.of !== "unit");
  return (
    <section class="would" aria-label="what this answer changes">
      <p><strong>What this answer changes is marked on the strip now</strong>; nothing is changed yet.</p>
      {d.said.map((t) => <p key={t}>{t}</p>)}
      <ul>
        {rest.slice(0, most).map((p, i) => <li key={p.key + i}><strong>{p.where || p.name}</strong> {p.kind}{p.about && ": " + p.about}{p.was && `; was ${p.was}`}{p.now && `; would be ${p.now}`}</li>)}
        {rest.length > most && <li>and {rest.length - most} more</li>}
      </ul>
      <button type="button" onClick={away}>take the marks off the strip</button>
    </section>
  );
}

const most = 12; // changes that are told at once
