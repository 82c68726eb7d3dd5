// The spectrogram of a take: 0 to 8 kHz from left to right, the stronger the darker. It comes from the server in tiles, as
// greys that are tinted here: level n has a row for 2 ** n samples. Until a tile is here, a coarser one stands for it.

import { Tiles } from "./take-tiles.js";

const BANDS = 128; // of trackread/reading/spectrogram.py
const KILOHERTZ = 8; // from left to right
const ROWS = 256; // in a tile
const MOST = 64; // tiles that are kept, 128 kB each
const FINEST = 5; // a row for 32 samples; from closer they are stretched
const SPARE = 9; // dB between the loudest sample and the strongest band of a voice, about (our own choice, no source)

export class Spectrum {
  constructor(path, clock, changed) {
    this.path = path;
    this.samples = clock.samples;
    this.tiles = new Tiles(MOST, changed);
    this.coarsest = Math.max(FINEST, Math.ceil(Math.log2(clock.samples / ROWS)));
    this.colour = "";
  }

  // Draws what is seen into a column of a page; `loudest` is the loudest sample of the take.
  draw({ context, view, colours }, { x, width }, loudest) {
    this.tint(colours.ink);
    const below = Math.max(Math.round(SPARE - 20 * Math.log10(loudest)), 0);
    const level = Math.min(Math.max(Math.round(Math.log2(view.perPixel)), FINEST), this.coarsest);
    const length = ROWS * 2 ** level;
    const stop = Math.min(view.bottom, this.samples);
    for (let number = Math.max(Math.floor(view.top / length), 0); number * length < stop; number += 1) {
      const first = number * length;
      const tile = this.tile(level, number, below) ?? this.coarser(level, first);
      if (tile) paint(context, view, tile, { x, width, first, stop: Math.min(first + length, tile.stop) });
    }
    context.globalAlpha = 0.35;
    context.fillStyle = colours.edge;
    for (let at = 2; at < KILOHERTZ; at += 2) context.fillRect(x + (width * at) / KILOHERTZ, 0, 1, view.height);
    context.globalAlpha = 1;
  }

  tile(level, number, below) {
    return this.tiles.get(`${level}/${number}`, () => this.ask(level, number, below));
  }

  coarser(level, first) {
    for (let at = level + 1; at <= this.coarsest; at += 1) {
      const found = this.tiles.found(`${at}/${Math.floor(first / (ROWS * 2 ** at))}`);
      if (found) return found;
    }
    return null;
  }

  async ask(level, number, below) {
    const step = 2 ** level;
    const first = number * ROWS * step;
    const answer = await fetch(`${this.path}/spectra?from=${first}&step=${step}&rows=${ROWS}&below=${below}`);
    if (!answer.ok) throw new Error(String(answer.status));
    const greys = new Uint8ClampedArray(await answer.arrayBuffer());
    const rows = greys.length / BANDS;
    const picture = new ImageData(BANDS, rows);
    for (let k = 0; k < greys.length; k += 1) picture.data[4 * k + 3] = greys[k];
    const canvas = Object.assign(document.createElement("canvas"), { width: BANDS, height: rows });
    canvas.getContext("2d").putImageData(picture, 0, 0);
    const tile = { canvas, first, step, stop: Math.min(first + rows * step, this.samples) };
    tinted(tile, this.colour);
    return tile;
  }

  // What is strong is drawn in the ink of the page.
  tint(colour) {
    if (colour === this.colour) return;
    this.colour = colour;
    for (const tile of this.tiles.all()) tinted(tile, colour);
  }
}

function tinted({ canvas }, colour) {
  const pen = canvas.getContext("2d");
  pen.globalCompositeOperation = "source-in";
  pen.fillStyle = colour;
  pen.fillRect(0, 0, canvas.width, canvas.height);
}

// A row of the tile lies exactly where its samples do; the last one of a take may have fewer.
function paint(context, view, tile, { x, width, first, stop }) {
  const from = (first - tile.first) / tile.step;
  const rows = (stop - first) / tile.step;
  context.drawImage(tile.canvas, 0, from, BANDS, rows, x, view.y(first), width, view.y(stop) - view.y(first));
}
