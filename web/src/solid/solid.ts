// The run as solid bodies: bed, units, covers that lift off, the ground along the run, cut open at a chainage. It is a view only:
// no fact stands here that does not stand on a card or in a table. Loaded when somebody asks for it.
import {
  AmbientLight, BufferGeometry, Color, DirectionalLight, DoubleSide, Float32BufferAttribute, Group, Line, LineBasicMaterial,
  LineSegments, Mesh, MeshLambertMaterial, PerspectiveCamera, Plane, Scene, Vector3, WebGLRenderer, EdgesGeometry,
} from "three";
import type { Screen } from "../screen";
import { first } from "../draw/strip";

export interface Shown {
  lift: number; // metres by which the covers are lifted off
  cut: number | undefined; // strip position at which the run is cut open
  here: string; // key of the selected thing
}

type Place = [number, number, number];

/** Solid draws one screen into a canvas. */
export class Solid {
  private renderer: WebGLRenderer;
  private scene = new Scene();
  private camera = new PerspectiveCamera(42, 1, 0.1, 50_000);
  private target = new Vector3();
  private round = -0.9;
  private up = 0.55;
  private far = 30;
  private covers = new Group();
  private plane = new Plane(new Vector3(-1, 0, 0), 1e9);

  /** The canvas may have no context to draw with: that is thrown. */
  constructor(private canvas: HTMLCanvasElement) {
    const context = canvas.getContext("webgl2", { antialias: true });
    if (!context) throw new Error("nothing to draw solid bodies with");
    this.renderer = new WebGLRenderer({ canvas, context });
    this.renderer.localClippingEnabled = true;
    this.scene.background = new Color("#fcfaf5");
    this.scene.add(new AmbientLight(0xffffff, 1.7));
    const sun = new DirectionalLight(0xffffff, 1.6);
    sun.position.set(-3, 6, 4);
    this.scene.add(sun);
  }

  end(): void {
    this.renderer.dispose();
  }

  /** fill takes all bodies of a screen; places are metres from the middle of the run, with the level upward. */
  fill(s: Screen): void {
    this.scene.children.filter((c) => c instanceof Group).forEach((c) => this.scene.remove(c));
    const [w, so, e, n] = s.plan.extent_m;
    const middle = { e: (w + e) / 2, n: (so + n) / 2, level: (s.section.low_m + s.section.high_m) / 2 };
    const at = (east: number, north: number, level: number): Place => [east - middle.e, level - middle.level, middle.n - north];
    const units = new Group();
    const beds = new Group();
    this.covers = new Group();
    const stone = this.body("#e6dfd0");
    const lid = this.body("#ffffff");
    const gravel = this.body("#cfc6b2");
    for (let i = 0; i < s.units.mark.length; i++) {
      const leg = s.units.leg[i]!;
      const [a, b] = [s.units.from[i]!, s.units.to[i]!];
      const c = s.plan.corners_m.slice(i * 8, i * 8 + 8) as [number, number, number, number, number, number, number, number];
      const supply = s.supplies[s.units.supply[i]!]!;
      const tops: [number, number] | undefined = both(s, leg, "wall", a, b);
      const unders: [number, number] | undefined = both(s, leg, "underside", a, b);
      if (!tops || !unders) continue;
      const inner = supply.inner_width_mm && supply.outer_width_mm ? supply.inner_width_mm / supply.outer_width_mm : 0;
      const floor = supply.inner_height_mm ? supply.inner_height_mm / 1000 : 0;
      trough(c, tops, unders, inner, floor, at).forEach((g) => units.add(...this.drawn(g, stone)));
      const forms = both(s, leg, "formation", a, b);
      if (forms) beds.add(...this.drawn(box(wider(c, 1.25), unders, forms, at), gravel));
      if (supply.cover_thickness_mm === null) continue; // not on file: nothing is drawn in its place
      const thick = supply.cover_thickness_mm / 1000;
      for (let k = first(s.covers.from, a - 1); k < s.covers.from.length && s.covers.from[k]! < b; k++) {
        if (s.covers.unit[k] !== i) continue;
        const t0 = Math.max(0, (s.covers.from[k]! - a) / (b - a));
        const t1 = Math.min(1, (s.covers.to[k]! - a) / (b - a));
        const part = between(c, t0, t1);
        const low: [number, number] = [tops[0] + (tops[1] - tops[0]) * t0, tops[0] + (tops[1] - tops[0]) * t1];
        this.covers.add(...this.drawn(box(part, [low[0] + thick, low[1] + thick], low, at), lid));
      }
    }
    this.scene.add(beds, units, this.covers, this.ground(s, at));
    const size = Math.max(e - w, n - so, 5);
    this.far = Math.min(size * 1.1, 60);
    this.target.set(0, 0, 0);
  }

  private ground(s: Screen, at: (e: number, n: number, l: number) => Place): Group {
    const g = new Group();
    for (const l of s.section.lines) {
      if (l.of !== "existing" && l.of !== "finished") continue;
      const points: number[] = [];
      s.section.stations[l.stations]!.forEach((mm, i) => {
        const level = l.levels_m[i];
        const p = level == null ? undefined : placeOn(s, l.leg, mm);
        if (p) points.push(...at(p[0], p[1], level!));
      });
      const line = new BufferGeometry();
      line.setAttribute("position", new Float32BufferAttribute(points, 3));
      g.add(new Line(line, new LineBasicMaterial({ color: l.of === "existing" ? "#7a5a24" : "#1b2a2f" })));
    }
    return g;
  }

  private body(colour: string): MeshLambertMaterial {
    return new MeshLambertMaterial({ color: colour, side: DoubleSide, clippingPlanes: [this.plane], polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  }

  private drawn(g: BufferGeometry, m: MeshLambertMaterial): [Mesh, LineSegments] {
    const ink = new LineBasicMaterial({ color: "#1b2a2f", clippingPlanes: [this.plane] });
    return [new Mesh(g, m), new LineSegments(new EdgesGeometry(g, 20), ink)];
  }

  /** look turns by fractions of the canvas, and goes nearer by a factor. */
  turn(dx: number, dy: number): void {
    this.round -= dx * 4;
    this.up = Math.min(1.5, Math.max(0.05, this.up + dy * 3));
  }
  nearer(factor: number): void {
    this.far = Math.min(2000, Math.max(2, this.far / factor));
  }
  /** goTo looks at a place of the strip. */
  goTo(s: Screen, mm: number): void {
    const leg = s.legs.findIndex((l) => mm >= l.from - 1 && mm <= l.to + 1);
    const p = leg < 0 ? undefined : placeOn(s, leg, mm);
    if (!p) return;
    const [w, so, e, n] = s.plan.extent_m;
    const level = both(s, leg, "wall", mm, mm)?.[0] ?? (s.section.low_m + s.section.high_m) / 2;
    this.target.set(p[0] - (w + e) / 2, level - (s.section.low_m + s.section.high_m) / 2, (so + n) / 2 - p[1]);
    this.far = Math.min(this.far, 14);
  }

  draw(s: Screen, shown: Shown): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    if (!w || !h) return;
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio || 1));
    this.renderer.setSize(w, h, false);
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
    this.camera.position.set(
      this.target.x + this.far * Math.cos(this.up) * Math.sin(this.round),
      this.target.y + this.far * Math.sin(this.up),
      this.target.z + this.far * Math.cos(this.up) * Math.cos(this.round),
    );
    this.camera.lookAt(this.target);
    this.covers.position.y = shown.lift;
    this.cutAt(s, shown.cut);
    this.renderer.render(this.scene, this.camera);
  }

  // What lies further along the run than the cut is taken away, square to the run there.
  private cutAt(s: Screen, mm: number | undefined): void {
    if (mm === undefined) {
      this.plane.set(new Vector3(1, 0, 0), 1e9);
      return;
    }
    const leg = s.legs.findIndex((l) => mm >= l.from - 1 && mm <= l.to + 1);
    const a = placeOn(s, leg, mm - 50);
    const b = placeOn(s, leg, mm + 50);
    if (!a || !b) return;
    const [w, so, e, n] = s.plan.extent_m;
    const way = new Vector3(b[0] - a[0], 0, a[1] - b[1]).normalize().negate();
    const at = new Vector3((a[0] + b[0]) / 2 - (w + e) / 2, 0, (so + n) / 2 - (a[1] + b[1]) / 2);
    this.plane.setFromNormalAndCoplanarPoint(way, at);
  }
}

type Corners = number[];

/** both are the levels of a line of a leg at two places of the strip. */
function both(s: Screen, leg: number, of: string, a: number, b: number): [number, number] | undefined {
  const l = s.section.lines.find((l) => l.leg === leg && l.of === of);
  if (!l) return undefined;
  const at = s.section.stations[l.stations]!;
  const x = level(at, l.levels_m, a);
  const y = level(at, l.levels_m, b);
  return x === undefined || y === undefined ? undefined : [x, y];
}

function level(at: number[], levels: (number | null)[], mm: number): number | undefined {
  const i = Math.min(at.length - 1, Math.max(1, first(at, mm)));
  const x = levels[i - 1];
  const y = levels[i];
  if (x == null || y == null) return x ?? y ?? undefined;
  const t = at[i]! > at[i - 1]! ? (mm - at[i - 1]!) / (at[i]! - at[i - 1]!) : 0;
  return x + (y - x) * t;
}

function placeOn(s: Screen, leg: number, mm: number): [number, number] | undefined {
  const l = s.plan.legs[leg];
  if (!l || l.strip.length < 2) return undefined;
  const k = Math.min(l.strip.length - 1, Math.max(1, first(l.strip, mm)));
  const t = (mm - l.strip[k - 1]!) / (l.strip[k]! - l.strip[k - 1]! || 1);
  return [l.line_m[2 * k - 2]! + (l.line_m[2 * k]! - l.line_m[2 * k - 2]!) * t, l.line_m[2 * k - 1]! + (l.line_m[2 * k + 1]! - l.line_m[2 * k - 1]!) * t];
}

/** corners are left start, left end, right end, right start. */
function between(c: Corners, t0: number, t1: number): Corners {
  const mix = (i: number, j: number, t: number): [number, number] => [c[i]! + (c[j]! - c[i]!) * t, c[i + 1]! + (c[j + 1]! - c[i + 1]!) * t];
  return [...mix(0, 2, t0), ...mix(0, 2, t1), ...mix(6, 4, t1), ...mix(6, 4, t0)];
}

/** across is the part of the corners between two fractions from the left side to the right. */
function across(c: Corners, f0: number, f1: number): Corners {
  const mix = (i: number, j: number, t: number): [number, number] => [c[i]! + (c[j]! - c[i]!) * t, c[i + 1]! + (c[j + 1]! - c[i + 1]!) * t];
  return [...mix(0, 6, f0), ...mix(2, 4, f0), ...mix(2, 4, f1), ...mix(0, 6, f1)];
}

const wider = (c: Corners, k: number): Corners => across(c, (1 - k) / 2, (1 + k) / 2);

function box(c: Corners, top: [number, number], low: [number, number], at: (e: number, n: number, l: number) => Place): BufferGeometry {
  const p = (i: number, l: number): Place => at(c[2 * i]!, c[2 * i + 1]!, l);
  const t = [p(0, top[0]), p(1, top[1]), p(2, top[1]), p(3, top[0])] as const;
  const b = [p(0, low[0]), p(1, low[1]), p(2, low[1]), p(3, low[0])] as const;
  const sides: (readonly Place[])[] = [t, b, [t[0], t[1], b[1], b[0]], [t[1], t[2], b[2], b[1]], [t[2], t[3], b[3], b[2]], [t[3], t[0], b[0], b[3]]];
  const points: number[] = [];
  for (const f of sides) points.push(...f[0]!, ...f[1]!, ...f[2]!, ...f[0]!, ...f[2]!, ...f[3]!);
  const g = new BufferGeometry();
  g.setAttribute("position", new Float32BufferAttribute(points, 3));
  g.computeVertexNormals();
  return g;
}

/** trough is a unit as two walls and a floor; where its inside is not on file, one whole body. */
function trough(c: Corners, top: [number, number], low: [number, number], inner: number, depth: number, at: (e: number, n: number, l: number) => Place): BufferGeometry[] {
  if (inner <= 0 || depth <= 0) return [box(c, top, low, at)];
  const wall = (1 - inner) / 2;
  const floor: [number, number] = [top[0] - depth, top[1] - depth];
  return [box(across(c, 0, wall), top, low, at), box(across(c, 1 - wall, 1), top, low, at), box(across(c, wall, 1 - wall), floor, low, at)];
}

(globalThis as { TrenchwrightSolid?: typeof Solid }).TrenchwrightSolid = Solid;
