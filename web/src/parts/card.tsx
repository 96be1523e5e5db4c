// The card of whatever is selected: what it is, its figures in both systems, what stands behind them, and what can be typed here.
import { useState } from "preact/hooks";
import { edit, select } from "../actions";
import type { Card, CardField, Try } from "../screen";
import * as now from "../state";
import { FigurePane } from "./figure";

export function CardView({ card, large = false }: { card: Card; large?: boolean }) {
  return (
    <article class={large ? "card large" : "card"} aria-label={card.title}>
      <header>
        <h2>{card.title}</h2>
        <p class="lead">{card.lead}</p>
      </header>
      {card.figure && <FigurePane figure={card.figure} />}
      {(card.groups ?? []).map((g) => (
        <section key={g.name}>
          {g.name && <h3>{g.name}</h3>}
          <dl>
            {g.rows.map((r) => (
              <div key={r.label} class={r.open ? "open" : ""}>
                <dt>{r.label}</dt>
                <dd>
                  {r.key ? <button type="button" class="link" onClick={() => void select(r.key)}>{r.text}</button> : <span>{r.text}</span>}
                  {r.other && <span class="other">{r.other}</span>}
                  {r.source && <span class="source">{r.source}</span>}
                </dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
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
          {card.fields.map((f) => <FieldRow key={f.path} field={f} of={card.title} />)}
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
    </article>
  );
}

function TryRow({ t }: { t: Try }) {
  if (!t.edits?.length) return <p>{t.said}</p>;
  return <button type="button" class="try" onClick={() => void edit(t.edits, t.said)}>{t.said}</button>;
}

function FieldRow({ field, of }: { field: CardField; of: string }) {
  const [text, setText] = useState(field.text);
  const id = "field-" + field.path.replace(/[^\w]+/g, "-");
  const save = (): void => {
    if (text !== field.text) void edit([{ op: "set", path: field.path, text } as never], `${of}: ${field.label}`);
  };
  return (
    <form class="field" onSubmit={(e) => (e.preventDefault(), save())}>
      <label for={id}>{field.label}</label>
      {field.kind === "choice" ? (
        <select id={id} value={text} onChange={(e) => setText(e.currentTarget.value)}>
          {(field.choice ?? []).map((c) => <option key={c} value={c}>{c}</option>)}
        </select>
      ) : (
        <input id={id} value={text} title={field.about} autocomplete="off" onInput={(e) => setText(e.currentTarget.value)} />
      )}
      <button type="submit" disabled={text === field.text}>change</button>
    </form>
  );
}

/** Nothing is shown where nothing is selected. */
export function Hint() {
  const s = now.screen.value;
  return (
    <article class="card">
      <header>
        <h2>{s?.job.id ?? ""}</h2>
        <p class="lead">{s?.job.said}</p>
      </header>
      <p>Tap a {s?.words.unit ?? "unit"}, a bend or anything on the strip, in the plan or in a table: it is selected everywhere.</p>
    </article>
  );
}
