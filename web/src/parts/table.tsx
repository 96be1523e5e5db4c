// A table of thousands of rows: only those in view are in the page. Sort by a head, search, select a row, copy, keep as CSV.
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { about, select } from "../actions";
import type { Table } from "../screen";
import * as now from "../state";
import { fileName } from "../states";
import { keepAs } from "./files";

const heights = { wide: 36, narrow: 48 }; // CSS pixels of a row; the style sheet has the same
const heightNow = (): number => (matchMedia("(max-width: 699px)").matches ? heights.narrow : heights.wide);

export function TableView({ name }: { name: string }) {
  const [table, setTable] = useState<(Table & { of?: string | undefined }) | undefined>(undefined);
  const [fault, setFault] = useState("");
  const hash = now.screen.value?.hash;
  const view = now.view.value;
  const well = !now.trouble.value; // what was not told for a trouble is asked for again after it
  useEffect(() => {
    let current = true;
    if (hash) about<Table>("table", { name }).then(
      (t) => current && (setTable({ ...t, of: hash }), setFault("")),
      (e: Error) => current && setFault(e.message),
    );
    return () => {
      current = false;
    };
  }, [name, hash, view, well]);
  if (fault) return <p class="waiting" role="alert">{fault}</p>;
  if (!table) return <p class="waiting">The table is being made.</p>;
  return <Rows table={table} old={now.before.value || table.of !== hash} />;
}

// Files of record have the job's own system; what is saved in a view of the other one says so by its name, and in its heads.
function shownOtherwise(): boolean {
  const job = now.screen.value?.job;
  return job !== undefined && job.own.system !== job.system;
}

interface Order {
  column: number;
  down: boolean;
}

function Rows({ table, old }: { table: Table; old: boolean }) {
  const [order, setOrder] = useState<Order | undefined>(undefined);
  const [search, setSearch] = useState("");
  const [top, setTop] = useState(0);
  const [height, setHeight] = useState(400);
  const [rowHeight, setRowHeight] = useState(heightNow);
  const [room, setRoom] = useState(0);
  const [beyond, setBeyond] = useState(0);
  const at = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const sizes = new ResizeObserver(() => at.current && (setHeight(at.current.clientHeight), setRowHeight(heightNow()), setRoom(at.current.clientWidth)));
    sizes.observe(at.current!);
    return () => sizes.disconnect();
  }, []);
  const wide = useRef<HTMLTableElement>(null);
  useLayoutEffect(() => setBeyond(widen(wide.current!, table, at.current!.clientWidth)), [table, room]);
  const rows = useMemo(() => arranged(table, order, search), [table, order, search]);
  const first = Math.max(0, Math.floor(top / rowHeight) - 6);
  const last = Math.min(rows.length, first + Math.ceil(height / rowHeight) + 12);
  const namedBy = useMemo(() => naming(table), [table]);
  const column = (c: number): string => (table.columns[c]!.numeric ? "number" : "") + (c === namedBy ? " name" : "");
  return (
    <div class="table">
      <div class="tools">
        <label>
          search <input type="search" value={search} onInput={(e) => setSearch(e.currentTarget.value)} />
        </label>
        <span class="counts">
          <span role="status">{rows.length === table.rows ? `${table.rows} rows` : `${rows.length} of ${table.rows} rows`}{old && ", of the plan before the change"}</span>
          {beyond > 0 && <span class="beyond">{beyond === 1 ? "1 more column" : `${beyond} more columns`} →</span>}
        </span>
        <button type="button" onClick={() => void navigator.clipboard?.writeText(lines(table, rows, "\t"))}>copy</button>
        <button type="button" onClick={() => void fileName(table.name + (shownOtherwise() ? "-as-shown" : "") + ".csv").then((name) => keepAs(name, new Blob([lines(table, rows, ",")], { type: "text/csv;charset=utf-8" })))}>save as CSV</button>
      </div>
      <div class="rows" ref={at} tabIndex={0} role="region" aria-label={table.title} onScroll={(e) => setTop(e.currentTarget.scrollTop - (e.currentTarget.scrollTop % rowHeight))}>
        <table aria-rowcount={rows.length + 1} ref={wide}>
          <colgroup>{table.columns.map((c) => <col key={c.key} />)}</colgroup>
          <thead>
            <tr aria-rowindex={1}>
              {table.columns.map((c, i) => (
                <th key={c.key} scope="col" class={column(i)} aria-sort={order?.column === i ? (order.down ? "descending" : "ascending") : "none"}>
                  <button type="button" onClick={() => setOrder(order?.column === i ? (order.down ? undefined : { column: i, down: true }) : { column: i, down: false })}>
                    {c.head}
                    {order?.column === i ? (order.down ? " ↓" : " ↑") : ""}
                  </button>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            <Space high={first * rowHeight} wide={table.columns.length} />
            {rows.slice(first, last).map((r, k) => (
              <Row key={r} table={table} row={r} index={first + k + 2} column={column} />
            ))}
            <Space high={(rows.length - last) * rowHeight} wide={table.columns.length} />
          </tbody>
        </table>
      </div>
      {(table.notes ?? []).map((n) => <p key={n} class="note">{n}</p>)}
    </div>
  );
}

// Columns are as wide as their longest text, known before the rows are there: otherwise a browser would measure all of them again
// with every row that comes, and columns would jump. Where not all of them fit, those that do share the room, so that none is cut:
// it says how many there are beyond.
function widen(at: HTMLTableElement, t: Table, room: number): number {
  const widths = measured.get(t) ?? measure(at, t);
  measured.set(t, widths);
  let fit = 0;
  let sum = 0;
  while (fit < widths.length && sum + widths[fit]! <= room) sum += widths[fit++]!;
  const more = fit > 0 && fit < widths.length ? (room - sum) / fit : 0;
  at.querySelectorAll("col").forEach((c, i) => (c.style.width = widths[i]! + (i < fit ? more : 0) + "px"));
  at.style.minWidth = widths.reduce((a, b) => a + b, more * fit) + "px";
  return widths.length - fit;
}

const measured = new WeakMap<Table, number[]>();

function measure(at: HTMLTableElement, t: Table): number[] {
  const g = new OffscreenCanvas(1, 1).getContext("2d")!;
  const { fontSize, fontFamily } = getComputedStyle(at);
  g.font = `700 ${fontSize} ${fontFamily}`;
  return t.columns.map((c) => {
    const longest = c.texts.reduce((a, b) => (b.length > a.length ? b : a), "");
    const word = c.head.split(" ").reduce((a, b) => (b.length > a.length ? b : a), "") + " ↓";
    return Math.ceil(Math.max(84, g.measureText(longest).width * 1.04 + 18, g.measureText(word).width + 18));
  });
}

// The column that says which thing a row is of stays in view where a table is wider than the page.
function naming(t: Table): number {
  const row = (t.keys ?? []).findIndex((k) => k !== "");
  return row < 0 ? 0 : Math.max(0, t.columns.findIndex((c) => callings(t.keys![row]!).includes(c.texts[row]!)));
}

// What tables call a thing by its key: unit/A-001 is A-001, service/D/D-w1 is D-w1.
const callings = (key: string): string[] => [key.slice(key.indexOf("/") + 1), key.slice(key.lastIndexOf("/") + 1)];

// A row leads to the card of its thing: on a phone that stands above the table, at a desk beside it.
async function lead(key: string): Promise<void> {
  await select(key);
  const narrow = matchMedia("(max-width: 699px)").matches;
  document.querySelector(narrow ? ".card" : ".card header")?.scrollIntoView({ block: narrow ? "start" : "nearest" });
}

function Row({ table, row, index, column }: { table: Table; row: number; index: number; column(c: number): string }) {
  const key = table.keys?.[row] ?? "";
  const named = key ? Math.max(0, table.columns.findIndex((c) => callings(key).includes(c.texts[row]!))) : -1; // the column that says which it is
  const chosen = key !== "" && key === now.selected.value;
  return useMemo( // a row that stays in view while others come is not made again
    () => (
      <tr aria-rowindex={index} class={chosen ? "here" : ""} aria-selected={chosen} onClick={() => key && void lead(key)}>
        {table.columns.map((c, i) => (
          <td key={c.key} class={column(i)}>
            {i === named ? <button type="button" class="link" onClick={(e) => (e.stopPropagation(), void lead(key))}>{c.texts[row]}</button> : c.texts[row]}
          </td>
        ))}
      </tr>
    ),
    [table, row, index, chosen],
  );
}

// Rows that are not in view hold their room open. Heights go through the style object, which the policy of the page allows.
function Space({ high, wide }: { high: number; wide: number }) {
  const at = useRef<HTMLTableRowElement>(null);
  useLayoutEffect(() => { // before the frame: otherwise the rows would stand where they were for one
    at.current!.style.height = high + "px";
  }, [high]);
  return <tr ref={at} class="space" aria-hidden="true"><td colSpan={wide} /></tr>;
}

function arranged(t: Table, order: Order | undefined, search: string): number[] {
  let rows = Array.from({ length: t.rows }, (_, i) => i);
  const word = search.trim().toLowerCase();
  if (word) rows = rows.filter((r) => t.columns.some((c) => c.texts[r]!.toLowerCase().includes(word)));
  if (!order) return rows;
  const c = t.columns[order.column]!;
  const sign = order.down ? -1 : 1;
  return rows.sort((a, b) => {
    if (!c.numeric) return sign * c.texts[a]!.localeCompare(c.texts[b]!, undefined, { numeric: true }) || a - b;
    const x = c.sort[a];
    const y = c.sort[b];
    if (x == null || y == null) return x == null && y == null ? a - b : x == null ? 1 : -1;
    return sign * (x - y) || a - b;
  });
}

function lines(t: Table, rows: number[], by: string): string {
  const cell = (s: string): string => (by === "\t" ? s.replace(/[\t\n]/g, " ") : /[",\n]/.test(s) ? `"${s.replace(/"/g, '""')}"` : s);
  const out = [t.columns.map((c) => cell(c.head)).join(by)];
  for (const r of rows) out.push(t.columns.map((c) => cell(guarded(c.texts[r]!))).join(by));
  return out.join("\r\n") + "\r\n";
}

// A text that a spreadsheet would run as a formula gets an apostrophe; figures stay what they are.
function guarded(s: string): string {
  return /^[=@\t]|^[+-](?![\d.])/.test(s) ? "'" + s : s;
}
