// Two people changed the same to different things: what was, what each made of it, and a tap for each says which holds.
import { useState } from "preact/hooks";
import { settled } from "../actions";
import type { Ends } from "../keep/join";
import type { Revision } from "../keep/db";
import * as now from "../state";
import { when } from "./signal";

export function EndsView() {
  const e = now.ends.value;
  return e ? <Settle key={e.one.id + e.other.id} e={e} /> : null;
}

const who = (r: Revision): string => (r.id === now.revision.value?.id ? "what is open here" : r.author || "somebody else");

function Settle({ e }: { e: Ends }) {
  const [chosen, choose] = useState<Record<string, "one" | "other">>({});
  const open = e.clashes.filter((c) => !chosen[c.path]).length;
  return (
    <section class="ends" aria-label="two changed the same">
      <h2>Two changed the same</h2>
      <p>
        {who(e.one)} ({when(e.one.made)}) and {who(e.other)} ({when(e.other.made)}) began from the same state. Both are kept. Everything else is
        joined; say for each of these which holds.
      </p>
      {e.clashes.map((c) => (
        <fieldset key={c.path}>
          <legend>{c.text}</legend>
          <p>was: {c.was || "not there"}</p>
          {(["one", "other"] as const).map((side) => (
            <button key={side} type="button" aria-pressed={chosen[c.path] === side} onClick={() => choose({ ...chosen, [c.path]: side })}>
              {(side === "one" ? c.one : c.other) || "not there"} <span>{who(e[side])}</span>
            </button>
          ))}
        </fieldset>
      ))}
      <button type="button" class="main" disabled={open > 0} onClick={() => void settled(e.clashes.filter((c) => chosen[c.path] === "other").map((c) => c.path))}>
        {open > 0 ? `${open} to be settled` : "join the two"}
      </button>
    </section>
  );
}
