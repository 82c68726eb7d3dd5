// Lows and highs of the sound for drawing, kept by how close they are looked at: level n has a pair for 2 ** n samples,
// level 0 the samples themselves. They come in tiles; until one is here, a coarser one that is stands for it.

const PAIRS = 1024; // in a tile
const MOST = 192; // tiles that are kept

export class Peaks {
  constructor(path, samples, changed) {
    this.path = path;
    this.samples = samples;
    this.changed = changed;
    this.tiles = new Map();
    this.coarsest = Math.max(0, Math.ceil(Math.log2(samples / PAIRS)));
  }

  levelFor(perPixel) {
    return Math.min(Math.max(Math.floor(Math.log2(perPixel)), 0), this.coarsest);
  }

  // The tile of a level in which a sample lies, asked for if it is not here; null until then.
  tile(level, sample) {
    const number = Math.floor(sample / (PAIRS * 2 ** level));
    const key = `${level}/${number}`;
    const found = this.tiles.get(key);
    if (found === undefined) this.ask(key, level, number);
    else if (found) {
      this.tiles.delete(key); // those that are looked at stay longest
      this.tiles.set(key, found);
    }
    return found ?? null;
  }

  // The lowest and highest from one sample to another, by the finest tile that is here.
  between(level, start, stop) {
    for (let at = level; at <= this.coarsest; at += 1) {
      const tile = at === level || at === this.coarsest ? this.tile(at, start) : this.tiles.get(this.keyOf(at, start));
      if (tile) return extreme(tile, start, stop);
    }
    return null;
  }

  keyOf(level, sample) {
    return `${level}/${Math.floor(sample / (PAIRS * 2 ** level))}`;
  }

  async ask(key, level, number) {
    this.tiles.set(key, null);
    const step = 2 ** level;
    const first = number * PAIRS * step;
    const stop = Math.min(first + PAIRS * step, this.samples);
    if (first >= stop) return;
    const count = Math.ceil((stop - first) / step);
    try {
      const answer = await fetch(`${this.path}/peaks?from=${first}&to=${stop}&count=${count}`);
      if (!answer.ok) throw new Error(String(answer.status));
      const { lows, highs } = await answer.json();
      this.tiles.set(key, { first, step, lows, highs });
    } catch {
      setTimeout(() => this.tiles.delete(key), 2000); // asked for again when it is looked at then
    }
    for (const old of this.tiles.keys()) {
      if (this.tiles.size <= MOST) break;
      if (this.tiles.get(old)) this.tiles.delete(old);
    }
    this.changed();
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
