// A job made in this browser, with or without a server: from the starter that lies beside the page.
import { during } from "./db";
import { keep } from "./outbox";

/** start makes a new job of this name and gives its id. */
export async function start(name: string): Promise<string> {
  if (!name) throw new Error("A job needs a name.");
  const r = await fetch("/starter.json", { signal: AbortSignal.timeout(20_000) }).catch(() => undefined); // it lies beside the page
  if (!r?.ok) throw new Error("The starter was not found. Try: load the page again.");
  const job = (await r.json()) as Record<string, unknown>;
  return begin({ ...job, name }, await free(name), "made new");
}

/** begin keeps the first revision of a job under an id, and gives that. */
export async function begin(job: Record<string, unknown>, id: string, note: string): Promise<string> {
  const name = String(job["name"] ?? id);
  const owner = String(job["owner"] ?? "");
  await keep({ id, name, owner, heads: [], issued: [], seen: 0 }, [], JSON.stringify({ ...job, id }), note);
  return id;
}

/** free is an id made of a name that no job here has yet. */
export async function free(name: string): Promise<string> {
  const plain = name.normalize("NFKD").replace(/[^\p{ASCII}]/gu, "").toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 32) || "job";
  const have = new Set((await during(["jobs"], "readonly", (t) => t.all("jobs"))).map((j) => j.id));
  let id = plain;
  for (let n = 2; have.has(id); n++) id = `${plain}-${n}`;
  return id;
}
