// What a person has to know about the net: whether this browser would do without it, what has not gone up yet, and what the
// server does not take.
import { useState } from "preact/hooks";
import { unsentFile } from "../keep/asfile";
import { noRoom, records, unread } from "../keep/fieldbook";
import { stopped } from "../keep/fieldsync";
import { again } from "../keep/outbox";
import { refused as photos } from "../keep/photos";
import { sync } from "../keep/sync";
import * as now from "../state";
import { stamp } from "../states";
import { takeOver } from "../worker-of-pages";
import { keepAs } from "./files";
import { SiteDeeds, SiteSignal, unsentFromSite } from "./signalsite";

const day = 24 * 60 * 60 * 1000;

export function Signal() {
  const changes = now.unsent.value;
  const n = changes + unsentFromSite();
  const late = Date.now() - now.oldest.value > day;
  const parts = [
    now.reached.value || !now.tried.value ? "" : "no server",
    now.waiting.value > 0 || !now.tried.value ? "waiting for the server" : "",
    now.plain.value ? "works only with the server" : now.ready.value ? "ready for no signal" : "fetching what it needs without signal",
    n === 0 ? "nothing unsent" : `${n} not yet sent`,
  ];
  return (
    <div class="signal">
      <p role="status">{parts.filter(Boolean).join(" · ")}</p>
      {now.sent.value > 0 && <p class="last">last sent {when(now.sent.value)}</p>}
      {now.failing.value && <p class="late">The server does not do it: {now.failing.value}</p>}
      {late && <p class="late">Changes of {when(now.oldest.value)} have not been sent for more than a day. Save them as a file, or find signal.</p>}
      <SiteSignal />
      {n > 0 && <UnsentDeeds changes={changes} />}
      {now.refused.value.length > 0 && <Refused />}
      {now.newer.value && <Newer />}
    </div>
  );
}

/** SignalInShort is one line of it, with a sign; the rest comes when it is tapped. */
export function SignalInShort() {
  const n = now.unsent.value + unsentFromSite();
  const wrong = now.refused.value.length + unread.value.length + photos.value.length;
  const here = records.value.here;
  const sign = wrong > 0 || now.failing.value || noRoom.value || stopped.value ? "!" : n > 0 ? "↑" : now.reached.value ? "✓" : "○";
  const parts = [
    now.reached.value || !now.tried.value ? "" : "no server",
    wrong > 0 ? `${wrong} ${wrong === 1 ? "needs" : "need"} attention` : n > 0 ? `${n} not yet sent` : here > 0 ? "" : "nothing unsent",
    here > 0 ? `${here} ${here === 1 ? "record" : "records"}${n > 0 ? "" : now.reached.value ? " sent" : `, sent ${shortly(records.value.lastSent)}`}` : "",
    now.newer.value ? "new version" : now.plain.value ? "needs the server" : now.ready.value ? (n > 0 || !now.reached.value ? "" : "ready for no signal") : "needs signal for now",
  ];
  return (
    <details class="short">
      <summary>
        <span class="sign" aria-hidden="true">{sign}</span> <span role="status">{parts.filter(Boolean).join(" · ")}</span>
      </summary>
      {stamp.value && <p>{stamp.value.brief}</p>}
      <Signal />
    </details>
  );
}

/** when is a moment as people here write it. */
export function when(ms: number): string {
  return new Date(ms).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
}

// shortly is a moment of today by its hour, any other by its day.
function shortly(ms: number): string {
  if (ms === 0) return "by others"; // they came from there
  const at = new Date(ms);
  const today = at.toDateString() === new Date().toDateString();
  return today ? at.toLocaleTimeString(undefined, { timeStyle: "short" }) : at.toLocaleDateString(undefined, { dateStyle: "short" });
}

function UnsentDeeds({ changes }: { changes: number }) {
  return (
    <p class="deeds-of-signal">
      <button type="button" onClick={() => void sync()}>send now</button>
      {changes > 0 && (
        <button type="button" onClick={() => void unsentFile().then((f) => keepAs(f.name, new Blob([f.text], { type: "application/json" })))}>
          save the unsent changes as a file
        </button>
      )}
      <SiteDeeds />
    </p>
  );
}

// What the server does not take stays here, with its words, until a person has seen to it.
function Refused() {
  return (
    <details class="refused" open>
      <summary>{now.refused.value.length === 1 ? "1 change needs attention" : `${now.refused.value.length} changes need attention`}</summary>
      <ul>
        {now.refused.value.map((r) => (
          <li key={r.id}>
            <strong>{r.job}</strong>: {r.note || "a change"}, made {when(r.made)}. The server says: {r.refused}
          </li>
        ))}
      </ul>
      <button type="button" onClick={() => void again().then(sync)}>send them again</button>
    </details>
  );
}

function Newer() {
  const [not, setNot] = useState("");
  return (
    <p>
      <button type="button" onClick={() => void takeOver().then(setNot)}>new version ready: change over</button>
      {not && <span class="late" role="alert"> Not now: {not}.</span>}
    </p>
  );
}

/** Plain says what an address without TLS cannot do. */
export function Plain() {
  if (!now.plain.value) return null;
  return (
    <p class="plain" role="note">
      This address is not secure, so the browser keeps no page of it: what you change is kept here and sent, but nothing opens without the
      server. Try: the address with https, from a workspace that is served with --tls.
    </p>
  );
}

/** OtherCore says that this page plans with another core than the server. */
export function OtherCore() {
  const mine = now.screen.value?.core;
  const theirs = now.server.value?.core;
  if (!mine || !theirs || mine === theirs) return null;
  return (
    <p class="plain" role="note">
      This page plans with core {mine}, the server with core {theirs}: you may record here, but not issue. Change over to the new version first.
    </p>
  );
}
