// The take as the server has it, and what is corrected in it. Writes go one after the other, each on the revision that
// the one before has made; while an edge is being moved, `cuts` show where it is, and are written when it rests.
// Events: "change" when the take is another, "clash" and "problem" with what the server said.

const REST = 400; // milliseconds that an edge rests until it is written

export class TakeModel extends EventTarget {
  constructor(name) {
    super();
    this.path = `/api/takes/${name}`;
    this.take = null;
    this.pitch = null; // as octaves over 1 Hz, not a number where there is none; no correction changes it
    this.queue = Promise.resolve();
    this.moving = null;
    this.foreign = 0; // how often the take has become another by what was not written here
  }

  async load() {
    const answer = await fetch(this.path);
    const value = await answer.json();
    if (!answer.ok) throw new Error(value.problem);
    this.take = value;
    this.foreign += 1;
    this.dispatchEvent(new Event("change"));
  }

  async loadPitch() {
    const answer = await fetch(`${this.path}/pitch`);
    const { hop, hertz, problem } = await answer.json();
    if (!answer.ok) throw new Error(problem);
    this.pitch = { hop, octaves: Float32Array.from(hertz, (value) => (value ? Math.log2(value) : NaN)) };
  }

  // Where a cut may lie.
  room(cut) {
    return [this.take.cuts[cut - 1] + 1, this.take.cuts[cut + 1] - 1];
  }

  canMove(cut) {
    return cut > 0 && cut < this.take.cuts.length - 1;
  }

  // Shows a cut elsewhere, without writing it; gives where it is then.
  show(cut, to) {
    const [low, high] = this.room(cut);
    const at = Math.min(Math.max(to, low), high);
    if (this.moving && this.moving.cut !== cut) this.settle();
    this.moving ??= { cut, from: this.take.cuts[cut] };
    this.take.cuts[cut] = at;
    return at;
  }

  // Writes a cut that was shown elsewhere, once it has rested.
  settleSoon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.settle(), REST);
  }

  settle() {
    clearTimeout(this.timer);
    const moved = this.moving;
    this.moving = null;
    if (!moved) return this.queue;
    const to = this.take.cuts[moved.cut];
    if (to === moved.from) return this.queue;
    return this.write("corrections", { kind: "move", cut: moved.cut, to });
  }

  // Leaves a cut where it was before it was shown elsewhere.
  putBack() {
    clearTimeout(this.timer);
    if (this.moving) this.take.cuts[this.moving.cut] = this.moving.from;
    this.moving = null;
  }

  async correct(asked) {
    await this.settle();
    return this.write("corrections", asked);
  }

  // Hears words again, as they were typed.
  async again(asked) {
    await this.settle();
    return this.write("again", asked);
  }

  async undo() {
    await this.settle();
    return this.write("undo", {});
  }

  async redo() {
    await this.settle();
    return this.write("redo", {});
  }

  async circle(on) {
    const answer = await fetch(`${this.path}/circle`, { method: "POST", body: JSON.stringify({ on }) });
    const value = await answer.json();
    if (!answer.ok) return this.tell("problem", value);
    this.take.circled = value.circled;
    return this.dispatchEvent(new Event("change"));
  }

  // What is asked for names parts of the take as it is seen now, or as writes that wait here will make it.
  write(what, asked) {
    const seen = { revision: this.take.revision, foreign: this.foreign };
    this.queue = this.queue.then(() => this.post(what, asked, seen));
    return this.queue;
  }

  async post(what, asked, seen) {
    let answer, value;
    try {
      const revision = seen.foreign === this.foreign ? this.take.revision : seen.revision;
      const headers = { "If-Match": `"${revision}"`, "Content-Type": "application/json" };
      answer = await fetch(`${this.path}/${what}`, { method: "POST", headers, body: JSON.stringify(asked), keepalive: true });
      value = await answer.json();
    } catch {
      this.tell("problem", { problem: "The server cannot be reached: what you did last is not kept. Load the page again." });
      return false;
    }
    const now = answer.ok ? value : value.take;
    if (now) {
      if (!answer.ok) this.foreign += 1;
      this.take = { ...this.take, ...now }; // what a shot tells of it besides stays as it is
      this.dispatchEvent(new Event("change"));
    }
    if (answer.ok) return true;
    if (!now) await this.load();
    this.tell(answer.status === 412 ? "clash" : "problem", value);
    return false;
  }

  tell(kind, detail) {
    this.dispatchEvent(new CustomEvent(kind, { detail }));
  }

  // Words that are worth an ear, the most doubtful first.
  doubts() {
    const { words, worth } = this.take;
    const found = words.map((word, index) => ({ index, doubt: word.doubt })).filter((one) => one.doubt >= worth);
    return found.sort((a, b) => b.doubt - a.doubt);
  }
}
