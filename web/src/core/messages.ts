// What the page and its workers, the core and the writer of papers, say to each other.
export interface Question {
  id: number;
  name: string;
  args: string;
  files?: Record<string, Uint8Array>;
  plan?: Uint8Array; // to the writer of papers: the plan that they are of
  state?: string; // to the same: which state of the job that is
}

export interface Reply {
  id: number;
  bytes?: Uint8Array;
  error?: string;
  broken?: boolean; // the core itself ended: a new worker has to be started
}
