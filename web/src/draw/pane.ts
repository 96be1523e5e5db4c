// A pane is a canvas that is drawn anew when something it shows has changed, once a frame, sharp at any pixel density. It hands
// on what a pointer does in CSS pixels; what it shows is for somebody else to know.

export interface Hand {
  /** down says whether this pane takes the pointer from here until up. */
  down?(x: number, y: number, e: PointerEvent): boolean;
  move?(x: number, y: number, e: PointerEvent): void;
  up?(x: number, y: number, e: PointerEvent): void;
  /** left says that the pointer was taken away before it was up: by a second finger, or by the browser. Nothing was meant by it. */
  left?(): void;
  over?(x: number, y: number): void;
  /** wheel turns by steps: negative is away from the hand. */
  wheel?(x: number, y: number, dx: number, dy: number, zoom: boolean): void;
  /** pinch is two fingers: the middle, how far it moved, and by what factor they parted. */
  pinch?(x: number, y: number, dx: number, dy: number, factor: number): void;
}

export class Pane {
  readonly g: CanvasRenderingContext2D;
  width = 0;
  height = 0;
  private asked = 0;
  private sizes: ResizeObserver;
  private fingers = new Map<number, { x: number; y: number }>();
  private held: number | undefined;

  constructor(
    readonly canvas: HTMLCanvasElement,
    private draw: (g: CanvasRenderingContext2D, width: number, height: number) => void,
    private hand: Hand = {},
  ) {
    this.g = canvas.getContext("2d")!;
    this.sizes = new ResizeObserver(() => this.fit());
    this.sizes.observe(canvas);
    canvas.addEventListener("pointerdown", this.down);
    canvas.addEventListener("pointermove", this.move);
    canvas.addEventListener("pointerup", this.up);
    canvas.addEventListener("pointercancel", this.cancel);
    canvas.addEventListener("wheel", this.wheel, { passive: false });
    this.fit();
  }

  end(): void {
    this.sizes.disconnect();
    cancelAnimationFrame(this.asked);
    this.canvas.removeEventListener("pointerdown", this.down);
    this.canvas.removeEventListener("pointermove", this.move);
    this.canvas.removeEventListener("pointerup", this.up);
    this.canvas.removeEventListener("pointercancel", this.cancel);
    this.canvas.removeEventListener("wheel", this.wheel);
  }

  /** again asks to be drawn with the next frame. */
  again(): void {
    this.asked ||= requestAnimationFrame(() => {
      this.asked = 0;
      this.now();
    });
  }

  private now(): void {
    if (!this.width || !this.height) return;
    const r = devicePixelRatio || 1;
    this.g.setTransform(r, 0, 0, r, 0, 0);
    this.g.clearRect(0, 0, this.width, this.height);
    this.draw(this.g, this.width, this.height);
  }

  private fit(): void {
    const box = this.canvas.getBoundingClientRect();
    const r = devicePixelRatio || 1;
    const w = Math.round(box.width * r);
    const h = Math.round(box.height * r);
    if (this.canvas.width !== w || this.canvas.height !== h) {
      this.canvas.width = w;
      this.canvas.height = h;
    }
    this.width = box.width;
    this.height = box.height;
    this.now();
  }

  private at(e: { clientX: number; clientY: number }): [number, number] {
    const box = this.canvas.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  }

  private down = (e: PointerEvent): void => {
    const [x, y] = this.at(e);
    this.fingers.set(e.pointerId, { x, y });
    if (this.fingers.size === 1 && e.button === 0 && (this.hand.down?.(x, y, e) ?? false)) {
      this.held = e.pointerId;
      this.canvas.setPointerCapture(e.pointerId);
    }
    if (this.fingers.size === 2) this.leave();
  };

  private cancel = (e: PointerEvent): void => {
    this.fingers.delete(e.pointerId);
    if (this.held === e.pointerId) this.leave();
  };

  private leave(): void {
    if (this.held === undefined) return;
    this.held = undefined;
    this.hand.left?.();
  }

  private move = (e: PointerEvent): void => {
    const [x, y] = this.at(e);
    const was = this.fingers.get(e.pointerId);
    if (this.fingers.size === 2 && was) {
      const other = [...this.fingers].find(([id]) => id !== e.pointerId)![1];
      const before = Math.hypot(was.x - other.x, was.y - other.y);
      const after = Math.hypot(x - other.x, y - other.y);
      this.hand.pinch?.((x + other.x) / 2, (y + other.y) / 2, (x - was.x) / 2, (y - was.y) / 2, before > 8 ? after / before : 1);
    }
    if (was) this.fingers.set(e.pointerId, { x, y });
    if (this.held === e.pointerId) this.hand.move?.(x, y, e);
    else if (!was) this.hand.over?.(x, y);
  };

  private up = (e: PointerEvent): void => {
    const [x, y] = this.at(e);
    this.fingers.delete(e.pointerId);
    if (this.held !== e.pointerId) return;
    this.held = undefined;
    this.hand.up?.(x, y, e);
  };

  private wheel = (e: WheelEvent): void => {
    if (!this.hand.wheel) return;
    e.preventDefault();
    const unit = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : e.deltaMode === WheelEvent.DOM_DELTA_PAGE ? this.height : 1;
    this.hand.wheel(...this.at(e), e.deltaX * unit, e.deltaY * unit, e.ctrlKey || e.metaKey);
  };
}
