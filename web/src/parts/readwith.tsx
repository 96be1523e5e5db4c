// What every reading goes with: the instrument in use and the day of its last check, entered once; and where the phone is, if somebody
// wants that. A reading without an instrument says so.
import { useState } from "preact/hooks";
import { local } from "../keep/fieldbook";
import { fix, fixing, last, told } from "../fixing";
import * as site from "../site";
import * as now from "../state";

const kinds = ["level", "laser", "total station", "GNSS rover", "tape", "gauge"];

/** ReadWith is the instrument in use. */
export function ReadWith() {
  const [open, setOpen] = useState(false);
  const is = site.instrument.value;
  const put = (change: Partial<site.Instrument>): void => void site.setInstrument({ ...is, ...change });
  const named = site.instrumentSaid(is);
  return (
    <div class="ask readwith">
      <button type="button" class="figure-button" aria-expanded={open} onClick={() => setOpen(!open)}>
        <span>read with</span> <strong class={named ? "" : "none"}>{named ? `${named}, ${is.checked ? "checked " + is.checked : "no check on file"}` : "not named: readings say so"}</strong>
      </button>
      {named && is.due && is.due < local(new Date()).slice(0, 10) && <p class="fault" role="alert">The calibration of {named} ran out on {is.due}. Readings are kept, and each says so.</p>}
      {open && (
        <fieldset>
          <legend>The instrument in use, for all readings from now on</legend>
          <div class="choice" role="group" aria-label="kind of instrument">
            {kinds.map((k) => <button key={k} type="button" aria-pressed={is.kind === k} onClick={() => put({ kind: is.kind === k ? "" : k })}>{k}</button>)}
          </div>
          <label class="ask"><span class="label">its name or number</span><input value={is.name} maxLength={60} onInput={(e) => put({ name: e.currentTarget.value })} /></label>
          <label class="ask"><span class="label">certificate of its calibration</span><input value={is.certificate ?? ""} maxLength={60} onInput={(e) => put({ certificate: e.currentTarget.value })} /></label>
          <label class="ask"><span class="label">it runs out on</span><input type="date" value={is.due ?? ""} onInput={(e) => put({ due: e.currentTarget.value })} /></label>
          <label class="ask"><span class="label">good to, each way</span><input value={is.plus ?? ""} maxLength={20} placeholder={now.screen.value?.job.system === "imperial" ? "1/16 in" : "1 mm"} onInput={(e) => put({ plus: e.currentTarget.value })} /></label>
          <label class="ask"><span class="label">day of its last check</span><input type="date" value={is.checked} onInput={(e) => put({ checked: e.currentTarget.value })} /></label>
          <div class="choice">
            <button type="button" onClick={() => setOpen(false)}>so it is</button>
            {named && <button type="button" onClick={() => put({ kind: "", name: "", checked: "", certificate: "", due: "", plus: "" })}>none is in use</button>}
          </div>
        </fieldset>
      )}
    </div>
  );
}

/** WhereSwitch says whether records carry where this phone is. */
export function WhereSwitch() {
  const is = last.value;
  return (
    <>
      <label class="loud"><input type="checkbox" checked={fixing.value} onChange={(e) => void fix(e.currentTarget.checked)} /> records carry where this phone is</label>
      {fixing.value && <p class="note" role="status">{told.value || (is ? `It says ${is.fix.latitude.toFixed(6)}, ${is.fix.longitude.toFixed(6)}, within ${is.fix.within_m} m. Nothing waits for it.` : "It has not said where it is yet; no record waits for that.")}</p>}
    </>
  );
}
