// The papers: sheets, cards and files of the pack, to open, keep and print. The server has them once it has the last change;
// without it this browser writes them, all but the workbook.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { Paper } from "../core/pack";
import { why } from "../keep/db";
import { needsServer, paper, papers, shownAs, there } from "../papers";
import * as now from "../state";
import { keep, looked, shown, toPrint } from "./viewer";

const told = signal("");

// The paper that is being made to be printed: a print has all of its pages or is none.
const making = signal<{ path: string; made: number; of: number } | undefined>(undefined);

async function print(path: string): Promise<void> {
  let mine = { path, made: 0, of: 0 };
  making.value = mine;
  const wanted = (made: number, of: number): boolean => {
    if (making.value !== mine) return false; // stopped
    making.value = mine = { path, made, of };
    return true;
  };
  try {
    const p = await toPrint(path, wanted);
    if (p && making.value === mine) shown.value = p;
  } finally {
    if (making.value === mine) making.value = undefined;
  }
}

export function Sheets() {
  const s = now.screen.value!;
  const [all, setAll] = useState<Paper[] | undefined>(undefined);
  const id = now.revision.value?.id;
  useEffect(() => setAll(undefined), [id]);
  const mine = s.sheets.filter((p) => p.stage === now.stage.value);
  const rest = s.sheets.filter((p) => p.stage !== now.stage.value);
  const known = new Set(s.sheets.map((p) => p.name));
  const list = (of: { name: string; about: string }[]) => <ul class="papers">{of.map((p) => <Row key={p.name} path={p.name} about={p.about} />)}</ul>;
  return (
    <details class="fold">
      <summary>Papers and files</summary>
      {!there() && <p>{now.reached.value ? "Until the last change has gone up, papers are written here." : "The server does not answer: papers are written here, all but the workbook."}</p>}
      {mine.length > 0 ? list(mine) : <p>No paper belongs to this stage alone.</p>}
      <details class="fold">
        <summary>of the other stages</summary>
        {list(rest)}
      </details>
      <details class="fold" onToggle={(e) => e.currentTarget.open && !all && void doing("Looking what there is.", async () => setAll(await papers()))}>
        <summary>every sheet and card by itself</summary>
        {all && list(all.filter((p) => !known.has(p.path) && !p.path.endsWith(".png")).map((p) => ({ name: p.path, about: p.about })))}
      </details>
    </details>
  );
}

/** openPaper writes a paper and shows it over the page. */
export function openPaper(path: string): void {
  void doing(`Writing ${path}.`, async () => {
    shown.value = await looked(path);
  });
}

/** Told says what is being written, or why it was not. */
export function Told() {
  return <p role="status" class="paper-told">{told.value}</p>;
}

function Row({ path, about }: { path: string; about: string }) {
  const off = needsServer(path) && !there();
  const m = making.value;
  const mine = m?.path === path;
  return (
    <li>
      <span><strong>{path}</strong> {about}</span>
      <span class="does">
        {shownAs(path) && <button type="button" disabled={off} onClick={() => openPaper(path)} aria-label={`open ${path}`}>open</button>}
        <button type="button" disabled={off} onClick={() => void doing(`Writing ${path}.`, async () => keep(path, await paper(path)))} aria-label={`save ${path}`}>
          {off ? "save: needs the server" : "save"}
        </button>
        {shownAs(path) === "pages" && <button type="button" disabled={off || m !== undefined} onClick={() => void doing("", () => print(path))} aria-label={`print ${path}`}>{mine ? "making pages" + (m.of ? `, ${m.made} of ${m.of}` : "") : "print"}</button>}
        {mine && <button type="button" onClick={() => (making.value = undefined)} aria-label={`stop making ${path}`}>stop</button>}
      </span>
    </li>
  );
}

/** doing says what is being done, and why it was not. */
export async function doing(what: string, task: () => Promise<void>): Promise<void> {
  told.value = what;
  try {
    await task();
    told.value = "";
  } catch (fault) {
    told.value = "It was not written: " + why(fault);
    requestAnimationFrame(() => document.querySelector(".paper-told")?.scrollIntoView({ block: "nearest" }));
  }
}
