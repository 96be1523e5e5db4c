// Rows of figures under headings, in both systems, with their documents.
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
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

// Which headings lie open: who looks at levels looks at those of the next unit too.
const unfolded = signal<ReadonlySet<string>>(new Set(["Findings"]));

/** Fold is a heading that unfolds what stands under it. */
export function Fold({ name, count = 0, children }: { name: string; count?: number; children: ComponentChildren }) {
  const toggled = (open: boolean): void => {
    if (open === unfolded.value.has(name)) return;
    const next = new Set(unfolded.value);
    if (open) next.add(name);
    else next.delete(name);
    unfolded.value = next;
  };
  return (
    <details class="fold" open={unfolded.value.has(name)} onToggle={(e) => e.target === e.currentTarget && toggled(e.currentTarget.open)}>
      <summary>{name} {count > 0 && <span class="count">{count}</span>}</summary>
      {children}
    </details>
  );
}
