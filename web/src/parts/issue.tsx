// Issuing is a named act: what was issued is kept as bytes and never made again. What has changed since then, or since any other
// state of the job, is said place by place, marked on the strip, and printed.
import { useEffect, useRef, useState } from "preact/hooks";
import { core, goneBack, select } from "../actions";
import { making, post } from "../net/api";
import { author, workedBy } from "../keep/author";
import { sync } from "../keep/sync";
import type { Difference, Earlier } from "../screen";
import * as now from "../state";
import { AllFindings } from "./told";
import { toMissing, Wanted } from "./wanted";
import { compare, earlier, putAway, since, sinceIssue, sinceState, type Since } from "../states";
import { Stamp } from "./stamp";

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
        <OpenPoints />
        <button type="submit">issue this revision</button>
        {unissued() && <p>{unissued()}</p>}
      </form>
      {said && <p role="status">{said}</p>}
      <Comparing />
    </details>
  );
}

// How much stands open, before somebody puts a name to it. It can be issued all the same: papers of it say the same counts.
function OpenPoints() {
  const s = now.screen.value;
  const unsent = now.unsent.value;
  const core = now.server.value?.core;
  if (!s || s.tables.length === 0) return null;
  return (
    <section class="open" aria-label="what stands open">
      <h3>What stands open{now.before.value && ", of the plan before the change"}</h3>
      <ul>
        {s.open.map((t) => <li key={t}>{t}</li>)}
        <li>{unsent === 0 ? "no change unsent" : unsent === 1 ? "1 change not sent yet: it goes up first" : `${unsent} changes not sent yet: they go up first`}</li>
        <li>{!core ? `planned by core ${s.core}; the server's is not known` : core === s.core ? `planned by core ${s.core}, as the server plans` : `planned by core ${s.core}, the server plans by core ${core}: change over first`}</li>
      </ul>
      <p class="note">It can be issued as it stands, with your name: every paper of it says these counts. <AllFindings say="All findings" /></p>
    </section>
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

// What the open state can be compared with: the one before, what was issued, any other.
function Comparing() {
  const job = now.job.value!;
  const [all, setAll] = useState<Earlier[]>([]);
  const [trouble, say] = useState("");
  const id = now.revision.value?.id;
  useEffect(() => void earlier().then(setAll, () => setAll([])), [id, job.issued, now.unsent.value]);
  const at = useRef<HTMLDivElement>(null);
  const inView = (): void => void requestAnimationFrame(() => requestAnimationFrame(() => at.current?.scrollIntoView({ block: at.current.textContent ? "nearest" : "start" })));
  const against = (what: Since): void => {
    say("Looking what changed.");
    inView();
    void compare(what).then(() => say(""), (e: Error) => say(e.message)).then(inView);
  };
  const said = (revision: string): string => all.find((e) => e.revision === revision)?.said ?? "the state before";
  const whole = (e: Earlier): string => [e.said, e.note, e.issued && "issued as " + e.issued].filter(Boolean).join(": ");
  const [state, setState] = useState(""); // that is chosen; none yet: the first
  const before = now.revision.value?.parents[0];
  return (
    <>
      {before && (
        <button type="button" onClick={() => against(sinceState(before, said(before)))}>what the last change did</button>
      )}
      <ul class="issued">
        {job.issued.map((i) => (
          <li key={i.id}>
            <strong>{i.name}</strong> by {i.author}, {i.at.slice(0, 16).replace("T", " ")} UTC{" "}
            <button type="button" onClick={() => against(sinceIssue(i.id, i.revision, `${i.name}, issued by ${i.author}, ${i.at.slice(0, 16).replace("T", " ")} UTC`))}>what changed since</button>
          </li>
        ))}
        {job.issued.length === 0 && <li>Nothing was issued yet. Issue a revision, with your name and what it is for.</li>}
      </ul>
      {all.length > 0 && (
        <form class="against" onSubmit={(e) => {
          e.preventDefault();
          const chosen = new FormData(e.currentTarget).get("state") as string;
          against(sinceState(chosen, said(chosen)));
        }}>
          <label>
            another state of this job
            <select name="state" onChange={(e) => setState(e.currentTarget.value)}>
              {all.map((e) => <option key={e.revision} value={e.revision}>{whole(e)}</option>)}
            </select>
          </label>
          <p class="whole-state">{whole(all.find((e) => e.revision === state) ?? all[0]!)}</p>
          <button type="submit">what changed since this state</button>
          <button type="button" onClick={(e) => {
            const chosen = new FormData(e.currentTarget.form!).get("state") as string;
            void goneBack(chosen, said(chosen));
          }}>put the job back to this state</button>
        </form>
      )}
      <div ref={at}>
        {trouble && <p role="status">{trouble}</p>}
      </div>
      {now.differs.value && <Changed d={now.differs.value} />}
    </>
  );
}

// named is what a change is of, in the job's own words.
const named = (of: string): string => (of === "bill" ? "to buy" : of === "unit" ? now.screen.value!.words.unit : of);

const most = 2000; // places that are told at once: some dozens of pages

function Changed({ d }: { d: Difference }) {
  return (
    <section class="changed printed" aria-label="what changed">
      <h2>What changed since {since.value?.said}</h2>
      <Stamp />
      {d.same && <p>Nothing changed since.</p>}
      {d.said.map((t) => <p key={t}>{t}</p>)}
      {d.places.length > 0 && (
        <table>
          <thead>
            <tr><th>where</th><th>what</th><th>was</th><th>is</th></tr>
          </thead>
          <tbody>
            {d.places.slice(0, most).map((p, i) => (
              <tr key={p.key + i}>
                <td>{p.of !== "bill" ? <button type="button" class="link" onClick={() => void select(p.key, p.from)}>{p.where || p.name}</button> : p.where || p.name}</td>
                <td>{named(p.of)}, {p.kind}{p.about && ": " + p.about}</td>
                <td>{p.was}</td>
                <td>{p.now}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {d.places.length > most && <p>and {d.places.length - most} places more</p>}
      <p class="tools">
        <button type="button" onClick={() => print()}>print</button>
        <button type="button" onClick={putAway}>close this list</button>
      </p>
    </section>
  );
}
