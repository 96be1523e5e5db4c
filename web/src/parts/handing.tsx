// What is handed over of the run, or of a part of it: the server makes it of the records that it has, and it goes to the person as one
// file. What is not in it is said beside it.
import { useState } from "preact/hooks";
import { asDevice, making } from "../net/api";
import { device, records } from "../keep/fieldbook";
import { fieldsync } from "../keep/fieldsync";
import { photos } from "../keep/photos";
import { sha256 } from "../keep/sha256";
import { sync } from "../keep/sync";
import { moment } from "../site";
import * as now from "../state";
import { keepAs } from "./files";

/** handing is the word on the fold. */
export const handing = "The dossier, to hand over";

const stretch = " "; // no leg is called so

interface Made {
  name: string;
  file: Blob;
  sum: string; // SHA-256; empty: it was not worked out here
  records: number;
  gaps: number;
  photos: number; // that are not in it
}

const many = (n: number, one: string, more: string): string => `${n.toLocaleString("en").replace(/,/g, " ")} ${n === 1 ? one : more}`;
const size = (bytes: number): string => (bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`);

// Why no dossier can be made at this moment; empty: it can be.
function undone(): string {
  if (!now.tried.value) return "The server has not answered yet.";
  if (!now.reached.value) return "The server makes it, and it does not answer. Without it: save the job as a file, and trenchwright dossier FILE -o DIR makes it of that.";
  if (now.unsent.value > 0) return `${many(now.unsent.value, "change of the plan has", "changes of the plan have")} not gone up yet, and what is handed over is of the plan that the server has.`;
  return "";
}

// What was recorded here and is not at the server: it is not in the dossier.
function notSent(): string {
  const list = [records.value.unsent > 0 && many(records.value.unsent, "record", "records"), photos.value.unsent > 0 && many(photos.value.unsent, "photo", "photos")].filter(Boolean);
  return list.length === 0 ? "" : `${list.join(" and ")} on this device did not go up, and are not in it.`;
}

export function Handing() {
  const s = now.screen.value!;
  const [first, last] = [s.units.mark[2] ?? "A-003", s.units.mark[5] ?? "A-006"]; // as examples
  const [of, setOf] = useState(""); // a leg, or a stretch; empty: the run
  const [from, setFrom] = useState("");
  const [to, setTo] = useState("");
  const [until, setUntil] = useState("");
  const [said, say] = useState("");
  const [busy, setBusy] = useState(false);
  const [made, setMade] = useState<Made>();
  const make = async (): Promise<void> => {
    setMade(undefined);
    if (of === stretch && !(from.trim() && to.trim())) return say(`Not made: say from which place to which, such as ${first} to ${last}.`);
    setBusy(true);
    say("What is here goes up first.");
    try {
      await sync();
      await fieldsync();
      const not = undone();
      if (not) return say("Not made: " + not);
      say("The server makes it.");
      const q = new URLSearchParams();
      if (of === stretch) for (const [name, text] of [["from", from], ["to", to]] as const) q.set(name, text.trim());
      else if (of) q.set("leg", of);
      if (until.trim()) q.set("until", until.trim());
      else q.set("now", moment());
      const { token } = await device();
      const r = await asDevice(`/revisions/${now.revision.value!.id}/dossier?${q}`, token, {}, making);
      const file = await r.blob();
      const name = /filename="?([^";]+)/.exec(r.headers.get("content-disposition") ?? "")?.[1] ?? "dossier.zip";
      const count = (head: string): number => Number(r.headers.get(head) ?? 0);
      const sum = await file.arrayBuffer().then((b) => sha256(new Uint8Array(b))).catch(() => "");
      setMade({ name, file, sum, records: count("records"), gaps: count("gaps"), photos: count("photos-missing") });
      say("");
      keepAs(name, file);
    } catch (e) {
      say("Not made: " + (e as Error).message);
    } finally {
      setBusy(false);
    }
  };
  return (
    <details class="fold handing">
      <summary>{handing}</summary>
      <p>What was recorded, beside what was planned: a document that begins with the gaps in the evidence, and with it every table, point, record and photo. It is one file, and proves that nothing in it changed.</p>
      <form class="putform" noValidate onSubmit={(e) => (e.preventDefault(), void make())}>
        <label>of <select value={of} onChange={(e) => setOf(e.currentTarget.value)}>
          <option value="">the whole run</option>
          {s.legs.map((l) => <option key={l.id} value={l.id}>leg {l.id}</option>)}
          <option value={stretch}>a stretch of one leg</option>
        </select></label>
        {of === stretch && <label>from <input value={from} placeholder={"like " + first} autocomplete="off" onInput={(e) => setFrom(e.currentTarget.value)} /></label>}
        {of === stretch && <label>to <input value={to} placeholder={"like " + last} autocomplete="off" onInput={(e) => setTo(e.currentTarget.value)} /></label>}
        <label>as it stood on a day, or at a record's number <input value={until} placeholder="now" autocomplete="off" onInput={(e) => setUntil(e.currentTarget.value)} /></label>
        <button type="submit" disabled={busy}>make the dossier</button>
        {undone() && <p class="note">{undone()}</p>}
      </form>
      {said && <p role="status">{said}</p>}
      {made && (
        <section class="handed" aria-label="what was made">
          <p role="status">
            <strong>{made.name}</strong>, {size(made.file.size)}: {many(made.records, "record", "records")}, {many(made.gaps, "line", "lines")} in gaps and open matters.
            {made.photos > 0 && ` ${many(made.photos, "photo that records name is", "photos that records name are")} not at the server, and not in it.`}
          </p>
          {notSent() && <p class="not-checked">{notSent()}</p>}
          {made.sum ? <p>SHA-256 of this file, to be written down where it is handed over: <code>{made.sum}</code></p> : <p class="not-checked">NOT CHECKED: no sum of this file was worked out here. Ask: sha256sum of the saved file.</p>}
          <p class="note">Whoever has it proves it with: trenchwright dossier --verify {made.name}</p>
          <button type="button" onClick={() => keepAs(made.name, made.file)}>save it once more</button>
        </section>
      )}
    </details>
  );
}
