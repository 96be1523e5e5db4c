// The papers: sheets, cards and files of the pack, to open, keep and print. They are made by the server from the revision that it has.
import * as now from "../state";

export function Sheets() {
  const s = now.screen.value!;
  const r = now.revision.value!;
  const there = now.reached.value && now.unsent.value === 0;
  const at = (name: string): string => `/api/revisions/${encodeURIComponent(r.id)}/files/${name.split("/").map(encodeURIComponent).join("/")}`;
  return (
    <details class="fold">
      <summary>Papers and files</summary>
      {!there && <p>{now.reached.value ? "These papers come as soon as the last change has gone up." : "These papers come from the server, and it does not answer."}</p>}
      <ul class="papers">
        {s.sheets.map((p) => (
          <li key={p.name}>
            {there ? <a href={at(p.name)} target="_blank" rel="noopener">{p.name}</a> : <span>{p.name}</span>}
            <span>{p.about}</span>
          </li>
        ))}
      </ul>
    </details>
  );
}
