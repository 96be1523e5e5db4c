// How the page looks and speaks, and the last change taken back: none of these changes a number of record.
import * as act from "../actions";
import { nothing } from "../keep/backward";
import * as now from "../state";

export function Switches() {
  const s = now.screen.value;
  return (
    <div class="switches">
      <Step way="undo" go={act.undo} />
      <Step way="redo" go={act.redo} />
      {s && (
        <>
          <button type="button" onClick={() => void act.look({ words: s.job.words, system: s.job.system === "metric" ? "imperial" : "metric" })}>
            {s.job.system === "metric" ? "feet and inches" : "metric"}
          </button>
          <button type="button" onClick={() => void act.look({ system: s.job.system, words: s.job.words === "uk" ? "us" : "uk" })}>
            {s.job.words === "uk" ? "US words" : "UK words"}
          </button>
        </>
      )}
      <button type="button" aria-pressed={now.sun.value} onClick={() => void act.inSun(!now.sun.value)}>sun</button>
    </div>
  );
}

// Where there is nothing to take back, the button says why to whoever presses it all the same.
function Step({ way, go }: { way: "undo" | "redo"; go(): Promise<void> }) {
  const w = now.way.value;
  const next = w?.[way].at(-1);
  const says = next ? `${way}: ${next.note}` : w ? nothing(w, way) : "";
  return <button type="button" aria-disabled={!next} title={says} onClick={() => void go()}>{way}</button>;
}
