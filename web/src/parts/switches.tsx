// How the page looks and speaks, and the last change taken back: none of these changes a number of record.
import * as act from "../actions";
import * as now from "../state";

export function Switches() {
  const s = now.screen.value;
  return (
    <div class="switches">
      <button type="button" onClick={() => void act.undo()} disabled={!now.revision.value || !act.canUndo()}>undo</button>
      <button type="button" onClick={() => void act.redo()} disabled={!now.revision.value || !act.canRedo()}>redo</button>
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
