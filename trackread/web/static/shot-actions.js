// What each action does on the page of a shot. What is done to a single take is done as on its own page, with the frames
// told as those of the shot.

import { actionsOf } from "./take-actions.js";
import { ask, careOfEars, tellKeys } from "./take-dialogs.js";
import { Pick } from "./take-pick.js";
import { Clock } from "./take-time.js";
import { askMouth } from "./shot-dialogs.js";
import { ACTIONS } from "./shot-keys.js";

const POINTER = " The pointer drags edges, with Alt freely, and takes frames of mouths together.";

export const OF_TAKES = ["fix", "again", "stress-weak", "stress-half", "stress-strong", "split", "join", "pin", "note", "circle"];

export function actionsOfShot(desk) {
  const shared = actionsOf(desk); // hearing and looking are the same for any sound
  const inTakes = () => desk.say("For several words at once, open the take by itself");
  const ofTakes = Object.fromEntries(OF_TAKES.map((name) => [name, () => onTake(desk, name)]));
  return { ...shared, extend: inTakes, narrow: inTakes, ...ofTakes, ...moving(desk), ...doubting(desk), ...mouths(desk, ofTakes), ...changing(desk) };
}

// The clock of a take, which numbers its frames by those of the shot on which they begin.
class ClockInShot extends Clock {
  constructor(placed) {
    super(placed.take.take);
    this.placed = placed;
  }

  number(frame) {
    return this.placed.clock.number(this.placed.frameOf(Math.min(this.firstOf(frame), this.samples - 1)));
  }
}

// Does what the page of a take does, to the take that is selected.
async function onTake(desk, name) {
  const { pick, say } = desk;
  const { placed } = pick;
  if (!placed || pick.level === "mouth") return say("Select a word or a sound first");
  const clock = new ClockInShot(placed);
  const inner = new Pick(placed.take, clock);
  const cursor = Math.min(Math.max(placed.edgeNear(pick.cursor), 0), clock.samples - 1);
  Object.assign(inner, { level: pick.level, index: pick.index, cursor, edge: pick.edge?.cut ?? null });
  return actionsOf({ ...desk, model: placed.take, pick: inner, clock })[name]();
}

function moving(desk) {
  const { model, pick, clock, sound, reveal, say } = desk;
  // Moves the selected edge; `to` gives where it goes from where it is.
  const nudged = (to) => {
    if (!pick.edge) return;
    const { placed, cut } = pick.edge;
    placed.take.show(cut, to(placed, placed.take.take.cuts[cut]));
    placed.take.settleSoon();
    pick.cursor = placed.place(placed.take.take.cuts[cut]);
    pick.tell();
    reveal(pick.cursor, pick.cursor);
  };
  const byFrames = (frames) => (placed, at) => {
    const frame = placed.frameOf(placed.forwards ? at : at - 1);
    const on = placed.edgeOn(frame) === at;
    return placed.edgeOn(frames > 0 || on ? frame + frames : frame);
  };
  const bySamples = (samples) => (placed, at) => at + (placed.forwards ? samples : -samples);
  const stepped = async (frames) => {
    if (pick.edge) return nudged(byFrames(frames));
    const frame = pick.step(frames);
    reveal(...clock.span(frame));
    if (await careOfEars()) sound.play(...clock.span(frame), { single: true });
    return frame;
  };
  const seen = () => reveal(...pick.span());
  const edge = (end) => {
    const { part, placed } = pick;
    if (!part) return say("Select a word or a sound first");
    const cut = (end === "start") === placed.forwards ? part.first : part.stop;
    return pick.selectEdge({ placed, cut }) && reveal(pick.cursor, pick.cursor);
  };
  const then = (act) => () => {
    act();
    seen();
  };
  return {
    "step-on": () => stepped(1),
    "step-back": () => stepped(-1),
    "nudge-on": () => nudged(bySamples(1)),
    "nudge-back": () => nudged(bySamples(-1)),
    next: then(() => pick.move(1)),
    previous: then(() => pick.move(-1)),
    first: then(() => pick.end(false)),
    last: then(() => pick.end(true)),
    level: then(() => pick.nextLevel()),
    "edge-start": () => edge("start"),
    "edge-stop": () => edge("stop"),
    unselect: () => pick.unselect(),
    "voice-on": then(() => pick.selectVoice(pick.voice + 1)),
    "voice-back": then(() => pick.selectVoice(pick.voice - 1)),
    "voice-alone": () => desk.choose(desk.view.alone === null ? pick.voice : null),
    "open-take": () => {
      const placed = pick.placed ?? pick.its?.placed[0];
      if (!placed) return say("No take is selected");
      const word = pick.level === "word" && pick.placed ? `#word-${pick.index}` : "";
      return location.assign(`/desk/take/${placed.name}${word}`);
    },
    help: () => tellKeys(ACTIONS, desk.keys.of, POINTER),
    "play-take": async () => (await careOfEars()) && sound.play(0, model.clock.samples),
  };
}

function doubting({ model, pick, reveal, say }) {
  const go = (by) => {
    const doubts = model.doubts();
    if (!doubts.length) return say("No doubt is left in this shot");
    const here = doubts.findIndex((one) => pick.level === "word" && one.placed === pick.placed && one.index === pick.index);
    const next = here < 0 ? (by > 0 ? 0 : doubts.length - 1) : (here + by + doubts.length) % doubts.length;
    pick.voice = doubts[next].voice;
    pick.select(doubts[next], "word");
    return reveal(...pick.span());
  };
  return {
    "next-doubt": () => go(1),
    "previous-doubt": () => go(-1),
    right: async () => {
      const { placed, part } = pick;
      const word = part ? placed.parts("word").findIndex((one) => one.first <= part.first && part.stop <= one.stop) : -1;
      if (word < 0) return say("Select a word first");
      return (await placed.take.correct({ kind: "right", word })) && go(1);
    },
  };
}

function mouths({ model, pick, clock, say }, ofTakes) {
  const asked = (pins) => {
    const [first, stop] = pick.frames;
    return model.set({ character: pick.its.character, first, stop, pins });
  };
  const worn = (mouth) => asked(mouth ? [{ mouth, first: pick.frames[0], stop: pick.frames[1] }] : []);
  return {
    fix: async () => {
      if (pick.level !== "mouth") return ofTakes.fix();
      if (!pick.its.kit) return say(`${pick.its.character} has no kit of mouths`);
      const mouth = await askMouth(pick.its, pick.frames, clock);
      return mouth !== null && worn(mouth);
    },
    pin: () => {
      if (pick.level !== "mouth") return ofTakes.pin();
      const [first, stop] = pick.frames;
      const pinned = pick.its.pins.some((one) => one.first < stop && first < one.stop);
      const its = pick.its.mouths.filter((one) => one.first < stop && first < one.stop);
      return asked(
        pinned ? [] : its.map((one) => ({ mouth: one.mouth, first: Math.max(one.first, first), stop: Math.min(one.stop, stop) })),
      );
    },
    "more-frames": () => pick.stretch(1),
    "fewer-frames": () => pick.stretch(-1),
    wear: async () => {
      const { character, kit, kits } = pick.its ?? {};
      if (!kit) return say(`${character} has no kit of mouths`);
      if (kits.length < 2) return say(`${character} has only the kit ${kit}`);
      const told = await ask(`Which kit does ${character} wear in this shot?`, { label: "Kit", text: kit, choices: kits });
      return told !== null && told !== kit && model.set({ character, kit: told.trim() });
    },
  };
}

function changing({ model, say }) {
  const told = (what, which) => {
    if (!what) say(`Nothing to ${which}`);
    else if (what.take) say(`${which === "undo" ? "Undone" : "Done again"} in ${what.take.take.name}`);
    else say(`${which === "undo" ? "Undone" : "Done again"}: mouths of ${what.before.character}`);
  };
  return {
    undo: async () => told(await model.undo(), "undo"),
    redo: async () => told(await model.redo(), "redo"),
  };
}
