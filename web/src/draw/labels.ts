// Lettering of a picture without rows: what is written first has its place, what comes later goes where there is room, whole within
// the picture, or is left out. What was written is known afterwards: a tap on a name means what it names.

import { write, type Ink } from "./pen";

export type Box = [left: number, top: number, right: number, bottom: number]; // CSS pixels

export interface Label {
  text: string;
  key: string; // what it names; empty: nothing that can be selected
  box: Box;
}

const cell = 64; // CSS pixels: boxes are looked for among those of the same cells

export class Labels {
  readonly written: Label[] = [];
  private cells = new Map<number, Box[]>();

  constructor(
    private g: CanvasRenderingContext2D,
    private width: number,
    private height: number,
    private ink: Ink,
  ) {}

  /** keep keeps a part of the picture free of lettering. */
  keep(box: Box): void {
    this.of(box, (k) => {
      const have = this.cells.get(k);
      if (have) have.push(box);
      else this.cells.set(k, [box]);
      return false;
    });
  }

  /** put writes a text at the first of some places, of its left end on the line of writing, where there is room for it. */
  put(text: string, places: readonly (readonly [number, number])[], wide: number, key = "", colour = this.ink.ink): boolean {
    for (const [x, y] of places) {
      const box: Box = [x - 2, y - 12, x + wide + 2, y + 4];
      if (box[0] < 1 || box[1] < 1 || box[2] > this.width - 1 || box[3] > this.height - 1 || this.taken(box)) continue;
      this.keep(box);
      this.written.push({ text, key, box });
      write(this.g, text, x, y, this.ink, colour);
      return true;
    }
    return false;
  }

  /** free tells whether nothing is written, and nothing is to be, in a part of the picture. */
  free(box: Box): boolean {
    return !this.taken(box);
  }

  private taken(b: Box): boolean {
    return this.of(b, (k) => this.cells.get(k)?.some((t) => b[0] < t[2] && b[2] > t[0] && b[1] < t[3] && b[3] > t[1]) ?? false);
  }

  // Goes through the cells of a box within the picture until one says yes.
  private of(b: Box, yes: (cell: number) => boolean): boolean {
    const at = (v: number, most: number): number => Math.floor(Math.min(most, Math.max(0, v)) / cell);
    for (let i = at(b[0], this.width); i <= at(b[2], this.width); i++) {
      for (let k = at(b[1], this.height); k <= at(b[3], this.height); k++) if (yes(i * 4096 + k)) return true;
    }
    return false;
  }
}

/** callings are what a thing may be called, the fullest first: all that is said of it, its name, its id. */
export function callings(label: string, key: string): string[] {
  const all = [label, label.split(", ")[0]!, key.slice(key.lastIndexOf("/") + 1)];
  return all.filter((text, i) => text !== "" && all.indexOf(text) === i);
}

/** beside are the places round a mark where its name may stand, the best first. */
export function beside(x: number, y: number, wide: number, off = 11): [number, number][] {
  return [[x + off, y - 8], [x + off, y + 18], [x - off - wide, y - 8], [x - off - wide, y + 18], [x + off + 4, y + 5], [x - off - 4 - wide, y + 5], [x - wide / 2, y - off - 5], [x - wide / 2, y + off + 13]];
}

/** named finds the lettering that a place of the picture lies on. */
export function named(written: readonly Label[], x: number, y: number): Label | undefined {
  return written.find((l) => l.key && x >= l.box[0] - 3 && x <= l.box[2] + 3 && y >= l.box[1] - 3 && y <= l.box[3] + 3);
}
