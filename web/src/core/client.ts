// The planning core and the writer of papers as the page sees them: questions in, answers out, each in a worker that may be ended
// and started anew.
import type { Question, Reply } from "./messages";

type Files = Record<string, Uint8Array>;
interface Waiting {
  done(v: Uint8Array): void;
  failed(e: Error): void;
}

export class Core {
  constructor(
    private readonly script = PLACES.worker,
    private readonly what = "the planning core",
  ) {}

  private worker: Worker | undefined;
  private next = 1;
  private waiting = new Map<number, Waiting>();

  /** ask puts one question and gives its answer. */
  async ask<T>(name: string, args: unknown, files?: Files): Promise<T> {
    return JSON.parse(new TextDecoder().decode(await this.bytes(name, JSON.stringify(args), files))) as T;
  }

  /** bytes puts one question as text, and gives its answer as it comes. */
  bytes(name: string, args: string, files?: Files, plan?: Uint8Array, state?: string): Promise<Uint8Array> {
    return new Promise<Uint8Array>((done, failed) => {
      const id = this.next++;
      this.waiting.set(id, { done, failed });
      const question: Question = { id, name, args, ...(files && { files }), ...(plan && { plan }), ...(state && { state }) };
      this.running().postMessage(question);
    });
  }

  /** stop throws the worker away with whatever it is answering; a new one starts with the next question. */
  stop(why = "stopped"): void {
    this.worker?.terminate();
    this.worker = undefined;
    const open = [...this.waiting.values()];
    this.waiting.clear();
    for (const w of open) w.failed(new Error(why));
  }

  private running(): Worker {
    if (this.worker) return this.worker;
    const worker = new Worker(this.script);
    worker.onmessage = (e: MessageEvent<Reply>) => this.answered(e.data);
    worker.onerror = (e) => this.stop(`${this.what} ended: ` + (e.message || "no reason was given"));
    return (this.worker = worker);
  }

  private answered(r: Reply): void {
    const w = this.waiting.get(r.id);
    if (!w) return;
    this.waiting.delete(r.id);
    if (r.error !== undefined) w.failed(new Error(r.error));
    else w.done(r.bytes!);
    if (r.broken) this.stop(`${this.what} ended: ` + r.error);
  }
}
