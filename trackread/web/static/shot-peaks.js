// Lows and highs of a shot's sound for drawing, made of the sound itself as it comes; asked as take-peaks.js is, whose
// levels these are: level n has a pair for 2 ** n samples.

const STEP = 5; // levels from one that is kept to the next
const PAIRS = 1024; // in the coarsest level, at most

export class ShotPeaks {
  constructor(samples) {
    this.samples = samples;
    this.coarsest = Math.max(0, Math.ceil(Math.log2(samples / PAIRS)));
    this.levels = new Map();
    for (let level = STEP; level <= this.coarsest + STEP; level += STEP) {
      const count = Math.ceil(samples / 2 ** level);
      this.levels.set(level, { lows: new Float32Array(count), highs: new Float32Array(count) });
    }
    this.sound = null;
    this.done = 0; // samples that are in the levels
    this.loudest = 1e-4;
  }

  levelFor(perPixel) {
    return Math.min(Math.max(Math.floor(Math.log2(perPixel)), 0), this.coarsest);
  }

  // Takes in what has come of the sound: `done` samples of its buffer.
  take(buffer, done) {
    this.sound = buffer.getChannelData(0);
    let finer = { lows: this.sound, highs: this.sound };
    for (const [level, kept] of this.levels) {
      const first = Math.floor(this.done / 2 ** level);
      const stop = Math.min(Math.ceil(done / 2 ** level), kept.lows.length);
      const limit = level === STEP ? done : finer.lows.length;
      for (let k = first; k < stop; k += 1) {
        [kept.lows[k], kept.highs[k]] = extreme(finer, k << STEP, Math.min((k + 1) << STEP, limit));
      }
      finer = kept;
    }
    for (let k = 0; k < finer.lows.length; k += 1) this.loudest = Math.max(this.loudest, finer.highs[k], -finer.lows[k]);
    this.done = done;
  }

  // Whether anything has come; how loud it is stands in `loudest`.
  tile() {
    return this.done ? this : null;
  }

  // The lowest and highest from one sample to another, null where it has not come yet.
  between(level, start, stop) {
    const [first, last] = [Math.floor(start), Math.min(Math.ceil(stop), this.done)];
    if (first >= last) return null;
    const kept = Math.floor(level / STEP) * STEP;
    if (kept === 0) return extreme({ lows: this.sound, highs: this.sound }, first, last);
    const step = 2 ** kept;
    return extreme(this.levels.get(kept), Math.floor(first / step), Math.ceil(last / step));
  }
}

function extreme({ lows, highs }, first, stop) {
  let low = Infinity;
  let high = -Infinity;
  for (let k = first; k < stop; k += 1) {
    if (lows[k] < low) low = lows[k];
    if (highs[k] > high) high = highs[k];
  }
  return [low, high];
}
