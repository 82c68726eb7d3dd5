// The keys of the page of a shot: those of a take, and those of what only a shot has, which the production may have
// otherwise as well.

import { ACTIONS as OF_A_TAKE, OF_SHOT, keysFor } from "./keys.js";

const OTHERWISE = {
  level: ["Words, syllables, sounds or mouths", "p"],
  next: ["Next word, sound or mouth", "ArrowRight"],
  previous: ["The word, sound or mouth before", "ArrowLeft"],
  "play-word": ["Play what is selected", "w"],
  "play-take": ["Play the whole shot", "t"],
  fix: ["Choose the mouth; write the word, or the sound, otherwise", "Enter"],
  pin: ["Set the mouth as it is, or let the plan choose it; pin the start of a word", "i"],
  "zoom-take": ["The whole shot", "a"],
};

export const ACTIONS = { ...OF_A_TAKE, ...OF_SHOT, ...OTHERWISE };

export const keysOfShot = () => keysFor(ACTIONS);
