// The card of whatever is selected: what it is, its figures in both systems, what stands behind them, and what can be typed here.
import { useState } from "preact/hooks";
import { edit } from "../actions";
import type { Card, CardField, Try } from "../screen";
import * as now from "../state";
import { Deeds, doable } from "./deeds";
import { FigurePane } from "./figure";
import { Fold, Groups } from "./groups";
import { opened } from "./hand";
import { openPaper } from "./sheets";
import { Large, Stops } from "./stage";
import { Before, Outcome } from "./told";

// Where a card speaks of a place on the run, what counts there for the stage stands on it first.
const ofPlaces = new Set(["unit", "cover", "joint", "node", "leg", "curve", "crossing", "service", "entry", "support", "zone", "forced", "pin", "outlet", "place", "finding"]);

export function CardView({ card, narrow = false }: { card: Card; narrow?: boolean }) {
  const place = ofPlaces.has(card.kind);
  const changes = (card.fields ?? []).length > 0 || doable(card.key);
  const changeFirst = !narrow && (!place || now.stage.value === "route"); // on the route things are changed, further on they are read
  return (
    <article class="card" aria-label={card.title}>
      <Before />
      <header>
        {card.paper && <button type="button" class="to-change" onClick={() => openPaper(card.paper)}>cut card</button>}
        {narrow && changes && <button type="button" class="to-change" onClick={(e) => opened(e.currentTarget.closest(".card")!.querySelector<HTMLDetailsElement>(":scope > .change")!)}>change</button>}
        <Title card={card} />
        <p class="lead">{card.lead}</p>
        {!narrow && <Stops all={card.stop} />}
      </header>
      {changes && changeFirst && <Change card={card} narrow={narrow} />}
      {!narrow && card.figure && <FigurePane figure={card.figure} />}
      {place && <Large stops={!narrow} />}
      {narrow && card.figure && <FigurePane figure={card.figure} />}
      {changes && !changeFirst && <Change card={card} narrow={narrow} />}
      {(card.findings ?? []).length > 0 && (
        <Fold name="Findings" count={card.findings.length}>
          {card.findings.map((f) => (
            <div key={f.name} class={"finding " + f.kind.replace(" ", "-")}>
              <strong>{f.kind}</strong> {f.text}
              {f.ask && <p>Ask: {f.ask}</p>}
              {f.try && <p>Try: {f.try}</p>}
            </div>
          ))}
        </Fold>
      )}
      {(card.tries ?? []).length > 0 && (
        <section>
          <h3>What would help</h3>
          <Outcome at="tries" />
          {card.tries.map((t) => <TryRow key={t.said} t={t} />)}
        </section>
      )}
      {(card.groups ?? []).map((g) => g.name && place ? <Fold key={g.name} name={g.name} count={g.rows.every((r) => r.open) ? g.rows.length : 0}><Groups groups={[{ ...g, name: "" }]} /></Fold> : <Groups key={g.name} groups={[g]} />)}
      {(card.proof ?? []).length > 0 && <Fold name="Proof">{card.proof.map((p) => <p key={p}>{p}</p>)}</Fold>}
      {(card.sources ?? []).length > 0 && <Fold name="Documents">{card.sources.map((p) => <p key={p} class="source">{p}</p>)}</Fold>}
    </article>
  );
}

// What can be typed and done: figures that are there or asked for first, the others folded.
function Change({ card, narrow }: { card: Card; narrow: boolean }) {
  const fields = card.fields ?? [];
  const first = fields.filter((f) => f.text || f.ask);
  const rest = first.length > 0 ? fields.filter((f) => !f.text && !f.ask) : [];
  const row = (f: CardField) => <FieldRow key={f.path + " " + f.text} field={f} of={card.title} />;
  const all = (
    <>
      {(first.length > 0 ? first : fields).map(row)}
      {rest.length > 0 && <Fold name="What else can be typed" count={rest.length}>{rest.map(row)}</Fold>}
      <Deeds />
    </>
  );
  if (narrow) return <details class="fold change"><summary>Change it</summary>{all}</details>;
  return (
    <section class="change">
      {fields.length > 0 && <h3>Change its figures</h3>}
      {all}
    </section>
  );
}

const named = new Set(["unit", "cover", "joint", "node", "leg", "crossing", "service", "entry", "support", "zone", "forced", "pin", "outlet", "supply", "document"]);

// The name of a thing stands large, what it is small above it.
function Title({ card }: { card: Card }) {
  const place = card.kind === "place" && /^(\S+) (\S+) (on .*)$/.exec(card.title);
  if (place) {
    return (
      <h2>
        <span class="what">{place[1]} {place[3]} </span>
        {place[2]}
      </h2>
    );
  }
  const cut = named.has(card.kind) ? card.title.lastIndexOf(" ") : -1;
  if (cut < 0) return <h2>{card.title}</h2>;
  return (
    <h2>
      <span class="what">{card.title.slice(0, cut)} </span>
      {card.title.slice(cut + 1)}
    </h2>
  );
}

function TryRow({ t }: { t: Try }) {
  if (!t.edits?.length) return <p>{t.said}</p>;
  return <button type="button" class="try" onClick={() => void edit(t.edits, t.said, "tries")}>{t.said}</button>;
}

function FieldRow({ field, of }: { field: CardField; of: string }) {
  const [text, setText] = useState(field.text);
  const [from, setFrom] = useState(field.from);
  const id = "field-" + field.path.replace(/[^\w]+/g, "-");
  const hint = [
    field.about !== field.label && field.about, field.like && field.kind !== "choice" && "like " + field.like, field.bare && `a bare number is in ${field.bare}`,
  ].filter(Boolean).join(" · ");
  const save = (): void => {
    const source = field.figure && from.trim() ? { from: from.trim() } : {};
    if (text.trim()) void edit([{ op: "set", path: field.path, text, ...source } as never], `${of}: ${field.label}`, id);
    else if (field.text) void edit([{ op: "clear", path: field.path } as never], `${of}: ${field.label} cleared`, id);
  };
  return (
    <form class={field.text.length > 14 ? "field long" : "field"} onSubmit={(e) => (e.preventDefault(), save())}>
      <label for={id}>{field.label}</label>
      {field.kind === "choice" ? (
        <select id={id} value={text} aria-describedby={id + "-hint"} onChange={(e) => setText(e.currentTarget.value)}>
          {(field.choice ?? []).map((c) => <option key={c} value={c}>{c}</option>)}
        </select>
      ) : (
        <input id={id} value={text} aria-describedby={id + "-hint"} placeholder={field.ask ? "nobody entered it" : ""} autocomplete="off" onInput={(e) => setText(e.currentTarget.value)} />
      )}
      <button type="submit" disabled={text === field.text && from === field.from} aria-label={"change " + field.label}>change</button>
      <span class="source" id={id + "-hint"}>{hint}{hint && " · "}in the job's text: <code>{field.word}</code></span>
      {field.figure && (
        <label class="source">
          from document
          <input value={from} placeholder="its name" onInput={(e) => setFrom(e.currentTarget.value)} />
        </label>
      )}
      {field.source && <span class="source">{field.source}</span>}
      {field.ask && <span class="source ask">{field.ask}</span>}
      <Outcome at={id} />
    </form>
  );
}

/** Where nothing is selected, the card is that of the stage at the peg. */
export function Hint({ narrow }: { narrow: boolean }) {
  const s = now.screen.value;
  const at = now.beside.value?.title ?? "";
  const [kind, ...rest] = now.sought.value.split("/");
  return (
    <article class="card hint">
      <Before />
      <header>
        <h2>{kind ? <><span class="what">being worked out</span> {kind !== "place" && rest.at(-1)}</> : <><span class="what">{at ? "Nothing is selected; the peg stands at " : "Nothing is selected"}</span>{at}</>}</h2>
        <p class="lead">{kind ? "What the address names comes as soon as the run is worked out." : `Tap a ${s?.words.unit ?? "unit"}, a bend or anything on the strip, in the plan or in a table: it is selected everywhere.`}</p>
      </header>
      <Large stops={!narrow} />
    </article>
  );
}
