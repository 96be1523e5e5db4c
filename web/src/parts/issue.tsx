// Issuing is a named act: what was issued is kept as bytes and never made again. What has changed since then is said place by
// place, and marked on the strip.
import { useState } from "preact/hooks";
import { about, core, select } from "../actions";
import { get, making, post } from "../net/api";
import { author, workedBy } from "../keep/author";
import { sync } from "../keep/sync";
import type { Difference } from "../screen";
import * as now from "../state";
import { toMissing, Wanted } from "./wanted";

export function Issue() {
  const job = now.job.value!;
  const [name, setName] = useState("");
  const [by, setBy] = useState(author);
  const [said, say] = useState("");
  const [pressed, setPressed] = useState(false);
  const issue = async (form: HTMLElement): Promise<void> => {
    setPressed(true);
    say("");
    if (!name.trim() || !by.trim()) return toMissing(form);
    try {
      workedBy(by.trim());
      await sync();
      const not = unissued();
      if (not) return say("Not issued: " + not);
      const r = now.revision.value!;
      const version = await core.ask<string>("version", {});
      await post(`/jobs/${encodeURIComponent(job.id)}/issued`, { revision: r.id, name: name.trim(), author: by.trim(), core: version }, making);
      say(`Issued: ${name.trim()}.`);
      setName("");
      setPressed(false);
      await sync();
    } catch (e) {
      say((e as Error).message);
    }
  };
  return (
    <details class="fold issue">
      <summary>Issue, and what changed since</summary>
      <form class="putform" noValidate onSubmit={(e) => (e.preventDefault(), void issue(e.currentTarget))}>
        <Wanted id="issue-name" label="what this issue is called" like="for the trench gang, first" value={name} missing={pressed ? "Say what this issue is called: people ask for it by that name." : ""} typed={setName} />
        <Wanted id="issue-by" label="who issues it" like="the site engineer" value={by} missing={pressed ? "Say who issues it: the name stands beside it." : ""} typed={setBy} />
        <button type="submit">issue this revision</button>
        {unissued() && <p>{unissued()}</p>}
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

// Why nothing can be issued at this moment; empty: it can be.
function unissued(): string {
  if (!now.tried.value) return "The server has not answered yet.";
  if (!now.reached.value) return "Issuing needs the server, and it does not answer.";
  if (!now.mayIssue.value) return "This page plans with another version than the server: it may record, not issue.";
  if (now.unsent.value > 0) return `${now.unsent.value === 1 ? "A change has" : now.unsent.value + " changes have"} not gone up yet, and what is issued has to be on the server.`;
  return "";
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
      <button type="button" onClick={() => (now.differs.value = undefined)}>close this list</button>
    </section>
  );
}
