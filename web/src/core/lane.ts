/** A lane in which only the newest task counts: one runs, one waits, and a newer one takes the place of the one that waits. */
export class Lane {
  private running = false;
  private next: (() => Promise<void>) | undefined;

  run(task: () => Promise<void>): void {
    if (this.running) {
      this.next = task;
      return;
    }
    this.running = true;
    void task().finally(() => {
      this.running = false;
      const next = this.next;
      this.next = undefined;
      if (next) this.run(next);
    });
  }
}
