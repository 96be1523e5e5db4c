// A file brought in, by a button or dropped anywhere on the page: a job that was exported, changes that could not be sent, or a
// job as it is written by hand. What was understood is shown before anything is kept.
import { useEffect, useRef } from "preact/hooks";
import { signal } from "@preact/signals";
import { listed } from "../actions";
import { isUnsentFile, takeIn } from "../keep/asfile";
import { why } from "../keep/db";
import { begin, free } from "../keep/newjob";
import { counted, sync } from "../keep/sync";
import { postFile, Refused, Unreached } from "../net/api";

interface Preview {
  understood: { label: string; text: string }[] | null;
  faults: { path?: string; line?: number; text: string; try?: string }[] | null;
  result: Record<string, unknown> | null;
}

const told = signal<string[]>([]);
const preview = signal<{ name: string; seen: Preview } | undefined>(undefined);

/** bring takes a file in, as far as that needs nobody's word; of a job it shows first what was understood. */
export async function bring(file: File, go: (to: string) => void): Promise<void> {
  preview.value = undefined;
  told.value = [`Reading ${file.name}.`];
  try {
    if (/\.zip$/i.test(file.name)) return await exported(file, go);
    if (isUnsentFile(await file.slice(0, 100).text())) return await unsent(file, go);
    const seen = await postFile<Preview>(`/read?as=job&name=${encodeURIComponent(file.name)}`, file);
    told.value = [];
    preview.value = { name: file.name, seen };
  } catch (fault) {
    const faults = fault instanceof Refused ? fault.faults.map((f) => [f.path, f.text, f.try].filter(Boolean).join(": ")) : [];
    told.value = fault instanceof Unreached ? ["This kind of file is read by the server, and no server answers. Nothing was kept."] : [`${file.name} was not taken in: ${why(fault)}`, ...faults];
  }
}

async function exported(file: File, go: (to: string) => void): Promise<void> {
  const i = await postFile<{ job: string; new: number; known: number }>("/import", file, "application/zip");
  await sync();
  await listed();
  told.value = [`${file.name}: job ${i.job} was taken in.`];
  go("/jobs/" + encodeURIComponent(i.job));
}

async function unsent(file: File, go: (to: string) => void): Promise<void> {
  const { jobs, fresh } = await takeIn(await file.text());
  await counted();
  await listed();
  told.value = [`${file.name}: ${fresh} changes were not here yet and are kept now; they go up when the server is reached.`];
  void sync();
  if (jobs.length === 1) go("/jobs/" + encodeURIComponent(jobs[0]!));
}

async function keepIt(go: (to: string) => void): Promise<void> {
  const p = preview.value;
  if (!p?.seen.result) return;
  const name = String(p.seen.result["name"] ?? p.name);
  const id = await begin(p.seen.result, await free(String(p.seen.result["id"] || name)), "from " + p.name);
  preview.value = undefined;
  await counted();
  await listed();
  void sync();
  go("/jobs/" + encodeURIComponent(id));
}

export function Bring({ go }: { go(to: string): void }) {
  const at = useRef<HTMLInputElement>(null);
  const p = preview.value;
  return (
    <div class="file">
      <h2>A file</h2>
      <label>
        a job, an exported job, or unsent changes{" "}
        <input
          id="bring"
          ref={at}
          type="file"
          accept=".zip,.json,.yaml,.yml"
          onChange={() => {
            const f = at.current?.files?.[0];
            if (f) void bring(f, go);
          }}
        />
      </label>
      <p class="note">It can be dropped anywhere on this page as well.</p>
      <div role="status">{told.value.map((t) => <p key={t}>{t}</p>)}</div>
      {p && (
        <section class="preview" aria-label={"what was understood of " + p.name}>
          <h3>{p.name}</h3>
          <dl>
            {(p.seen.understood ?? []).map((u) => (
              <div key={u.label}>
                <dt>{u.label}</dt>
                <dd>{u.text}</dd>
              </div>
            ))}
          </dl>
          {(p.seen.faults ?? []).map((f) => <p key={(f.path ?? "") + f.text} class="late">{[f.path, f.line && `line ${f.line}`, f.text, f.try].filter(Boolean).join(": ")}</p>)}
          {p.seen.result && <button type="button" onClick={() => void keepIt(go)}>keep it as a job</button>}
          <button type="button" onClick={() => (preview.value = undefined)}>leave it</button>
        </section>
      )}
    </div>
  );
}

/** useDrops takes files in that are dropped anywhere, on whatever screen; it goes to the list first, where is said what they are. */
export function useDrops(go: (to: string) => void): void {
  useEffect(() => {
    const over = (e: DragEvent): void => {
      if (e.dataTransfer?.types.includes("Files")) e.preventDefault();
    };
    const drop = (e: DragEvent): void => {
      const f = e.dataTransfer?.files[0];
      if (!f) return;
      e.preventDefault();
      go("/");
      void bring(f, go);
    };
    addEventListener("dragover", over);
    addEventListener("drop", drop);
    return () => (removeEventListener("dragover", over), removeEventListener("drop", drop));
  }, []);
}
