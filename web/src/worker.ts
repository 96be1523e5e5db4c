// The worker in which the planning core runs. It holds no state that could be lost: the page may end it at any time and feed
// a new one. One message is one question; the answer is bytes of JSON, handed over without a copy.
import "WASM_START";
import type { Question, Reply } from "./core/messages";

interface Core {
  version: string;
  ask(name: string, args: string, files?: Record<string, Uint8Array>): Uint8Array | { error: string };
}

declare const Go: new () => { importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void> };

const scope = self as unknown as { trenchwrightCore?: Core; postMessage(m: Reply, transfer?: Transferable[]): void };

const started = start();

async function start(): Promise<Core> {
  const go = new Go();
  const { instance } = await WebAssembly.instantiateStreaming(fetch(PLACES.core), go.importObject);
  void go.run(instance);
  if (!scope.trenchwrightCore) throw new Error("the planning core did not start");
  return scope.trenchwrightCore;
}

self.onmessage = async (e: MessageEvent<Question>) => {
  const { id, name, args, files } = e.data;
  try {
    const core = await started;
    const answer = name === "version" ? new TextEncoder().encode(JSON.stringify(core.version)) : files ? core.ask(name, args, files) : core.ask(name, args);
    if (answer instanceof Uint8Array) scope.postMessage({ id, bytes: answer }, [answer.buffer]);
    else scope.postMessage({ id, error: answer.error });
  } catch (fault) {
    scope.postMessage({ id, error: String(fault), broken: true });
  }
};
