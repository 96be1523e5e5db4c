// The planning core as the page sees it: questions in, answers out, in a worker that may be ended and started anew.
import type { Question, Reply } from "./messages";

type Files = Record<string, Uint8Array>;
interface Waiting {
  done(v: unknown): void;
  failed(e: Error): void;
}

export class Core {
  private worker: Worker | undefined;
  private next = 1;
  private waiting = new Map<number, Waiting>();

  /** ask puts one question and gives its answer. */
  ask<T>(name: string, args: unknown, files?: Files): Promise<T> {
    return new Promise<T>((done, failed) => {
      const id = this.next++;
      this.waiting.set(id, { done: done as (v: unknown) => void, failed });
      const question: Question = { id, name, args: JSON.stringify(args), ...(files && { files }) };
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
    const worker = new Worker(PLACES.worker);
    worker.onmessage = (e: MessageEvent<Reply>) => this.answered(e.data);
    worker.onerror = (e) => this.stop("the planning core ended: " + (e.message || "no reason was given"));
    return (this.worker = worker);
  }

  private answered(r: Reply): void {
    const w = this.waiting.get(r.id);
    if (!w) return;
    this.waiting.delete(r.id);
    if (r.error !== undefined) w.failed(new Error(r.error));
    else w.done(JSON.parse(new TextDecoder().decode(r.bytes)));
    if (r.broken) this.stop("the planning core ended: " + r.error);
  }
}
