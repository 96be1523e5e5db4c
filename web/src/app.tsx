// The page: which screen is shown, and what the page stands on: kept jobs, the core, the server where there is one.
import "./faults";
import { render } from "preact";
import { useEffect } from "preact/hooks";
import { effect, signal } from "@preact/signals";
import * as act from "./actions";
import { onPaper } from "./draw/onpaper";
import { setting, why } from "./keep/db";
import { one } from "./keep/pull";
import { counted, onPulled, sync, watch } from "./keep/sync";
import { Refused } from "./net/api";
import { Desk } from "./parts/desk";
import { Devices, LetIn } from "./parts/devices";
import { Jobs } from "./parts/jobs";
import type { StageID } from "./state";
import * as now from "./state";
import { useDrops } from "./parts/bring";
import { judge, worker } from "./worker-of-pages";

const path = signal(location.pathname);
const missing = signal("");

/** go shows another screen; its address can be kept and opened again. */
export function go(to: string): void {
  const open = now.job.value && to.startsWith("/jobs/" + encodeURIComponent(now.job.value.id) + "/");
  history.pushState(null, "", open ? to + mark(now.selected.value) : to);
  path.value = to;
}
addEventListener("popstate", () => {
  path.value = location.pathname;
  if (now.screen.value && selectedHere() !== now.selected.value) void act.select(selectedHere());
});

// What is selected stands behind the address, so that a thing can be passed on: /jobs/tram-depot/route#crossing/B/B-x1
const mark = (key: string): string => (key ? "#" + encodeURI(key) : "");
const selectedHere = (): string => decodeURI(location.hash.slice(1));
effect(() => {
  const key = now.selected.value;
  if (!key && now.sought.value) return; // what the address names is on its way
  if (now.screen.value && key !== selectedHere()) history.replaceState(null, "", location.pathname + mark(key));
});

onPaper();

function Page() {
  const [, jobs, id, stage] = path.value.split("/");
  const job = jobs === "jobs" && id ? decodeURIComponent(id) : "";
  useEffect(() => {
    if (stage) now.stage.value = stage as StageID;
  }, [stage]);
  useEffect(() => {
    if (!job) isThere();
    if (!job || now.job.value?.id === job) return;
    missing.value = "";
    void opened(job);
  }, [job]);
  useDrops(go);
  if (jobs === "devices") return <Devices go={go} />;
  if (jobs === "let-in") return <LetIn go={go} />;
  if (!job && !missing.value) return <Jobs go={go} />;
  if (missing.value) {
    return (
      <main class="waiting">
        <p role="alert">{missing.value}</p>
        <button type="button" onClick={() => ((missing.value = ""), go("/"))}>all jobs</button>
      </main>
    );
  }
  return <Desk go={go} />;
}

// What the address asks for comes first: everything else is fetched when it is there, or after a while.
let isThere!: () => void;
const there = new Promise<void>((done) => (isThere = done));
const waits = 1500; // ms

async function opened(job: string): Promise<void> {
  const key = selectedHere();
  let where = "here, and no server answers";
  now.sought.value = key;
  try {
    await act.open(job).catch(async (fault) => {
      if (!(fault instanceof act.NotKept)) throw fault;
      await one(job).catch((no) => { // it may be one that this browser has never seen
        if (no instanceof Refused && no.status !== 404) throw no;
        if (no instanceof Refused) where = "here or on the server";
        throw fault;
      });
      await act.open(job);
    });
    isThere();
    if (key) await act.select(key);
    await judge();
  } catch (fault) {
    missing.value = fault instanceof act.NotKept ? `There is no job ${job} ${where}.` : why(fault);
    isThere();
  }
}

function shown(): void {
  const at = document.getElementById("workspace")!;
  at.replaceChildren();
  render(<Page />, at);
}

async function begin(): Promise<void> {
  [now.sun.value, now.view.value] = await Promise.all([setting("sun", false), setting("view", undefined)]);
  effect(() => {
    document.documentElement.classList.toggle("sun", now.sun.value);
  });
  onPulled((ids) => {
    void act.changed(ids);
    return act.listed();
  });
  await Promise.all([act.listed(), counted()]);
  shown();
  await Promise.race([there, new Promise((later) => setTimeout(later, waits))]);
  await new Promise((later) => setTimeout(later, 50)); // the picture
  void worker().catch((fault) => (now.trouble.value = { text: "This browser keeps no page for when there is no signal: " + why(fault) }));
  await sync();
  await act.listed();
  watch();
  await judge();
}

begin().catch((fault) => {
  const name = fault instanceof DOMException ? ` (${fault.name})` : "";
  missing.value = name
    ? `This browser does not let the page keep anything${name}. Try: load the page again; if it says the same, what is kept here is damaged: clear what this browser keeps for this address, and what the server has comes back.`
    : "This browser does not let the page keep anything: " + why(fault);
  shown();
});
