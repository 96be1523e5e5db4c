// The page: which screen is shown, and what the page stands on: kept jobs, the core, the server where there is one.
import { render } from "preact";
import { useEffect } from "preact/hooks";
import { effect, signal } from "@preact/signals";
import * as act from "./actions";
import { setting } from "./keep/db";
import { onPulled, sync, watch } from "./keep/sync";
import { Desk } from "./parts/desk";
import { Jobs } from "./parts/jobs";
import type { StageID } from "./state";
import * as now from "./state";
import { worker } from "./worker-of-pages";

const path = signal(location.pathname);
const trouble = signal("");

/** go shows another screen; its address can be kept and opened again. */
export function go(to: string): void {
  history.pushState(null, "", to);
  path.value = to;
}
addEventListener("popstate", () => (path.value = location.pathname));

function Page() {
  const [, jobs, id, stage] = path.value.split("/");
  const job = jobs === "jobs" && id ? decodeURIComponent(id) : "";
  useEffect(() => {
    if (stage) now.stage.value = stage as StageID;
  }, [stage]);
  useEffect(() => {
    if (!job || now.job.value?.id === job) return;
    trouble.value = "";
    act.open(job).catch(async (fault) => {
      await sync(); // it may be one that this browser has never seen
      await act.open(job).catch(() => (trouble.value = String(fault instanceof Error ? fault.message : fault)));
    });
  }, [job]);
  if (!job) return <Jobs go={go} />;
  if (trouble.value) {
    return (
      <main class="waiting">
        <p role="alert">{trouble.value}</p>
        <button type="button" onClick={() => go("/")}>all jobs</button>
      </main>
    );
  }
  return <Desk go={go} />;
}

async function begin(): Promise<void> {
  [now.sun.value, now.view.value] = await Promise.all([setting("sun", false), setting("view", undefined)]);
  effect(() => {
    document.documentElement.classList.toggle("sun", now.sun.value);
  });
  onPulled((ids) => {
    void act.listed();
    void act.changed(ids);
  });
  await act.listed();
  render(<Page />, document.getElementById("workspace")!);
  void worker();
  await sync();
  await act.listed();
  watch();
}

void begin();
