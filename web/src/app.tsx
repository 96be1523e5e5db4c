// The page: it starts what it stands on, and shows the screens.
import { render } from "preact";
import { signal } from "@preact/signals";
import { Core } from "./core/client";
import { get, Unreached } from "./net/api";

interface JobHead {
  id: string;
  name: string;
  heads: string[];
}

const core = new Core();
const jobs = signal<JobHead[] | undefined>(undefined);
const said = signal("");

function Jobs() {
  if (said.value) return <p class="waiting" role="status">{said.value}</p>;
  if (!jobs.value) return <p class="waiting" role="status">Asking for the jobs.</p>;
  return (
    <main>
      <h1>Jobs</h1>
      <ul class="jobs">
        {jobs.value.map((j) => (
          <li key={j.id}><a href={"/jobs/" + encodeURIComponent(j.id)}>{j.name}</a></li>
        ))}
      </ul>
    </main>
  );
}

async function begin() {
  render(<Jobs />, document.getElementById("workspace")!);
  if ("serviceWorker" in navigator) void navigator.serviceWorker.register("/sw.js");
  void core.ask<string>("version", {});
  try {
    jobs.value = await get<JobHead[]>("/jobs");
  } catch (e) {
    said.value = e instanceof Unreached ? "No signal, and no job is kept in this browser." : String(e);
  }
}

void begin();
