// A file brought in, by a button or dropped anywhere on the page: a job that was exported, changes that could not be sent, a job
// written by hand with its surveys, a route, ground or services. What was understood is shown before anything is kept.
import { useEffect, useRef } from "preact/hooks";
import { signal } from "@preact/signals";
import * as act from "../actions";
import { isUnsentFile, takeIn } from "../keep/asfile";
import { during, why } from "../keep/db";
import { isFromSite, takeFile } from "../keep/fieldfile";
import { begin } from "../keep/newjob";
import { fromBase64 } from "../keep/base64";
import { counted, sync } from "../keep/sync";
import { postFile, Refused, Unreached } from "../net/api";
import * as now from "../state";

interface Fault {
  path?: string;
  file?: string;
  line?: number;
  text: string;
  try?: string;
}
interface Preview {
  understood: { label: string; text: string }[];
  counts: { label: string; number: number }[];
  missing: string[];
  faults: Fault[];
  remarks: Fault[];
  asked: { name: string; text: string; choices?: { value: string; text: string }[] }[];
  job_id?: string;
  job?: Record<string, unknown>;
  keep?: { sha256: string; bytes: string }[];
}
type As = "job" | "route" | "ground" | "services";
interface Drop {
  files: File[];
  as: As;
  into: boolean; // into the job that was open last; otherwise a new one is made
  said: Record<string, string>;
  seen?: Preview;
}

const told = signal<string[]>([]);
const drop = signal<Drop | undefined>(undefined);

/** bring takes files in, as far as that needs nobody's word; of others it shows first what was understood. */
export async function bring(files: File[], go: (to: string) => void): Promise<void> {
  drop.value = undefined;
  const [first] = files;
  if (!first) return;
  await trying(first.name, async () => {
    if (/\.zip$/i.test(first.name)) return exported(first, go);
    if (isUnsentFile(await first.slice(0, 100).text())) return unsent(first, go);
    const beginnings = await Promise.all(files.map((f) => f.slice(0, 4000).text()));
    if (beginnings.every(isFromSite)) return fromSite(files);
    const job = files.some((f) => /\.(ya?ml|json)$/i.test(f.name));
    await looked({ files, as: job ? "job" : "route", into: !job && now.revision.value !== undefined, said: {} });
  });
}

async function trying(name: string, work: () => Promise<void>): Promise<void> {
  told.value = [`Reading ${name}.`];
  try {
    await work();
    if (told.value[0] === `Reading ${name}.`) told.value = [];
  } catch (fault) {
    const faults = fault instanceof Refused ? fault.faults.map(line) : [];
    told.value = fault instanceof Unreached ? ["This kind of file is read by the server, and no server answers. Nothing was kept."] : [`${name} was not taken in: ${why(fault)}`, ...faults];
  }
}

const line = (f: Fault): string => [f.file, f.path, f.line && `line ${f.line}`, f.text, f.try && "Try: " + f.try].filter(Boolean).join(" · ");

async function looked(d: Drop): Promise<void> {
  drop.value = d;
  const form = new FormData();
  for (const f of d.files) form.append("file", f, f.name);
  if (d.into && now.revision.value) form.append("job", new Blob([now.revision.value.content], { type: "application/json" }));
  const q = new URLSearchParams({ as: d.as });
  for (const [name, text] of Object.entries(d.said)) if (text) q.set(name, text);
  const seen = await postFile<Preview>("/read?" + q, form, "");
  if (drop.value === d) drop.value = { ...d, seen };
}

const again = (d: Drop): void => void trying(d.files[0]!.name, () => looked(d));

async function exported(file: File, go: (to: string) => void): Promise<void> {
  const i = await postFile<{ job: string; revisions: number }>("/import", file, "application/zip");
  await sync();
  await act.listed();
  told.value = [`${file.name}: job ${i.job} was taken in.`];
  go("/jobs/" + encodeURIComponent(i.job));
}

async function unsent(file: File, go: (to: string) => void): Promise<void> {
  const { jobs, fresh } = await takeIn(await file.text());
  await counted();
  await act.listed();
  told.value = [`${file.name}: ${fresh} changes were not here yet and are kept now; they go up when the server is reached.`];
  void sync();
  if (jobs.length === 1) go("/jobs/" + encodeURIComponent(jobs[0]!));
}

async function fromSite(files: File[]): Promise<void> {
  const said: string[] = [];
  for (const f of files) said.push(`${f.name}: ${await takeFile(await f.text())}`);
  told.value = said;
}

async function keepIt(d: Drop, go: (to: string) => void): Promise<void> {
  const p = d.seen;
  if (!p?.job) return;
  for (const k of p.keep ?? []) {
    const a = { sha256: k.sha256, bytes: fromBase64(k.bytes), unsent: true };
    await during(["attachments"], "readwrite", async (t) => (await t.get("attachments", a.sha256)) ?? t.put("attachments", a));
  }
  const note = "from " + d.files.map((f) => f.name).join(", ");
  drop.value = undefined;
  let id = now.job.value?.id ?? "";
  if (d.into && id) await act.replaced(JSON.stringify(p.job), note);
  else id = await begin(p.job, p.job_id ?? String(p.job["id"]), note);
  await counted();
  await act.listed();
  void sync();
  go("/jobs/" + encodeURIComponent(id));
}

export function Bring({ go }: { go(to: string): void }) {
  const at = useRef<HTMLInputElement>(null);
  return (
    <div class="file">
      <h2>A file</h2>
      <label>
        a job, an exported job, unsent changes, records from site, a route, ground, services{" "}
        <input id="bring" ref={at} type="file" multiple onChange={(e) => (void bring([...(at.current?.files ?? [])], go), (e.currentTarget.value = ""))} />
      </label>
      <p class="note">Files can be dropped anywhere on this page as well. A job and its surveys come together.</p>
      <div role="status">{told.value.map((t) => <p key={t}>{t}</p>)}</div>
      {drop.value && <Looked d={drop.value} go={go} />}
    </div>
  );
}

function Looked({ d, go }: { d: Drop; go(to: string): void }) {
  const p = d.seen;
  const open = now.job.value;
  const kinds: As[] = ["job", "route", "ground", "services"];
  return (
    <section class="preview" aria-label="what was understood, before anything is kept">
      <h3>{d.files.map((f) => f.name).join(", ")}</h3>
      <label>
        read as{" "}
        <select id="read-as" value={d.as} onChange={(e) => again({ ...d, as: e.currentTarget.value as As, into: e.currentTarget.value !== "job" && open !== undefined, said: {} })}>
          {kinds.map((k) => <option key={k} value={k}>{k}</option>)}
        </select>
      </label>
      {d.as !== "job" && <p>{d.into && open ? `It goes into ${open.name}.` : d.as === "route" ? "It becomes a new job." : "It belongs into a job: open that first."}</p>}
      {p && (
        <form onSubmit={(e) => (e.preventDefault(), again(d))}>
          {p.asked.map((a) => (
            <label key={a.name}>
              {a.text}{" "}
              {a.choices ? (
                <select id={"said-" + a.name} value={d.said[a.name] ?? ""} onChange={(e) => again({ ...d, said: { ...d.said, [a.name]: e.currentTarget.value } })}>
                  <option value="" />
                  {a.choices.map((c) => <option key={c.value} value={c.value}>{c.text}</option>)}
                </select>
              ) : (
                <input id={"said-" + a.name} value={d.said[a.name] ?? ""} onChange={(e) => again({ ...d, said: { ...d.said, [a.name]: e.currentTarget.value } })} />
              )}
            </label>
          ))}
          <dl>
            {p.understood.map((u) => <Pair key={u.label + u.text} label={u.label} text={u.text} />)}
            {p.counts.map((c) => <Pair key={c.label} label={c.label} text={String(c.number)} />)}
          </dl>
          {p.missing.map((m) => <p key={m} class="late">{m} is named and did not come with it</p>)}
          {p.faults.map((f) => <p key={line(f)} class="late">{line(f)}</p>)}
          {p.remarks.map((f) => <p key={line(f)}>{line(f)}</p>)}
        </form>
      )}
      {p?.job && <button type="button" onClick={() => void trying(d.files[0]!.name, () => keepIt(d, go))}>{d.into ? "take it into the job" : "take it in as a job"}</button>}
      <button type="button" onClick={() => (drop.value = undefined)}>do not keep it</button>
    </section>
  );
}

function Pair({ label, text }: { label: string; text: string }) {
  return (
    <div>
      <dt>{label}</dt>
      <dd>{text}</dd>
    </div>
  );
}

/** useDrops takes files in that are dropped anywhere, on whatever screen; it goes to the list first, where is said what they are. */
export function useDrops(go: (to: string) => void): void {
  useEffect(() => {
    const over = (e: DragEvent): void => {
      if (e.dataTransfer?.types.includes("Files")) e.preventDefault();
    };
    const dropped = (e: DragEvent): void => {
      const files = [...(e.dataTransfer?.files ?? [])];
      if (files.length === 0) return;
      e.preventDefault();
      go("/");
      void bring(files, go);
    };
    addEventListener("dragover", over);
    addEventListener("drop", dropped);
    return () => (removeEventListener("dragover", over), removeEventListener("drop", dropped));
  }, []);
}
