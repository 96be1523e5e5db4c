// Rows of figures under headings, in both systems, with their documents.
import { select } from "../actions";
import type { CardGroup } from "../screen";

export function Groups({ groups }: { groups: CardGroup[] | null }) {
  return (
    <>
      {(groups ?? []).map((g) => (
        <section key={g.name}>
          {g.name && <h3>{g.name}</h3>}
          <dl class="figures">
            {g.rows.map((r, i) => (
              <div key={r.label + i} class={r.open ? "open" : ""}>
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
    </>
  );
}
