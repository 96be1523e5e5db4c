// What can be done from wherever one is, besides looking: put something onto the run, ask what lies between two places, see what it
// stands on, open papers, issue. On a desk it lies under the strip, folded to one line; on a phone it is the page's end, and the bar
// at the bottom leads there.
import { useEffect, useRef } from "preact/hooks";
import * as now from "../state";
import { BetweenView } from "./between";
import { DayCard } from "./grid";
import { Handing } from "./handing";
import { Issue } from "./issue";
import { SiteNow } from "./officesite";
import { OnSpot } from "./onspot";
import { Put } from "./put";
import { papers, Sheets } from "./sheets";
import { Records } from "./sitenext";
import { Ways } from "./siteways";
import { Stands } from "./stands";

export function Hand({ narrow }: { narrow: boolean }) {
  const at = useRef<HTMLElement>(null);
  const route = now.stage.value === "route";
  const over = now.stage.value === "handover";
  useEffect(() => {
    // one lies open at a time; what is folded inside of one is its own affair
    const folds = [...at.current!.children].filter((c) => c instanceof HTMLDetailsElement);
    const opened = (e: Event): void => {
      if ((e.currentTarget as HTMLDetailsElement).open) for (const f of folds) if (f !== e.currentTarget) f.open = false;
    };
    for (const f of folds) f.addEventListener("toggle", opened);
    return () => folds.forEach((f) => f.removeEventListener("toggle", opened));
  }, [route, over]);
  return (
    <section class="hand" aria-label="what can be done from here" ref={at}>
      {route && (
        <details class="fold putting">
          <summary>{putting}</summary>
          <Put />
        </details>
      )}
      <OnSpot />
      <BetweenView />
      <Records narrow={narrow} />
      <DayCard />
      <SiteNow />
      <Ways />
      <Stands />
      <Sheets />
      {over && <Handing />}
      <Issue />
    </section>
  );
}

/** putting and papers are the words on those folds that the bar at the bottom of a phone names first. */
export { papers };
export const putting = "Put something here";

/** folds are what lies in the hand now, by the words on it. */
export function folds(): { name: string; open(): void }[] {
  return [...document.querySelectorAll<HTMLDetailsElement>(".hand > details")].map((d) => ({ name: d.querySelector("summary")!.innerText.trim(), open: () => opened(d) }));
}

/** opened opens a fold and brings it into view. */
export function opened(d: HTMLDetailsElement): void {
  for (const f of document.querySelectorAll<HTMLDetailsElement>(".hand > details[open]")) if (f !== d && d.matches(".hand > *")) f.open = false; // before it is brought into view
  d.open = true;
  d.scrollIntoView({ block: "start" });
  d.querySelector("summary")!.focus({ preventScroll: true });
}
