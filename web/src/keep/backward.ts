// How far undo and redo go, as it follows from the revisions themselves: after the page was loaded again as before. They go over
// what was changed on this device since somebody else changed something, or two ends were joined.
import { bytes, Unreached } from "../net/api";
import { during, type Revision } from "./db";
import { historyOf } from "./history";
import { device } from "./outbox";

/** Back is a state to go to. */
export interface Back {
  revision: string; // that has its content
  note: string; // of the change that is taken back, or made again
}

/** Way is where undo and redo go, the next one last, and why undo goes no further. */
export interface Way {
  undo: Back[];
  redo: Back[];
  end: string;
}

/** wayOf is where undo and redo go from a revision. */
export async function wayOf(r: Revision): Promise<Way> {
  const all = new Map((await historyOf(r.job)).revisions.map((s) => [s.id, s]));
  const me = await device();
  const mine = [];
  let end = "";
  for (let at = r.id; ; ) {
    const s = all.get(at);
    const [from, other] = s?.parents ?? [];
    if (!s) end = "what was before is not known on this device";
    else if (!from) end = "this is the first state of the job";
    else if (other) end = "before this, what two people changed at once was joined";
    else if (s.device !== me) end = `the change before, ${s.note || "without a note"}, was made ${s.author ? "by " + s.author + " " : ""}on another device`;
    if (!s || !from || end) break;
    mine.push({ note: s.note, from });
    at = from;
  }
  const w: Way = { undo: [], redo: [], end };
  for (const { note, from } of mine.reverse()) {
    const [here, there] = note === "undo" ? [w.undo, w.redo] : note === "redo" ? [w.redo, w.undo] : [];
    const back = here?.pop();
    if (here && there && back) there.push({ revision: from, note: back.note });
    else if (!here) {
      w.undo.push({ revision: from, note });
      w.redo = [];
    }
  }
  return w;
}

/** nothing says why nothing is undone, or done again. */
export function nothing(w: Way, way: "undo" | "redo"): string {
  if (way === "redo") return "nothing to do again: nothing was undone since the last change";
  return `nothing to undo: ${w.end}. Try: Issue, and what changed since; from there the job is put back to any of its states`;
}

/** contentOf is the job as it was in a state, as it is kept here or as the server has it. */
export async function contentOf(revision: string): Promise<string> {
  const kept = await during(["revisions"], "readonly", (t) => t.get("revisions", revision));
  if (kept) return kept.content;
  try {
    return new TextDecoder().decode(await bytes(`/revisions/${encodeURIComponent(revision)}`));
  } catch (fault) {
    if (fault instanceof Unreached) throw new Error("that state is not kept in this browser, and no server answers");
    throw fault;
  }
}
