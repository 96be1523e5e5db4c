// A code on a card or a label, read by the camera where the browser can; elsewhere the mark is typed, and the page says so.
import { useEffect, useRef, useState } from "preact/hooks";

interface Detector {
  detect(from: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
type Detecting = new () => Detector;
const detecting = (globalThis as { BarcodeDetector?: Detecting }).BarcodeDetector;

/** marked is the place that a code names: behind the last # of an address, or the code itself. */
export const marked = (code: string): string => decodeURI(code.slice(code.lastIndexOf("#") + 1)).replace(/^(unit|joint|cover|node)\//, "").trim();

/** Scan reads one code and gives the place that it names. */
export function Scan({ read }: { read(place: string): void }) {
  const [on, setOn] = useState(false);
  if (!detecting || !navigator.mediaDevices) return <p class="note">This browser reads no codes: type what is painted or printed.</p>;
  return (
    <>
      <button type="button" onClick={() => setOn(true)}>read a code</button>
      {on && <Camera read={(code) => (setOn(false), read(marked(code)))} away={() => setOn(false)} />}
    </>
  );
}

const apart = 250; // ms between two looks

function Camera({ read, away }: { read(code: string): void; away(): void }) {
  const at = useRef<HTMLVideoElement>(null);
  const [not, setNot] = useState("");
  useEffect(() => {
    let over = false;
    let from: MediaStream | undefined;
    const look = async (): Promise<void> => {
      const eye = new detecting!();
      from = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
      if (over) return from.getTracks().forEach((t) => t.stop());
      at.current!.srcObject = from;
      await at.current!.play();
      while (!over) {
        const [code] = await eye.detect(at.current!).catch(() => []);
        if (code && !over) return read(code.rawValue);
        await new Promise((later) => setTimeout(later, apart));
      }
    };
    look().catch((fault) => setNot(fault instanceof DOMException ? "No camera: " + fault.name : String(fault)));
    return () => {
      over = true;
      from?.getTracks().forEach((t) => t.stop());
    };
  }, []);
  return (
    <div class="scan" role="group" aria-label="read a code">
      <video ref={at} muted playsInline />
      {not && <p role="alert">{not}</p>}
      <button type="button" onClick={away}>leave</button>
    </div>
  );
}
