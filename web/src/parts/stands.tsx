// What the run stands on: the job's own words, the contract's rules, levels, the dig, each supply. Every figure is entered on its
// card with the document that it comes from; what nobody entered says so, and whom to ask.
import { select } from "../actions";
import * as now from "../state";

export function Stands() {
  const s = now.screen.value!;
  const parts: [string, string][] = [
    ["job/", "the job"],
    ["rules/", "rules of the contract"],
    ["levels/", "levels"],
    ["dig/", "the dig"],
    ["coordinates/", "coordinates"],
    ...s.supplies.map((u): [string, string] => ["supply/" + u.id, "supply " + u.id]),
  ];
  return (
    <details class="fold">
      <summary>What it stands on</summary>
      <div class="which">
        {parts.map(([key, name]) => (
          <button key={key} type="button" aria-pressed={now.selected.value === key} onClick={() => void select(key)}>{name}</button>
        ))}
      </div>
    </details>
  );
}
