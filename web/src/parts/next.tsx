// On a phone the next thing comes first: one main action, wide, in reach of the thumb. What is next is the stage's own: a unit to
// set, a cut piece, a joint of the bed, an open point. Beside it lies the way to everything else, called by what people look for: two
// taps from wherever one is.
import { useRef, useState } from "preact/hooks";
import { select } from "../actions";
import { first } from "../draw/strip";
import * as site from "../site";
import * as now from "../state";
import { folds, opened, papers, putting } from "./hand";
import { Closer } from "./run";
import { Peg } from "./stage";
import { Switches } from "./switches";

export function Next({ to }: { to(stage: now.StageID): void }) {
  const a = now.along.value;
  const sheet = useRef<HTMLDialogElement>(null);
  const [open, setOpen] = useState(false); // what lies in the hand is looked up when it opens
  const at = a?.stops.at ?? [];
  const keys = a?.stops.keys ?? [];
  const chosen = keys.indexOf(now.selected.value);
  const next = chosen >= 0 ? chosen + 1 : first(at, now.here.value + (now.selected.value ? 1 : -1));
  const before = chosen >= 0 ? chosen - 1 : first(at, now.here.value - 1) - 1;
  const go = (i: number): void => {
    void select(keys[i]!, at[i]!);
    const w = now.shown.value;
    if (at[i]! < w.from || at[i]! > w.to) now.show({ from: at[i]! - (w.to - w.from) / 2, to: at[i]! + (w.to - w.from) / 2 });
    scrollTo({ top: 0 });
  };
  const name = a?.stops.names[next];
  const due = site.next.value?.stage === now.stage.value ? site.next.value : undefined;
  const waiting = !a && !now.trouble.value && (now.screen.value!.tables.length > 0 || now.doing.value !== "");
  const closed = (): void => {
    if (!sheet.current!.open) setOpen(false); // a browser tells it late: it may be open again by then
  };
  return (
    <div class={due?.place ? "next recording" : "next"}>
      {due?.place && (
        <button type="button" class="main record" onClick={() => site.begin(due.form, due.place)}>
          <span>record:</span> <strong class={due.place.length + due.deed.length > 14 ? "smaller" : due.place.length + due.deed.length > 9 ? "small" : ""}>{due.deed} {due.place}</strong>
        </button>
      )}
      <button type="button" disabled={before < 0} onClick={() => go(before)}>back</button>
      <button type="button" class={due?.place ? "onward" : "main"} disabled={!name} onClick={() => go(next)}>
        {due?.place ? <span>next {a?.stop}</span> : name ? <><span>next {a!.stop}</span> <strong class={name.length > 9 ? "smaller" : name.length > 7 ? "small" : ""}>{name}</strong></> : <span>{waiting ? "being worked out" : at.length > 0 ? `that was the last ${a!.stop}` : "nothing comes next here"}</span>}
      </button>
      <button type="button" aria-haspopup="dialog" onClick={() => (setOpen(true), sheet.current!.showModal())}>find, change, print</button>
      <dialog ref={sheet} class="else" aria-label="find, change, print" onClose={closed}>
        {open && <Else away={() => sheet.current!.close()} stage={to} />}
      </dialog>
    </div>
  );
}

// What else there is: what one looks for most stands first, the ways to the rest under it, then how the page looks.
function Else({ away, stage }: { away(): void; stage(to: now.StageID): void }) {
  const to = (f: () => void) => () => (away(), f());
  const into = (css: string) => to(() => document.querySelector(css)?.scrollIntoView({ block: "start" }));
  const change = now.card.value && document.querySelector<HTMLDetailsElement>(".card > .change");
  const all = folds();
  const way = (f: { name: string; open(): void }) => <button key={f.name} type="button" onClick={to(f.open)}>{f.name}</button>;
  const put = (): void => {
    stage("route");
    requestAnimationFrame(() => setTimeout(() => folds().find((f) => f.name === putting)?.open())); // its fold is there by then
  };
  return (
    <>
      <Peg scans went={to(() => scrollTo({ top: 0 }))} />
      <div class="ways first">
        {change && <button type="button" class="change" onClick={to(() => opened(change))}>Change {now.card.value!.title}</button>}
        <button type="button" onClick={to(put)}>{putting}</button>
        {all.filter((f) => f.name === papers).map(way)}
      </div>
      <div class="ways">
        <button type="button" onClick={into(".above")}>From above, cut across</button>
        <button type="button" onClick={into(".tables")}>Tables</button>
        {all.filter((f) => f.name !== putting && f.name !== papers).map(way)}
      </div>
      <Closer />
      <Switches />
      <button type="button" class="away" onClick={away}>close</button>
    </>
  );
}
