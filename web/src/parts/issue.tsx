// Issuing is a named act: what was issued is kept as bytes and never made again. What has changed since then is said place by
// place, and marked on the strip.
import { useState } from "preact/hooks";
import { about, core, select } from "../actions";
import { get, making, post } from "../net/api";
import { author, workedBy } from "../keep/author";
import { sync } from "../keep/sync";
import type { Difference } from "../screen";
import * as now from "../state";

export function Issue() {
  const job = now.job.value!;
  const [name, setName] = useState("");
  const [by, setBy] = useState(author);
  const [said, say] = useState("");
  const issue = async (): Promise<void> => {
    try {
      workedBy(by.trim());
      await sync();
      const r = now.revision.value!;
      const version = await core.ask<string>("version", {});
      await post(`/jobs/${encodeURIComponent(job.id)}/issued`, { revision: r.id, name, author: by.trim(), core: version }, making);
      say(`Issued: ${name}.`);
      setName("");
      await sync();
    } catch (e) {
      say((e as Error).message);
    }
  };
  return (
    <details class="fold issue">
      <summary>Issue, and what changed since</summary>
      <form class="putform" onSubmit={(e) => (e.preventDefault(), void issue())}>
        <label>
          what this issue is called
          <input required value={name} placeholder="for the trench gang, first" onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <label>
          who issues it
          <input required value={by} onInput={(e) => setBy(e.currentTarget.value)} />
        </label>
        <button type="submit" disabled={!now.mayIssue.value || now.unsent.value > 0}>issue this revision</button>
        {!now.reached.value && <p>Issuing needs the server.</p>}
        {now.reached.value && !now.mayIssue.value && <p>This page plans with another version than the server: it may record, not issue.</p>}
      </form>
      {said && <p role="status">{said}</p>}
      <ul class="issued">
        {job.issued.map((i) => (
          <li key={i.id}>
            <strong>{i.name}</strong> by {i.author}, {i.at.slice(0, 16).replace("T", " ")} <button type="button" onClick={() => void compare(i.id).then(() => say(""), (e: Error) => say(e.message))}>what changed since</button>
          </li>
        ))}
        {job.issued.length === 0 && <li>Nothing was issued yet. Issue a revision, with your name and what it is for; what changes after it is told here.</li>}
      </ul>
      {now.differs.value && <Changed d={now.differs.value} />}
    </details>
  );
}

async function compare(id: string): Promise<void> {
  const issued = await get<unknown>(`/issued/${encodeURIComponent(id)}/plan`, making);
  now.differs.value = await about<Difference>("differ", { issued });
}

function Changed({ d }: { d: Difference }) {
  return (
    <section aria-label="what changed">
      {d.same && <p>Nothing changed since.</p>}
      {d.said.map((t) => <p key={t}>{t}</p>)}
      <ul class="changes">
        {d.places.slice(0, 200).map((p, i) => (
          <li key={p.key + i}>
            <button type="button" class="link" onClick={() => void select(p.key, p.from)}>{p.name}</button> {p.kind}
            {p.was && <span>: was {p.was}</span>}
            {p.now && <span>, is {p.now}</span>}
          </li>
        ))}
      </ul>
      {d.places.length > 200 && <p>and {d.places.length - 200} places more</p>}
      <button type="button" onClick={() => (now.differs.value = undefined)}>put away</button>
    </section>
  );
}
