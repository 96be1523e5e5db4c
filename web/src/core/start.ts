// How a worker starts the program that it runs: Go for browsers, which puts its functions under a name of the worker's own scope.
import "WASM_START";
import type { Question, Reply } from "./messages";

declare const Go: new () => { importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void> };

const scope = self as unknown as Record<string, unknown> & { postMessage(m: Reply, transfer?: Transferable[]): void };

export type Answer = Uint8Array | { error: string };

/** serve answers the page's questions by a program at an address. One message is one question; the answer is bytes, handed over without a copy. */
export function serve<T>(address: string, name: string, answer: (of: T, q: Question) => Answer): void {
  const started = start();

  async function start(): Promise<T> {
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(fetch(address), go.importObject);
    void go.run(instance);
    if (!scope[name]) throw new Error(`${name} did not start`);
    return scope[name] as T;
  }

  self.onmessage = async (e: MessageEvent<Question>) => {
    const { id } = e.data;
    try {
      const a = answer(await started, e.data);
      if (a instanceof Uint8Array) scope.postMessage({ id, bytes: a }, [a.buffer]);
      else scope.postMessage({ id, error: a.error });
    } catch (fault) {
      scope.postMessage({ id, error: String(fault), broken: true });
    }
  };
}
