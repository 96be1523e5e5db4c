// The trench cut across where the peg stands, looking up-chainage.
import { useEffect, useState } from "preact/hooks";
import { about } from "../actions";
import type { Across } from "../screen";
import * as now from "../state";
import { FigurePane } from "./figure";
import { Fold, Groups } from "./groups";
import { Before } from "./told";

export function AcrossView() {
  const [across, set] = useState<Across | undefined>(undefined);
  const [fault, setFault] = useState("");
  const s = now.screen.value;
  const here = now.here.value;
  const view = now.view.value;
  useEffect(() => {
    let current = true;
    const l = s?.legs.find((l) => here >= l.from - 0.5 && here <= l.to + 0.5);
    if (!l) return;
    about<Across>("across", { leg: l.id, at_mm: Math.min(l.to - l.from, Math.max(0, here - l.from)) }).then(
      (a) => current && (set(a), setFault("")),
      (e: Error) => current && (set(undefined), setFault(e.message)),
    );
    return () => {
      current = false;
    };
  }, [s, here, view]);
  if (fault) return <p role="alert">{fault}</p>;
  if (!across) return <p role="status">The trench is being cut across.</p>;
  return (
    <article class="across" aria-label={across.title}>
      <Before />
      <h3>{across.title}</h3>
      <FigurePane figure={across.figure} tall />
      <Groups groups={across.groups.slice(0, 1)} />
      <div>{across.groups.slice(1).map((g) => <Fold key={g.name} name={g.name}><Groups groups={[{ ...g, name: "" }]} /></Fold>)}</div>
    </article>
  );
}
