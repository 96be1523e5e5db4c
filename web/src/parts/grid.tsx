// A day card is keyed in by keys alone: one row a place, what was planned beside each box. Enter goes on from box to box and from row
// to row, the arrows go anywhere, Ctrl+Enter keeps the card. What was typed is said back by the core as it was understood.
import { useRef } from "preact/hooks";
import { carded, odds } from "../codes/place";
import * as day from "../daycard";
import { workedBy } from "../keep/author";
import type { GridBox, GridHead, GridRow, KeyedRow } from "../screen";
import * as now from "../state";
import { stamp } from "../states";

/** dayCard is the word on the fold. */
export const dayCard = "Key in a day card";

export function DayCard() {
  return (
    <details class="fold daycard" onToggle={(e) => e.target === e.currentTarget && (day.open.value = e.currentTarget.open)}>
      <summary>{dayCard}</summary>
      {day.open.value && day.grid.value ? <Keying /> : day.told.value && <p class="fault" role="alert">{day.told.value.text}</p>}
    </details>
  );
}

// All that keys go through, in order: what stands on top, the boxes row by row, what keeps the card.
const stops = (of: HTMLElement): HTMLElement[] => [...of.querySelectorAll<HTMLElement>("input:not(.hidden), select, button.keeps")];

function Keying() {
  const at = useRef<HTMLDivElement>(null);
  const g = day.grid.value!;
  const k = day.keyed.value;
  const keep = async (): Promise<void> => {
    const { person = "" } = day.card.value.top;
    if (await day.keep()) {
      workedBy(person.trim());
      at.current?.querySelector<HTMLElement>(".top input")?.focus();
    }
  };
  // A place, or the code of a card: one of another job has no place here, one of another state of this job says so.
  const first = (typed: string): void => {
    const c = carded(typed);
    const s = now.screen.value;
    const odd = s ? odds(c, s.job.id, s.hash, stamp.value?.brief ?? "") : "";
    day.told.value = odd ? { text: odd, fault: c.job !== s?.job.id } : undefined;
    if (!c.job || c.job === s?.job.id) day.at.value = { leg: "", from: c.place.toUpperCase() };
  };
  const keys = (e: KeyboardEvent): void => {
    const from = e.target as HTMLElement;
    if (e.key === "Enter" && (e.ctrlKey || e.metaKey)) return void (e.preventDefault(), keep());
    if (e.isComposing || !(from instanceof HTMLInputElement || from instanceof HTMLSelectElement)) return;
    const all = stops(at.current!);
    const go = (to: HTMLElement | undefined | null): void => {
      if (!to) return;
      e.preventDefault();
      to.focus();
      if (to instanceof HTMLInputElement) to.select();
    };
    if (e.key === "Enter") return go(all[all.indexOf(from) + (e.shiftKey ? -1 : 1)]);
    const cell = from.closest("td");
    if (!cell || !(from instanceof HTMLInputElement)) return;
    const beside = (by: number): HTMLInputElement | null | undefined => {
      let row = cell.closest("tr")!;
      const n = [...row.cells].indexOf(cell);
      for (;;) {
        row = (by > 0 ? row.nextElementSibling : row.previousElementSibling) as HTMLTableRowElement;
        if (!row) return null;
        const box = row.cells[n]?.querySelector("input");
        if (box) return box;
      }
    };
    if (e.key === "ArrowDown" || e.key === "ArrowUp") go(beside(e.key === "ArrowDown" ? 1 : -1));
    else if (e.key === "ArrowLeft" && from.selectionEnd === 0) go(all[all.indexOf(from) - 1]);
    else if (e.key === "ArrowRight" && from.selectionStart === from.value.length) go(all[all.indexOf(from) + 1]);
  };
  const said = new Map(k?.rows.map((r) => [r.place, r]));
  return (
    <div class="keying" ref={at} onKeyDown={keys}>
      <Top />
      <p class="note how">
        <kbd>Enter</kbd> next box · <kbd>.</kbd> in the first box: set, nothing measured · <kbd>=</kbd> in the right gap: as left · <kbd>↑</kbd> <kbd>↓</kbd> same box · <kbd>Ctrl</kbd> <kbd>Enter</kbd> keep the card
      </p>
      <div class="leafing">
        <label>leg <select value={g.leg} onChange={(e) => (day.at.value = { leg: e.currentTarget.value, from: "" })}>
          {g.legs.map((l) => <option key={l.id} value={l.id}>{`${l.id}, ${l.said}`}</option>)}
        </select></label>
        <label>first place on the card <input value={day.at.value.from || g.from} size={8} onChange={(e) => first(e.currentTarget.value)} /></label>
        {g.back && <button type="button" onClick={() => (day.at.value = { leg: "", from: g.back })}>from {g.back}</button>}
        {g.on && <button type="button" onClick={() => (day.at.value = { leg: "", from: g.on })}>from {g.on}</button>}
      </div>
      <table class="boxes">
        <thead>
          <tr>
            <th scope="col">place</th>
            {g.heads.map((h) => <th key={h.name} scope="col">{h.label}<small>{h.unit}</small></th>)}
            <th scope="col">as understood</th>
          </tr>
        </thead>
        <tbody>{g.rows.map((r) => <Row key={r.place} r={r} heads={g.heads} said={said.get(r.place)} />)}</tbody>
      </table>
      {g.open.map((t) => <p key={t} class="not-checked">{t}</p>)}
      <footer>
        <button type="button" class="keeps" disabled={false} aria-disabled={!k?.full} onClick={() => void keep()}>keep the card</button>
        <p role="status" class={day.told.value?.fault ? "fault" : ""}>{day.told.value?.text ?? (k?.said ? k.said + (k.full ? "" : ": " + lacks()) : "Nothing is typed yet.")}</p>
      </footer>
    </div>
  );
}

// Why a card that was typed cannot be kept yet.
function lacks(): string {
  const { top } = day.card.value;
  const k = day.keyed.value!;
  const not = [!top["person"]?.trim() && "who wrote it", !top["date"]?.trim() && "its day", !top["time"]?.trim() && "its hour"].filter(Boolean);
  if (not.length) return "still to say: " + not.join(", ");
  const bad = k.rows.find((r) => r.missing);
  return bad ? `${bad.place}: ${bad.missing}` : k.head.find((e) => e.fault)?.fault ?? "";
}

const tops: [name: string, label: string, hint: string, size: number][] = [
  ["person", "written by", "name", 16], ["role", "as", "foreman", 10], ["date", "day", "", 10], ["time", "hour", "16:30", 6], ["instrument", "read with", "level 3", 12], ["plus", "good to, each way", "1 mm", 8],
  ["checked", "its last check", "", 10], ["certificate", "its certificate", "", 10], ["due", "calibration holds until", "", 10],
];

// What stands once on the card and holds for every row.
function Top() {
  const s = now.screen.value!;
  const g = day.grid.value!;
  const { top, photos } = day.card.value;
  const photo = useRef<HTMLInputElement>(null);
  const echo = (name: string) => day.keyed.value?.head.find((e) => e.name === name);
  const field = (name: string, label: string, hint: string, size: number) => {
    const e = top[name]?.trim() ? echo(name) : undefined;
    return (
      <label key={name}>{label}
        <input value={top[name] ?? ""} placeholder={hint} size={size} aria-invalid={Boolean(e?.fault)} onInput={(ev) => day.put(name, ev.currentTarget.value)} />
        <small class={e?.fault ? "fault" : ""}>{e?.fault || e?.text || "\u00a0"}</small>
      </label>
    );
  };
  return (
    <div class="top">
      {tops.map(([name, label, hint, size]) => field(name, label, hint || (name === "certificate" ? "" : s.job.words === "us" ? "11/26" : "26/11"), size))}
      {field("height", s.words.instrument + ", if rods were read", s.words.coord_unit, 12)}
      <label>levels are of
        <select value={g.of} onChange={(e) => day.put("of", e.currentTarget.value)}>{g.levels.map((l) => <option key={l.id} value={l.id}>{l.name}</option>)}</select>
        <small>{"\u00a0"}</small>
      </label>
      <label>boxes
        <select value={top["boxes"] ?? ""} onChange={(e) => day.put("boxes", e.currentTarget.value)}><option value="">of every joint</option><option value="all">all of the card</option></select>
        <small>{"\u00a0"}</small>
      </label>
      {field("remarks", "remarks on the card", "", 24)}
      <div class="photo">
        <input ref={photo} class="hidden" tabIndex={-1} type="file" accept="image/*" aria-label="photo of the card" onChange={(e) => (void day.pictured(e.currentTarget.files?.[0]), (e.currentTarget.value = ""))} />
        <button type="button" onClick={() => photo.current?.click()}>photo of the card</button>
        <small>{photos.length === 0 ? "none yet" : photos.length === 1 ? "1, with every record" : `${photos.length}, with every record`}</small>
      </div>
    </div>
  );
}

function Row({ r, heads, said }: { r: GridRow; heads: GridHead[]; said: KeyedRow | undefined }) {
  const row = day.card.value.rows[r.place] ?? {};
  const wrong = (name: string): boolean => Boolean(said?.echo.find((e) => e.name === name)?.fault);
  const here = (): void => {
    now.here.value = r.strip;
    now.reveal(r.strip);
  };
  return (
    <tr class={said?.missing ? "wrong" : said?.odd.length ? "odd" : ""} onFocusCapture={here}>
      <th scope="row">{r.place} <small>{r.piece}</small></th>
      {r.boxes.map((b, i) => <Box key={heads[i]!.name} b={b} h={heads[i]!} place={r.place} text={row[heads[i]!.name] ?? ""} wrong={wrong(heads[i]!.name)} />)}
      <td class="says">
        {said?.missing && <p class="fault">{said.missing}</p>}
        {said?.odd.map((t) => <p key={t} class="look"><strong>look:</strong> {t}</p>)}
        {said?.words && <p>{said.words}</p>}
      </td>
    </tr>
  );
}

function Box({ b, h, place, text, wrong }: { b: GridBox; h: GridHead; place: string; text: string; wrong: boolean }) {
  if (b.shut) return <td class="shut" />;
  return (
    <td data-label={h.label}>
      <span class="planned">{b.planned}{b.has && <small>is {b.has}</small>}</span>
      <input value={text} inputMode="text" aria-label={`${place}, ${h.label}`} aria-invalid={wrong} onInput={(e) => day.type(place, h.name, e.currentTarget.value)} />
    </td>
  );
}
