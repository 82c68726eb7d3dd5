// Where a take plays in a shot, and on which rows of the shot its parts stand. Samples and frames are whole numbers, as
// core/clock.py counts them; parts are put on frames as workflow/sheet_frames.py and sheet_said.py put them.
// A place is a sample of the shot's sound, maybe between two; an edge k of a take lies before its sample k.

import { divided } from "./take-time.js";

export class Placed {
  constructor(told, take, clock) {
    Object.assign(this, told, { take, clock });
    this.perFrame = (clock.sampleRate * clock.den) / clock.num; // samples of the shot, for drawing
  }

  get forwards() {
    return this.per > 0;
  }

  place(edge) {
    return ((edge * this.per + this.offset) / this.scale) * this.perFrame;
  }

  // The frame on which a sample begins to be heard; backwards it begins with its later end.
  frameOf(sample) {
    return divided((sample + (this.forwards ? 0 : 1)) * this.per + this.offset, this.scale);
  }

  // The frames on which samples are heard, from the first to before the last.
  frames(start, stop) {
    const ends = [this.frameOf(start), this.frameOf(stop - 1)];
    return [Math.min(...ends), Math.max(...ends) + 1];
  }

  // The edge from which on a frame is heard.
  edgeOn(frame) {
    const wanted = frame * this.scale - this.offset;
    return this.forwards ? -divided(-wanted, this.per) : divided(-wanted, -this.per);
  }

  // The edge that lies nearest to a place.
  edgeNear(place) {
    return Math.round(((place / this.perFrame) * this.scale - this.offset) / this.per);
  }

  // The parts of a level, by the sounds that they are made of.
  parts(level) {
    const { words, syllables, phones } = this.take.take;
    if (level === "word") return words;
    if (level === "syllable") return syllables;
    return phones.map((_, first) => ({ first, stop: first + 1 }));
  }

  // Whether any of a part is seen in the shot, by the edges at its ends.
  isSeen(part) {
    const { cuts } = this.take.take;
    const [first, stop] = this.frames(cuts[part.first], cuts[part.stop]);
    return first < this.seen[1] && this.seen[0] < stop;
  }

  // The parts of a level on frames of the shot, no two of which share one: of some that start on one, all are there.
  spans(level) {
    const { cuts } = this.take.take;
    const parts = this.parts(level).map((part, index) => ({ part, index }));
    const found = [];
    for (const { part, index } of this.forwards ? parts : parts.reverse()) {
      if (level === "sound" && !this.saidAs(index)) continue;
      const [first, after] = this.frames(cuts[part.first], cuts[part.stop]);
      const last = found.at(-1);
      if (last?.first === first) {
        last.stop = Math.max(last.stop, after);
        last.indices.push(index);
        continue;
      }
      if (last) last.stop = Math.min(last.stop, first);
      found.push({ placed: this, first, stop: after, indices: [index] });
    }
    return found.map((one) => through(one, ...this.plays)).filter((one) => one.first < one.stop);
  }

  // A sound as the sheet has it; "" for a pause.
  saidAs(index) {
    const { symbol, said, ipa } = this.take.take.phones[index];
    return symbol === "SIL" ? "" : this.ipa ? ipa : said;
  }

  textOf(level, indices) {
    if (level === "sound") return indices.map((k) => this.saidAs(k)).join("");
    const parts = this.parts(level);
    return indices.map((k) => parts[k].text).join(level === "word" ? " " : "-");
  }
}

function through(one, first, stop) {
  return { ...one, first: Math.max(one.first, first), stop: Math.min(one.stop, stop) };
}

// The parts of all takes of a voice on the frames of the shot. On each frame stands what began last, of those that began
// on one frame the last; what that covers goes on after it.
export function rowsOf(placed, level, frames) {
  const begun = placed.flatMap((one) => one.spans(level)).sort((a, b) => a.first - b.first);
  const alone = begun.every((one, k) => k === 0 || begun[k - 1].stop <= one.first);
  const found = alone ? begun : inTurn(begun);
  return found.map((one) => through(one, 0, frames)).filter((one) => one.first < one.stop);
}

function inTurn(begun) {
  const on = new Map();
  begun.forEach((one, k) => {
    for (let frame = one.first; frame < one.stop; frame += 1) on.set(frame, k);
  });
  const found = [];
  for (const frame of [...on.keys()].sort((a, b) => a - b)) {
    const last = found.at(-1);
    if (last?.k === on.get(frame) && last.stop === frame) last.stop += 1;
    else found.push({ ...begun[on.get(frame)], k: on.get(frame), first: frame, stop: frame + 1 });
  }
  return found;
}
