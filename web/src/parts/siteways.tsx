// Ways on from what lies: up to three answers a leg, what each spends and what comes out otherwise. Nothing changes until a person takes
// one; then it is a change of the job like any other, and what it changed stands on the strip, the section and the lists.
import { useEffect, useState } from "preact/hooks";
import { select } from "../actions";
import { replaced } from "../changes";
import { why } from "../keep/db";
import type { SiteAnswer, SiteAnswers, SiteOffer, Taken } from "../screen";
import * as site from "../site";
import * as now from "../state";
import { compare, sinceState } from "../states";

export const ways = "Ways on from what lies";

/** Ways is there from the start, like its neighbours: folds that come later would move what stands below them. */
export function Ways() {
  const is = site.site.value;
  const [open, setOpen] = useState(false);
  const [all, setAll] = useState<SiteAnswers>();
  const [not, setNot] = useState("");
  useEffect(() => {
    if (!open || !is) return undefined;
    let current = true;
    site.ask<SiteAnswers>("ways", {}).then((a) => current && setAll(a), (fault: unknown) => current && setNot(why(fault)));
    return () => {
      current = false;
    };
  }, [open, is]);
  const begun = all?.legs ?? [];
  return (
    <details class="fold ways-on" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>{ways}</summary>
      {not && <p class="fault">{not}</p>}
      {!all && !not && <p>They are worked out.</p>}
      {all && begun.length === 0 && <p>No leg is begun: the plan stands as it is.</p>}
      {begun.map((l) => <Leg key={l.leg} l={l} />)}
      {begun.length > 0 && <p class="note">What is set stays as it was recorded. Nothing changes until you take an answer; then it is a change like any other, and can be undone.</p>}
    </details>
  );
}

function Leg({ l }: { l: SiteAnswer }) {
  const [not, setNot] = useState("");
  const [sure, setSure] = useState(0);
  const take = async (o: SiteOffer): Promise<void> => {
    const before = now.revision.value;
    try {
      const t = await site.ask<Taken>("taken", { leg: l.leg, number: o.number });
      if (!(await replaced(t.job, t.note))) return;
      if (before) void compare(sinceState(before.id, "what was planned before")).catch(() => undefined);
      now.said.value = [t.note];
    } catch (fault) {
      setNot(why(fault));
    }
    setSure(0);
  };
  return (
    <section class="way" aria-label={"leg " + l.leg}>
      <h3><button type="button" class="link" onClick={() => void select(l.key)}>leg {l.leg}</button>, {l.said}</h3>
      {l.from && <p>{l.from}.</p>}
      {l.stop.map((t) => <p key={t} class="stop">STOP: {t}</p>)}
      {l.open.map((t) => <p key={t} class="not-checked">{t}</p>)}
      {not && <p class="fault" role="alert">{not}</p>}
      <div class="offers">
        {l.offers.map((o) => (
          <article key={o.number}>
            <h4>{l.offers.length > 1 && `${o.number}: `}{o.name}</h4>
            {sure === o.number && <div class="choice"><button type="button" class="record" onClick={() => void take(o)}>yes, take it</button><button type="button" onClick={() => setSure(0)}>not yet</button></div>}
            <p>spends {o.spends.join(", ")}</p>
            {o.changes.length > 0 && (
              <ul>
                {o.changes.slice(0, most).map((c) => <li key={c.place + c.said}>{c.key ? <button type="button" class="link" onClick={() => void select(c.key)}>{c.place}</button> : <strong>{c.place}</strong>} {c.said}</li>)}
                {o.changes.length > most && <li>and {o.changes.length - most} more</li>}
              </ul>
            )}
            {o.same ? <p class="note">This is the plan as it stands: go on.</p>
              : sure !== o.number && <button type="button" onClick={() => setSure(o.number)}>take this answer</button>}
          </article>
        ))}
      </div>
    </section>
  );
}

const most = 12; // changes that are told at once
