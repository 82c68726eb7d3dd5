// A shot as the server has it: its voices, with the takes where they play, and the mouths. Each take is written on its
// own revision, as on its own page; mouths on that of the shot. What was done last here is undone first.
// Events: "change" when anything is another, "clash" and "problem" with what the server said.

import { TakeModel } from "./take-model.js";
import { Clock } from "./take-time.js";
import { Placed, rowsOf } from "./shot-time.js";

// What a voice has none of is not told.
const NOTHING = { extension: "", events: [], pauses: [], departures: [], missing: [], mouths: [], mouth_names: [] };
const LOST = "The server cannot be reached: what you did last is not kept. Load the page again.";

// A take that is a part of a shot, and asks for itself there.
class TakeInShot extends TakeModel {
  constructor(value, shot) {
    super(value.name);
    Object.assign(this, { take: value, shot, pending: 0 });
    for (const kind of ["clash", "problem"]) this.addEventListener(kind, ({ detail }) => shot.tell(kind, detail));
    this.addEventListener("change", () => shot.touched(this));
  }

  show(cut, to) {
    const at = super.show(cut, to);
    this.shot.forget(this);
    return at;
  }

  putBack() {
    super.putBack();
    this.shot.forget(this);
  }

  async write(what, asked) {
    this.pending += 1;
    const kept = await super.write(what, asked);
    this.pending -= 1;
    if (kept && what === "corrections") this.shot.did({ take: this });
    this.shot.refreshTake(this); // its mouths and rows; nobody need wait for them
    return kept;
  }

  // What the server has, unless something of one's own is on its way there: then it is asked again after that.
  heard(value) {
    if (this.pending || this.moving || value.revision === this.take.revision) return;
    this.take = value;
    this.foreign += 1;
    this.dispatchEvent(new Event("change"));
  }
}

export class ShotModel extends EventTarget {
  constructor(name) {
    super();
    this.path = `/api/shots/${name.split("/").map(encodeURIComponent).join("/")}`;
    this.takes = new Map();
    this.voices = [];
    this.rows = new Map(); // what stands on which rows, by voice and level, until it is another
    this.queue = Promise.resolve();
    this.done = [];
    this.undone = [];
    this.asked = 0;
    this.foreign = 0; // how often others have set mouths
    this.coming = null; // what is asked for anew
  }

  async load() {
    const answer = await fetch(this.path);
    const value = await answer.json();
    if (!answer.ok) throw new Error(value.problem);
    this.shot = value;
    this.clock = new Clock(value);
    this.hear(value);
  }

  // Takes in voices, and the takes in them, as the server has them.
  hear({ revision, voices, takes }, { own = false } = {}) {
    if (!own && revision !== this.shot.revision) this.foreign += 1;
    this.shot.revision = revision;
    for (const [name, value] of Object.entries(takes)) {
      if (this.takes.has(name)) this.takes.get(name).heard(value);
      else this.takes.set(name, new TakeInShot(value, this));
    }
    for (const told of voices) this.hearVoice(told);
    this.dispatchEvent(new Event("change"));
  }

  hearVoice(told) {
    const ipa = this.shot.ipa;
    const read = told.placed.filter((one) => this.takes.has(one.take));
    const placed = read.map((one) => new Placed({ ...one, name: one.take, ipa }, this.takes.get(one.take), this.clock));
    const number = this.voices.findIndex((voice) => voice.character === told.character);
    const voice = { ...NOTHING, ...told, placed };
    if (number < 0) this.voices.push(voice);
    else this.voices[number] = voice;
    this.rows.delete(told.character);
  }

  // Asks for a voice anew; an answer that a later one has overtaken is left.
  async refresh(character) {
    const asked = (this.asked += 1);
    const voice = this.voices.find((one) => one.character === character);
    if (voice) voice.asked = asked;
    const answer = await fetch(`${this.path}?character=${encodeURIComponent(character)}`).catch(() => null);
    if (!answer?.ok || (voice && this.voices.find((one) => one.character === character).asked > asked)) return;
    this.hear(await answer.json());
  }

  refreshTake(take) {
    this.coming = Promise.all(this.heardIn(take).map((voice) => this.refresh(voice.character)));
    return this.coming;
  }

  heardIn(take) {
    return this.voices.filter((voice) => voice.placed.some((one) => one.take === take));
  }

  // A take is another, or is shown otherwise.
  touched(take) {
    this.forget(take);
    this.dispatchEvent(new Event("change"));
  }

  forget(take) {
    for (const voice of this.heardIn(take)) this.rows.delete(voice.character);
  }

  // The parts of a voice on the frames of the shot.
  rowsOf(voice, level) {
    if (!this.rows.has(voice.character)) this.rows.set(voice.character, {});
    return (this.rows.get(voice.character)[level] ??= rowsOf(voice.placed, level, this.shot.frames));
  }

  // Words that are worth an ear, in all voices, the most doubtful first.
  doubts() {
    const found = this.voices.flatMap((voice, number) =>
      voice.placed.flatMap((placed) =>
        placed
          .parts("word")
          .map((word, index) => ({ voice: number, placed, index, doubt: word.doubt, word }))
          .filter(({ word, doubt }) => doubt >= this.shot.worth && placed.isSeen(word)),
      ),
    );
    return found.sort((a, b) => b.doubt - a.doubt);
  }

  // Sets mouths on some frames, none for what the plan chooses, or another kit; `log` keeps it for undoing.
  set(asked, { log = true } = {}) {
    const voice = this.voices.find((one) => one.character === asked.character);
    const before = asked.kit ? { character: asked.character, kit: voice.kit } : { ...asked, pins: pinsOn(voice, asked) };
    const seen = { revision: this.shot.revision, foreign: this.foreign };
    this.queue = this.queue.then(() => this.post(asked, before, { seen, log }));
    return this.queue;
  }

  async post(asked, before, { seen, log }) {
    let answer, value;
    try {
      const revision = seen.foreign === this.foreign ? this.shot.revision : seen.revision;
      const headers = { "If-Match": `"${revision}"`, "Content-Type": "application/json" };
      answer = await fetch(`${this.path}/mouths`, { method: "POST", headers, body: JSON.stringify(asked), keepalive: true });
      value = await answer.json();
    } catch {
      this.tell("problem", { problem: LOST });
      return false;
    }
    if (value.voices) this.hear(value, { own: answer.ok });
    if (!answer.ok) this.tell(answer.status === 412 ? "clash" : "problem", value);
    else if (log) this.did({ before, after: asked });
    return answer.ok;
  }

  did(what) {
    this.done.push(what);
    this.undone = [];
  }

  // What was done last here; else what was corrected last in any of the takes.
  undo() {
    return this.again(this.done, this.undone, "undo");
  }

  redo() {
    return this.again(this.undone, this.done, "redo");
  }

  get undoable() {
    return this.done.at(-1) ?? this.lastOf("undo");
  }

  get redoable() {
    return this.undone.at(-1) ?? this.lastOf("redo");
  }

  lastOf(which) {
    const some = [...this.takes.values()].filter((one) => one.take[which]);
    some.sort((a, b) => (b.take.changed ?? "").localeCompare(a.take.changed ?? ""));
    return some.length ? { take: some[0] } : null;
  }

  async again(from, to, which) {
    await this.written(); // an edge that still rests is done last
    const what = from.at(-1) ?? this.lastOf(which);
    if (!what) return false;
    const kept = what.take ? await what.take[which]() : await this.set(which === "undo" ? what.before : what.after, { log: false });
    if (!kept) return false;
    from.pop();
    to.push(what);
    return what;
  }

  // Waits until all that was done here is written.
  async written() {
    await Promise.all([...this.takes.values()].map((take) => take.settle()));
    return this.queue;
  }

  // Waits until what comes of it is here, too.
  async settle() {
    await this.written();
    return this.coming;
  }

  tell(kind, detail) {
    this.dispatchEvent(new CustomEvent(kind, { detail }));
  }
}

// What is pinned on some frames, as far as it lies on them.
function pinsOn(voice, { first, stop }) {
  const its = voice.pins.filter((pin) => pin.first < stop && first < pin.stop);
  return its.map(({ mouth, ...pin }) => ({ mouth, first: Math.max(pin.first, first), stop: Math.min(pin.stop, stop) }));
}
