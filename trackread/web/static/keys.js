// The keys of the desk: what each action is called, its usual keys, and those that the production has in desk-keys.toml.
// A key is named as browsers name it (UI Events, KeyboardEvent key), with Ctrl+, Alt+ and Shift+ before. For a letter
// or a mark, Shift counts only where it is named, since it is in the mark already.

export const ACTIONS = {
  play: ["Play from here, or stop", " "],
  "play-frame": ["Play this frame", "f"],
  "play-word": ["Play this word or sound", "w"],
  "play-take": ["Play the whole line", "t"],
  loop: ["Play it in a loop", "o"],
  "half-speed": ["Half speed, at the same pitch", "h"],
  forward: ["Play forwards", "l"],
  stop: ["Stop", "k"],
  backward: ["Play backwards", "j"],
  "step-on": ["Next frame, heard alone; an edge that is selected goes a frame on", "ArrowDown"],
  "step-back": ["The frame before, heard alone; an edge goes a frame back", "ArrowUp"],
  "nudge-on": ["An edge goes a sample on", "Alt+ArrowDown"],
  "nudge-back": ["An edge goes a sample back", "Alt+ArrowUp"],
  next: ["Next word or sound", "ArrowRight"],
  previous: ["The word or sound before", "ArrowLeft"],
  extend: ["Take in the next word or sound, too", "Shift+ArrowRight"],
  narrow: ["Leave out the last", "Shift+ArrowLeft"],
  level: ["Words, syllables or sounds", "p"],
  "edge-start": ["Select the edge where it starts", "["],
  "edge-stop": ["Select the edge where it ends", "]"],
  unselect: ["Leave the edge", "Escape"],
  "next-doubt": ["Next place worth hearing", "n"],
  "previous-doubt": ["The place before", "Shift+N"],
  right: ["It is right; on to the next", "r"],
  fix: ["Write the word, or the sound, otherwise", "Enter"],
  again: ["Say what is said there, and have it heard again", "Shift+Enter"],
  "stress-weak": ["Weak", "0"],
  "stress-half": ["Half stressed", "1"],
  "stress-strong": ["Strong", "2"],
  split: ["Split the sound at this frame", "x"],
  join: ["Join the sound with the next", "g"],
  pin: ["Pin the start, or let it move", "i"],
  note: ["Write a note on this frame", "m"],
  undo: ["Undo", "Ctrl+z"],
  redo: ["Redo", ["Ctrl+Shift+Z", "Ctrl+y"]],
  circle: ["Circle the take", "c"],
  snap: ["Edges go by frames, or freely", "s"],
  "zoom-in": ["Closer", ["+", "="]],
  "zoom-out": ["Further away", "-"],
  "zoom-take": ["The whole take", "a"],
  "zoom-rows": ["A frame a row", "z"],
  "zoom-sample": ["Down to the sample", "Shift+Z"],
  "page-on": ["A page on", "PageDown"],
  "page-back": ["A page back", "PageUp"],
  first: ["To the start", "Home"],
  last: ["To the end", "End"],
  frame: ["Go to a frame", "Shift+G"],
  help: ["These keys", "?"],
};

// What can be done only on the page of a take, only on that of a shot, and only in the list of takes.
export const OF_TAKE = { spectrum: ["Spectrogram, or none", "e"] };
export const OF_SHOT = {
  "voice-on": ["The next character", "v"],
  "voice-back": ["The character before", "Shift+V"],
  "voice-alone": ["This character alone, or all side by side", "b"],
  "more-frames": ["A frame more of mouths", "Shift+ArrowDown"],
  "fewer-frames": ["A frame fewer of mouths", "Shift+ArrowUp"],
  wear: ["Another kit of mouths", "d"],
  "open-take": ["Open the take by itself", "e"],
};
export const OF_LIST = {
  weigh: ["Weigh the takes of the line against each other, or end it", "v"],
  turns: ["Each of its takes once, one after the other", "b"],
  ...Object.fromEntries([1, 2, 3, 4, 5, 6, 7, 8, 9].map((k) => [`take-${k}`, [`Take ${k} of the line, from the word that is heard`, `${k}`]])),
};
const ALL = { ...ACTIONS, ...OF_TAKE, ...OF_SHOT, ...OF_LIST };

const LETTERS = /^.$/u;

// The name of the key that an event is of.
export function nameOf(event) {
  const shift = event.shiftKey && (!LETTERS.test(event.key) || /\p{L}/u.test(event.key));
  const held = [(event.ctrlKey || event.metaKey) && "Ctrl", event.altKey && "Alt", shift && "Shift"];
  return [...held.filter(Boolean), event.key].join("+");
}

export function pressed(event, keys) {
  const name = nameOf(event);
  return keys.some((key) => key === name || key.toLowerCase() === name.toLowerCase() && !event.shiftKey);
}

// The keys of every action of a page, and the names in the production's file that are no action's of any.
export async function keysFor(actions) {
  const of = Object.fromEntries(Object.entries(actions).map(([name, [, keys]]) => [name, [keys].flat()]));
  const answer = await fetch("/api/keys");
  const told = await answer.json();
  if (!answer.ok) return { of, phones: [], problem: told.problem };
  const unknown = Object.keys(told.keys).filter((name) => !(name in ALL));
  for (const [name, keys] of Object.entries(told.keys)) if (name in actions) of[name] = keys;
  const problem = unknown.length ? `desk-keys.toml: there is no action ${unknown.join(", ")}` : "";
  return { of, phones: told.phones, problem };
}

// A key as a person reads it.
export function shown(key) {
  const names = { " ": "Space", ArrowUp: "↑", ArrowDown: "↓", ArrowLeft: "←", ArrowRight: "→" };
  return key.split(/\+(?=.)/).map((part) => names[part] ?? (LETTERS.test(part) ? part.toUpperCase() : part)).join(" ");
}
