// What was recorded goes to another phone without any network: codes shown in turn on this screen, read by the other's camera. Each
// side says how far it is and what to do. Records come in as from a file: what is here already stays as it is.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { ours } from "../codes/load";
import { frames, Gathering } from "../codes/frames";
import { why } from "../keep/db";
import { records } from "../keep/fieldbook";
import { recordsFile, takeFile } from "../keep/fieldfile";
import { Camera, Photo, seeing } from "./scan";

type Side = "show" | "take";

/** ByCodes are the two ways: out of this phone, and into it. */
export function ByCodes() {
  const [side, setSide] = useState<Side>();
  return (
    <>
      <p class="deeds-of-signal">
        {records.value.unsent > 0 && <button type="button" onClick={() => setSide("show")}>show the unsent records as codes</button>}
        <button type="button" onClick={() => setSide("take")}>read records off another phone</button>
      </p>
      {side && <Sheet key={side} side={side} away={() => setSide(undefined)} />}
    </>
  );
}

function Sheet({ side, away }: { side: Side; away(): void }) {
  const at = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => at.current!.showModal(), []);
  useEffect(() => {
    let lock: WakeLockSentinel | undefined;
    let over = false;
    navigator.wakeLock?.request("screen").then((l) => (over ? void l.release() : (lock = l)), () => undefined); // a battery that is low refuses
    return () => {
      over = true;
      void lock?.release();
    };
  }, []);
  const closed = (): void => {
    if (at.current) away(); // a browser tells it late: the other side may be open by then
  };
  return (
    <dialog class="bycodes" ref={at} aria-label={side === "show" ? "records as codes" : "records off another phone"} onClose={closed}>
      {side === "show" ? <Show /> : <Take />}
      <button type="button" class="away" onClick={() => (at.current!.close(), away())}>{side === "show" ? "done" : "leave"}</button>
    </dialog>
  );
}

const paces = [150, 300, 600, 1200]; // ms that a code stays

function Show() {
  const [all, setAll] = useState<{ codes: string[]; records: number }>();
  const [i, setI] = useState(0);
  const [pace, setPace] = useState(1);
  const [halted, setHalted] = useState(false);
  const [not, setNot] = useState("");
  useEffect(() => {
    void recordsFile().then(async (f) => {
      const text = await f.blob.text();
      await ours();
      setAll({ codes: await frames(text), records: text.split("\n").length - 1 });
    }).catch((fault: unknown) => setNot(why(fault)));
  }, []);
  const n = all?.codes.length ?? 0;
  useEffect(() => {
    if (n < 2 || halted) return undefined;
    const t = setInterval(() => setI((i) => (i + 1) % n), paces[pace]);
    return () => clearInterval(t);
  }, [n, pace, halted]);
  if (not) return <p role="alert" class="fault">{not}</p>;
  if (!all) return <p role="status">The records are made ready.</p>;
  const round = (n * paces[pace]!) / 1000;
  return (
    <>
      <h2>{all.records === 1 ? "1 record" : `${all.records} records`}, {n === 1 ? "1 code" : `${n} codes`}</h2>
      <Drawn text={all.codes[i]!} />
      <p class="far"><strong>code {i + 1} of {n}</strong>{n > 1 && !halted && `, all of them shown in ${round < 10 ? round.toFixed(1) : Math.round(round)} s, then from the first again`}</p>
      <p>On the other phone tap the line that counts what is not sent, then <em>read records off another phone</em>. Hold its camera on this code until it says that all are there. What it misses comes again.</p>
      {n > 1 && (
        <div class="choice">
          <button type="button" disabled={pace === paces.length - 1} onClick={() => setPace(pace + 1)}>slower</button>
          <button type="button" disabled={pace === 0} onClick={() => setPace(pace - 1)}>faster</button>
          <button type="button" aria-pressed={halted} onClick={() => setHalted(!halted)}>hold still</button>
          {halted && <button type="button" onClick={() => setI((i + n - 1) % n)}>one back</button>}
          {halted && <button type="button" onClick={() => setI((i + 1) % n)}>one on</button>}
        </div>
      )}
      <p class="note">The records stay on this phone, unsent, until the server has them; there each counts once, from whichever phone it comes. Photos do not go by codes: save them as a file.</p>
    </>
  );
}

// A code, black on white whatever the page looks like, each module so many whole pixels of the screen.
function Drawn({ text }: { text: string }) {
  const at = useRef<HTMLCanvasElement>(null);
  useLayoutEffect(() => {
    void ours().then((by) => {
      const c = at.current;
      if (!c) return;
      const rows = by.modules(text);
      const each = Math.max(2, Math.floor((c.parentElement!.clientWidth * devicePixelRatio) / rows.length));
      c.width = c.height = rows.length * each;
      c.style.width = c.width / devicePixelRatio + "px";
      const pen = c.getContext("2d")!;
      pen.fillStyle = "#fff";
      pen.fillRect(0, 0, c.width, c.height);
      pen.fillStyle = "#000";
      rows.forEach((r, y) => r.forEach((dark, x) => dark && pen.fillRect(x * each, y * each, each, each)));
    });
  }, [text]);
  return <div class="drawn"><canvas ref={at} role="img" aria-label="a code for another phone's camera" /></div>;
}

const listed = 12; // missing numbers that are told one by one

function Take() {
  const of = useRef(new Gathering());
  const [, again] = useState(0);
  const [said, say] = useState("");
  const [done, setDone] = useState("");
  const got = (code: string): boolean => {
    const g = of.current;
    const what = g.take(code);
    if (what === "none") return say("That is no code of records: it is on the other phone, under show the unsent records as codes."), false;
    if (what === "another") return say("That code is of other records than those before. Read the first ones to their end, or begin anew."), false;
    if (what === "known") return false;
    say("");
    again((n) => n + 1);
    if (g.here < g.count) return false;
    navigator.vibrate?.(60);
    g.whole().then(takeFile).then(setDone, (fault: unknown) => (begin(), say(why(fault))));
    return true;
  };
  const begin = (): void => {
    of.current = new Gathering();
    say("");
    again((n) => n + 1);
  };
  const g = of.current;
  const missing = g.missing();
  if (done) return <><h2>All codes are read</h2><p role="status">{done}</p></>;
  return (
    <>
      <h2>Read records off another phone</h2>
      <p>On the other phone tap the line that counts what is not sent, then <em>show the unsent records as codes</em>. Hold this camera on its screen, a hand or two away, until all are there.</p>
      {seeing() ? <Camera got={got} away={() => undefined} bare /> : <p class="note">This page may use no camera: take photos of the codes with the phone's own camera and pick them here.</p>}
      <Photo got={got} say={say} />
      <p class="far" role="status">
        {g.count === 0 ? "No code was read yet." : <><strong>{g.here} of {g.count} codes</strong>{missing.length > 0 && `, ${missing.length} missing: ${missing.slice(0, listed).join(", ")}${missing.length > listed ? " …" : ""}`}</>}
      </p>
      {g.count > 0 && <progress max={g.count} value={g.here} aria-label="codes read" />}
      {said && <p role="alert" class="late">{said}</p>}
      {g.count > 0 && <button type="button" onClick={begin}>begin anew</button>}
    </>
  );
}
