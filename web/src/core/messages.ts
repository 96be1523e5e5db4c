// What the page and the worker of the core say to each other.
export interface Question {
  id: number;
  name: string;
  args: string;
  files?: Record<string, Uint8Array>;
}

export interface Reply {
  id: number;
  bytes?: Uint8Array;
  error?: string;
  broken?: boolean; // the core itself ended: a new worker has to be started
}
