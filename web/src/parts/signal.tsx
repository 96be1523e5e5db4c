// What a person has to know about the net: whether this browser would do without it, and what has not gone up yet.
import { takeOver } from "../worker-of-pages";
import * as now from "../state";

export function Signal() {
  const n = now.unsent.value;
  const parts = [
    now.reached.value ? "" : "no server",
    now.ready.value ? "ready for no signal" : "not ready for no signal",
    n === 0 ? "nothing unsent" : `${n} not yet sent`,
  ];
  return (
    <div class="signal">
      <p role="status">{parts.filter(Boolean).join(" · ")}</p>
      {now.newer.value && <button type="button" onClick={takeOver}>new version ready: change over</button>}
    </div>
  );
}
