// On a phone the next thing comes first: one main action, full width, in reach of the thumb. What is next is the stage's own: a
// unit to set, a cut piece, a joint of the bed, an open point.
import { select } from "../actions";
import { first } from "../draw/strip";
import * as now from "../state";

export function Next() {
  const a = now.along.value;
  if (!a || a.stops.at.length === 0) return null;
  const at = a.stops.at;
  const chosen = a.stops.keys.indexOf(now.selected.value);
  const next = chosen >= 0 ? chosen + 1 : first(at, now.here.value + (now.selected.value ? 1 : -1));
  const before = chosen >= 0 ? chosen - 1 : first(at, now.here.value - 1) - 1;
  const go = (i: number): void => {
    void select(a.stops.keys[i]!, at[i]!);
    const w = now.shown.value;
    if (at[i]! < w.from || at[i]! > w.to) now.show({ from: at[i]! - (w.to - w.from) / 2, to: at[i]! + (w.to - w.from) / 2 });
    scrollTo({ top: 0 });
  };
  const name = a.stops.names[next];
  return (
    <div class="next">
      <button type="button" disabled={before < 0} onClick={() => go(before)}>back</button>
      <button type="button" class="main" disabled={!name} onClick={() => go(next)}>
        {name ? <><span>next {a.stop}</span> <strong class={name.length > 9 ? "small" : ""}>{name}</strong></> : <span>that was the last {a.stop}</span>}
      </button>
    </div>
  );
}
