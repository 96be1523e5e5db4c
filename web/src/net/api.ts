// The server, as far as it can be reached.

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

export async function get<T>(path: string): Promise<T> {
  return (await asked(path)).json() as Promise<T>;
}

export async function post<T>(path: string, body: unknown): Promise<T> {
  const r = await asked(path, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) });
  return r.json() as Promise<T>;
}

/** putBytes keeps a file on the server. */
export async function putBytes(path: string, b: Uint8Array): Promise<void> {
  await asked(path, { method: "PUT", headers: { "content-type": "application/octet-stream" }, body: b as Uint8Array<ArrayBuffer> });
}

/** postFile sends a file as it is, or a form of several; its type is then the form's own. */
export async function postFile<T>(path: string, b: Blob | FormData, type: string): Promise<T> {
  return (await asked(path, { method: "POST", ...(type && { headers: { "content-type": type } }), body: b })).json() as Promise<T>;
}

export async function bytes(path: string): Promise<Uint8Array> {
  return new Uint8Array(await (await asked(path)).arrayBuffer());
}

async function asked(path: string, init?: RequestInit): Promise<Response> {
  let r: Response;
  try {
    r = await fetch("/api" + path, init);
  } catch {
    throw new Unreached("the server was not reached");
  }
  if (r.ok) return r;
  const said = (await r.json().catch(() => ({}))) as { title?: string; detail?: string; faults?: Refused["faults"] };
  throw new Refused(r.status, said.detail ?? said.title ?? `the server answered ${r.status}`, said.faults);
}
