// A code on a card or a label, read by the camera or off a photo; where neither goes, what stands beside the code is typed.
import { useEffect, useRef, useState } from "preact/hooks";
import { eye, onPhoto } from "../codes/load";
import { why } from "../keep/db";

/** Scan reads one code and gives what it says. */
export function Scan({ read }: { read(code: string): void }) {
  const [on, setOn] = useState(false);
  const [said, say] = useState("");
  const got = (code: string): void => (setOn(false), say(""), read(code));
  return (
    <div class="scans">
      {seeing() && <button type="button" onClick={() => (say(""), setOn(!on))}>read a code</button>}
      <Photo got={got} say={say} />
      {said && <p role="status">{said}</p>}
      {on && <Camera got={(code) => (got(code), true)} away={() => setOn(false)} />}
    </div>
  );
}

/** seeing says whether this page may use a camera at all. */
export const seeing = (): boolean => !!navigator.mediaDevices?.getUserMedia;

/** Photo reads the code on a photo that was taken or is picked: it goes in every browser. */
export function Photo({ got, say }: { got(code: string): void; say(text: string): void }) {
  const at = useRef<HTMLInputElement>(null);
  const look = async (all: File[]): Promise<void> => {
    say("Looking for a code on it.");
    let none = 0;
    for (const file of all) {
      const code = await onPhoto(file).catch((fault: unknown) => (say(why(fault)), undefined));
      if (code === undefined) return;
      if (code) got(code);
      else none++;
    }
    if (none > 0) say(none === 1 ? "No code was found on that photo. Go nearer, hold the card flat, keep the shadow off it; or type what stands beside the code." : `No code was found on ${none} of the photos.`);
  };
  return (
    <>
      <button type="button" onClick={() => at.current!.click()}>code on a photo</button>
      <input ref={at} class="hidden" type="file" accept="image/*" multiple aria-label="photo of a code" onChange={(e) => (void look([...(e.currentTarget.files ?? [])]), (e.currentTarget.value = ""))} />
    </>
  );
}

const pause = 40; // ms between two looks: the page stays alive

/** Camera hands on every code that it sees until somebody leaves, or got says that it was the last. */
export function Camera({ got, away, bare }: { got(code: string): boolean; away(): void; bare?: boolean }) {
  const at = useRef<HTMLVideoElement>(null);
  const told = useRef(got);
  told.current = got;
  const [not, setNot] = useState("");
  useEffect(() => {
    let over = false;
    let from: MediaStream | undefined;
    const look = async (): Promise<void> => {
      const see = await eye();
      from = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
      if (over) return from.getTracks().forEach((t) => t.stop());
      at.current!.srcObject = from;
      await at.current!.play();
      while (!over) {
        const code = await see(at.current!, pause);
        if (code && !over && told.current(code)) return;
        await new Promise((later) => setTimeout(later, pause));
      }
    };
    look().catch((fault) => setNot(fault instanceof DOMException ? "No camera: " + fault.name + ". Take a photo of the code instead." : why(fault)));
    return () => {
      over = true;
      from?.getTracks().forEach((t) => t.stop());
    };
  }, []);
  return (
    <div class="scan" role="group" aria-label="read a code">
      <video ref={at} muted playsInline />
      {not && <p role="alert">{not}</p>}
      {!bare && <button type="button" onClick={away}>leave</button>}
    </div>
  );
}
