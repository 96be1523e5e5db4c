// A picture under the plan: chosen or dropped, placed by two of its points, kept in this browser alone.
import { useEffect, useState } from "preact/hooks";
import { signal } from "@preact/signals";
import { misfit, pixel, placing, type Pair, type Placing } from "../draw/picture";
import { why } from "../keep/db";
import { dropPicture, keepPicture, pictureOf, type Picture } from "../keep/pictures";
import type { Screen } from "../screen";
import * as now from "../state";

interface Under {
  kept: Picture;
  image: ImageBitmap;
  url: string;
  job: string;
}

const have = signal<Under | undefined>(undefined);
const fault = signal("");
const open = signal(false); // the form

/** background is the picture to draw under the plan of the open job, and where; undefined: none, or it is switched off. */
export function background(): { image: ImageBitmap; placing: Placing } | undefined {
  const u = have.value;
  if (!u?.kept.on || u.job !== now.job.value?.id || u.kept.pairs.length < 2) return undefined;
  const p = placing(u.kept.pairs[0]!, u.kept.pairs[1]!);
  return p && { image: u.image, placing: p };
}

async function hold(job: string, kept: Picture | undefined): Promise<void> {
  const before = have.value;
  if (!kept) have.value = undefined;
  else {
    const blob = new Blob([kept.bytes as Uint8Array<ArrayBuffer>], { type: kept.type });
    const image = await createImageBitmap(blob);
    have.value = { kept, image, url: URL.createObjectURL(blob), job };
  }
  if (before) URL.revokeObjectURL(before.url);
}

/** chosen takes a file as the picture of the open job. */
export async function chosen(file: File | undefined): Promise<void> {
  const job = now.job.value?.id;
  if (!file || !job) return;
  fault.value = "";
  open.value = true;
  try {
    const kept: Picture = { name: file.name, type: file.type, bytes: new Uint8Array(await file.arrayBuffer()), pairs: [], on: true };
    await hold(job, kept).catch(() => {
      throw new Error(`${file.name} is no picture that this browser can read. Try: a PNG or a JPEG file.`);
    });
    await keepPicture(job, kept);
  } catch (e) {
    fault.value = why(e);
  }
}

async function changed(u: Under, to: Partial<Picture>): Promise<void> {
  const kept = { ...u.kept, ...to };
  have.value = { ...u, kept };
  await keepPicture(u.job, kept).catch((e) => (fault.value = why(e)));
}

export function PictureView() {
  const s = now.screen.value;
  const job = now.job.value?.id ?? "";
  useEffect(() => {
    if (job && have.value?.job !== job) void pictureOf(job).then((p) => hold(job, p), () => undefined);
  }, [job]);
  const u = have.value?.job === job ? have.value : undefined;
  if (!s) return null;
  return (
    <section class="underlay" aria-label="picture under the plan">
      <div class="which">
        <button type="button" aria-expanded={open.value} onClick={() => (open.value = !open.value)}>picture under the plan</button>
        {u && u.kept.pairs.length > 1 && (
          <label>
            <input type="checkbox" checked={u.kept.on} onChange={(e) => void changed(u, { on: e.currentTarget.checked })} /> shown
          </label>
        )}
      </div>
      {open.value && (
        <div class="putform underform">
          <p>A map, a photograph from above or a scanned plan. It stays on this device: it is in no revision, no pack, and is not sent.</p>
          <label>
            picture file <input type="file" accept="image/*" onChange={(e) => void chosen(e.currentTarget.files?.[0])} />
          </label>
          {fault.value && <p role="alert" class="fault">{fault.value}</p>}
          {u && <Points key={u.url} u={u} s={s} />}
        </div>
      )}
    </section>
  );
}

/** Point is one as it is typed: two numbers of pixels, easting and northing in the job's unit. */
type Point = [string, string, string, string];
const fields = ["pixels from the left", "pixels down", "easting", "northing"];

/** metresIn is how many metres one unit of the job's coordinates is. */
export const metresIn = (s: Screen): number => ({ ft: 0.3048, "US survey ft": 1200 / 3937 })[s.words.coord_unit] ?? 1;
const figure = (text: string): number => (text.trim() === "" ? NaN : Number(text.replace(/\s/g, "").replace(",", ".")));

function pairOf(s: Screen, p: Point): Pair | undefined {
  const [x, y, e, n] = p.map(figure) as [number, number, number, number];
  const unit = metresIn(s);
  return [x, y, e, n].every(Number.isFinite) ? { pixel: [x, y], at: [e * unit, n * unit] } : undefined;
}

function typed(s: Screen, pairs: Pair[]): Point[] {
  const unit = metresIn(s);
  return [0, 1, 2].map((i) => {
    const p = pairs[i];
    return p ? [String(p.pixel[0]), String(p.pixel[1]), (p.at[0] / unit).toFixed(3), (p.at[1] / unit).toFixed(3)] : ["", "", "", ""];
  });
}

function Points({ u, s }: { u: Under; s: Screen }) {
  const [points, set] = useState<Point[]>(() => typed(s, u.kept.pairs));
  const [next, setNext] = useState(0);
  const [large, setLarge] = useState(false);
  const put = (i: number, to: Partial<Record<0 | 1 | 2 | 3, string>>): void =>
    set(points.map((p, k) => (k === i ? (p.map((v, f) => to[f as 0] ?? v) as Point) : p)));
  const tapped = (e: MouseEvent): void => {
    const box = (e.currentTarget as Element).getBoundingClientRect();
    const at = (v: number, from: number, wide: number, whole: number): string => String(Math.round(((v - from) / wide) * whole * 10) / 10);
    put(next, { 0: at(e.clientX, box.left, box.width, u.image.width), 1: at(e.clientY, box.top, box.height, u.image.height) });
  };
  const pairs = points.map((p) => pairOf(s, p));
  const good = pairs[0] && pairs[1] && placing(pairs[0], pairs[1]);
  return (
    <>
      <p>{`${u.kept.name}, ${u.image.width} × ${u.image.height} pixels. Tap point ${next + 1} in the picture, then say where it is: type it, or take a node.`}</p>
      <label>
        <input type="checkbox" checked={large} onChange={(e) => setLarge(e.currentTarget.checked)} /> as large as it is
      </label>
      <div class={large ? "sheet large" : "sheet"}>
        <svg viewBox={`0 0 ${u.image.width} ${u.image.height}`} width={large ? u.image.width : undefined} role="img" aria-label="the picture; its points can be typed below" onClick={tapped}>
          <image href={u.url} width={u.image.width} height={u.image.height} />
          {points.map((p, i) => Number.isFinite(figure(p[0]) + figure(p[1])) && <Cross key={i} x={figure(p[0])} y={figure(p[1])} name={String(i + 1)} size={u.image.width / (large ? 60 : 30)} />)}
        </svg>
      </div>
      {points.map((p, i) => (
        <fieldset key={i}>
          <legend>{i < 2 ? `point ${i + 1}` : "a third point, to see how well it fits"}</legend>
          <button type="button" aria-pressed={next === i} onClick={() => setNext(i)}>tap it</button>
          {fields.map((f, k) => (
            <label key={f}>
              {k < 2 ? f : `${f}, ${s.words.coord_unit}`}
              <input inputMode="decimal" id={`picture-${i}-${k}`} value={p[k]} onInput={(e) => put(i, { [k]: e.currentTarget.value })} />
            </label>
          ))}
          <label>
            or node
            <select value="" id={`picture-${i}-node`} onChange={(e) => {
              const n = s.nodes.find((n) => n.id === e.currentTarget.value);
              const unit = metresIn(s);
              if (n) put(i, { 2: ((n.at_m[0] + s.plan.origin_m[0]) / unit).toFixed(3), 3: ((n.at_m[1] + s.plan.origin_m[1]) / unit).toFixed(3) });
            }}>
              <option value="">take one</option>
              {s.nodes.map((n) => <option key={n.id} value={n.id}>{n.id}</option>)}
            </select>
          </label>
        </fieldset>
      ))}
      <p role="status">{fit(s, pairs)}</p>
      <div class="which">
        <button type="button" disabled={!good} onClick={() => void changed(u, { pairs: pairs.filter((p) => p !== undefined), on: true })}>place it</button>
        <button type="button" onClick={() => (void dropPicture(u.job), void hold(u.job, undefined))}>take it away</button>
      </div>
    </>
  );
}

function Cross({ x, y, name, size }: { x: number; y: number; name: string; size: number }) {
  return (
    <g class="cross" stroke-width={size / 8}>
      <path d={`M${x - size} ${y}H${x + size}M${x} ${y - size}V${y + size}`} />
      <text x={x + size / 3} y={y - size / 3} font-size={size}>{name}</text>
    </g>
  );
}

// How the two points place the picture, and how well a third one agrees.
function fit(s: Screen, [one, other, third]: (Pair | undefined)[]): string {
  if (!one || !other) return "Two points place it.";
  const p = placing(one, other);
  if (!p) return "The two points are one and the same: take another.";
  const unit = metresIn(s);
  const k = pixel(p);
  const said = `One pixel is ${(k.metres / unit).toPrecision(3)} ${s.words.coord_unit}; the picture is turned by ${Math.abs(k.degrees).toFixed(2)}° to the ${k.degrees < 0 ? "right" : "left"}.`;
  if (!third) return said;
  const m = misfit(p, [one, other], third);
  return `${said} The third point lies ${(m.metres / unit).toPrecision(3)} ${s.words.coord_unit} beside where the two put it: the picture is stretched there by ${(m.part * 100).toPrecision(2)} %.`;
}
