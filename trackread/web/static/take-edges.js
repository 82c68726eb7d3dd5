// The pointer on a take: an edge is dragged, a part selected, the page scrolled and come closer to.

import { upper } from "./take-pick.js";

const REACH = { mouse: 6, pen: 10, touch: 16 }; // pixels from an edge within which it is taken hold of
const TAP = 6; // pixels that a finger may move and still tap
const KINDS = { word: "word", syllable: "syllable", sound: "sound", stress: "syllable" };

export class Edges {
  constructor(stage, { view, model, pick, painter, isFree }) {
    Object.assign(this, { stage, view, model, pick, painter, isFree });
    this.drag = null;
    this.fingers = new Map();
    stage.addEventListener("pointerdown", (event) => this.down(event));
    stage.addEventListener("pointermove", (event) => this.move(event));
    stage.addEventListener("pointerup", (event) => this.up(event));
    stage.addEventListener("pointercancel", (event) => this.up(event, true));
    stage.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
  }

  place(event) {
    const box = this.stage.getBoundingClientRect();
    return [event.clientX - box.left - this.stage.clientLeft, event.clientY - box.top - this.stage.clientTop];
  }

  columnAt(x) {
    const found = Object.entries(this.view.columns()).find(([, one]) => one.x <= x && x < one.x + one.width);
    return found ? found[0] : "note";
  }

  // The cut within reach in a column: in that of words only their edges, elsewhere the edges of sounds.
  cutAt(x, y, reach) {
    const level = KINDS[this.columnAt(x)] ?? "sound";
    const { cuts } = this.model.take;
    const from = Math.max(upper(cuts, this.view.top + (y - reach) * this.view.perPixel) - 1, 1);
    const allowed = level === "sound" ? null : edgesOf(this.pick.parts(level));
    let best = null;
    for (let cut = from; cut < cuts.length - 1; cut += 1) {
      const far = Math.abs(this.view.y(cuts[cut]) - y);
      if (this.view.y(cuts[cut]) > y + reach) break;
      if (far <= reach && (!allowed || allowed.has(cut)) && (!best || far < best.far)) best = { cut, far };
    }
    return best?.cut ?? null;
  }

  down(event) {
    if (event.button) return;
    this.stage.focus({ preventScroll: true });
    const [x, y] = this.place(event);
    this.stage.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, [x, y]);
    const cut = this.fingers.size === 1 ? this.cutAt(x, y, REACH[event.pointerType] ?? REACH.mouse) : null;
    if (this.drag?.cut) this.model.putBack(); // a second finger means to come closer, not to drag
    const level = KINDS[this.columnAt(x)] ?? this.pick.level;
    this.drag = { x, y, at: y, cut, level, moved: false, touch: event.pointerType === "touch" };
    if (cut !== null) {
      this.drag.off = this.view.y(this.model.take.cuts[cut]) - y;
      this.pick.selectEdge(cut);
    }
  }

  move(event) {
    const [x, y] = this.place(event);
    if (!this.drag) {
      const near = event.pointerType === "mouse" && this.cutAt(x, y, REACH.mouse) !== null;
      this.stage.style.cursor = near ? "ns-resize" : "";
      return;
    }
    if (this.fingers.size > 1) {
      this.pinch(event.pointerId, x, y);
      return;
    }
    if (Math.abs(y - this.drag.y) > TAP || this.drag.cut !== null) this.drag.moved = true;
    if (this.drag.cut !== null) this.dragTo(y, event.altKey);
    else if (this.drag.touch && this.drag.moved) this.view.scrollBy(this.drag.at - y);
    this.drag.at = y;
    this.painter.drawSoon();
  }

  dragTo(y, alt) {
    const { view, model, drag } = this;
    const sample = Math.round(view.top + (y + drag.off) * view.perPixel);
    const to = this.isFree() || alt ? sample : view.clock.nearest(sample);
    this.pick.cursor = model.show(drag.cut, to);
  }

  pinch(id, x, y) {
    const spread = () => {
      const [a, b] = [...this.fingers.values()];
      return [Math.hypot(a[0] - b[0], a[1] - b[1]), (a[1] + b[1]) / 2];
    };
    const [before, middle] = spread();
    this.fingers.set(id, [x, y]);
    const [after, now] = spread();
    if (before > 0 && after > 0) this.view.zoom(after / before, middle);
    this.view.scrollBy(middle - now);
    this.drag.moved = true;
    this.drag.cut = null;
    this.painter.drawSoon();
  }

  up(event, cancelled = false) {
    this.fingers.delete(event.pointerId);
    const { drag } = this;
    if (!drag || this.fingers.size) return;
    this.drag = null;
    if (cancelled) this.model.putBack();
    else if (drag.cut !== null) this.model.settle();
    else if (!drag.moved) this.pick.selectAt(this.view.sampleAt(drag.y), drag.level);
    this.painter.drawSoon();
  }

  wheel(event) {
    event.preventDefault();
    const pixels = event.deltaMode === 1 ? event.deltaY * 26 : event.deltaY;
    if (event.ctrlKey || event.metaKey) this.view.zoom(2 ** (-pixels / 200), this.place(event)[1]);
    else this.view.scrollBy(pixels);
    this.painter.drawSoon();
  }
}

function edgesOf(parts) {
  return new Set(parts.flatMap((part) => [part.first, part.stop]));
}
