// A paper over the page. Its pages are pictures, so that every browser shows them, and what is printed is these pages and nothing
// else, each on a page of its own size: by the button here as by the browser's own way to print.
import { signal } from "@preact/signals";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { why } from "../keep/db";
import * as now from "../state";
import { fileName } from "../states";
import { keepAs } from "./files";
import { addressOf, drawnOn, onlyHere, pageOf, pagesOf, paper, shownAs, there, type Page } from "../papers";

interface Looked {
  path: string;
  part?: Part | undefined; // of the paper, where not all of it is meant
  print: boolean; // as soon as it is there
  pages?: Page[];
  numbers?: number[]; // of its pages, the first of the paper being 1
  blob?: Blob; // of what has no pages
  all?: Blob[]; // its pages, where they were made before it was opened
}

/** shown is the paper that is being looked at. */
export const shown = signal<Looked | undefined>(undefined);

/** Part are the pages of a paper that show one thing, by the beginning of their names. */
export interface Part {
  of: string;
  say: string;
}

async function paged(path: string, part: Part | undefined): Promise<{ pages: Page[]; numbers: number[] }> {
  const all = await pagesOf(path);
  const numbers = all.map((_, i) => i + 1).filter((n) => !part || all[n - 1]!.name.replace(/-\d+$/, "") === part.of);
  if (numbers.length === 0) throw new Error(`this run has no sheet of that: ${part!.say}`);
  return { pages: numbers.map((n) => all[n - 1]!), numbers };
}

/** looked is a paper to be looked at: its pages come one after the other. A single sheet is a paper of one page. */
export async function looked(path: string, part?: Part): Promise<Looked> {
  if (shownAs(path) === "pages") return { path, part, print: false, ...(await paged(path, part)) };
  const blob = await paper(path);
  const page = path.endsWith(".svg") ? await drawnOn(path, blob) : undefined;
  return page ? { path, print: false, pages: [page], all: [blob] } : { path, print: false, blob };
}

/** toPrint is a paper with every page made; made says how many are there, and may say that nobody waits for them any more. */
export async function toPrint(path: string, part: Part | undefined, made: (n: number, of: number) => boolean): Promise<Looked | undefined> {
  if (shownAs(path) !== "pages") return { ...(await looked(path)), print: true };
  const id = now.revision.value?.id;
  const { pages, numbers } = await paged(path, part);
  const all: Blob[] = [];
  while (made(all.length, pages.length)) {
    if (now.revision.value?.id !== id) throw new Error("the run was changed while its pages were made. Try: print again");
    if (all.length === pages.length) return { path, part, print: true, pages, numbers, all };
    all.push(await pageOf(path, numbers[all.length]!));
  }
  return undefined;
}

/** saved gives a paper to the person as a file. */
export async function saved(path: string): Promise<void> {
  const [name, b] = await Promise.all([fileName(path), paper(path)]);
  keepAs(name, b);
}

// The pictures of a paper, one after the other, each as an address that lasts as long as the paper is looked at.
function usePictures(p: Looked | undefined): [urls: string[], trouble: string] {
  const [have, set] = useState<{ of?: Looked; urls: string[] }>({ urls: [] });
  const [trouble, say] = useState("");
  useEffect(() => {
    if (!p) return;
    const mine: string[] = [];
    let over = false;
    say("");
    const add = (b: Blob): void => {
      mine.push(URL.createObjectURL(b));
      set({ of: p, urls: [...mine] });
    };
    const all = async (): Promise<void> => {
      if (p.blob && shownAs(p.path) === "picture") add(p.blob);
      if (p.all) p.all.forEach(add);
      for (let n = 1 + (p.all?.length ?? 0); n <= (p.pages?.length ?? 0) && !over; n++) {
        const b = await pageOf(p.path, p.numbers![n - 1]!);
        if (!over) add(b);
      }
    };
    all().catch((fault: unknown) => !over && say("Not every page was written: " + why(fault)));
    return () => {
      over = true;
      for (const u of mine) URL.revokeObjectURL(u);
    };
  }, [p]);
  return [have.of === p ? have.urls : [], trouble]; // those of the paper before are gone
}

const most = 200_000; // letters of a file that are shown

export function Viewer() {
  const p = shown.value;
  const at = useRef<HTMLDialogElement>(null);
  const [urls, trouble] = usePictures(p);
  const [text, setText] = useState("");
  const [drawn, setDrawn] = useState(0); // pictures on paper that are there
  useEffect(() => {
    if (!p) return;
    setText("");
    setDrawn(0);
    if (p.blob && shownAs(p.path) === "text") void p.blob.text().then((t) => setText(t.length > most ? t.slice(0, most) + "\n…" : t));
    if (!at.current!.open) at.current!.showModal();
  }, [p]);
  const of = p?.pages?.length ?? (p && shownAs(p.path) === "picture" ? 1 : 0);
  const ready = drawn >= of && (of > 0 || text !== "");
  useEffect(() => {
    if (ready && p?.print) print();
  }, [ready]);
  if (!p) return null;
  // It is told late, and by then another paper may be open.
  const closed = (): void => {
    if (shown.value === p && !at.current?.open) shown.value = undefined;
  };
  return (
    <>
      <dialog ref={at} class="viewer" aria-label={p.path} onClose={closed}>
        <div class="tools">
          <strong>{p.part?.say ?? (p.path.endsWith(".svg") && p.pages?.[0]?.title || p.path)}</strong>
          <button type="button" disabled={!ready} onClick={() => print()}>{ready || trouble || !p.pages ? "print" : `making pages, ${drawn} of ${of}`}</button>
          {!p.part && <button type="button" onClick={() => void saved(p.path)}>save</button>}
          {!p.part && shownAs(p.path) === "pages" && <OwnTab path={p.path} />}
          <button type="button" onClick={() => (at.current!.close(), (shown.value = undefined))}>close</button>
          <span role="status">{trouble || (drawn < of ? "to be printed when every page is there" : p.pages && printing(p.pages, shownAs(p.path) === "pages"))}</span>
        </div>
        {shownAs(p.path) === "text" ? <pre tabIndex={0}>{text}</pre> : (
          <div class="picture" tabIndex={0}>
            {urls.map((u, i) => <img key={u} src={u} alt={p.pages?.[i]?.title ?? p.path} />)}
          </div>
        )}
      </dialog>
      <div class={"on-paper" + (sized ? " sized" : "") + (drawn < of ? " making" : "")} aria-hidden="true">
        {shownAs(p.path) === "text" ? <pre>{text}</pre> : urls.map((u, i) => <div key={u} class={"leaf " + (sizeOf(p.pages?.[i])?.toLowerCase().replace(" ", "-") ?? "")}><img src={u} alt="" onLoad={() => setDrawn((n) => n + 1)} /></div>)}
        {drawn < of && <p>Not printed: only {drawn} of {of} pages of {p.path} were made yet. Wait until all are there, and print again.</p>}
      </div>
    </>
  );
}

// The document itself, in a tab of its own, as far as the browser shows such documents; from there it is printed by what shows it.
function OwnTab({ path }: { path: string }) {
  const [url, setUrl] = useState(there() && !onlyHere(path) ? addressOf(path) : "");
  const made = useMemo(() => ({ url: "" }), [path]);
  useEffect(() => () => URL.revokeObjectURL(made.url), [made]);
  if (url) return <a class="button" href={url} target="_blank" rel="noopener">the PDF in a tab of its own</a>;
  return (
    <button type="button" onClick={() => void paper(path).then((b) => setUrl((made.url = URL.createObjectURL(b))))}>write the PDF</button>
  );
}

// The sizes that the sheets have (ISO 216), by their long and short side in mm; style.css has a page of each.
const sizes: Record<string, string> = { "841 594": "A1", "420 297": "A3", "297 210": "A4", "210 297": "A4 upright", "148 105": "A6" };

const sizeOf = (p: Page | undefined): string | undefined => p && sizes[`${p.width_mm} ${p.height_mm}`];

// Whether this browser takes the size of each page from the page. There is no way to ask that; browsers that do know this rule too.
const sized = "CSSMarginRule" in globalThis;

// What whoever prints has to know.
function printing(pages: Page[], document: boolean): string {
  const papers = [...new Set(pages.map((p) => sizeOf(p) ?? "its own size"))].join(" and ");
  const many = `${pages.length} ${pages.length === 1 ? "page" : "pages"} of ${papers}`;
  if (sized) return many;
  return `${many}: choose that paper, on the side that they have. From here they are printed a little smaller than they are; for true scale print ${document ? "the PDF itself" : "the PDF that it is in"}.`;
}
