// On a phone the next thing comes first: one main action, full width, in reach of the thumb.
import { step, unitAt } from "./run";
import * as now from "../state";

export function Next() {
  const s = now.screen.value;
  if (!s || s.units.mark.length === 0) return null;
  const at = now.selected.value.startsWith("unit/") ? s.units.mark.indexOf(now.selected.value.slice(5)) : -1;
  const next = at < 0 ? unitAt(s, now.here.value) : at + 1;
  const name = s.units.mark[next];
  return (
    <div class="next">
      <button type="button" disabled={at <= 0} onClick={() => step(-1)}>back</button>
      <button type="button" class="main" disabled={!name} onClick={() => (step(1), scrollTo({ top: 0 }))}>
        {name ? <><span>next {s.words.unit}</span> <strong>{name}</strong></> : <span>that was the last one</span>}
      </button>
    </div>
  );
}
