// The server, as far as it can be reached.
import * as now from "../state";
import { whole } from "./whole";

/** What the server refused, in its own words. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly faults: { path?: string; text: string; try?: string }[] = [],
  ) {
    super(message);
  }
}

/** No server answered: no signal, or it is not running. */
export class Unreached extends Error {}

// Every question has an end: a server that says nothing for so long counts as not reached, and is asked again later.
const soon = 15_000; // ms without a byte, for what it has at hand
export const making = 120_000; // ms without a byte, for what it has to read or plan first
const slowest = 4; // bytes a ms: as slow as a net may be for what goes up (32 kbit/s)
const remark = 3_000; // ms after which the page says that it waits

export async function get<T>(path: string, quiet = soon): Promise<T> {
  return (await asked(path, quiet)).json() as Promise<T>;
}

export async function post<T>(path: string, body: unknown, quiet = soon): Promise<T> {
  const text = JSON.stringify(body);
  const headers = { "content-type": "application/json" };
  const r = await asked(path, quiet + text.length / slowest, { method: "POST", headers, body: text });
  return r.json() as Promise<T>;
}

/** putBytes keeps a file on the server. */
export async function putBytes(path: string, b: Uint8Array): Promise<void> {
  const headers = { "content-type": "application/octet-stream" };
  await asked(path, soon + b.length / slowest, { method: "PUT", headers, body: b as Uint8Array<ArrayBuffer> });
}

/** postFile sends a file as it is, or a form of several, for the server to read; a form's type is its own. */
export async function postFile<T>(path: string, b: Blob | FormData, type: string): Promise<T> {
  const parts = b instanceof Blob ? [b] : [...b.values()];
  const size = parts.reduce((n, v) => n + (v instanceof Blob ? v.size : v.length), 0);
  const r = await asked(path, making + size / slowest, { method: "POST", ...(type && { headers: { "content-type": type } }), body: b });
  return r.json() as Promise<T>;
}

/** asDevice asks the server as the device that it let in; without a token, as the office or nobody. */
export async function asDevice(path: string, token: string | undefined, init: { method?: string; headers?: Record<string, string>; body?: string | Uint8Array<ArrayBuffer> } = {}, quiet = soon): Promise<Response> {
  const headers = { ...init.headers, ...(token && { authorization: "Bearer " + token }) };
  return asked(path, quiet + (init.body?.length ?? 0) / slowest, { ...init, headers });
}

export async function bytes(path: string, quiet = soon): Promise<Uint8Array> {
  return new Uint8Array(await (await asked(path, quiet)).arrayBuffer());
}

async function asked(path: string, quiet: number, init?: RequestInit): Promise<Response> {
  let waits = false;
  const saying = setTimeout(() => ((waits = true), now.waiting.value++), remark);
  const r = await whole("/api" + path, quiet, init)
    .catch(() => { throw new Unreached("the server was not reached"); })
    .finally(() => (clearTimeout(saying), waits && now.waiting.value--));
  if (r.ok) return r;
  const said = (await r.json().catch(() => ({}))) as { title?: string; detail?: string; faults?: Refused["faults"] };
  throw new Refused(r.status, said.detail ?? said.title ?? `the server answered ${r.status}`, said.faults);
}
