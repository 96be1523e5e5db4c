/** whole is an answer that came to its end. Every question has one: where nothing comes for so long, in ms, it fails as it does
 * where the net breaks. */
export async function whole(what: RequestInfo, quiet: number, init?: RequestInit): Promise<Response> {
  const end = new AbortController();
  const stop = (): void => end.abort();
  let clock = setTimeout(stop, quiet);
  try {
    const r = await fetch(what, { ...init, signal: end.signal });
    const parts: Uint8Array<ArrayBuffer>[] = [];
    for (const from = r.body?.getReader(); from; ) {
      clearTimeout(clock);
      clock = setTimeout(stop, quiet);
      const { done, value } = await from.read();
      if (done) break;
      parts.push(value);
    }
    const bodiless = r.status === 204 || r.status === 304;
    return new Response(bodiless ? null : new Blob(parts), { status: r.status, statusText: r.statusText, headers: r.headers });
  } finally {
    clearTimeout(clock);
  }
}
