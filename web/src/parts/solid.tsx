// The run as solid bodies, loaded when it is asked for. Covers lift off, and the run is cut open where the peg stands.
import { useEffect, useRef, useState } from "preact/hooks";
import { effect } from "@preact/signals";
import type { Solid } from "../solid/solid";
import * as now from "../state";

let loading: Promise<typeof Solid> | undefined;

function load(): Promise<typeof Solid> {
  loading ??= new Promise((done, failed) => {
    const script = document.createElement("script");
    script.src = PLACES.solid;
    script.onload = () => done((globalThis as unknown as { TrenchwrightSolid: typeof Solid }).TrenchwrightSolid);
    script.onerror = () => {
      loading = undefined;
      failed(new Error("the solid view could not be loaded"));
    };
    document.head.append(script);
  });
  return loading;
}

// A browser whose painter has just failed and starts anew has nothing to draw with for a moment.
async function drawer(Kind: typeof Solid, canvas: HTMLCanvasElement): Promise<Solid | undefined> {
  for (let tries = 0; tries < 4; tries++) {
    if (tries > 0) await new Promise((later) => setTimeout(later, 400));
    try {
      return new Kind(canvas);
    } catch {
      // once more
    }
  }
  return undefined;
}

export function SolidView() {
  const at = useRef<HTMLCanvasElement>(null);
  const [said, say] = useState("The solid view is being loaded.");
  const [lift, setLift] = useState(0);
  const [cut, setCut] = useState(false);
  const solid = useRef<Solid | undefined>(undefined);
  const again = (): void => {
    const s = now.screen.value;
    if (s) solid.current?.draw(s, { lift, cut: cut ? now.here.value : undefined, here: now.selected.value });
  };
  useEffect(() => {
    let ended = false;
    let stop = (): void => undefined;
    load().then(
      async (Kind) => {
        const found = ended ? undefined : await drawer(Kind, at.current!);
        if (ended) return found?.end();
        if (!found) return say("This browser draws no solid bodies; everything stands on the cards and in the tables.");
        solid.current = found;
        say("");
        stop = effect(() => {
          const s = now.screen.value;
          if (!s) return;
          solid.current!.fill(s);
          solid.current!.goTo(s, now.here.peek());
          again();
        });
      },
      (fault: Error) => say(fault.message),
    );
    return () => {
      ended = true;
      stop();
      solid.current?.end();
    };
  }, []);
  useEffect(() => {
    const stop = effect(() => {
      void now.here.value;
      const s = now.screen.peek();
      if (s) solid.current?.goTo(s, now.here.value);
      again();
    });
    return stop;
  }, [lift, cut]);
  const held = useRef<[number, number] | undefined>(undefined);
  const turn = (x: number, y: number): void => {
    solid.current?.turn(x, y);
    again();
  };
  const nearer = (k: number): void => {
    solid.current?.nearer(k);
    again();
  };
  return (
    <div class="solid">
      {said && <p role="status">{said}</p>}
      <canvas
        ref={at}
        role="img"
        aria-label="the run as solid bodies; every fact of it stands on the cards and in the tables"
        onPointerDown={(e) => ((held.current = [e.clientX, e.clientY]), e.currentTarget.setPointerCapture(e.pointerId))}
        onPointerMove={(e) => {
          if (!held.current) return;
          turn((e.clientX - held.current[0]) / 600, (e.clientY - held.current[1]) / 600);
          held.current = [e.clientX, e.clientY];
        }}
        onPointerUp={() => (held.current = undefined)}
      />
      <div class="closeness">
        <button type="button" onClick={() => turn(0.12, 0)}>turn left</button>
        <button type="button" onClick={() => turn(-0.12, 0)}>turn right</button>
        <button type="button" onClick={() => turn(0, 0.12)}>higher</button>
        <button type="button" onClick={() => turn(0, -0.12)}>lower</button>
        <button type="button" aria-label="solid closer" onClick={() => nearer(1.5)}>+</button>
        <button type="button" aria-label="solid further" onClick={() => nearer(1 / 1.5)}>−</button>
        <button type="button" aria-pressed={lift > 0} onClick={() => setLift(lift > 0 ? 0 : 0.8)}>covers off</button>
        <button type="button" aria-pressed={cut} onClick={() => setCut(!cut)}>cut at the peg</button>
      </div>
    </div>
  );
}
