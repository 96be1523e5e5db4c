// The papers: sheets, cards and files of the pack, to open, keep and print. The server has them once it has the last change;
// without it this browser writes them, all but the workbook.
import { signal } from "@preact/signals";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Paper } from "../core/pack";
import { why } from "../keep/db";
import { needsServer, paper, papers, shownAs, there } from "../papers";
import * as now from "../state";

/** shown is the paper that is being looked at. */
const shown = signal<{ path: string; blob: Blob; print: boolean } | undefined>(undefined);
const told = signal("");

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
    shown.value = { path, blob: await paper(path), print: false };
  });
}

/** Told says what is being written, or why it was not. */
export function Told() {
  return <p role="status" class="paper-told">{told.value}</p>;
}

function Row({ path, about }: { path: string; about: string }) {
  const off = needsServer(path) && !there();
  const look = (print: boolean) => void doing(`Writing ${path}.`, async () => {
    shown.value = { path, blob: await paper(path), print };
  });
  return (
    <li>
      <span><strong>{path}</strong> {about}</span>
      <span class="does">
        {shownAs(path) && <button type="button" disabled={off} onClick={() => look(false)} aria-label={`open ${path}`}>open</button>}
        <button type="button" disabled={off} onClick={() => void doing(`Writing ${path}.`, async () => keep(path, await paper(path)))} aria-label={`save ${path}`}>
          {off ? "save: needs the server" : "save"}
        </button>
        {shownAs(path) === "pages" && <button type="button" disabled={off} onClick={() => look(true)} aria-label={`print ${path}`}>print</button>}
      </span>
    </li>
  );
}

async function doing(what: string, task: () => Promise<void>): Promise<void> {
  told.value = what;
  try {
    await task();
    told.value = "";
  } catch (fault) {
    told.value = "It was not written: " + why(fault);
  }
}

function keep(path: string, blob: Blob): void {
  const a = document.createElement("a");
  a.href = URL.createObjectURL(blob);
  a.download = path.slice(path.lastIndexOf("/") + 1);
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 60_000);
}

// A paper over the page. Pages stand in a frame of their own, so that they are printed as they are.
export function Viewer() {
  const p = shown.value;
  const at = useRef<HTMLDialogElement>(null);
  const frame = useRef<HTMLIFrameElement>(null);
  const url = useMemo(() => (p ? URL.createObjectURL(p.blob) : ""), [p]);
  const [text, setText] = useState("");
  useEffect(() => {
    if (!p) return;
    setText("");
    if (shownAs(p.path) === "text") void p.blob.text().then((t) => setText(t.length > most ? t.slice(0, most) + "\n…" : t));
    if (!at.current!.open) at.current!.showModal();
    return () => URL.revokeObjectURL(url);
  }, [p]);
  if (!p) return null;
  const as = shownAs(p.path);
  // It is told late, and by then another paper may be open.
  const closed = (): void => {
    if (shown.value === p && !at.current?.open) shown.value = undefined;
  };
  const print = (): void => {
    try {
      frame.current!.contentWindow!.focus();
      frame.current!.contentWindow!.print();
    } catch {
      told.value = "This browser does not print from here: save the paper and print it from there.";
    }
  };
  return (
    <dialog ref={at} class="viewer" aria-label={p.path} onClose={closed}>
      <div class="tools">
        <strong>{p.path}</strong>
        {as === "pages" && <button type="button" onClick={print}>print</button>}
        <button type="button" onClick={() => keep(p.path, p.blob)}>save</button>
        <button type="button" onClick={() => (at.current!.close(), (shown.value = undefined))}>close</button>
      </div>
      {as === "text" && <pre tabIndex={0}>{text}</pre>}
      {as === "picture" && <div class="picture" tabIndex={0}><img src={url} alt={p.path} /></div>}
      {as === "pages" && <iframe ref={frame} src={url} title={p.path} onLoad={() => p.print && print()} />}
    </dialog>
  );
}

const most = 200_000; // letters of a file that are shown
