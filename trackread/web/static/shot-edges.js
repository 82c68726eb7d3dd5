// The pointer on a shot: an edge of a take is dragged, a part or the frames of mouths selected, the page scrolled.

import { Edges } from "./take-edges.js";

const REACH = { mouse: 6, pen: 10, touch: 16 }; // pixels from an edge within which it is taken hold of
const TAP = 6; // pixels that a finger may move and still tap
const MEANT = 3; // pixels that a pointer moves before an edge goes with it
const LEVELS = { word: "word", syllable: "syllable", stress: "syllable", sound: "sound", mouth: "mouth" };

export class ShotEdges extends Edges {
  // The voice and level under a place of the page; no level beside the voices.
  under(x) {
    const band = this.view.bands(this.pick.voice).find((one) => one.x <= x && x < one.x + one.width);
    if (!band) return { voice: this.pick.voice, level: null };
    const found = Object.entries(band.columns).find(([, one]) => one.x <= x && x < one.x + one.width);
    return { voice: band.voice, level: LEVELS[found?.[0]] ?? null };
  }

  // The edge within reach of a place, with the line of the page on which it is drawn.
  cutAt(x, y, reach) {
    const { voice, level } = this.under(x);
    if (!level || level === "mouth") return null;
    let best = null;
    for (const placed of this.model.voices[voice].placed) {
      for (const [cut, sides] of edgesOf(placed, level)) {
        const line = this.lineOf(placed, cut, sides);
        const far = Math.abs(line - y);
        if (line !== null && far <= reach && (!best || far < best.far)) best = { placed, cut, far, line };
      }
    }
    return best;
  }

  // Where an edge is drawn: by rows on that where a part begins to be heard, else on that where one has ended.
  lineOf(placed, cut, { starts, stops }) {
    const { view } = this;
    if (!placed.take.canMove(cut)) return null;
    const edge = placed.take.take.cuts[cut];
    const [before, after] = placed.forwards ? [edge - 1, edge] : [edge, edge - 1];
    const begins = placed.forwards ? starts : stops;
    const frame = begins ? placed.frameOf(after) : placed.frameOf(before) + 1;
    if (frame < placed.seen[0] || frame > placed.seen[1]) return null;
    return view.isByRows ? view.y(view.clock.firstOf(frame)) : view.y(placed.place(edge));
  }

  down(event) {
    if (event.button) return;
    this.stage.focus({ preventScroll: true });
    const [x, y] = this.place(event);
    this.stage.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, [x, y]);
    if (this.drag?.cut) this.drag.cut.placed.take.putBack(); // a second finger means to come closer, not to drag
    const cut = this.fingers.size === 1 ? this.cutAt(x, y, REACH[event.pointerType] ?? REACH.mouse) : null;
    const { voice, level } = this.under(x);
    this.drag = { x, y, at: y, cut, voice, level, moved: false, touch: event.pointerType === "touch" };
    if (cut) {
      this.drag.off = cut.line - y;
      this.pick.voice = voice;
      this.pick.selectEdge({ placed: cut.placed, cut: cut.cut });
    } else if (level === "mouth" && !this.drag.touch) this.pick.selectAt(this.view.sampleAt(y), { voice, level });
  }

  move(event) {
    const { drag } = this;
    if (drag && !drag.cut && drag.level === "mouth" && !drag.touch) {
      this.mouthsTo(this.place(event)[1]);
      return;
    }
    if (drag?.cut && !drag.moved && Math.abs(this.place(event)[1] - drag.y) < MEANT) return;
    super.move(event);
  }

  // Frames of mouths, from where the pointer went down to where it is.
  mouthsTo(y) {
    const { drag, view, pick } = this;
    if (Math.abs(y - drag.y) < TAP && !drag.moved) return;
    drag.moved = true;
    const ends = [drag.y, y].map((at) => view.clock.frameAt(view.sampleAt(at))).sort((a, b) => a - b);
    pick.select({ frames: [ends[0], ends[1] + 1] }, "mouth");
    this.painter.drawSoon();
  }

  dragTo(y, alt) {
    const { view, drag, pick } = this;
    const { placed, cut } = drag.cut;
    const to = Math.max(view.top + (y + drag.off) * view.perPixel, 0);
    const frame = view.clock.frameAt(view.clock.nearest(Math.floor(to)));
    placed.take.show(cut, this.isFree() || alt ? placed.edgeNear(to) : placed.edgeOn(frame));
    pick.cursor = placed.place(placed.take.take.cuts[cut]);
  }

  up(event, cancelled = false) {
    this.fingers.delete(event.pointerId);
    const { drag } = this;
    if (!drag || this.fingers.size) return;
    this.drag = null;
    if (drag.cut) cancelled ? drag.cut.placed.take.putBack() : drag.cut.placed.take.settle();
    else if (!drag.moved && !cancelled) {
      const level = drag.level ?? this.pick.level;
      if (level !== "mouth" || drag.touch) this.pick.selectAt(this.view.sampleAt(drag.y), { voice: drag.voice, level });
    }
    this.painter.drawSoon();
  }
}

// The edges of a level's parts, each with whether one starts or stops there in the take.
function edgesOf(placed, level) {
  const found = new Map();
  const at = (cut) => found.get(cut) ?? found.set(cut, { starts: false, stops: false }).get(cut);
  placed.parts(level).forEach((part, index) => {
    if (level === "sound" && !placed.saidAs(index)) return;
    at(part.first).starts = true;
    at(part.stop).stops = true;
  });
  return found;
}
