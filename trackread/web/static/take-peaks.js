// Lows and highs of the sound for drawing, kept by how close they are looked at: level n has a pair for 2 ** n samples,
// level 0 the samples themselves. They come in tiles; until one is here, a coarser one that is stands for it.

import { Tiles } from "./take-tiles.js";

const PAIRS = 1024; // in a tile
const MOST = 192; // tiles that are kept

export class Peaks {
  constructor(path, samples, changed) {
    this.path = path;
    this.samples = samples;
    this.near = null; // the tile of what was asked last, since what is asked next lies beside it
    this.tiles = new Tiles(MOST, () => {
      this.near = null; // a finer one may be here now
      changed();
    });
    this.coarsest = Math.max(0, Math.ceil(Math.log2(samples / PAIRS)));
  }

  levelFor(perPixel) {
    return Math.min(Math.max(Math.floor(Math.log2(perPixel)), 0), this.coarsest);
  }

  // The tile of a level in which a sample lies, asked for if it is not here; null until then.
  tile(level, sample) {
    const number = Math.floor(sample / (PAIRS * 2 ** level));
    return this.tiles.get(`${level}/${number}`, () => this.ask(level, number));
  }

  // The lowest and highest from one sample to another, by the finest tile that is here.
  between(level, start, stop) {
    const { near } = this;
    if (near?.asked === level && near.tile.first <= start && start < near.tile.stop) return extreme(near.tile, start, stop);
    for (let at = level; at <= this.coarsest; at += 1) {
      const isAsked = at === level || at === this.coarsest;
      const tile = isAsked ? this.tile(at, start) : this.tiles.found(`${at}/${Math.floor(start / (PAIRS * 2 ** at))}`);
      if (!tile) continue;
      if (at === level) this.near = { asked: level, tile };
      return extreme(tile, start, stop);
    }
    return null;
  }

  async ask(level, number) {
    const step = 2 ** level;
    const first = number * PAIRS * step;
    const stop = Math.min(first + PAIRS * step, this.samples);
    const count = Math.ceil((stop - first) / step);
    const answer = await fetch(`${this.path}/peaks?from=${first}&to=${stop}&count=${count}`);
    if (!answer.ok) throw new Error(String(answer.status));
    const { lows, highs } = await answer.json();
    return { first, stop, step, lows: Float32Array.from(lows), highs: Float32Array.from(highs) };
  }
}

function extreme(tile, start, stop) {
  const from = Math.max(Math.floor((start - tile.first) / tile.step), 0);
  const to = Math.min(Math.max(Math.ceil((stop - tile.first) / tile.step), from + 1), tile.lows.length);
  let low = Infinity;
  let high = -Infinity;
  for (let k = from; k < to; k += 1) {
    if (tile.lows[k] < low) low = tile.lows[k];
    if (tile.highs[k] > high) high = tile.highs[k];
  }
  return low <= high ? [low, high] : null;
}
