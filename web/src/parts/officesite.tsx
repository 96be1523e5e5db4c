// The site on one page: how far each leg is, what was used and done between two days, what somebody has to look at, the report of a
// day. It follows the records as they come in, and every line leads to its place on the strip.
import { select } from "../actions";
import type { OfficeDone, OfficeList, OfficeStep, OfficeRow } from "../screen";
import * as office from "../office";
import * as now from "../state";
import { Stamp } from "./stamp";

/** siteNow is the word on the fold. */
export const siteNow = "The site now";

export function SiteNow() {
  const o = office.office.value;
  const look = o?.lists.reduce((n, l) => n + l.rows.filter((r) => r.asks).length, 0) ?? 0;
  return (
    <details class="fold sitenow" onToggle={(e) => e.target === e.currentTarget && (office.open.value = e.currentTarget.open)}>
      <summary>{siteNow} {look > 0 && <span class="count">{look}</span>}</summary>
      {office.fault.value && <p class="fault" role="alert">{office.fault.value}</p>}
      {office.open.value && o && (
        <div class="office">
          <Hatches />
          <Progress done={o.done} />
          <div class="looks">{o.lists.map((l) => <List key={l.id} l={l} />)}</div>
          <div class="counts"><Measure /><Stock /></div>
          <Report />
        </div>
      )}
    </details>
  );
}

const To = ({ k, text }: { k: string; text: string }) => (k ? <button type="button" class="link" onClick={() => void select(k)}>{text}</button> : <>{text}</>);

// The hatches of the strip, for bars.
function Hatches() {
  const strokes: Record<string, string> = { level: "M0 3H8M0 7H8", upright: "M2 0V8M6 0V8", crossed: "M0 8L8 0M0 0L8 8" };
  return (
    <svg class="defs" width="0" height="0" aria-hidden="true">
      <defs>
        {Object.entries(strokes).map(([name, d]) => (
          <pattern key={name} id={"bar-" + name} width="8" height="8" patternUnits="userSpaceOnUse"><path d={d} class="stroke" /></pattern>
        ))}
      </defs>
    </svg>
  );
}

function Bar({ s, of }: { s: OfficeStep; of: number }) {
  return (
    <svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      <rect width={(100 * s.done) / Math.max(1, of)} height="10" class={s.hatch === "solid" ? "solid" : ""} {...(s.hatch !== "solid" && { fill: `url(#bar-${s.hatch})` })} />
      <rect width="100" height="10" class="frame" />
    </svg>
  );
}

function Progress({ done }: { done: OfficeDone[] }) {
  const legs = done.length > 2 ? done : done.slice(-1);
  return (
    <section class="progress" aria-label="done against planned">
      <h3>Done against planned</h3>
      <table>
        <thead><tr><th scope="col">leg</th><th scope="col" class="number">{now.screen.value!.words.units}</th>{done[0]!.steps.map((s) => <th key={s.name} scope="col">{s.name}</th>)}</tr></thead>
        <tbody>
          {legs.map((l) => (
            <tr key={l.leg} class={l.leg ? "" : "sum"}>
              <th scope="row">{l.leg ? <To k={l.key} text={l.leg} /> : "run"}</th>
              <td class="number">{l.units}<span class="narrow"> {now.screen.value!.words.units}</span><small>{l.long}</small></td>
              {l.steps.map((s) => (
                <td key={s.name} data-label={s.name}>
                  <div class={s.done > 0 ? "far" : "far none"}>
                    <Bar s={s} of={l.units} />
                    <span>{s.done} of {l.units}</span>
                    {s.done > 0 && <small>{s.long}{s.next && l.leg && <>, next <To k={"unit/" + s.next} text={s.next} /></>}</small>}
                  </div>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

type Stretch = OfficeRow & { to?: string; many: number };

// What is said of one unit after another in the same words is one line: whoever looks for a gap in the evidence sees where it begins
// and ends.
function stretches(rows: OfficeRow[]): Stretch[] {
  const marks = now.screen.value!.units.mark;
  const out: Stretch[] = [];
  for (const r of rows) {
    const last = out.at(-1);
    const [a, b] = [marks.indexOf(last?.to ?? last?.place ?? ""), marks.indexOf(r.place)];
    if (last && a >= 0 && b >= 0 && Math.abs(a - b) === 1 && last.said === r.said && last.text === r.text && last.by === r.by && last.asks === r.asks) {
      last.to = r.place;
      last.many++;
    } else out.push({ ...r, many: 1 });
  }
  return out;
}

function List({ l }: { l: OfficeList }) {
  return (
    <section class={"look " + l.id} aria-label={l.name}>
      <h3>{l.name} {l.rows.length > 0 && <span class="count">{l.rows.length}</span>}{l.about && <small>{l.about}</small>}</h3>
      {l.open.map((t) => <p key={t} class="not-checked">{t}</p>)}
      {l.rows.length === 0 && l.none && <p class="none">{l.none}</p>}
      {l.rows.length > 0 && (
        <ol tabIndex={0}>
          {stretches(l.rows).map((r, i) => (
            <li key={r.place + r.text + i} class={r.asks ? "asks" : ""}>
              <span class="at"><To k={r.key} text={r.place || "the job"} />{r.to && <> to {r.to} <small>{r.many} {now.screen.value!.words.units}</small></>}</span>
              <span class="verdict">{r.said}</span>
              <span>{r.text}{r.by && <small>{r.by}</small>}</span>
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

function Measure() {
  const o = office.office.value!;
  const d = office.days.value;
  const field = (name: "from" | "to") => (
    <label>{name} <input value={d[name]} size={10} placeholder={name === "from" ? "first day" : "last day"} onChange={(e) => (office.days.value = { ...office.days.value, [name]: e.currentTarget.value })} /> <small>{o[name]}</small></label>
  );
  return (
    <section aria-label="done between two days">
      <h3>Done between two days <small>both of them in it; by the clocks of those who recorded it</small></h3>
      {o.last > 0 && <p>Or after a record and up to another one, by the server's own count, which no late record changes: the last that came from it here is {o.last}.</p>}
      <form class="days" onSubmit={(e) => e.preventDefault()}>{field("from")}{field("to")}</form>
      {o.fault && <p class="fault" role="alert">{o.fault}</p>}
      {o.measure.length === 0 ? <p class="none">Nothing was done between these.</p> : (
        <table>
          <thead><tr><th scope="col">what</th><th scope="col" class="number">how many</th><th scope="col" class="number">length</th><th scope="col">where</th></tr></thead>
          <tbody>{o.measure.map((m) => <tr key={m.name}><th scope="row">{m.name}</th><td class="number">{m.count}</td><td class="number">{m.long}</td><td>{m.where}</td></tr>)}</tbody>
        </table>
      )}
    </section>
  );
}

const heads = ["planned", "bought", "came", "used", "damaged", "in the yard", "short"];

function Stock() {
  const o = office.office.value!;
  if (o.stock.length === 0) return null;
  return (
    <section class="stock" aria-label="used against bought">
      <h3>Used against bought <small>bought by the bill of this plan, spares with it</small></h3>
      {o.untold.map((t) => <p key={t} class="not-checked">{t}</p>)}
      <table>
        <thead><tr><th scope="col">piece</th>{heads.map((h) => <th key={h} scope="col" class="number">{h}</th>)}</tr></thead>
        <tbody>
          {o.stock.map((p) => (
            <tr key={p.piece}>
              <th scope="row">{p.piece}</th>
              {[p.planned, p.bought, p.came, p.used, p.damaged, p.have, p.short > 0 ? String(p.short) : ""].map((t, i) => <td key={i} class={t ? "number" : "number none"} data-label={heads[i]}>{i === 6 ? <strong>{t}</strong> : t}</td>)}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Report() {
  const d = office.day.value;
  if (!d || d.days.length === 0) return null;
  return (
    <section class="report">
      <div class="tools">
        <label>report of <select value={d.date} onChange={(e) => (office.of.value = e.currentTarget.value)}>
          {d.days.map((x) => <option key={x.date} value={x.date}>{`${x.date}, ${x.records} ${x.records === 1 ? "record" : "records"}`}</option>)}
        </select></label>
        <button type="button" onClick={() => print()}>print the report</button>
      </div>
      <article class="card printed" aria-label={"daily report, " + d.said}>
        <h2>Daily report <span class="what">{d.said}</span></h2>
        <Stamp />
        <h3>People</h3>
        <ul>{d.people.map((t) => <li key={t}>{t}</li>)}</ul>
        {d.groups.map((g) => (
          <section key={g.name}>
            <h3>{g.name}</h3>
            <ul>{g.lines.map((l, i) => <li key={l.text + i}><span>{l.text}{l.by && <small>{l.by}</small>}</span>{l.key && <button type="button" class="link show" onClick={() => void select(l.key)}>show it</button>}</li>)}</ul>
          </section>
        ))}
        {d.photos.length > 0 && <p>{d.photos.length === 1 ? "1 photo or voice note" : `${d.photos.length} photos or voice notes`} with these records.</p>}
        <p class="not-checked">Nothing recorded on this day: {d.not}.</p>
        <p class="signed">read and signed <span /> <span /></p>
      </article>
    </section>
  );
}
