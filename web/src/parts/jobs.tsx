// The jobs that this browser keeps, and how another one comes in.
import * as now from "../state";
import { Signal } from "./signal";

export function Jobs({ go }: { go(to: string): void }) {
  return (
    <>
      <header class="head">
        <div><h1>Jobs</h1></div>
        <Signal />
      </header>
      <main class="jobs">
        {now.jobs.value.length === 0 && <p>No job is kept here yet{now.reached.value ? "." : ", and no server answers."}</p>}
        <ul>
          {now.jobs.value.map((j) => (
            <li key={j.id}>
              <a href={"/jobs/" + encodeURIComponent(j.id)} onClick={(e) => (e.preventDefault(), go("/jobs/" + encodeURIComponent(j.id)))}>
                <strong>{j.name}</strong>
                <span>{j.owner}</span>
                {j.heads.length > 1 && <span class="two">{j.heads.length} ends: two people changed it</span>}
              </a>
            </li>
          ))}
        </ul>
      </main>
    </>
  );
}
