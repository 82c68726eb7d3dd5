// The page of one shot: puts its parts together, and lets keys, buttons and the pointer reach them.

import { listen } from "./live.js";
import { tellClash } from "./take-dialogs.js";
import { TakeSound } from "./take-sound.js";
import { drawTools, listenToKeys, tellHowItIs } from "./take-tools.js";
import { actionsOfShot, OF_TAKES } from "./shot-actions.js";
import { ShotPainter } from "./shot-canvas.js";
import { listenToMouths, tellMouthClash } from "./shot-dialogs.js";
import { ShotEdges } from "./shot-edges.js";
import { ACTIONS, keysOfShot } from "./shot-keys.js";
import { ShotModel } from "./shot-model.js";
import { ShotPeaks } from "./shot-peaks.js";
import { ShotPick } from "./shot-pick.js";
import { ShotTable } from "./shot-table.js";
import { ShotView } from "./shot-view.js";

const BUTTONS = {
  play: "Play", "play-frame": "Frame", "play-word": "Selected", loop: "Loop", "half-speed": "Half speed",
  "next-doubt": "Next doubt", right: "Right", fix: "Change", pin: "Pin", undo: "Undo", redo: "Redo",
  "zoom-in": "Closer", "zoom-out": "Further", "zoom-rows": "Rows", "zoom-take": "Whole shot", snap: "By frames",
  "open-take": "Open take", help: "Keys",
}; // prettier-ignore

const WRITES = new Set(["right", ...OF_TAKES]);

const byId = (id) => document.getElementById(id);
const stage = byId("stage");

export const desk = { settings: { free: false } };

function say(text) {
  byId("said").textContent = text;
}

function follow() {
  const { sound, painter, view } = desk;
  painter.heard = sound.position;
  if (sound.isPlaying) {
    const y = view.y(painter.heard);
    if (y > view.height - 20 || y < view.head) view.scrollTo(painter.heard - (view.head + 40) * view.perPixel);
    requestAnimationFrame(follow);
  }
  painter.drawSoon();
}

function reveal(start, stop) {
  desk.view.reveal(start, stop);
  desk.painter.drawSoon();
}

// Shows one voice alone, or all for null.
function choose(alone) {
  desk.view.alone = alone;
  if (alone !== null && alone !== desk.pick.voice) desk.pick.selectVoice(alone);
  drawVoices();
  desk.painter.drawSoon();
}

function button(label, act) {
  const made = Object.assign(document.createElement("button"), { type: "button", textContent: label });
  made.addEventListener("click", act);
  return made;
}

// Whose columns are seen; where there is no room for all, one at a time.
function drawVoices() {
  const { model, view, pick } = desk;
  const { fitsAll } = view;
  const single = !fitsAll || view.alone !== null;
  const box = byId("voices");
  if (box.children.length !== model.voices.length + 1) {
    const made = model.voices.map((voice, number) => button(voice.character, () => choose(number)));
    box.replaceChildren(button("All voices", () => choose(null)), ...made);
  }
  [...box.children].forEach((one, k) => {
    one.hidden = k === 0 && !fitsAll;
    one.setAttribute("aria-pressed", String(k === 0 ? !single : single && pick.voice === k - 1));
  });
}

// What the buttons and counts say, as the shot stands.
function drawState() {
  const { model, sound, settings } = desk;
  byId("do-half-speed").setAttribute("aria-pressed", String(sound.half));
  byId("do-snap").setAttribute("aria-pressed", String(!settings.free));
  byId("do-play").textContent = sound.isPlaying ? "Stop" : "Play";
  for (const name of ["undo", "redo"]) byId(`do-${name}`).setAttribute("aria-disabled", String(!model[`${name}able`]));
  const astray = [...model.takes.values()].flatMap(({ take }) => take.lost.map((one) => `${take.name}: a correction has no place any more (${one.words}): ${one.reason}`));
  tellHowItIs(model.doubts().length, [...model.shot.warnings, ...model.shot.remarks, ...astray, desk.keys.problem]);
}

function listenTo() {
  const { model, pick, painter, sound, table, peaks } = desk;
  model.addEventListener("change", () => {
    pick.keepWithin();
    table.draw();
    drawState();
    painter.drawSoon();
  });
  model.addEventListener("problem", ({ detail }) => say(detail.problem));
  model.addEventListener("clash", ({ detail }) => (detail.take ? tellClash(detail) : tellMouthClash(detail)));
  let voice = pick.voice;
  pick.addEventListener("change", () => {
    say(pick.words());
    if (pick.voice !== voice) {
      voice = pick.voice;
      if (desk.view.alone !== null) desk.view.alone = voice;
      drawVoices();
      table.draw();
    }
    table.mark();
    painter.drawSoon();
  });
  sound.addEventListener("change", () => {
    drawState();
    follow();
  });
  sound.addEventListener("loaded", () => {
    peaks.take(sound.buffer, sound.loaded);
    painter.drawSoon();
  });
  byId("level").addEventListener("input", ({ target }) => sound.output.setLevel(target.value / 100));
  byId("words").closest("details").addEventListener("toggle", () => table.draw());
  new ResizeObserver(() => {
    painter.resize();
    drawVoices();
  }).observe(stage);
  addEventListener("beforeunload", () => model.settle());
  listenToMouths();
  listenToOthers();
}

// What others change is asked for anew.
function listenToOthers() {
  const { model } = desk;
  listen({
    take: ({ name, revision, by }) => {
      const take = model.takes.get(name);
      if (!take || take.take.revision === revision) return;
      const seen = take.foreign;
      take.queue.then(() => model.refreshTake(take)).then(() => take.foreign > seen && say(`${by} has changed ${name}: you see it as it stands now.`));
    },
    mouths: ({ shot, character, revision, by }) => {
      if (shot !== model.shot.shot || revision === model.shot.revision) return;
      model.queue.then(() => revision !== model.shot.revision && model.refresh(character).then(() => say(`${by} has set mouths of ${character}.`)));
    },
  });
}

async function open() {
  const name = byId("shot").dataset.shot;
  const model = new ShotModel(name);
  const [keys] = await Promise.all([keysOfShot(), model.load()]);
  const { clock } = model;
  const view = new ShotView(clock, model.voices.length);
  view.hasNotes = model.shot.action.length + model.shot.camera.length > 0;
  const pick = new ShotPick(model);
  const peaks = new ShotPeaks(clock.samples);
  const painter = new ShotPainter(byId("canvas"), { view, model, pick, peaks });
  const sound = new TakeSound(`${model.path}/sound?of=${model.shot.sound}`);
  const table = new ShotTable(byId("words"), { model, pick, clock });
  table.onSelect = ({ placed, indices }) => {
    pick.select({ placed, index: indices[0] }, "word");
    reveal(...pick.span());
  };
  Object.assign(desk, { model, clock, view, pick, peaks, painter, sound, table, keys, say, reveal, choose });
  desk.phones = () => keys.phones;
  desk.redraw = () => painter.drawSoon();
  desk.actions = actionsOfShot(desk);
  const act = async (action) => {
    if (WRITES.has(action)) await model.written(); // parts are named as they are once all is written
    await desk.actions[action]();
    drawState();
  };
  let written = Promise.resolve(); // what is asked for twice in a moment is done one after the other
  desk.run = (action) => {
    if (!WRITES.has(action)) return act(action);
    written = written.catch(() => {}).then(() => act(action));
    return written;
  };
  desk.edges = new ShotEdges(stage, { view, model, pick, painter, isFree: () => desk.settings.free });
  const { run, actions } = desk;
  drawTools(BUTTONS, { actions: ACTIONS, keys: keys.of, run });
  listenToKeys(Object.keys(ACTIONS).filter((name) => actions[name]), { keys: keys.of, run });
  painter.resize();
  view.scrollTo(-view.head * view.perPixel);
  listenTo();
  pick.selectAt(0);
  drawVoices();
  drawState();
  table.draw();
  painter.draw();
  stage.dataset.ready = "yes";
  sound.load().catch((problem) => say(`The sound cannot be had: ${problem.message}`));
}

open().catch((problem) => say(problem.message));
