// What is told of a change: what it was understood as, what was wrong with it, and what it made be found.
// It goes with the next change.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import * as act from "../actions";
import { uncovered } from "./uncover";
import type { Finding } from "../screen";
import * as now from "../state";

export function Said() {
  const [whole, setWhole] = useState(false); // on a phone only its first lines are told, until somebody asks for the rest
  const f = now.before.value ? undefined : now.fresh.value;
  useEffect(() => setWhole(false), [f]);
  const away = (): void => {
    now.said.value = [];
    now.faults.value = [];
    now.news.value = "";
    now.fresh.value = undefined;
    now.trouble.value = undefined;
  };
  const t = now.trouble.value;
  const more = now.said.value.length + now.faults.value.length > 0 || now.news.value || t;
  const nothing = !more && f && !f.said ? f : undefined; // of a change whose note was closed before it was planned
  const [over, setOver] = useState(nothing);
  useEffect(() => {
    if (!nothing) return undefined;
    const later = setTimeout(() => setOver(nothing), 8000);
    return () => clearTimeout(later);
  }, [nothing]);
  const at = useRef<HTMLDivElement>(null);
  const noted = more || f;
  useLayoutEffect(() => {
    if (!noted) return undefined;
    const sizes = new ResizeObserver(() => uncovered(at.current!));
    sizes.observe(at.current!);
    return () => sizes.disconnect();
  }, [!noted, f]);
  if (nothing) return <div class="told" role="status" ref={at}>{over !== nothing && <p>planned again: nothing new found</p>}</div>;
  return (
    <div class={"told" + (whole ? " whole" : "") + (now.sketch.value ? " aside" : "")} role="status" ref={at}>
      {(more || f) && <div class="words" tabIndex={0}>
        {now.said.value.map((t) => <p key={t}>{t}</p>)}
        {now.faults.value.map((f) => (
          <p key={f.text} class="fault">
            {f.text} {f.try && <em>Try: {f.try}</em>}
          </p>
        ))}
        {f && <Fresh />}
        {now.news.value && <p>{now.news.value}</p>}
        {t && (
          <p class="fault">
            {t.text} {t.again && <button type="button" onClick={t.again}>try again</button>}
          </p>
        )}
      </div>}
      {(more || f) && (
        <div class="does">
          {f && f.new.length + f.gone.length + f.changed.length > 0 && <button type="button" class="rest" aria-expanded={whole} onClick={() => setWhole(!whole)}>{whole ? "less of it" : "all of it"}</button>}
          <button type="button" onClick={away}>close this note</button>
        </div>
      )}
    </div>
  );
}

const grave = ["impossible", "fault"]; // what to try stands beside them at once
const most = 3; // findings that are told by themselves; all of them stand in the table

// What the last change made be found, and what it made go.
function Fresh() {
  const f = now.fresh.value;
  if (!f) return null;
  if (!f.said) return <p>planned anew: no finding is new, changed or gone</p>;
  return (
    <section class="fresh" aria-label="findings that are new, changed or gone with this change">
      <p><strong>{f.said}</strong> with this change</p>
      <ul>
        {f.new.slice(0, most).map((n) => (
          <li key={n.name}>
            <strong>new{n.text.startsWith("NOT CHECKED") ? "" : ", " + n.kind}</strong> <Place of={n} /> {short(behind(n), 200)}
            {n.limit && <span class="figures">limit: {n.limit}{n.value && <>, value: <b>{n.value}</b></>}</span>}
            {grave.includes(n.kind) && n.try && <em>Try: {n.try}</em>}
          </li>
        ))}
        {f.new.length > most && <li><AllFindings say={`and ${f.new.length - most} more that are new: all findings`} /></li>}
        {f.changed.slice(0, most).map(({ was, now: n }) => (
          <li key={"changed " + n.name}>
            <strong>changed</strong> <Place of={n} /> {short(behind(n), 200)}
            <Figures was={was} now={n} />
          </li>
        ))}
        {f.changed.length > most && <li><AllFindings say={`and ${f.changed.length - most} more with other figures: all findings`} /></li>}
        {f.gone.slice(0, most).map((n, i) => (
          <li key={i + n.text}>
            <strong>gone</strong> {n.where && n.where + ": "}{short(n.text, 200)}
          </li>
        ))}
        {f.gone.length > most && <li>and {f.gone.length - most} more are gone</li>}
      </ul>
    </section>
  );
}

// Both values of a finding that stands as before; of one that has none, how it read.
function Figures({ was, now: n }: { was: Finding; now: Finding }) {
  if (!n.value) return <span class="figures">was: {short(was.text, 200)}</span>;
  return (
    <span class="figures">
      was: {was.value}, is now: <b>{n.value}</b>
      {n.limit && `; limit: ${n.limit}`}
      {n.limit !== was.limit && was.limit && `, was: ${was.limit}`}
    </span>
  );
}

// One tap leads to what was found: its card says limit, value and what to try, and the peg stands there.
function Place({ of }: { of: Finding }) {
  return <button type="button" class="link" onClick={() => go(of)}>{of.where || "the job"}</button>;
}

function go(f: Finding): void {
  if (f.at !== null) now.reveal(f.at);
  void act.select("finding/" + f.name, f.at ?? now.here.value);
}

/** AllFindings leads to the table of all that was found. */
export function AllFindings({ say }: { say: string }) {
  const show = (): void => {
    now.tabled.value = "findings";
    requestAnimationFrame(() => document.querySelector(".tables")?.scrollIntoView({ block: "start" }));
  };
  return <button type="button" class="link" onClick={show}>{say}</button>;
}

/** Outcome says in one line, beside where a change was made, what came of it. Who hears the page is told above already. */
export function Outcome({ at }: { at: string }) {
  const f = now.fresh.value;
  if (now.changedAt.value !== at) return null;
  if (now.faults.value.length > 0) return <p class="outcome fault">{now.faults.value[0]!.text}</p>;
  if (now.before.value) return <p class="outcome">{now.doing.value || "not planned yet"}</p>;
  if (!f) return null;
  const first = f.new[0] ?? f.changed[0]?.now;
  const gone = f.gone[0];
  return (
    <p class="outcome">
      {f.said || "planned anew: no finding is new, changed or gone"}
      {first ? <> · <Place of={first} /> {short(behind(first))}</> : gone && ` · ${gone.where && gone.where + ": "}${short(gone.text)}`}
    </p>
  );
}

// What a finding says behind its place: a text that begins with the place does not say it twice.
function behind(f: Finding): string {
  return f.where && f.text.startsWith(f.where + " ") ? f.text.slice(f.where.length + 1) : f.text;
}

// The beginning of a long finding: the whole of it stands on its card and in the table.
function short(text: string, most = 110): string {
  return text.length <= most ? text : text.slice(0, text.lastIndexOf(" ", most)) + " …";
}

/** Before is a tag on what is still of the plan before a change. */
export function Before() {
  return now.before.value ? <p class="before">of the plan before the change</p> : null;
}
