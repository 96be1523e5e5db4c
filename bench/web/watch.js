// What is watched in the page. Times are of performance.now(): milliseconds since the page was asked for.
(() => {
  const w = (globalThis.watched = { drawn: 0, frames: [], pictures: [], core: [], blank: 0, draws: 0 });
  const next = (f) => requestAnimationFrame(() => setTimeout(() => f(performance.now()))); // the frame that follows was handed on
  const plan = (g) => g.canvas instanceof HTMLCanvasElement && g.canvas.closest(".plan");

  // The first line on the plan: the run is drawn. From then on nothing here stands in the way of drawing.
  const proto = CanvasRenderingContext2D.prototype;
  const stroke = proto.stroke;
  proto.stroke = function (...a) {
    if (plan(this) && !w.drawn) {
      w.drawn = performance.now();
      proto.stroke = stroke;
      setTimeout(() => next((t) => (w.drawn = t)));
    }
    return stroke.apply(this, a);
  };

  // A sketch: the hand that asked for it, and when its picture is there.
  let hand = 0;
  addEventListener("pointermove", (e) => (hand = e.timeStamp), true);
  const asked = new Map();
  let came = []; // hands whose sketches came and are not drawn yet
  const post = Worker.prototype.postMessage;
  const heard = new WeakSet();
  Worker.prototype.postMessage = function (q, ...rest) {
    if (q?.name === "next") (w.about = JSON.parse(q.args)), (w.worker = this); // a question about the open job, and who is asked
    if (q?.name === "sketch") asked.set(q.id, [hand, performance.now()]);
    if (!heard.has(this)) {
      heard.add(this);
      this.addEventListener("message", (e) => {
        const [of, at] = asked.get(e.data.id) ?? [];
        if (of !== undefined) came.push(of), w.core.push(performance.now() - at);
        asked.delete(e.data.id);
      });
    }
    return post.call(this, q, ...rest);
  };
  // Questions of the bench's own to the core that has the open job; the page takes no answer with such a number for one of its own.
  let own = 0;
  w.ask = (name, args) =>
    new Promise((done, failed) => {
      const id = --own;
      const came = (e) => {
        if (e.data.id !== id) return;
        w.worker.removeEventListener("message", came);
        if (e.data.error) failed(new Error(e.data.error));
        else done(JSON.parse(new TextDecoder().decode(e.data.bytes)));
      };
      w.worker.addEventListener("message", came);
      w.worker.postMessage({ id, name, args: JSON.stringify({ ...w.about, ...args }) });
    });
  const clear = proto.clearRect;
  proto.clearRect = function (...a) {
    w.draws++;
    if (came.length && plan(this)) {
      const of = came;
      came = [];
      setTimeout(() => of.forEach((t) => w.pictures.push(performance.now() - t))); // after the frame in which it is drawn
    }
    return clear.apply(this, a);
  };

  // Frames: from one to the next, while watching.
  let on = false;
  w.watch = () => {
    w.frames = [];
    w.pictures = [];
    w.core = [];
    w.blank = w.draws = 0;
    on = true;
    let last = 0;
    const frame = (t) => {
      if (!on) return;
      if (last) w.frames.push(t - last);
      last = t;
      w.each?.();
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  };
  w.stop = () => {
    on = false;
    return { frames: w.frames, pictures: w.pictures, core: w.core, blank: w.blank, draws: w.draws };
  };
})();
