// The yard, as whoever stands in it looks for it: what should lie there of each kind, and what has a mark of its own. It is counted
// piece by piece: what lies there as the records have it takes one tap, what does not a step or a number.
import type { YardRow } from "../screen";
import * as site from "../site";
import { thing } from "./signalsite";

/** YardCard is what lies in the yard by the records. */
export function YardCard() {
  const y = site.yard.value;
  if (!y) return null;
  return (
    <section class="yard" aria-label="what lies in the yard">
      <h3>The yard, by the records: {y.said}</h3>
      <ul>
        {y.rows.map((r) => (
          <li key={r.piece}>
            <span class="piece">{r.piece}</span>
            <strong class={r.count < 0 ? "none" : ""}>{r.have}</strong>
            <small>
              {[r.size, r.said, r.counted, r.bought].filter(Boolean).join(" · ")}
              {r.want > 0 && <b> · {r.want} still to go in{r.short > 0 && `, ${r.short} more than lie here`}</b>}
            </small>
          </li>
        ))}
      </ul>
      <button type="button" class="counts" onClick={() => site.begin("count")}>count the yard</button>
    </section>
  );
}

/** CountRow is one kind of piece while the yard is counted; nothing is taken for counted that nobody touched. */
export function CountRow({ y, value, put }: { y: YardRow; value: string; put(count: string): void }) {
  const n = value === "" ? Math.max(0, y.count) : Number(value);
  return (
    <div class={value === "" ? "counting" : "counting done"} role="group" aria-label={y.piece}>
      <span class="piece">{y.piece}{y.size && <small>{y.size}</small>}</span>
      {y.count >= 0 && value === "" && <button type="button" class="so" onClick={() => put(String(y.count))}>{y.count}: so it is</button>}
      {value !== "" && <button type="button" class="so" onClick={() => put("")}>not counted</button>}
      <div class="stepper">
        <button type="button" aria-label={"one less, " + y.piece} disabled={n === 0} onClick={() => put(String(n - 1))}>−</button>
        <input inputMode="numeric" aria-label={`how many ${y.piece} lie there; none given: not counted on this ${thing()}`} placeholder={y.count < 0 ? "?" : y.count + "?"} value={value} onInput={(e) => put(e.currentTarget.value.replace(/\D/g, ""))} />
        <button type="button" aria-label={"one more, " + y.piece} onClick={() => put(String(n + 1))}>+</button>
      </div>
    </div>
  );
}
