// What a person has to know about the records and photos on this device: how many there are, how many wait, and what stands against
// their going up or their being kept.
import { useState } from "preact/hooks";
import { noRoom, oldest, records, unread } from "../keep/fieldbook";
import { photosFile, recordsFile } from "../keep/fieldfile";
import { going, shutOut, stopped } from "../keep/fieldsync";
import { letGo, photos, refused, sendAgain } from "../keep/photos";
import * as now from "../state";
import { ByCodes } from "./bycodes";
import { keepAs } from "./files";
import { when } from "./signal";

const day = 24 * 60 * 60 * 1000;
const tight = 0.8; // of the room that the browser gives

/** thing is what people call what they hold. */
export const thing = (): string => (matchMedia("(max-width: 699px)").matches ? "phone" : "device");

/** unsentFromSite is how much of it is not on the server. */
export const unsentFromSite = (): number => records.value.unsent + photos.value.unsent;

const many = (n: number, what: string): string => (n === 1 ? `1 ${what}` : `${n} ${what}s`);
const megabytes = (n: number): string => (n / 1e6).toFixed(1) + " MB";

export function SiteSignal() {
  const r = records.value;
  const p = photos.value;
  return (
    <>
      <p class="last counts">
        {r.here === 0 ? `no records on this ${thing()}` : `${many(r.here, "record")} on this ${thing()}, ${r.unsent === 0 ? "all sent" : `${r.unsent} not yet sent`}`}
        {r.lastSent > 0 && `, last sent ${when(r.lastSent)}`}
        {p.here > 0 && ` · ${many(p.here, "photo")} on this ${thing()}, ${p.unsent === 0 ? "all sent" : `${p.unsent} not yet sent`}`}
        {going.value && `, ${megabytes(going.value.here)} of ${megabytes(going.value.of)} of the next one`}
      </p>
      <Against />
      {unread.value.length + refused.value.length > 0 && <Untaken />}
      <ByCodes />
    </>
  );
}

/** SiteDeeds are the buttons that save what was not sent. */
export function SiteDeeds() {
  return (
    <>
      {records.value.unsent > 0 && <button type="button" onClick={() => void recordsFile().then((f) => keepAs(f.name, f.blob))}>save the unsent records as a file</button>}
      {photos.value.unsent > 0 && <button type="button" onClick={() => void photosFile().then((f) => keepAs(f.name, f.blob))}>save the unsent photos as a file</button>}
    </>
  );
}

// What stands against it, most urgent first.
function Against() {
  const room = now.room.value;
  const late = Date.now() - oldest.value > day;
  return (
    <>
      {noRoom.value && <p class="late" role="alert">{noRoom.value}</p>}
      {room && room.used > tight * room.of && <p class="late">This page has {megabytes(room.of - room.used)} of room left on this {thing()}.</p>}
      {(noRoom.value || (room && room.used > tight * room.of)) && <MakeRoom />}
      {stopped.value && (
        <p class="late">
          {stopped.value}.{shutOut.value && <> <a href="/let-in">Type the code</a></>}
        </p>
      )}
      {late && (
        <p class="late">
          Records of {when(oldest.value)} have not been sent for more than a day.
          {!now.lasts.value && " A browser may throw away what a page keeps when nobody opens it for a week, or when the device runs short of room."} Find signal, or save
          them as a file.
        </p>
      )}
    </>
  );
}

// Photos that the server has can go from here; nothing else can.
function MakeRoom() {
  const [done, setDone] = useState("");
  const there = photos.value.here - photos.value.unsent;
  if (there === 0 && !done) return null;
  return (
    <p class="deeds-of-signal">
      {done || <button type="button" onClick={() => void letGo().then((n) => setDone(`${megabytes(n)} of room made.`))}>make room: take {many(there, "photo")} that the server has off this {thing()}</button>}
    </p>
  );
}

// What the server takes for no record stays, with its words, until a person has seen to it.
function Untaken() {
  return (
    <details class="refused" open>
      <summary>{many(unread.value.length + refused.value.length, "thing")} from site needs attention</summary>
      <ul>
        {unread.value.map((r) => <li key={r.id + r.n}>record {r.id} of {r.job}. The server says: {r.refused}</li>)}
        {refused.value.map((p) => <li key={p.sha256}>a photo of {p.place || p.job}, taken {when(p.made)}, {megabytes(p.size)}; it is kept on this {thing()}. The server says: {p.refused}</li>)}
      </ul>
      {refused.value.length > 0 && <button type="button" onClick={() => void sendAgain()}>send {refused.value.length === 1 ? "the photo" : "the photos"} again</button>}
    </details>
  );
}
