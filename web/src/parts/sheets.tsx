// The papers: sheets, cards and files of the pack, to open, keep and print. The server has them once it has the last change;
// without it this browser writes them, all but the workbook.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { Paper } from "../core/pack";
import { why } from "../keep/db";
import { all as everyPaper, choose, needsServer, shownAs, there } from "../papers";
import type { Screen } from "../screen";
import { chainage, legAt, site } from "../site";
import * as now from "../state";
import { looked, saved, shown, toPrint, type Part } from "./viewer";

/** papers are the words on the fold that holds them. */
export const papers = "Print, papers and files";

const told = signal("");

// The paper that is being made to be printed: a print has all of its pages or is none.
const making = signal<{ path: string; made: number; of: number } | undefined>(undefined);

// What the sheets show, each printed by itself, under the stage where it is asked for most.
interface Subject extends Part {
  stage: now.StageID;
  table?: string; // without it there is no such sheet
}
const subjects: Subject[] = [
  { of: "strip", say: "the strip", stage: "route" }, { of: "plan", say: "the plan", stage: "route" }, { of: "section", say: "long section", stage: "route", table: "set-out" },
  { of: "cut", say: "cutting list", stage: "order", table: "cutting" }, { of: "bill", say: "what to buy", stage: "order", table: "bill" },
  { of: "digsheet", say: "dig sheet", stage: "dig", table: "dig" }, { of: "across", say: "cross sections", stage: "dig", table: "dig" }, { of: "section", say: "long section", stage: "bed", table: "set-out" },
  { of: "schedule", say: "schedule in laying order", stage: "set", table: "schedule" }, { of: "setout", say: "setting out", stage: "set", table: "set-out" },
  { of: "checks", say: "checks with their working", stage: "set", table: "checks" }, { of: "checks", say: "checks with their working", stage: "cables", table: "checks" },
  { of: "strip", say: "the strip", stage: "cover" }, { of: "findings", say: "findings", stage: "handover" },
];

// Papers of one place, one day or one number, with what has to be said for them. The place is what is selected, or where the peg stands.
interface Choosing {
  kind: string;
  say: string;
  about: string;
  stage: now.StageID;
  of: "place" | "day" | "number";
  asks?: { name: string; label: string; date?: true }[]; // what may be said besides, and is left blank otherwise
}
const chosen: Choosing[] = [
  { kind: "question", say: "request for information", about: "one matter at one place, with what is known there", stage: "route", of: "place",
    asks: [{ name: "number", label: "its number" }, { name: "ask", label: "what is asked" }, { name: "by", label: "answer wanted by", date: true }] },
  { kind: "open-end", say: "make the open end good", about: "where the work stops: what is closed, marked, drained and looked after", stage: "set", of: "place" },
  { kind: "day", say: "daily report", about: "one day by its records", stage: "handover", of: "day", asks: [{ name: "day", label: "day", date: true }] },
  { kind: "nonconformance", say: "nonconformance", about: "one matter by its records, with its decision and repair", stage: "handover", of: "number", asks: [{ name: "number", label: "its number" }] },
];

// The place that a paper is of: as the core finds it, and as it is said here.
function placeHere(s: Screen): { place: string; leg: string; said: string } {
  const [kind, ...rest] = now.selected.value.split("/");
  if (kind === "unit" || kind === "joint") return { place: rest.join("/"), leg: "", said: rest.join("/") };
  if (kind === "cover") return { place: rest[0]!.split(".")[0]!, leg: "", said: rest[0]!.split(".")[0]! };
  const leg = legAt(s);
  const place = chainage(s, Math.max(0, now.here.value - (s.legs.find((l) => l.id === leg)?.from ?? 0)));
  return { place, leg, said: `leg ${leg}, ${place}` };
}

const today = (): string => {
  const d = new Date();
  return [d.getFullYear(), d.getMonth() + 1, d.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
};

function Chosen({ k }: { k: Choosing }) {
  const [fields, put] = useState<Record<string, string>>(k.of === "day" ? { day: today() } : {});
  const at = k.of === "place" ? placeHere(now.screen.value!) : undefined;
  const ready = at !== undefined || !!fields[k.of]?.trim();
  const said = Object.fromEntries(Object.entries(fields).map(([name, is]) => [name, is.trim()]));
  const made = (): string => choose({ kind: k.kind, leg: at?.leg ?? "", fields: at ? { ...said, place: at.place } : said });
  const does = (what: string, task: () => Promise<void>) => (
    <button type="button" disabled={!ready || making.value !== undefined} onClick={() => void doing(`Writing ${k.say}.`, task)} aria-label={`${what} ${k.say}`}>{what}</button>
  );
  return (
    <li class="chosen">
      <span><strong>{k.say}</strong> {at ? `at ${at.said}; ` : ""}{k.about}</span>
      {k.asks && (
        <span class="asks">
          {k.asks.map((x) => {
            const is = { value: fields[x.name] ?? "", onInput: (e: { currentTarget: HTMLInputElement }) => put({ ...fields, [x.name]: e.currentTarget.value }) };
            return <label key={x.name}>{x.label} {x.date ? <input type="date" {...is} /> : <input type="text" {...is} />}</label>;
          })}
        </span>
      )}
      <span class="does">
        {does("open", async () => void (shown.value = await looked(made())))}
        {does("save", () => saved(made()))}
        {does("print", () => print(made()))}
      </span>
    </li>
  );
}

async function print(path: string, part?: Part): Promise<void> {
  let mine = { path: part?.say ?? path, made: 0, of: 0 };
  making.value = mine;
  const wanted = (made: number, of: number): boolean => {
    if (making.value !== mine) return false; // stopped
    making.value = mine = { ...mine, made, of };
    return true;
  };
  try {
    const p = await toPrint(path, part, wanted);
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
  const have = new Set(s.tables.map((t) => t.name));
  const parts = s.sheets.length > 0 ? subjects.filter((p) => p.stage === now.stage.value && (!p.table || have.has(p.table))) : [];
  const known = new Set(s.sheets.map((p) => p.name));
  const list = (of: { name: string; about: string; kind?: string }[]) => <ul class="papers">{of.map((p) => <Row key={p.name} path={p.name} about={p.about} kind={p.kind} />)}</ul>;
  return (
    <details class="fold">
      <summary>{papers}</summary>
      {!there() && <p>{now.reached.value ? "Until the last change has gone up, papers are written here." : "The server does not answer: papers are written here, all but the workbook."}</p>}
      {parts.length > 0 && <ul class="papers">{parts.map((p) => <Row key={p.of} path="sheets-A3.pdf" part={p} about="on A3" />)}</ul>}
      {s.tables.length > 0 && chosen.some((k) => k.stage === now.stage.value) && <ul class="papers">{chosen.filter((k) => k.stage === now.stage.value).map((k) => <Chosen key={k.kind} k={k} />)}</ul>}
      {mine.length > 0 ? list(mine) : <p>No paper belongs to this stage alone.</p>}
      <details class="fold">
        <summary>of the other stages</summary>
        {list(rest)}
      </details>
      <details class="fold" onToggle={(e) => e.currentTarget.open && !all && void doing("Looking what there is.", async () => setAll(await everyPaper()))}>
        <summary>every sheet and card by itself</summary>
        {all && list(all.filter((p) => !known.has(p.path) && !p.path.endsWith(".png")).map((p) => ({ name: p.path, about: p.about })))}
      </details>
    </details>
  );
}

/** openPaper writes a paper and shows it over the page. */
export function openPaper(path: string, part?: Part): void {
  void doing(`Writing ${part?.say ?? path}.`, async () => {
    shown.value = await looked(path, part);
  });
}

/** Told says what is being written, or why it was not. */
export function Told() {
  return <p role="status" class="paper-told">{told.value}</p>;
}

function Row({ path, part, about, kind }: { path: string; part?: Part; about: string; kind?: string | undefined }) {
  const records = kind ? site.value?.records ?? 0 : 0; // that its papers are made from: this browser has them
  const wanted = (): string => (kind && records > 0 ? choose({ kind, leg: "", fields: {} }, path) : path);
  const name = part?.say ?? path;
  const off = needsServer(path) && !there();
  const m = making.value;
  const mine = m?.path === name;
  return (
    <li class={part && "part"}>
      <span><strong>{name}</strong> {about}{records > 0 && "; with the records of the site"}</span>
      <span class="does">
        {shownAs(path) && <button type="button" disabled={off} onClick={() => openPaper(wanted(), part)} aria-label={`open ${name}`}>open</button>}
        {!part && (
          <button type="button" disabled={off} onClick={() => void doing(`Writing ${path}.`, () => saved(wanted()))} aria-label={`save ${path}`}>
            {off ? "save: needs the server" : "save"}
          </button>
        )}
        {/\.(pdf|svg)$/.test(path) && <button type="button" disabled={off || m !== undefined} onClick={() => void doing("", () => print(wanted(), part))} aria-label={`print ${name}`}>{mine ? "making pages" + (m.of ? `, ${m.made} of ${m.of}` : "") : "print"}</button>}
        {mine && <button type="button" onClick={() => (making.value = undefined)} aria-label={`stop making ${name}`}>stop</button>}
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
