// What each action of the desk does. Every one is named in keys.js, and can be had by a key.

import { LEVELS } from "./take-pick.js";
import { ask, careOfEars } from "./take-dialogs.js";

const PAUSE = "SIL";

export function actionsOf(desk) {
  return { ...hearing(desk), ...moving(desk), ...doubting(desk), ...correcting(desk), ...looking(desk) };
}

function hearing({ sound, pick, clock, say }) {
  const play = async (span, options) => {
    if (!(await careOfEars())) return;
    if (!sound.play(...span, options)) say(`The sound is not here yet: ${Math.floor((100 * sound.loaded) / clock.samples)} of 100 parts`);
  };
  const fromHere = () => [pick.cursor < clock.samples - 1 ? pick.cursor : 0, clock.samples];
  return {
    play: () => (sound.isPlaying ? sound.stop() : play(fromHere())),
    "play-frame": () => play(clock.span(pick.frame), { single: true }),
    "play-word": () => play(pick.span()),
    "play-take": () => play([0, clock.samples]),
    loop: () => (sound.isPlaying ? sound.stop() : play(pick.span(), { loop: true })),
    forward: () => play(fromHere()),
    stop: () => sound.stop(),
    backward: async () => (await careOfEars()) && sound.playBackwards(pick.cursor || clock.samples),
    "half-speed": () => {
      sound.half = !sound.half;
      say(sound.half ? "Half speed" : "Full speed");
    },
  };
}

function moving({ model, pick, clock, sound, view, reveal, redraw }) {
  const stepped = async (frames) => {
    if (pick.edge !== null) return nudged((at) => clock.firstOf(clock.frameAt(at - (frames < 0 ? 1 : 0)) + (frames > 0 ? 1 : 0)));
    const frame = pick.step(frames);
    reveal(...clock.span(frame));
    if (await careOfEars()) sound.play(...clock.span(frame), { single: true });
    return frame;
  };
  const nudged = (to) => {
    if (pick.edge === null) return;
    pick.cursor = model.show(pick.edge, to(model.take.cuts[pick.edge]));
    model.settleSoon();
    pick.tell();
    reveal(pick.cursor, pick.cursor);
  };
  const selected = (index) => {
    pick.select(index);
    reveal(...pick.span());
  };
  const extended = (parts) => {
    pick.extend(parts);
    reveal(...pick.span());
  };
  const paged = (pages) => {
    view.scrollBy(pages * view.height * 0.9);
    redraw();
  };
  const edge = (cut) => pick.selectEdge(cut) && reveal(pick.cursor, pick.cursor);
  return {
    "step-on": () => stepped(1),
    "step-back": () => stepped(-1),
    "nudge-on": () => nudged((at) => at + 1),
    "nudge-back": () => nudged((at) => at - 1),
    next: () => selected(pick.index + 1),
    previous: () => selected(pick.index - 1),
    extend: () => extended(1),
    narrow: () => extended(-1),
    level: () => {
      const at = pick.cursor;
      pick.selectAt(at, LEVELS[(LEVELS.indexOf(pick.level) + 1) % LEVELS.length]);
      reveal(...pick.span());
    },
    "edge-start": () => pick.part && edge(pick.part.first),
    "edge-stop": () => pick.part && edge(pick.part.stop),
    unselect: () => pick.unselect(),
    "page-on": () => paged(1),
    "page-back": () => paged(-1),
    first: () => selected(0),
    last: () => selected(pick.parts().length - 1),
    frame: async () => {
      const told = await ask("Go to a frame", { label: "Frame", text: String(clock.number(pick.frame)) });
      const frame = Number(told) - clock.first;
      if (told === null || !Number.isInteger(frame) || frame < 0 || frame >= clock.frames) return;
      pick.selectAt(clock.firstOf(frame));
      reveal(...clock.span(frame));
    },
  };
}

function doubting({ model, pick, view, sound, redraw, say, onward }) {
  // Goes to a doubt, and lets it be heard at once.
  const go = async (by) => {
    const doubts = model.doubts();
    if (!doubts.length) return onward();
    const here = doubts.findIndex((one) => pick.level === "word" && one.index === pick.index);
    const next = here < 0 ? (by > 0 ? 0 : doubts.length - 1) : (here + by + doubts.length) % doubts.length;
    pick.select(doubts[next].index, { level: "word" });
    const [start, stop] = pick.span();
    view.face(start);
    redraw();
    return (await careOfEars()) && sound.play(start, stop);
  };
  return {
    "next-doubt": () => go(1),
    "previous-doubt": () => go(-1),
    right: async () => {
      const word = pick.word;
      if (word < 0) return say("Select a word first");
      const kept = await model.correct({ kind: "right", word });
      return kept && go(1);
    },
  };
}

function correcting({ model, pick, clock, phones, say }) {
  const respell = async (word) => {
    const { text } = model.take.words[word];
    const told = await ask(`Write “${text}” otherwise`, { text });
    return told !== null && told !== text && model.correct({ kind: "respell", word, text: told });
  };
  const relabel = async (phone) => {
    const { symbol } = model.take.phones[phone];
    const why = "By its ARPAbet symbol. A pause stays a pause: split or join for that.";
    const told = await ask(`Another sound for ${symbol}`, { why, text: symbol, choices: phones() });
    return told !== null && told.toUpperCase() !== symbol && model.correct({ kind: "relabel", phone, symbol: told });
  };
  const stress = (degree) => () => {
    const syllable = pick.syllable;
    return syllable < 0 ? say("Select a word or a syllable first") : model.correct({ kind: "stress", syllable, degree });
  };
  const again = async () => {
    if (pick.level !== "word" || !pick.part) return say("Select a word first; Shift and → takes in the next");
    const [first, last] = [pick.index, pick.index + pick.more];
    const text = model.take.words.slice(first, last + 1).map((word) => word.text).join(" ");
    const why = "The words beside it are heard again with it, around what is pinned. Nothing, if no word is said there.";
    const told = await ask(`What is said at “${text}”?`, { why, label: "It says", text });
    if (told === null) return null;
    say("Hearing it again …");
    return (await model.again({ first, last, text: told })) && say(`Heard again: “${told}”`);
  };
  const start = () => pick.edge ?? pick.part?.first ?? null;
  return {
    fix: () => (pick.level === "word" ? pick.part && respell(pick.index) : relabel(pick.sound)),
    again,
    "stress-weak": stress(0),
    "stress-half": stress(1),
    "stress-strong": stress(2),
    split: async () => {
      const phone = pick.sound;
      const [first, stop] = model.take.cuts.slice(phone, phone + 2);
      const here = clock.firstOf(pick.frame + 1);
      const at = pick.cursor > first ? pick.cursor : here > first && here < stop ? here : (first + stop) >> 1;
      const { symbol } = model.take.phones[phone];
      const why = `The second part begins on frame ${clock.number(clock.frameAt(at))}.`;
      const told = await ask(`Split ${symbol} in two`, { why, label: "The second is", text: symbol, choices: [...phones(), PAUSE] });
      return told !== null && model.correct({ kind: "split", phone, at, symbol: told, ...sidesOf(model.take, phone, told) });
    },
    join: () => model.correct({ kind: "join", phone: pick.sound }),
    pin: () => {
      const cut = start();
      if (!cut) return say("Nothing starts here that could be pinned");
      const pinned = model.take.pins.includes(model.take.cuts[cut]);
      return model.correct({ kind: pinned ? "unpin" : "pin", cut });
    },
    note: async () => {
      const sample = clock.firstOf(pick.frame);
      const text = model.take.notes.find((one) => one.sample === sample)?.text ?? "";
      const why = "An empty one takes away what is there.";
      const told = await ask(`A note on frame ${clock.number(pick.frame)}`, { why, label: "Note", text });
      return told !== null && told !== text && model.correct({ kind: "note", sample, text: told });
    },
    undo: () => model.undo(),
    redo: () => model.redo(),
    circle: () => model.circle(!model.take.circled),
  };
}

// What the second part of a sound belongs to: a new pause is in no syllable, and at the end of a word in no word; a new
// sound in a pause between words belongs to the next word.
function sidesOf(take, phone, symbol) {
  const isPause = symbol.toUpperCase() === PAUSE;
  const inside = (parts) => parts.some((part) => part.first <= phone && phone + 1 < part.stop);
  const owned = take.words.some((word) => word.first <= phone && phone < word.stop);
  if (isPause) return { word: inside(take.words) ? "this" : "neither", syllable: inside(take.syllables) ? "this" : "neither" };
  return owned ? {} : { word: "next", syllable: "next" };
}

function looking({ view, pick, settings, redraw, say, help }) {
  const zoomed = (factor) => {
    view.zoom(factor, Math.min(Math.max(view.y(pick.cursor), 0), view.height));
    redraw();
  };
  const closely = (perPixel) => {
    view.zoomTo(perPixel, pick.cursor);
    redraw();
  };
  return {
    snap: () => {
      settings.free = !settings.free;
      say(settings.free ? "Edges go freely" : "Edges go by frames");
    },
    "zoom-in": () => zoomed(1.5),
    "zoom-out": () => zoomed(1 / 1.5),
    "zoom-take": () => closely(view.furthest),
    "zoom-rows": () => {
      view.rows(pick.cursor);
      redraw();
    },
    "zoom-sample": () => closely(0),
    help,
  };
}
