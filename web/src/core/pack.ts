// The papers of a plan, written in this browser: by a worker that starts when the first is asked for, and ends when nobody has
// asked for a while.
import { Core } from "./client";

type Files = Record<string, Uint8Array>;

/** What papers are made of. The plan is asked for only where it is needed. */
export interface Planned {
  job: string;
  state(): Promise<string>; // which state of the job it is, with its history
  plan(): Promise<Uint8Array>;
  attachments(): Promise<Files>;
}

/** Paper is one file of the pack; some of them only the server can write. */
export interface Paper {
  path: string;
  about: string;
  server?: boolean;
}

const idle = 120_000; // ms after which the writer is ended: it holds much memory
const writer = new Core(PLACES.papers, "the writer of papers");
let opened = "";
let ending: ReturnType<typeof setTimeout> | undefined;
let turn: Promise<unknown> = Promise.resolve();

/** paper is the bytes of one file of a plan's pack. */
export const paper = (of: Planned, path: string): Promise<Uint8Array> => inTurn(() => asked(of, "file", path));

/** chosen is a paper that the planning core made as data: its document, or what stands behind it, such as one of its pages. */
export const chosen = (of: Planned, made: string, behind: string): Promise<Uint8Array> => inTurn(() => asked(of, "chosen", JSON.stringify({ paper: made, behind })));

/** papers lists every file of a plan's pack, each sheet and card by itself too. */
export const papers = (of: Planned): Promise<Paper[]> =>
  inTurn(async () => JSON.parse(new TextDecoder().decode(await asked(of, "files", ""))) as Paper[]);

/** read says what dropped files hold, as the server would; kept are files that the job names, by their SHA-256. */
export const read = <T>(drop: unknown, kept: Files = {}): Promise<T> => inTurn(() => writer.ask<T>("read", drop, kept));

async function asked(of: Planned, name: string, args: string): Promise<Uint8Array> {
  const state = await of.state();
  if (opened !== state) {
    opened = "";
    await writer.bytes("open", of.job, await of.attachments(), await of.plan(), state);
    opened = state;
  }
  try {
    return await writer.bytes(name, args);
  } catch (fault) {
    if (/ended|no plan is open/.test(String(fault))) opened = "";
    throw fault;
  }
}

// One question after the other: the plan that is open must not change between opening and asking.
function inTurn<T>(task: () => Promise<T>): Promise<T> {
  clearTimeout(ending);
  const mine = turn.then(task, task);
  turn = mine.then(rest, rest);
  return mine;
}

function rest(): void {
  clearTimeout(ending);
  ending = setTimeout(() => {
    opened = "";
    writer.stop("it was not needed for a while");
  }, idle);
}
