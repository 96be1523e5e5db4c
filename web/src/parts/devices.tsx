// Who may bring records: the office makes a code, a device comes in by it, and can be shut out again.
import { useEffect, useState } from "preact/hooks";
import { why } from "../keep/db";
import { device, type Device } from "../keep/fieldbook";
import { letIn } from "../keep/fieldsync";
import { sync } from "../keep/sync";
import { get, post, Unreached } from "../net/api";
import * as now from "../state";
import { Signal, when } from "./signal";
import { thing } from "./signalsite";

interface Listed {
  id: string;
  name: string;
  let_in: string;
  heard: string;
  shut_out?: string;
  records: number;
}
interface Code {
  code: string;
  ends: string;
  reached: string[];
}

const noServer = "No server answers: devices are let in when it does.";
const inWords = (fault: unknown): string => (fault instanceof Unreached ? noServer : why(fault));
const at = (time: string): string => when(Date.parse(time));

/** Devices is the office's screen. */
export function Devices({ go }: { go(to: string): void }) {
  const [list, setList] = useState<Listed[] | undefined>();
  const [code, setCode] = useState<Code | undefined>();
  const [wrong, setWrong] = useState("");
  const trying = async (work: () => Promise<unknown>): Promise<void> => {
    try {
      await work();
      setList(await get<Listed[]>("/devices"));
      setWrong("");
    } catch (fault) {
      setWrong(inWords(fault));
    }
  };
  useEffect(() => {
    const look = (): void => void (document.visibilityState === "visible" && trying(async () => undefined));
    look();
    const again = setInterval(look, 10_000); // ms: somebody on site types a code
    return () => clearInterval(again);
  }, []);
  return (
    <>
      <Head go={go} name="Devices" said={list ? (list.length === 0 ? "no device was let in yet" : list.length === 1 ? "1 device was let in" : `${list.length} devices were let in`) : "looking for devices"} />
      <main class="devices">
        {wrong && <p class="late" role="alert">{wrong}</p>}
        <section class="letting" aria-label="let a device in">
          <p>
            A phone or another computer brings records once it was let in. Make a code, and type it in on the device, or open the address on it: it is good for an hour and for
            one device.
          </p>
          <button id="make-code" type="button" onClick={() => void trying(async () => setCode(await post<Code>("/enrolments", {})))}>make a code</button>
          {code && <CodeCard c={code} />}
        </section>
        {list && list.length > 0 && (
          <table>
            <thead>
              <tr><th scope="col">device</th><th scope="col">let in</th><th scope="col">last heard</th><th scope="col">records brought</th><th scope="col">unsent on it</th><th scope="col">may come</th></tr>
            </thead>
            <tbody>
              {list.map((d) => (
                <tr key={d.id} class={d.shut_out ? "out" : ""}>
                  <th scope="row">{d.name}</th>
                  <td>{at(d.let_in)}</td>
                  <td>{at(d.heard)}</td>
                  <td>{d.records}</td>
                  <td>not known here</td>
                  <td>
                    {d.shut_out ? `shut out ${at(d.shut_out)}` : <button type="button" aria-label={"shut out " + d.name} onClick={() => void trying(() => post(`/devices/${encodeURIComponent(d.id)}/shut-out`, {}))}>shut out</button>}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        <p class="note">Only a device itself knows how much on it was not sent yet: it says so on its own screen. What a device brought stays when it is shut out; what it did not send stays on it, and can be saved there as a file.</p>
      </main>
    </>
  );
}

// The code, large enough to be read across a table, and on paper.
function CodeCard({ c }: { c: Code }) {
  return (
    <div class="code-card" role="status">
      <p class="code">{c.code.slice(0, 4)} {c.code.slice(4)}</p>
      <p>for one device, until {at(c.ends)}</p>
      {c.reached.map((a) => <p key={a} class="address">{a}/let-in#{c.code}</p>)}
      {c.reached.length === 0 && <p class="late">No phone reaches this workspace: it is on this machine alone. Try: trenchwright serve --addr 0.0.0.0:8417 --tls own</p>}
      <button type="button" onClick={() => print()}>print it</button>
    </div>
  );
}

/** LetIn is where a device types its code. */
export function LetIn({ go }: { go(to: string): void }) {
  const [code, setCode] = useState(decodeURIComponent(location.hash.slice(1)));
  const [name, setName] = useState("");
  const [wrong, setWrong] = useState("");
  const [busy, setBusy] = useState(false);
  useEffect(() => void device().then((d) => setName((n) => n || d.name)), []);
  const come = async (): Promise<void> => {
    setBusy(true);
    try {
      await letIn(code, name.trim());
      setWrong("");
      void sync();
      go("/");
    } catch (fault) {
      setWrong(inWords(fault));
    }
    setBusy(false);
  };
  return (
    <>
      <Head go={go} name={`Let this ${thing()} in`} said="once, by a code from the office" />
      <main class="devices">
        <form class="let-in" onSubmit={(e) => (e.preventDefault(), void come())}>
          <label>
            code <input id="code" required autocomplete="off" autocapitalize="characters" spellcheck={false} maxLength={20} value={code} placeholder="8 signs" onInput={(e) => setCode(e.currentTarget.value)} />
          </label>
          <label>
            what people call this {thing()} <input id="device-name" required maxLength={80} value={name} placeholder="Gang 2, phone of the foreman" onInput={(e) => setName(e.currentTarget.value)} />
          </label>
          <button type="submit" disabled={busy}>let it in</button>
          {wrong && <p class="late" role="alert">{wrong}</p>}
          <p class="note">Records work without it, and stay on this {thing()}: from then on they go up.</p>
        </form>
      </main>
    </>
  );
}

function Head({ go, name, said }: { go(to: string): void; name: string; said: string }) {
  return (
    <header class="head">
      <div>
        <h1><a href="/" onClick={(e) => (e.preventDefault(), go("/"))} aria-label="all jobs">‹</a> {name}</h1>
        <p role="status">{said}</p>
      </div>
      <Signal />
    </header>
  );
}

/** ThisDevice says what this browser is to the office, and leads to where that changes. */
export function ThisDevice({ go }: { go(to: string): void }) {
  const [d, setD] = useState<Device | undefined>();
  useEffect(() => void device().then(setD), []);
  const office = now.server.value?.office;
  if (!d || (!now.server.value && !d.token)) return null;
  const to = office ? "/devices" : "/let-in";
  return (
    <section class="this-device" aria-label="this device">
      <h2>This device</h2>
      <p>
        {office ? "is the office: it lets other devices in." : d.token ? `is known to the office as ${d.name}.` : "is not let in yet: what is recorded on it stays on it until the office lets it in."}
      </p>
      <p><a class="button" href={to} onClick={(e) => (e.preventDefault(), go(to))}>{office ? "devices" : d.token ? "let it in anew" : "type the code"}</a></p>
    </section>
  );
}
