// The one axis of chainage that strip and long section share: which stretch of the strip is shown, in mm along it.

export interface Window {
  from: number;
  to: number;
}

export class Axis {
  constructor(
    readonly shown: Window,
    readonly left: number, // CSS pixels
    readonly right: number,
  ) {}

  get scale(): number {
    return (this.right - this.left) / (this.shown.to - this.shown.from); // pixels a millimetre
  }
  x(mm: number): number {
    return this.left + (mm - this.shown.from) * this.scale;
  }
  mm(x: number): number {
    return this.shown.from + (x - this.left) / this.scale;
  }
}

/** kept keeps a window on the strip, and no narrower than 2 m. */
export function kept(w: Window, length: number): Window {
  const margin = length * 0.01 + 200;
  const widest = length + 2 * margin;
  const wide = Math.min(widest, Math.max(2000, w.to - w.from));
  const from = Math.min(length + margin - wide, Math.max(-margin, (w.from + w.to - wide) / 2));
  return { from, to: from + wide };
}

/** zoomed is a window seen closer or from further off, with the place at mm where it was. */
export function zoomed(w: Window, at: number, factor: number, length: number): Window {
  return kept({ from: at - (at - w.from) / factor, to: at + (w.to - at) / factor }, length);
}

export function moved(w: Window, by: number, length: number): Window {
  return kept({ from: w.from + by, to: w.to + by }, length);
}

/** even is the smallest even number that is no less than another: 1, 2 or 5 times a power of ten. */
export function even(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((k) => k * power).find((s) => s >= least * 0.999) ?? least;
}

/** ticks are the even places of a stretch, at least so many units apart. */
export function ticks(from: number, to: number, least: number): number[] {
  if (!(to > from) || !(least > 0)) return [];
  const step = even(least);
  const out: number[] = [];
  for (let k = Math.ceil(from / step); k * step <= to; k++) out.push(k * step);
  return out;
}
