// The jobs that this browser keeps, and how another one comes in: made new, or from a file.
import { useState } from "preact/hooks";
import { listed } from "../actions";
import type { JobHead } from "../keep/db";
import { workedBy, worksAs } from "../keep/author";
import { start } from "../keep/newjob";
import { counted, sync } from "../keep/sync";
import * as now from "../state";
import { Bring } from "./bring";
import { ThisDevice } from "./devices";
import { Plain, Signal, when } from "./signal";
import { Who } from "./who";

export function Jobs({ go }: { go(to: string): void }) {
  const jobs = now.jobs.value;
  return (
    <>
      <header class="head">
        <div>
          <h1>Jobs</h1>
          <p role="status">{howMany(jobs.length)}</p>
        </div>
        <Signal />
      </header>
      <Plain />
      <main class="jobs">
        {jobs.length === 0 && now.tried.value && <p>No job is kept here yet{now.reached.value ? "." : ", and no server answers."}</p>}
        <ul>
          {jobs.map((j) => <Job key={j.id} j={j} go={go} />)}
        </ul>
        <section class="bring" aria-label="another job">
          <New go={go} />
          <Bring go={go} />
          <Author />
          <ThisDevice go={go} />
        </section>
      </main>
    </>
  );
}

// How many there are: before the server has answered, what is kept here may not be all.
function howMany(n: number): string {
  const here = n === 1 ? "1 job on this device" : `${n} jobs on this device`;
  if (now.tried.value) return here;
  return n === 0 ? "looking for jobs" : here + ", looking for more";
}

// The run in one line. Where the job was changed since it was planned here, elsewhere or without a picture, it says so.
function ofRun(j: JobHead): string {
  if (!j.said) return "kept on this device; open it to see its run";
  const old = j.saidOf !== undefined && !j.heads.includes(j.saidOf);
  return old ? `before the last change: ${j.said}` : j.said;
}

function ofIssue(j: JobHead): string {
  const last = j.issued.at(-1)!;
  return `issued: ${last.name}${j.heads.includes(last.revision) ? "" : "; changed since, and what it is now is not issued"}`;
}

function Job({ j, go }: { j: JobHead; go(to: string): void }) {
  const at = "/jobs/" + encodeURIComponent(j.id) + (j.stage ? "/" + j.stage : "");
  const unsent = now.unsentOf.value[j.id] ?? 0;
  const mayExport = now.reached.value && j.seen > 0;
  return (
    <li>
      <a href={at} onClick={(e) => (e.preventDefault(), go(at))}>
        <strong>{j.name}</strong>
        <span>{j.owner || "no owner said"}</span>
        <span>{ofRun(j)}{j.stage && j.said ? ` · ${j.stage}` : ""}</span>
        <span>{j.saved ? `changed ${when(j.saved)}${j.by ? " by " + j.by : ""}` : ""}</span>
        {j.issued.length > 0 && <span>{ofIssue(j)}</span>}
        {unsent > 0 && <span>{unsent === 1 ? "1 change is" : unsent + " changes are"} not sent yet{mayExport && ": a file saved now is without"}</span>}
        {j.heads.length > 1 && <span class="two">{j.heads.length} ends: two people changed it at once</span>}
      </a>
      {mayExport && (
        <a class="export" href={`/api/jobs/${encodeURIComponent(j.id)}/export`} download aria-label={"save it as a file: all of " + j.name}>
          save it as a file
        </a>
      )}
    </li>
  );
}

function New({ go }: { go(to: string): void }) {
  const [name, setName] = useState("");
  const [wrong, setWrong] = useState("");
  const make = async (): Promise<void> => {
    try {
      const id = await start(name.trim());
      await counted();
      void sync();
      await listed();
      go("/jobs/" + id + "/route");
    } catch (fault) {
      setWrong(fault instanceof Error ? fault.message : String(fault));
    }
  };
  return (
    <form class="new" onSubmit={(e) => (e.preventDefault(), void make())}>
      <h2>A new job</h2>
      <label>
        name <input id="new-name" required maxLength={80} value={name} placeholder="Feeder trench, north yard" onInput={(e) => setName(e.currentTarget.value)} />
      </label>
      <button type="submit">make it</button>
      <p class="note">It begins with a short run and invented figures of a trough: put your supplier's and contract's own in.</p>
      {wrong && <p class="late" role="alert">{wrong}</p>}
    </form>
  );
}

// Whose changes these are, for the others who see them.
function Author() {
  return (
    <form class="author" onSubmit={(e) => e.preventDefault()}>
      <h2>Who works here</h2>
      <Who id="author" put={(name, as) => (workedBy(name), worksAs(name, as))} />
      <p class="note">It stands beside your changes and in every record that is made here. Nobody checks it.</p>
    </form>
  );
}
