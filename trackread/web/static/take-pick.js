// What is selected: a word, a syllable or a sound, the frame that the editor stands on, and maybe an edge to be moved.

export const LEVELS = ["word", "syllable", "sound"];
const PAUSE = "SIL";

export class Pick extends EventTarget {
  constructor(model, clock) {
    super();
    this.model = model;
    this.clock = clock;
    this.level = "word";
    this.index = 0;
    this.more = 0; // parts after it that are selected with it
    this.cursor = 0; // a sample
    this.edge = null; // a cut
  }

  get take() {
    return this.model.take;
  }

  // The parts of a level, by the sounds that they are made of.
  parts(level = this.level) {
    if (level === "word") return this.take.words;
    if (level === "syllable") return this.take.syllables;
    return this.take.phones.map((_, first) => ({ first, stop: first + 1 }));
  }

  get part() {
    return this.parts()[this.index] ?? null;
  }

  // The samples of a part, of all that is selected for none.
  span(part = null) {
    const first = part ?? this.part;
    if (!first) return this.clock.span(this.frame);
    const last = part ?? this.parts()[this.index + this.more];
    return [this.take.cuts[first.first], this.take.cuts[last.stop]];
  }

  // Whether a part of a level is selected.
  has(level, index) {
    return this.level === level && this.index <= index && index <= this.index + this.more;
  }

  // Selects so many parts more, or fewer.
  extend(by) {
    this.more = Math.min(Math.max(this.more + by, 0), Math.max(this.parts().length - 1 - this.index, 0));
    this.edge = null;
    this.tell();
  }

  get frame() {
    return this.clock.frameAt(this.cursor);
  }

  // The word that is selected, or that holds what is; -1 if none does.
  get word() {
    if (this.level === "word") return this.part ? this.index : -1;
    const part = this.part;
    return part ? this.take.words.findIndex((word) => word.first <= part.first && part.stop <= word.stop) : -1;
  }

  get syllable() {
    const part = this.part;
    if (!part) return -1;
    if (this.level === "syllable") return this.index;
    if (this.level === "sound") return this.take.syllables.findIndex((one) => one.first <= part.first && part.stop <= one.stop);
    // Of a word, the syllable that the editor stands on, else its first.
    const its = this.take.syllables.map((one, k) => [one, k]).filter(([one]) => part.first <= one.first && one.stop <= part.stop);
    const here = its.find(([one]) => this.take.cuts[one.first] <= this.cursor && this.cursor < this.take.cuts[one.stop]);
    return (here ?? its[0] ?? [null, -1])[1];
  }

  // The sound that is selected, else the one where the editor stands.
  get sound() {
    if (this.level === "sound") return this.index;
    return upper(this.take.cuts, this.cursor) - 1;
  }

  select(index, { level = this.level, quiet = false } = {}) {
    this.level = level;
    this.index = Math.min(Math.max(index, 0), Math.max(this.parts().length - 1, 0));
    this.more = 0;
    this.edge = null;
    [this.cursor] = this.span();
    this.tell(quiet);
  }

  selectAt(sample, level = this.level) {
    const parts = this.parts(level);
    const { cuts } = this.take;
    const index = parts.findIndex((part) => cuts[part.first] <= sample && sample < cuts[part.stop]);
    this.level = level;
    if (index >= 0) this.index = index;
    this.more = 0;
    this.edge = null;
    this.cursor = sample;
    this.tell();
  }

  step(frames) {
    const frame = Math.min(Math.max(this.frame + frames, 0), this.clock.frames - 1);
    this.selectAt(this.clock.firstOf(frame));
    return frame;
  }

  selectEdge(cut) {
    if (!this.model.canMove(cut)) return false;
    this.edge = cut;
    this.cursor = this.take.cuts[cut];
    this.tell();
    return true;
  }

  unselect() {
    this.edge = null;
    this.tell();
  }

  // After a correction there may be fewer parts.
  keepWithin() {
    this.index = Math.min(this.index, Math.max(this.parts().length - 1, 0));
    this.more = Math.min(this.more, Math.max(this.parts().length - 1 - this.index, 0));
    if (this.edge !== null && !this.model.canMove(this.edge)) this.edge = null;
  }

  tell(quiet = false) {
    if (!quiet) this.dispatchEvent(new Event("change"));
  }

  // What is selected, for those who hear it.
  words() {
    const { take, clock } = this;
    if (this.edge !== null) {
      const at = take.cuts[this.edge];
      const off = at - clock.firstOf(clock.frameAt(at));
      return `Edge before ${this.named(this.edge)}, frame ${clock.number(clock.frameAt(at))}${off ? ` and ${off} samples` : ""}. Arrows move it.`;
    }
    const part = this.part;
    if (!part) return `Frame ${clock.number(this.frame)}`;
    const [start, stop] = this.span();
    const frames = `frames ${clock.number(clock.frameAt(start))} to ${clock.number(clock.frameAt(stop - 1))}`;
    return `${this.called()}, ${frames}${this.remarks()}`;
  }

  called() {
    const { take, index } = this;
    if (this.level === "word" && this.more) {
      const words = take.words.slice(index, index + this.more + 1).map((word) => word.text);
      return `Words ${index + 1} to ${index + words.length} of ${take.words.length}, “${words.join(" ")}”`;
    }
    if (this.level === "word") return `Word ${index + 1} of ${take.words.length}, “${take.words[index].text}”`;
    if (this.level === "syllable") return `Syllable “${take.syllables[index].text}”, ${["weak", "half stressed", "strong"][take.syllables[index].stress]}`;
    return `Sound ${this.named(index)}`;
  }

  named(phone) {
    const { symbol, said } = this.take.phones[phone];
    return symbol === PAUSE ? "pause" : `${said} (${symbol})`;
  }

  remarks() {
    const word = this.level === "word" ? this.take.words[this.index] : null;
    if (!word) return "";
    const doubt = word.doubt >= this.take.worth ? `; doubt ${word.doubt.toFixed(2)}: ${word.reasons.join(", ") || "no reason told"}` : "";
    return `${doubt}${word.pinned ? "; pinned" : ""}`;
  }
}

// How many of the numbers, which rise, are not above a value.
export function upper(numbers, value) {
  let low = 0;
  let high = numbers.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (numbers[middle] <= value) low = middle + 1;
    else high = middle;
  }
  return low;
}
