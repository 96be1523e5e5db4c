// The card of whatever is selected: what it is, its figures in both systems, what stands behind them, and what can be typed here.
import { useState } from "preact/hooks";
import { edit } from "../actions";
import type { Card, CardField, Try } from "../screen";
import * as now from "../state";
import { FigurePane } from "./figure";
import { Groups } from "./groups";
import { Large } from "./stage";

// Where a card speaks of a place on the run, what counts there for the stage stands on it first.
const ofPlaces = new Set(["unit", "cover", "joint", "node", "leg", "crossing", "service", "entry", "support", "zone", "forced", "pin", "outlet", "place", "finding"]);

export function CardView({ card, narrow = false }: { card: Card; narrow?: boolean }) {
  return (
    <article class="card" aria-label={card.title}>
      <header>
        <Title card={card} />
        <p class="lead">{card.lead}</p>
      </header>
      {!narrow && card.figure && <FigurePane figure={card.figure} />}
      {ofPlaces.has(card.kind) && <Large />}
      {narrow && card.figure && <FigurePane figure={card.figure} />}
      {narrow ? (
        <details class="fold">
          <summary>everything about it</summary>
          <Rest card={card} />
        </details>
      ) : (
        <Rest card={card} />
      )}
    </article>
  );
}

function Rest({ card }: { card: Card }) {
  return (
    <>
      <Groups groups={card.groups} />
      {(card.findings ?? []).length > 0 && (
        <section>
          <h3>Findings</h3>
          {card.findings.map((f) => (
            <div key={f.name} class={"finding " + f.kind.replace(" ", "-")}>
              <strong>{f.kind}</strong> {f.text}
              {f.ask && <p>Ask: {f.ask}</p>}
              {f.try && <p>Try: {f.try}</p>}
            </div>
          ))}
        </section>
      )}
      {(card.tries ?? []).length > 0 && (
        <section>
          <h3>What would help</h3>
          {card.tries.map((t) => <TryRow key={t.said} t={t} />)}
        </section>
      )}
      {(card.fields ?? []).length > 0 && (
        <section>
          <h3>Type here</h3>
          {card.fields.map((f) => <FieldRow key={f.path + " " + f.text} field={f} of={card.title} />)}
        </section>
      )}
      {(card.proof ?? []).length > 0 && (
        <section>
          <h3>Proof</h3>
          {card.proof.map((p) => <p key={p}>{p}</p>)}
        </section>
      )}
      {(card.sources ?? []).length > 0 && (
        <section>
          <h3>Documents</h3>
          {card.sources.map((p) => <p key={p} class="source">{p}</p>)}
        </section>
      )}
    </>
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
  return <button type="button" class="try" onClick={() => void edit(t.edits, t.said)}>{t.said}</button>;
}

function FieldRow({ field, of }: { field: CardField; of: string }) {
  const [text, setText] = useState(field.text);
  const [from, setFrom] = useState(field.from);
  const id = "field-" + field.path.replace(/[^\w]+/g, "-");
  const save = (): void => {
    const source = field.figure && from.trim() ? { from: from.trim() } : {};
    if (text.trim()) void edit([{ op: "set", path: field.path, text, ...source } as never], `${of}: ${field.label}`);
    else if (field.text) void edit([{ op: "clear", path: field.path } as never], `${of}: ${field.label} cleared`);
  };
  return (
    <form class="field" onSubmit={(e) => (e.preventDefault(), save())}>
      <label for={id}>{field.label}</label>
      {field.kind === "choice" ? (
        <select id={id} value={text} onChange={(e) => setText(e.currentTarget.value)}>
          {(field.choice ?? []).map((c) => <option key={c} value={c}>{c}</option>)}
        </select>
      ) : (
        <input id={id} value={text} title={field.about} placeholder={field.ask ? "nobody entered it" : ""} autocomplete="off" onInput={(e) => setText(e.currentTarget.value)} />
      )}
      <button type="submit" disabled={text === field.text && from === field.from}>change</button>
      {field.figure && (
        <label class="source">
          from document
          <input value={from} placeholder="its name" onInput={(e) => setFrom(e.currentTarget.value)} />
        </label>
      )}
      {field.source && <span class="source">{field.source}</span>}
      {field.ask && <span class="source ask">{field.ask}</span>}
    </form>
  );
}

/** Where nothing is selected, the card is that of the stage at the peg. */
export function Hint() {
  const s = now.screen.value;
  return (
    <article class="card hint">
      <header>
        <h2><span class="what">Nothing is selected; the peg stands at </span>{now.beside.value?.title ?? s?.job.id ?? ""}</h2>
        <p class="lead">Tap a {s?.words.unit ?? "unit"}, a bend or anything on the strip, in the plan or in a table: it is selected everywhere.</p>
      </header>
      <Large />
    </article>
  );
}
