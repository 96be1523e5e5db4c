// Between two places: what to order, dig, lay, fill and carry there, ready to print.
import { useState } from "preact/hooks";
import { about } from "../actions";
import type { Between } from "../screen";
import * as now from "../state";
import { Groups } from "./groups";
import { Stamp } from "./stamp";

export function BetweenView() {
  const [from, setFrom] = useState("");
  const [to, setTo] = useState("");
  const [answer, set] = useState<(Between & { of?: string | undefined }) | undefined>(undefined);
  const hash = now.screen.value?.hash;
  const [fault, setFault] = useState("");
  const chosen = now.selected.value.split("/").slice(1).join("/");
  const ask = async (): Promise<void> => {
    try {
      set({ ...(await about<Between>("between", { from, to })), of: hash });
      setFault("");
    } catch (e) {
      set(undefined);
      setFault((e as Error).message);
    }
  };
  return (
    <details class="fold between">
      <summary>Between two places</summary>
      <form onSubmit={(e) => (e.preventDefault(), void ask())}>
        <label>
          from <input required value={from} placeholder="A-004" onInput={(e) => setFrom(e.currentTarget.value)} />
        </label>
        <button type="button" disabled={!chosen} onClick={() => setFrom(chosen)}>the selected one</button>
        <label>
          to <input required value={to} placeholder="B-012" onInput={(e) => setTo(e.currentTarget.value)} />
        </label>
        <button type="button" disabled={!chosen} onClick={() => setTo(chosen)}>the selected one</button>
        <button type="submit">say what lies there</button>
      </form>
      {fault && <p role="alert">{fault}</p>}
      {answer && (
        <article class="card printed" aria-label={answer.title}>
          <h2>{answer.title}</h2>
          {(now.before.value || answer.of !== hash) && <p class="late" role="note">Of the plan before the change: ask again.</p>}
          <Stamp />
          <Groups groups={answer.groups} />
          {answer.findings.map((f) => <p key={f.name + f.text}><strong>{f.kind}</strong> {f.text}</p>)}
          <button type="button" onClick={() => print()}>print</button>
        </article>
      )}
    </details>
  );
}
