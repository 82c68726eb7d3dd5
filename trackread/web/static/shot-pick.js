// What is selected in a shot: a voice, and of it a word, a syllable, a sound or some frames of mouths; the frame that
// the editor stands on, and maybe an edge of a take. Places are samples of the shot's sound.

const LEVELS = ["word", "syllable", "sound", "mouth"];
const STRESS = ["weak", "half stressed", "strong"];

export class ShotPick extends EventTarget {
  constructor(model) {
    super();
    Object.assign(this, { model, clock: model.clock, voice: 0, level: "word", placed: null, index: 0, cursor: 0 });
    this.edge = null; // { placed, cut }
    this.frames = [0, 1]; // whose mouths are selected
  }

  get its() {
    return this.model.voices[this.voice] ?? null;
  }

  get frame() {
    return this.clock.frameAt(Math.min(Math.max(Math.floor(this.cursor), 0), this.clock.samples - 1));
  }

  get part() {
    return this.level === "mouth" ? null : (this.placed?.parts(this.level)[this.index] ?? null);
  }

  // The parts of a level that are seen in the shot, in the order of being heard; or the mouths that are worn.
  parts(level = this.level) {
    if (!this.its) return [];
    if (level === "mouth") return this.its.mouths.map((one) => ({ ...one, frames: [one.first, one.stop] }));
    const found = this.its.placed.flatMap((placed) =>
      placed
        .parts(level)
        .map((part, index) => ({ placed, part, index }))
        .filter(({ part, index }) => placed.isSeen(part) && (level !== "sound" || placed.saidAs(index))),
    );
    return found.sort((a, b) => startOf(a) - startOf(b));
  }

  // The samples of the shot that a selection takes.
  span() {
    const { part, placed, clock } = this;
    if (this.level === "mouth") return [clock.firstOf(this.frames[0]), clock.firstOf(this.frames[1])];
    if (!part) return clock.span(this.frame);
    return endsOf(placed, part).map((place) => Math.min(Math.max(Math.ceil(place), 0), clock.samples));
  }

  select({ placed, index, frames }, level = this.level) {
    Object.assign(this, { level, edge: null });
    if (frames) {
      this.frames = frames;
      this.cursor = this.clock.firstOf(frames[0]);
    } else {
      Object.assign(this, { placed, index });
      this.cursor = Math.max(endsOf(placed, this.part)[0], 0);
    }
    this.tell();
  }

  // Selects what lies at a place in a voice; only the frame where nothing does.
  selectAt(place, { voice = this.voice, level = this.level } = {}) {
    Object.assign(this, { voice, level, edge: null, cursor: place });
    if (level === "mouth") this.frames = this.mouthAt(this.frame);
    else {
      const found = this.parts(level).find(({ placed, part }) => {
        const [start, stop] = endsOf(placed, part);
        return start <= place && place < stop;
      });
      this.placed = found?.placed ?? null;
      this.index = found?.index ?? 0;
    }
    this.tell();
  }

  // The frames on which one mouth is worn, around one of them.
  mouthAt(frame) {
    const worn = this.its?.mouths.find((one) => one.first <= frame && frame < one.stop);
    return worn ? [worn.first, worn.stop] : [frame, frame + 1];
  }

  // The next or the one before; from where nothing is selected, from the place where the editor stands.
  move(by) {
    const all = this.parts();
    if (!all.length) return;
    const here = all.findIndex((one) => (one.frames ? one.frames[0] === this.frames[0] : one.placed === this.placed && one.index === this.index));
    const after = all.findIndex((one) => (one.frames ? this.clock.firstOf(one.frames[0]) : startOf(one)) > this.cursor);
    const from = here >= 0 ? here : (after < 0 ? all.length : after) - (by > 0 ? 1 : 0);
    this.select(all[Math.min(Math.max(from + by, 0), all.length - 1)]);
  }

  end(last) {
    const all = this.parts();
    if (all.length) this.select(all[last ? all.length - 1 : 0]);
  }

  step(frames) {
    const frame = Math.min(Math.max(this.frame + frames, 0), this.clock.frames - 1);
    this.selectAt(this.clock.firstOf(frame));
    if (this.level === "mouth") this.frames = [frame, frame + 1];
    this.tell();
    return frame;
  }

  // More frames of mouths, or fewer, at the end of what is selected.
  stretch(by) {
    const [first, stop] = this.level === "mouth" ? this.frames : [this.frame, this.frame + 1];
    this.level = "mouth";
    this.frames = [first, Math.min(Math.max(stop + by, first + 1), this.clock.frames)];
    this.tell();
  }

  // The next level that there is something of.
  nextLevel() {
    const some = LEVELS.filter((level) => level !== "mouth" || this.its?.kit);
    this.selectAt(this.cursor, { level: some[(some.indexOf(this.level) + 1) % some.length] });
  }

  selectVoice(number) {
    const count = this.model.voices.length;
    const voice = (number + count) % count;
    const level = this.level === "mouth" && !this.model.voices[voice].kit ? "word" : this.level;
    this.selectAt(this.cursor, { voice, level });
  }

  selectEdge(edge) {
    if (!edge || !edge.placed.take.canMove(edge.cut)) return false;
    this.edge = edge;
    this.cursor = Math.max(edge.placed.place(edge.placed.take.take.cuts[edge.cut]), 0);
    this.tell();
    return true;
  }

  unselect() {
    this.edge = null;
    this.tell();
  }

  // After a change there may be fewer parts, and takes may play elsewhere.
  keepWithin() {
    this.voice = Math.min(this.voice, Math.max(this.model.voices.length - 1, 0));
    const same = (one) => this.its?.placed.find((other) => other.name === one?.name && other.plays[0] === one.plays[0]) ?? null;
    this.placed = same(this.placed);
    if (this.placed) this.index = Math.min(this.index, Math.max(this.placed.parts(this.level).length - 1, 0));
    if (this.edge) this.edge = same(this.edge.placed) && { ...this.edge, placed: same(this.edge.placed) };
    if (this.edge && !this.edge.placed.take.canMove(this.edge.cut)) this.edge = null;
  }

  tell() {
    this.dispatchEvent(new Event("change"));
  }

  // What is selected, for those who hear it.
  words() {
    const { clock, its } = this;
    if (!its) return "Nobody says anything in this shot.";
    if (this.edge) {
      const { placed, cut } = this.edge;
      const { symbol, said } = placed.take.take.phones[cut];
      const frame = placed.frameOf(placed.take.take.cuts[cut]);
      return `${its.character}: edge before ${symbol === "SIL" ? "a pause" : said}, frame ${clock.number(frame)}. Arrows move it.`;
    }
    if (this.level === "mouth") return this.mouthWords();
    if (!this.part) return `${its.character}, frame ${clock.number(this.frame)}`;
    const { cuts } = this.placed.take.take;
    const [first, stop] = this.placed.frames(cuts[this.part.first], cuts[this.part.stop]);
    return `${its.character}, ${this.called()}, ${rangeWords(clock, first, stop)}${this.remarks()}`;
  }

  mouthWords() {
    const { clock, its, frames } = this;
    const worn = its.mouths.filter((one) => one.first < frames[1] && frames[0] < one.stop);
    const names = new Set(worn.map((one) => `${one.mouth}${one.pinned ? " (set by hand)" : ""}`));
    return `${its.character} wears ${[...names].join(", ") || "nothing"}, ${rangeWords(clock, ...frames)}`;
  }

  called() {
    const { take } = this.placed.take;
    if (this.level === "word") return `word “${take.words[this.index].text}”`;
    if (this.level === "syllable") return `syllable “${take.syllables[this.index].text}”, ${STRESS[take.syllables[this.index].stress]}`;
    const { symbol, said } = take.phones[this.index];
    return `sound ${said} (${symbol})`;
  }

  remarks() {
    const word = this.level === "word" ? this.part : null;
    if (!word || word.doubt < this.model.shot.worth) return "";
    return `; doubt ${word.doubt.toFixed(2)}: ${word.reasons.join(", ") || "no reason told"}`;
  }
}

export function rangeWords(clock, first, stop) {
  return stop - first === 1 ? `frame ${clock.number(first)}` : `frames ${clock.number(first)} to ${clock.number(stop - 1)}`;
}

// Where a part begins and ends, as it is heard.
export function endsOf(placed, part) {
  const { cuts } = placed.take.take;
  return [placed.place(cuts[part.first]), placed.place(cuts[part.stop])].sort((a, b) => a - b);
}

function startOf({ placed, part }) {
  return endsOf(placed, part)[0];
}
