// The server, as far as it can be reached.
import * as now from "../state";

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
  return read(await asked(path, quiet)) as T;
}

export async function post<T>(path: string, body: unknown, quiet = soon): Promise<T> {
  const text = JSON.stringify(body);
  const headers = { "content-type": "application/json" };
  return read(await asked(path, quiet + text.length / slowest, { method: "POST", headers, body: text })) as T;
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
  return read(await asked(path, making + size / slowest, { method: "POST", ...(type && { headers: { "content-type": type } }), body: b })) as T;
}

export async function bytes(path: string, quiet = soon): Promise<Uint8Array> {
  return asked(path, quiet);
}

const read = (b: Uint8Array): unknown => JSON.parse(new TextDecoder().decode(b));

async function asked(path: string, quiet: number, init?: RequestInit): Promise<Uint8Array> {
  const { status, ok, body } = await answer(path, quiet, init);
  if (ok) return body;
  let said: { title?: string; detail?: string; faults?: Refused["faults"] } = {};
  try {
    said = read(body) as typeof said;
  } catch {
    // something between answered in words of its own: its status has to do
  }
  throw new Refused(status, said.detail ?? said.title ?? `the server answered ${status}`, said.faults);
}

// answer is all that came, or Unreached where nothing came for too long, or the net broke meanwhile.
async function answer(path: string, quiet: number, init?: RequestInit): Promise<{ status: number; ok: boolean; body: Uint8Array }> {
  const end = new AbortController();
  const stop = (): void => end.abort();
  let clock = setTimeout(stop, quiet);
  let waits = false;
  const saying = setTimeout(() => ((waits = true), now.waiting.value++), remark);
  try {
    const r = await fetch("/api" + path, { ...init, signal: end.signal });
    const parts: Uint8Array<ArrayBuffer>[] = [];
    for (const from = r.body?.getReader(); from; ) {
      clearTimeout(clock);
      clock = setTimeout(stop, quiet);
      const { done, value } = await from.read();
      if (done) break;
      parts.push(value);
    }
    return { status: r.status, ok: r.ok, body: new Uint8Array(await new Blob(parts).arrayBuffer()) };
  } catch {
    throw new Unreached("the server was not reached");
  } finally {
    clearTimeout(clock);
    clearTimeout(saying);
    if (waits) now.waiting.value--;
  }
}
