// A picture under the plan, placed by two of its points: moved, turned and scaled as they say, never stretched. A third point
// tells how well that fits.
import type { Frame } from "./plan";

/** Pair is a point of the picture and the place that it shows. */
export interface Pair {
  pixel: [number, number]; // from the left upper corner to the right and down
  at: [number, number]; // metres east and north, on the job's grid
}

/** Placing is a similarity: the place of x, y is turn·(x − iy) + from, read as complex numbers. */
export interface Placing {
  turn: [number, number];
  from: [number, number];
}

/** placing is where two pairs put a picture; undefined: they are one point, here or there. */
export function placing(one: Pair, other: Pair): Placing | undefined {
  const [x, y] = [other.pixel[0] - one.pixel[0], one.pixel[1] - other.pixel[1]];
  const [e, n] = [other.at[0] - one.at[0], other.at[1] - one.at[1]];
  const d = x * x + y * y;
  if (!(d > 0) || !(Math.hypot(e, n) > 0)) return undefined;
  const turn: [number, number] = [(e * x + n * y) / d, (n * x - e * y) / d];
  const [u, v] = [one.pixel[0], -one.pixel[1]];
  return { turn, from: [one.at[0] - (turn[0] * u - turn[1] * v), one.at[1] - (turn[1] * u + turn[0] * v)] };
}

/** shows is the place that a point of a placed picture shows. */
export function shows(p: Placing, [x, y]: readonly [number, number]): [number, number] {
  return [p.turn[0] * x + p.turn[1] * y + p.from[0], p.turn[1] * x - p.turn[0] * y + p.from[1]];
}

/** pixel is how many metres a pixel is wide, and by how many degrees the picture is turned, to the left positive. */
export const pixel = (p: Placing): { metres: number; degrees: number } => ({
  metres: Math.hypot(...p.turn),
  degrees: (Math.atan2(p.turn[1], p.turn[0]) * 180) / Math.PI,
});

/** misfit is how far beside its place a third point comes, in metres, and as a part of its distance from the nearer of the two. */
export function misfit(p: Placing, pairs: readonly Pair[], third: Pair): { metres: number; part: number } {
  const [e, n] = shows(p, third.pixel);
  const metres = Math.hypot(e - third.at[0], n - third.at[1]);
  const away = Math.min(...pairs.map((q) => Math.hypot(q.at[0] - third.at[0], q.at[1] - third.at[1])));
  return { metres, part: away > 0 ? metres / away : Infinity };
}

const pale = 0.45; // how strongly it is drawn: the run and its lettering have to be read on it

/** under draws a picture where it belongs; origin is that of the plan. */
export function under(g: CanvasRenderingContext2D, f: Frame, origin: readonly [number, number], image: ImageBitmap, p: Placing): void {
  const s = f.look.scale;
  g.save();
  g.globalAlpha = pale;
  g.transform(s * p.turn[0], -s * p.turn[1], s * p.turn[1], s * p.turn[0], f.x(p.from[0] - origin[0]), f.y(p.from[1] - origin[1]));
  g.drawImage(image, 0, 0);
  g.restore();
}
