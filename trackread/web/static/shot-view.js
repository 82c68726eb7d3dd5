// What is seen of a shot: which frames, how close, and which voices side by side. As take-view.js has it; a place is a
// sample of the shot's sound.

import { View } from "./take-view.js";

const HEAD = 46; // the names of the characters over those of the columns
const LEAST = 128; // pixels that a voice needs beside others
const ROOMY = 190; // from which on its syllables have room, too
const NOTES = 900; // pixels of a page that has room for action and camera
const SHARES = { word: 33, sound: 20, stress: 17, mouth: 30 };
const ROOMY_SHARES = { word: 28, syllable: 17, sound: 15, stress: 13, mouth: 27 };

export class ShotView extends View {
  constructor(clock, voices) {
    super(clock);
    this.voices = voices; // how many there are
    this.alone = null; // the voice that is shown without the others, by its number
  }

  get head() {
    return HEAD;
  }

  // Whether the rows are the sheet's; from nearer, parts lie where they are within a frame.
  get isByRows() {
    return this.clock.firstOf(1) / this.perPixel <= 40;
  }

  get left() {
    return this.width < 620 ? 40 : 52;
  }

  get wave() {
    return this.width < 620 ? 48 : 84;
  }

  get notes() {
    return this.hasNotes && this.width >= NOTES ? 110 : 0;
  }

  // Whether all voices have room side by side.
  get fitsAll() {
    return (this.width - this.left - this.wave) / Math.max(this.voices, 1) >= LEAST;
  }

  columns() {
    const found = { number: { x: 0, width: this.left }, wave: { x: this.left, width: this.wave } };
    if (this.notes) found.note = { x: this.width - this.notes, width: this.notes };
    return found;
  }

  // The voices from left to right, each with its columns; of those that have no room, the one that is chosen.
  bands(chosen) {
    const shown = this.fitsAll && this.alone === null ? [...Array(this.voices).keys()] : [this.alone ?? chosen];
    const first = this.left + this.wave;
    const wide = (this.width - first - this.notes) / Math.max(shown.length, 1);
    return shown.filter((number) => number < this.voices).map((voice, k) => {
      const x = first + k * wide;
      return { voice, x, width: wide, columns: columnsIn(x, wide) };
    });
  }
}

function columnsIn(x, width) {
  const shares = width >= ROOMY ? ROOMY_SHARES : SHARES;
  const all = Object.values(shares).reduce((sum, share) => sum + share, 0);
  const found = {};
  let at = x + 2;
  for (const [name, share] of Object.entries(shares)) {
    found[name] = { x: at, width: ((width - 2) * share) / all };
    at += found[name].width;
  }
  return found;
}
