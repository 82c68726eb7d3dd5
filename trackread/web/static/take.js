// The page of one take: puts its parts together, and lets keys, buttons and the pointer reach them.

import { ACTIONS as SHARED, OF_TAKE, keysFor } from "./keys.js";
import { listen } from "./live.js";
import { actionsOf } from "./take-actions.js";
import { Painter } from "./take-canvas.js";
import { tellClash, tellKeys } from "./take-dialogs.js";
import { Edges } from "./take-edges.js";
import { TakeModel } from "./take-model.js";
import { Mouths } from "./take-mouths.js";
import { Peaks } from "./take-peaks.js";
import { Pick } from "./take-pick.js";
import { TakeSound } from "./take-sound.js";
import { Spectrum } from "./take-spectrum.js";
import { WordsTable } from "./take-table.js";
import { Clock } from "./take-time.js";
import { drawTools, listenToKeys, tellHowItIs } from "./take-tools.js";
import { View } from "./take-view.js";

const ACTIONS = { ...SHARED, ...OF_TAKE };
const BUTTONS = {
  play: "Play", "play-frame": "Frame", "play-word": "Word", loop: "Loop", "half-speed": "Half speed",
  "next-doubt": "Next doubt", right: "Right", fix: "Fix", again: "Hear as …", undo: "Undo", redo: "Redo", circle: "Circle",
  "zoom-in": "Closer", "zoom-out": "Further", "zoom-rows": "Rows", "zoom-take": "All", snap: "By frames", spectrum: "Spectrogram", help: "Keys",
}; // prettier-ignore

const WRITES = new Set(["right", "fix", "again", "stress-weak", "stress-half", "stress-strong", "split", "join", "pin", "note", "undo", "redo"]);

const SPECTRUM = "trackread-spectrum"; // in sessionStorage, while the spectrogram is wanted
const POINTER = " The pointer drags edges; with Alt, freely. Ctrl and the wheel come closer.";

const byId = (id) => document.getElementById(id);
const stage = byId("stage");
const said = byId("said");

export const desk = { settings: { free: false } };

function say(text) {
  said.textContent = text;
}

function follow() {
  const { sound, painter, view } = desk;
  painter.heard = sound.position;
  if (sound.isPlaying) {
    const y = view.y(painter.heard);
    if (y > view.height - 20 || y < 0) view.scrollTo(painter.heard - 60 * view.perPixel);
    cancelAnimationFrame(desk.following);
    desk.following = requestAnimationFrame(follow);
  }
  painter.drawSoon();
}

function reveal(start, stop) {
  desk.view.reveal(start, stop);
  desk.painter.drawSoon();
}

// No doubt is left here: on to the take that is worth an ear most.
async function onward() {
  const { places, left } = await (await fetch("/api/doubts")).json();
  const next = places.find((place) => place.take !== desk.model.take.name);
  if (!next) return say(`No doubt is left in this take${left ? "" : ", nor in any other"}.`);
  return location.assign(`/desk/take/${next.take}#word-${next.word}`);
}

// What the buttons and counts say, as the take stands.
function drawState() {
  const { model, sound, settings, view } = desk;
  const { take } = model;
  for (const [name, on] of [["circle", take.circled], ["half-speed", sound.half], ["snap", !settings.free], ["spectrum", view.hasSpectrum]]) {
    byId(`do-${name}`).setAttribute("aria-pressed", String(on));
  }
  byId("do-play").textContent = sound.isPlaying ? "Stop" : "Play";
  for (const name of ["undo", "redo"]) {
    const button = byId(`do-${name}`);
    button.setAttribute("aria-disabled", String(!take[name]));
    button.title = take[name] ? `${ACTIONS[name][0]}: ${take[name]}` : `Nothing to ${name}`;
  }
  tellHowItIs(model.doubts().length, [
    take.old_words && `The line was changed since; read as: ${take.old_words}`,
    !take.says_line && "This take does not say its line.",
    ...take.lost.map((one) => `A correction has no place any more (${one.words}): ${one.reason}`),
    desk.keys.problem,
  ]);
}

function listenTo() {
  const { model, pick, painter, sound, table } = desk;
  model.addEventListener("change", () => {
    pick.keepWithin();
    table.draw();
    drawState();
    painter.drawSoon();
  });
  model.addEventListener("problem", ({ detail }) => say(detail.problem));
  model.addEventListener("clash", ({ detail }) => tellClash(detail));
  pick.addEventListener("change", () => {
    say(pick.words());
    table.mark();
    painter.drawSoon();
  });
  sound.addEventListener("change", () => {
    drawState();
    follow();
  });
  byId("level").addEventListener("input", ({ target }) => sound.output.setLevel(target.value / 100));
  new ResizeObserver(() => painter.resize()).observe(stage);
  addEventListener("beforeunload", () => model.settle());
  addEventListener("hashchange", selectNamed);
  listen({
    take: ({ name, revision, by }) => {
      if (name !== model.take.name || revision === model.take.revision) return;
      model.queue = model.queue.then(async () => {
        if (revision === model.take.revision || model.moving) return; // what is being moved meets it when it is written
        await model.load();
        if (revision) say(`${by} has changed this take: you see it as it stands now.`);
      });
    },
  });
}

function selectNamed() {
  const word = /^#word-(\d+)$/.exec(location.hash);
  if (!word) return;
  desk.pick.select(Number(word[1]), { level: "word" });
  desk.view.face(desk.pick.span()[0]);
  desk.painter.drawSoon();
}

// The spectrogram is wanted, or no longer, until the browser is closed.
function showSpectrum(wanted) {
  desk.view.hasSpectrum = wanted;
  if (wanted) sessionStorage.setItem(SPECTRUM, "yes");
  else sessionStorage.removeItem(SPECTRUM);
  desk.painter.drawSoon();
  drawState();
}

async function open() {
  const model = new TakeModel(byId("take").dataset.take);
  const [keys] = await Promise.all([keysFor(ACTIONS), model.load()]);
  const clock = new Clock(model.take);
  const view = new View(clock);
  const pick = new Pick(model, clock);
  const peaks = new Peaks(model.path, clock.samples, () => desk.painter.drawSoon());
  const mouths = new Mouths(model, clock, () => desk.painter.drawSoon());
  const spectrum = new Spectrum(model.path, clock, () => desk.painter.drawSoon());
  const painter = new Painter(byId("canvas"), { view, model, pick, peaks, mouths, spectrum });
  const sound = new TakeSound(`${model.path}/sound`);
  const table = new WordsTable(byId("words"), model, pick, clock);
  table.onSelect = (index) => {
    pick.select(index, { level: "word" });
    reveal(...pick.span());
  };
  Object.assign(desk, { model, clock, view, pick, peaks, painter, sound, table, keys, say, reveal, onward });
  const help = () => tellKeys(ACTIONS, keys.of, POINTER);
  const actions = {
    ...actionsOf({ ...desk, phones: () => keys.phones, help, redraw: () => painter.drawSoon() }),
    spectrum: () => showSpectrum(!view.hasSpectrum),
  };
  const act = async (name) => {
    if (WRITES.has(name)) await model.settle(); // parts are named as they are once all is written
    await actions[name]();
    drawState();
  };
  let written = Promise.resolve();
  // What writes begins once what was to be written before it is done: it may have gone on to another word.
  desk.run = (name) => {
    if (!WRITES.has(name)) return act(name);
    written = written.catch(() => {}).then(() => act(name));
    return written;
  };
  desk.edges = new Edges(stage, { view, model, pick, painter, isFree: () => desk.settings.free });
  drawTools(BUTTONS, { actions: ACTIONS, keys: keys.of, run: desk.run });
  listenToKeys(Object.keys(ACTIONS), { keys: keys.of, run: desk.run });
  listenTo();
  table.draw();
  painter.resize();
  selectNamed();
  showSpectrum(sessionStorage.getItem(SPECTRUM) !== null);
  stage.dataset.ready = "yes";
  model.loadPitch().then(() => painter.drawSoon(), (problem) => say(`The pitch cannot be had: ${problem.message}`));
  sound.load().catch((problem) => say(`The sound cannot be had: ${problem.message}`));
}

open().catch((problem) => say(problem.message));
