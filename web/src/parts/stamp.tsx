// Which state of the job this is, on the screen and on everything that is printed.
import * as now from "../state";
import { stamp } from "../states";

/** Stamp is the state in a few words; on paper it says all. */
export function Stamp() {
  const s = stamp.value;
  if (!now.screen.value) return null;
  return (
    <p class="stamp">
      <span class="brief">{s?.brief ?? ""}</span>
      <span class="whole">
        <strong>{now.job.value?.name}</strong> {s ? `${s.line}. ${s.order}` : "Which state of the job this is was not known yet when it was printed: print it again."}
        {now.before.value && <strong> Of the plan before a change that was being planned: print it again.</strong>}
      </span>
    </p>
  );
}
