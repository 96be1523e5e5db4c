// Notes where text and lines are drawn on canvases, and afterwards reads from the pixels how they stand out from what lies around.
(() => {
  const proto = CanvasRenderingContext2D.prototype;
  let on = false;
  let notes = [];
  const names = [["strip", ".strip"], ["section", ".section"], ["plan", ".plan canvas"]];
  const nameOf = (c) => (c instanceof HTMLCanvasElement ? names.find(([, css]) => c.matches(css))?.[0] : undefined);
  const device = (g, x, y) => {
    const m = g.getTransform();
    return [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f];
  };

  // The path of each context, as the middles of its straight parts.
  const paths = new WeakMap();
  const wrap = (name, f) => {
    const was = proto[name];
    proto[name] = function (...a) {
      if (on) f.call(this, ...a);
      return was.apply(this, a);
    };
  };
  // A canvas that is cleared is drawn anew, perhaps moved: what was drawn before is not there any more.
  wrap("clearRect", function (x, y, w, h) {
    if (x <= 0 && y <= 0 && device(this, w, h)[0] >= this.canvas.width - 1) notes = notes.filter((n) => n.c !== this.canvas);
  });
  wrap("beginPath", function () { paths.set(this, { at: undefined, middles: [] }); });
  wrap("moveTo", function (x, y) { const p = paths.get(this); if (p) p.at = [x, y]; });
  wrap("lineTo", function (x, y) {
    const p = paths.get(this);
    if (!p) return;
    if (p.at && Math.hypot(x - p.at[0], y - p.at[1]) > 5) p.middles.push([(x + p.at[0]) / 2, (y + p.at[1]) / 2]);
    p.at = [x, y];
  });
  wrap("stroke", function () {
    const p = paths.get(this);
    const canvas = nameOf(this.canvas);
    if (!p || !canvas || p.middles.length === 0) return;
    const dashed = this.getLineDash().length > 0;
    for (const m of p.middles.slice(0, 40)) notes.push({ canvas, c: this.canvas, kind: "line", colour: this.strokeStyle, says: this.lineWidth + " px" + (dashed ? ", dashed" : ""), at: device(this, ...m), reach: dashed ? 14 : 3 });
  });
  wrap("fillText", function (text, x, y) {
    const canvas = nameOf(this.canvas);
    if (!canvas) return;
    const m = this.measureText(text);
    const [x0, y0] = device(this, x - m.actualBoundingBoxLeft, y - m.actualBoundingBoxAscent);
    const [x1, y1] = device(this, x + m.actualBoundingBoxRight, y + m.actualBoundingBoxDescent);
    notes.push({ canvas, c: this.canvas, kind: "text", colour: this.fillStyle, says: text, box: [x0, y0, x1, y1] });
  });

  const light = (r, g, b) => {
    const f = (v) => ((v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * f(r) + 0.7152 * f(g) + 0.0722 * f(b);
  };
  const contrast = (a, b) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  const groundOf = (e) => {
    for (; e; e = e.parentElement) {
      const m = getComputedStyle(e).backgroundColor.match(/[\d.]+/g).map(Number);
      if (m.length < 4 || m[3] > 0) return m;
    }
    return [255, 255, 255];
  };
  // How a part of a canvas looks: the lightness that most of it has, and the one that stands out most from that near its middle.
  const read = (c, x0, y0, x1, y1, inner) => {
    x0 = Math.max(0, Math.floor(x0)); y0 = Math.max(0, Math.floor(y0));
    x1 = Math.min(c.width, Math.ceil(x1)); y1 = Math.min(c.height, Math.ceil(y1));
    if (x1 - x0 < 2 || y1 - y0 < 2) return undefined;
    const d = c.getContext("2d").getImageData(x0, y0, x1 - x0, y1 - y0).data;
    const [R, G, B] = groundOf(c);
    const all = [];
    const often = new Map();
    for (let i = 0; i < d.length; i += 4) {
      const a = d[i + 3] / 255;
      const rgb = [d[i] * a + R * (1 - a), d[i + 1] * a + G * (1 - a), d[i + 2] * a + B * (1 - a)].map(Math.round);
      const key = rgb.join();
      often.set(key, (often.get(key) ?? 0) + 1);
      all.push(light(...rgb));
    }
    const [most] = [...often].sort((p, q) => q[1] - p[1])[0];
    const ground = light(...most.split(",").map(Number));
    let best = 1;
    const w = x1 - x0;
    all.forEach((l, k) => {
      if (inner(x0 + (k % w), y0 + Math.floor(k / w))) best = Math.max(best, contrast(l, ground));
    });
    return best;
  };

  globalThis.drawnInks = {
    begin() { on = true; notes = []; },
    end() {
      on = false;
      const out = [];
      const lines = new Map();
      for (const n of notes) {
        if (!n.c.isConnected) continue;
        if (n.kind === "text") {
          const [x0, y0, x1, y1] = n.box;
          if (x0 < 0 || y0 < 0 || x1 > n.c.width || y1 > n.c.height) continue; // partly beside the canvas
          const k = read(n.c, x0 - 2, y0 - 2, x1 + 2, y1 + 2, () => true);
          if (k) out.push({ canvas: n.canvas, kind: "text", colour: n.colour, says: n.says, contrast: k, samples: 1 });
          continue;
        }
        const [x, y] = n.at;
        if (x < 4 || y < 4 || x > n.c.width - 4 || y > n.c.height - 4) continue;
        const k = read(n.c, x - 16, y - 16, x + 16, y + 16, (a, b) => Math.abs(a + 0.5 - x) <= n.reach && Math.abs(b + 0.5 - y) <= n.reach);
        if (!k) continue;
        const key = [n.canvas, n.colour, n.says].join();
        if (!lines.has(key)) lines.set(key, { canvas: n.canvas, kind: "line", colour: n.colour, says: n.says, all: [] });
        lines.get(key).all.push(k);
      }
      // of all places where a kind of line was drawn, the middle one: some lie under other things
      for (const { all, ...l } of lines.values()) out.push({ ...l, contrast: all.sort((a, b) => a - b)[all.length >> 1], samples: all.length });
      return out;
    },
  };
})();
