// The takes of a line weighed against each other: heard in turn, or changed while one is heard, from the word that is being
// said. A word is known by its number in the line, whichever takes say it.

import { careOfEars } from "./take-dialogs.js";
import { TakeSound } from "./take-sound.js";

const PAUSE = 500; // milliseconds between two takes that are heard in turn
const SHORT = 60; // seconds: what is longer is fetched only once it is heard

function element(name, values = {}, ...inside) {
  const made = Object.assign(document.createElement(name), values);
  made.append(...inside);
  return made;
}

export class Weighing {
  // `circle` circles a take or no longer; `output` is where sound comes out.
  constructor(line, { output, circle, keys }) {
    Object.assign(this, { line, output, circle, keys });
    this.heard = 0; // the place of the take that is heard, or was last
    this.word = 0; // of the line, where it is or was
    this.isLooping = false;
    this.turn = null; // places of takes that are still to be heard in turn
    this.box = element("div", { className: "weigh", tabIndex: -1 });
    this.box.setAttribute("role", "group");
    this.box.setAttribute("aria-label", `The takes of ${line} against each other`);
    this.told = element("p", { className: "weigh-told" });
    this.told.setAttribute("role", "status");
  }

  async open() {
    const answer = await fetch(`/api/lines/${this.line}`);
    const value = await answer.json();
    if (!answer.ok) throw new Error(value.problem);
    this.words = value.words;
    this.takes = value.takes.map((take) => ({ ...take, sound: this.soundOf(take), inTurn: take.read }));
    this.draw();
    this.say();
    for (const take of this.takes) if (take.samples <= SHORT * take.sample_rate) this.fetched(take);
  }

  soundOf(take) {
    const sound = new TakeSound(`/api/takes/${take.name}/sound`, this.output);
    sound.addEventListener("change", () => this.changed(sound));
    return sound;
  }

  fetched(take) {
    take.coming ??= take.sound.load().catch((problem) => {
      take.coming = null;
      this.told.textContent = `${take.name} cannot be heard: ${problem.message}`;
    });
    return take.coming;
  }

  close() {
    this.stop();
    this.box.remove();
  }

  get playing() {
    return this.takes.find((take) => take.sound.isPlaying) ?? null;
  }

  // What a take says at a word of the line: its number, first sample and the one after; where it does not say that word,
  // the last one before that it does say.
  at(take, word) {
    return take.words.findLast(([number]) => number <= word) ?? take.words[0] ?? [0, 0, take.samples];
  }

  // The word that is being said.
  now() {
    const take = this.playing;
    if (take) [this.word] = take.words.findLast(([, start]) => start <= take.sound.position) ?? take.words[0] ?? [0];
    return this.word;
  }

  // Plays a take from a word on, or that word again and again.
  async hear(place, word = this.now()) {
    const take = this.takes[place];
    if (!take || !(await careOfEars())) return;
    await this.fetched(take);
    this.stop();
    this.heard = place;
    const [number, start, stop] = this.at(take, word);
    this.word = number;
    if (this.isLooping) take.sound.play(start, stop, { loop: true });
    else take.sound.play(this.word ? start : 0, take.samples);
  }

  stop() {
    this.turn = null;
    clearTimeout(this.pause);
    this.takes?.forEach((take) => take.sound.stop());
  }

  async inTurn() {
    const turn = this.takes.flatMap((take, place) => (take.inTurn ? [place] : []));
    if (!turn.length) return;
    this.isLooping = false;
    await this.hear(turn[0], 0);
    this.turn = turn.slice(1);
  }

  // One of the sounds has begun or ended.
  changed(sound) {
    if (!sound.isPlaying && this.turn) {
      const [place, ...rest] = this.turn;
      this.turn = null;
      if (place !== undefined) {
        this.pause = setTimeout(async () => {
          await this.hear(place, 0);
          this.turn = rest;
        }, PAUSE);
      }
    }
    this.follow();
    this.say();
  }

  follow() {
    this.now();
    this.mark();
    cancelAnimationFrame(this.following);
    if (this.playing) this.following = requestAnimationFrame(() => this.follow());
  }

  step(by) {
    const { words } = this.takes[this.heard];
    const here = words.findIndex(([number]) => number === this.at(this.takes[this.heard], this.now())[0]);
    const to = words[Math.min(Math.max(here + by, 0), words.length - 1)];
    return to && this.hear(this.heard, to[0]);
  }

  // What a key or a button does; false if it is none of these.
  run(name) {
    const actions = {
      play: () => (this.playing || this.turn ? this.stop() : this.hear(this.heard)),
      "play-take": () => this.hear(this.heard, 0),
      stop: () => this.stop(),
      turns: () => this.inTurn(),
      loop: () => {
        const word = this.now();
        this.isLooping = !this.isLooping;
        this.hear(this.heard, word);
      },
      next: () => this.step(1),
      previous: () => this.step(-1),
      circle: () => this.circle(this.takes[this.heard]),
    };
    const take = /^take-(\d)$/.exec(name);
    if (take) this.hear(Number(take[1]) - 1);
    else actions[name]?.();
    return Boolean(take || actions[name]);
  }

  button(label, act, values = {}) {
    return element("button", { type: "button", onclick: act, ...values }, ...[label].flat());
  }

  draw() {
    const words = this.words.map((text, word) => this.button(text, () => this.hear(this.heard, word), { className: "weigh-word" }));
    const tools = [["turns", "In turn"], ["play", "Play"], ["loop", "This word again and again"]].map(([name, label]) => {
      const button = this.button(label, () => this.run(name), { id: `weigh-${name}` });
      button.setAttribute("aria-keyshortcuts", this.keys[name].map((key) => (key === " " ? "Space" : key)).join(" "));
      return button;
    });
    const takes = element("ol", { className: "weigh-takes" }, ...this.takes.map((take, place) => this.row(take, place)));
    this.box.replaceChildren(element("div", { className: "weigh-tools" }, ...tools), element("p", { className: "weigh-words" }, ...words), takes, this.told);
    this.mark();
  }

  row(take, place) {
    const key = element("kbd", {}, this.keys[`take-${place + 1}`]?.[0] ?? "");
    const length = `${(take.samples / take.sample_rate).toFixed(1)} s`;
    const hear = this.button([...(place < 9 ? [key, " "] : []), `${take.name} `, element("small", {}, length)], () => this.hear(place), { className: "weigh-hear" });
    hear.setAttribute("aria-label", `Hear ${take.name} from this word, ${length}`);
    const box = element("input", { type: "checkbox", checked: take.inTurn, onchange: () => { take.inTurn = box.checked; } });
    const circle = this.button("", () => this.circle(take), { className: "weigh-circle" });
    circle.setAttribute("aria-label", `Circle ${take.name} of these`);
    const unread = take.read ? [] : [element("small", {}, "not read: from its start")];
    return element("li", {}, hear, element("label", {}, box, " in turn"), circle, ...unread);
  }

  // Which take and word are heard, and which takes are circled.
  mark() {
    const [rows, words] = [".weigh-takes > li", ".weigh-word"].map((what) => [...this.box.querySelectorAll(what)]);
    const playing = this.playing;
    rows.forEach((row, place) => {
      row.querySelector(".weigh-hear").setAttribute("aria-pressed", String(Boolean(playing) && place === this.heard));
      const circle = row.querySelector(".weigh-circle");
      circle.setAttribute("aria-pressed", String(this.takes[place].circled));
      circle.textContent = this.takes[place].circled ? "◉" : "○";
    });
    const said = new Set(this.takes[this.heard].words.map(([number]) => number));
    words.forEach((button, word) => {
      if (word === this.word) button.setAttribute("aria-current", "true");
      else button.removeAttribute("aria-current");
      button.classList.toggle("unsaid", !said.has(word));
    });
    this.box.querySelector("#weigh-play").textContent = playing ? "Stop" : "Play";
    this.box.querySelector("#weigh-loop").setAttribute("aria-pressed", String(this.isLooping));
  }

  say() {
    const take = this.takes[this.heard];
    const word = this.words[this.word];
    this.told.textContent = take ? `${take.name}${word ? `, at “${word}”` : ""}` : "";
  }
}
