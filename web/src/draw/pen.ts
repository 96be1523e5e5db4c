// What everything is drawn with: ink, hatches and lettering. A state is told by hatch and word; colour only goes with it.
// No line is thinner than one CSS pixel where it has to be seen, and the run itself never thinner than three.

export interface Ink {
  paper: string;
  ink: string;
  soft: string; // lettering of the second rank, still 7:1 on paper
  line: string; // edges that have to be seen, 3:1 on paper
  faint: string; // lines that only help the eye
  here: string; // what the person stands at, and nothing else
  stone: string; // filled concrete
  ground: string;
}

/** light is for the office, sun for the trench: black on white. */
export const inks: Record<"light" | "sun", Ink> = {
  light: {
    paper: "#fcfaf5", ink: "#1b2a2f", soft: "#47545a", line: "#6f6a5c", faint: "#d9d4c7", here: "#8a2f5a", stone: "#e6dfd0", ground: "#7a5a24",
  },
  sun: {
    paper: "#ffffff", ink: "#000000", soft: "#000000", line: "#000000", faint: "#9a9a9a", here: "#8a0050", stone: "#e4e4e4", ground: "#4a3000",
  },
};

export const lettering = (px: number, bold = false): string =>
  `${bold ? "700" : "400"} ${px}px "DejaVu Sans Condensed", "DejaVu Sans", "Noto Sans", system-ui, sans-serif`;

export type Hatch = "rising" | "falling" | "crossed" | "dots" | "upright" | "level";

const made = new Map<string, CanvasPattern>();

/** hatch is a filling that says something in black and white too. */
export function hatch(g: CanvasRenderingContext2D, kind: Hatch, colour: string): CanvasPattern {
  const key = kind + colour;
  const have = made.get(key);
  if (have) return have;
  const s = 16;
  const c = new OffscreenCanvas(s, s);
  const p = c.getContext("2d")!;
  p.strokeStyle = p.fillStyle = colour;
  p.lineWidth = 1.4;
  p.beginPath();
  if (kind === "rising" || kind === "crossed") for (const o of [-8, 0, 8, 16]) p.moveTo(o - 1, s + 1), p.lineTo(o + s + 1, -1);
  if (kind === "falling" || kind === "crossed") for (const o of [-8, 0, 8, 16]) p.moveTo(o - 1, -1), p.lineTo(o + s + 1, s + 1);
  if (kind === "upright") for (const o of [2, 10]) p.moveTo(o, 0), p.lineTo(o, s);
  if (kind === "level") for (const o of [2, 10]) p.moveTo(0, o), p.lineTo(s, o);
  p.stroke();
  if (kind === "dots") for (const [x, y] of [[3, 3], [11, 7], [6, 13]] as const) p.beginPath(), p.arc(x, y, 1.2, 0, 7), p.fill();
  const pattern = g.createPattern(c, "repeat")!;
  made.set(key, pattern);
  return pattern;
}

/** write sets text with paper behind it, so that lines below do not cross it. */
export function write(g: CanvasRenderingContext2D, text: string, x: number, y: number, ink: Ink, colour = ink.ink): void {
  const { lineWidth, strokeStyle, fillStyle } = g;
  g.lineJoin = "round";
  g.lineWidth = 4;
  g.strokeStyle = ink.paper;
  g.strokeText(text, x, y);
  g.fillStyle = colour;
  g.fillText(text, x, y);
  Object.assign(g, { lineWidth, strokeStyle, fillStyle });
}

/** crisp is the middle of a device pixel near v, where lines of one pixel stay sharp. */
export const crisp = (v: number): number => Math.round(v - 0.5) + 0.5;

/** Row keeps lettering of one line apart: a text is written only where the ones before it leave room. */
export class Row {
  private taken: [number, number][] = [];
  room(from: number, to: number, gap = 6): boolean {
    if (this.taken.some(([a, b]) => from < b + gap && to > a - gap)) return false;
    this.taken.push([from, to]);
    return true;
  }
}
