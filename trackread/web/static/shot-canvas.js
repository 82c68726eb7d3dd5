// Draws a shot, as far as it is seen: a row a frame, its voices side by side, as on the printed sheet. From nearer, the
// parts of takes lie where they are within a frame.

import { Painter } from "./take-canvas.js";
import { drawSound } from "./take-wave.js";
import { endsOf } from "./shot-pick.js";

const TEXT = 12; // pixels that a row of letters needs
const NAMES = { word: "word", syllable: "syll.", sound: "said", stress: "beat", mouth: "mouth" };
const BAR = 3; // pixels of a corner or a clamp round a mouth

export class ShotPainter extends Painter {
  draw() {
    const { context, view, colours, model } = this;
    context.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
    context.fillStyle = colours.raised;
    context.fillRect(0, 0, view.width, view.height);
    context.font = "13px system-ui, sans-serif";
    context.textBaseline = "middle";
    this.columns = view.columns();
    this.bands = view.bands(this.pick.voice);
    this.drawRows();
    drawSound(this); // a mix has no pitch
    for (const band of this.bands) this.drawVoice(band, model.voices[band.voice]);
    this.drawNotes();
    this.drawMarks();
    this.drawNames();
  }

  // The frames that are seen, the first and the one after the last.
  get frames() {
    const { clock, top, bottom } = this.view;
    return [clock.frameAt(Math.max(Math.floor(top), 0)), Math.min(clock.frameAt(Math.max(Math.floor(bottom), 0)) + 1, clock.frames)];
  }

  drawVoice(band, voice) {
    const { context, colours, view, columns } = this;
    context.fillStyle = colours.ink;
    context.fillRect(band.x, 0, 2, view.height);
    columns.stress = band.columns.stress;
    for (const level of ["word", "syllable", "sound"]) {
      for (const one of this.seenOf(voice, level)) this.drawPart(band, level, one);
    }
    this.drawMouthsOf(band, voice);
    this.drawBetween(band, voice);
  }

  // The parts of a level that are seen: each with its place on the page, and what is said there.
  *seenOf(voice, level) {
    const { view } = this;
    if (!view.isByRows) {
      yield* this.exactly(voice, level);
      return;
    }
    const [first, stop] = this.frames;
    const rows = this.model.rowsOf(voice, level);
    for (let k = firstAfter(rows, first); k < rows.length && rows[k].first < stop; k += 1) {
      yield { ...rows[k], y: view.y(view.clock.firstOf(rows[k].first)), bottom: view.y(view.clock.firstOf(rows[k].stop)) };
    }
  }

  *exactly(voice, level) {
    const { view } = this;
    for (const placed of voice.placed) {
      const parts = placed.parts(level);
      for (let index = 0; index < parts.length; index += 1) {
        const [start, stop] = endsOf(placed, parts[index]);
        if (stop <= view.top || start >= view.bottom || !placed.isSeen(parts[index])) continue;
        if (level === "sound" && !placed.saidAs(index)) continue;
        yield { placed, indices: [index], y: view.y(start), bottom: view.y(stop) };
      }
    }
  }

  drawPart(band, level, { placed, indices, y, bottom }) {
    const { pick, model } = this;
    const selected = pick.level === level && pick.placed === placed && indices.includes(pick.index);
    const parts = placed.parts(level);
    if (level === "syllable") this.drawBeat(placed, parts, indices, y, bottom);
    const column = band.columns[level];
    if (!column) return;
    const { x, width } = column;
    this.box(x, y, width, bottom, selected);
    const doubted = level === "word" && indices.some((k) => parts[k].doubt >= model.shot.worth);
    if (doubted) this.hatch(x + 2, y, 7, bottom, selected);
    if (bottom - y < TEXT) return;
    const indent = doubted ? 11 : 4;
    this.text(placed.textOf(level, indices), x + indent, y, bottom, width - indent - 2, selected, doubted ? "bold" : "");
  }

  // Of syllables that start on one frame the strongest counts.
  drawBeat(placed, parts, indices, y, bottom) {
    const { phrases } = placed.take.take;
    const strongest = indices.reduce((a, b) => (heavier(parts[a], parts[b]) ? a : b));
    this.beat(parts[strongest], phrases.some((phrase) => indices.includes(phrase.main)), y, bottom);
  }

  // A corner is where a mouth is changed, a clamp is round one that was set by hand.
  drawMouthsOf({ voice: number, columns }, voice) {
    const { context, colours, view, pick } = this;
    const { x, width } = columns.mouth;
    const [first, stop] = this.frames;
    const mouths = voice.mouths;
    this.drawPicked(number, x, width);
    for (let k = firstAfter(mouths, first); k < mouths.length && mouths[k].first < stop; k += 1) {
      const one = mouths[k];
      const [y, bottom] = [one.first, one.stop].map((frame) => view.y(view.clock.firstOf(frame)));
      const selected = this.isPicked(number) && pick.frames[0] <= one.first && one.first < pick.frames[1];
      context.fillStyle = selected ? colours["on-main"] : colours.ink;
      const changed = k === 0 || mouths[k - 1].mouth !== one.mouth || mouths[k - 1].stop !== one.first;
      if (changed || one.pinned) this.sign(x + 3, y, width - 5, bottom, one.pinned);
      this.text(this.calledIn(voice, one.mouth, width - 14), x + 9, y + 2, bottom, width - 11, selected);
    }
  }

  isPicked(number) {
    return this.pick.level === "mouth" && this.pick.voice === number;
  }

  drawPicked(number, x, width) {
    if (!this.isPicked(number)) return;
    const { context, colours, view, pick } = this;
    const [y, bottom] = pick.frames.map((frame) => view.y(view.clock.firstOf(frame)));
    context.fillStyle = colours.main;
    context.fillRect(x + 1, y, width - 2, Math.max(bottom - y, 2));
  }

  sign(x, y, width, bottom, pinned) {
    const { context } = this;
    const row = Math.min(this.view.clock.firstOf(1) / this.view.perPixel, bottom - y);
    context.fillRect(x, y, width, row >= 6 ? BAR - 1 : 1);
    if (row < 4) return;
    context.fillRect(x, y, BAR, pinned ? bottom - y - 1 : Math.min(0.62 * row, 16));
    if (pinned) context.fillRect(x, bottom - 1 - BAR, Math.min(10, width), BAR);
  }

  // A mouth by its name, where that has room, and else by its number in the kit, as on the sheet.
  calledIn(voice, name, width) {
    this.widths ??= new Map();
    if (!this.widths.has(name)) this.widths.set(name, this.context.measureText(name).width);
    const number = voice.mouth_names.indexOf(name) + 1;
    return this.widths.get(name) <= width || !number ? name : String(number);
  }

  // What is heard between the words, how long pauses are, and where other words are said than the script has.
  drawBetween(band, voice) {
    const { context, colours, view } = this;
    const { x, width } = band.columns.word;
    const [first, stop] = this.frames;
    const told = [...voice.events.map((one) => [one, `(${one.text})`]), ...voice.pauses.map((one) => [one, one.text])];
    for (const [one, text] of told) {
      if (one.stop <= first || one.first >= stop) continue;
      const [y, bottom] = [one.first, one.stop].map((frame) => view.y(view.clock.firstOf(frame)));
      if (bottom - y < TEXT || !text) continue;
      context.font = "italic 12px system-ui, sans-serif";
      context.fillStyle = colours.quiet;
      context.fillText(text, x + 6, Math.min((y + bottom) / 2, view.height - 8), width - 8);
    }
    context.fillStyle = colours.alarm;
    for (const one of [...voice.departures, ...voice.missing]) {
      if (one.stop <= first || one.first >= stop) continue;
      const [y, bottom] = [one.first, one.stop].map((frame) => view.y(view.clock.firstOf(frame)));
      for (const off of [5, 9]) context.fillRect(x + width - off, y + 1, 2, bottom - y - 2);
    }
  }

  // Action and camera, at the far right.
  drawNotes() {
    const { columns, model, view } = this;
    if (!columns.note) return;
    const { x, width } = columns.note;
    this.context.fillStyle = this.colours.ink;
    this.context.fillRect(x, 0, 2, view.height);
    for (const one of [...model.shot.action, ...model.shot.camera]) {
      const [y, bottom] = [one.first, one.stop].map((frame) => view.y(view.clock.firstOf(frame)));
      if (y < view.height && bottom > 0) this.text(one.text, x + 6, y, Math.max(bottom, y + 16), width - 8, false, "italic");
    }
  }

  // Where the editor stands, the edge that is selected, and what is heard now.
  drawMarks() {
    const { context, colours, view, pick } = this;
    const [first, stop] = view.clock.span(pick.frame);
    context.strokeStyle = colours.focus;
    context.lineWidth = 2;
    context.strokeRect(1, view.y(first), view.width - 2, Math.max(view.y(stop) - view.y(first), 2));
    const band = this.bands.find((one) => one.voice === pick.voice);
    if (pick.edge && band) {
      const { placed, cut } = pick.edge;
      const y = view.y(placed.place(placed.take.take.cuts[cut]));
      context.fillStyle = colours.focus;
      context.fillRect(band.x, y - 2, band.width, 4);
      context.fillRect(band.x, y - 7, 14, 14);
    }
    if (this.heard !== null) {
      context.fillStyle = colours.alarm;
      context.fillRect(0, view.y(this.heard) - 1, view.width, 2);
    }
  }

  drawNames() {
    const { context, colours, view, model, pick } = this;
    context.fillStyle = colours.ground;
    context.fillRect(0, 0, view.width, view.head);
    for (const band of this.bands) {
      const voice = model.voices[band.voice];
      const chosen = band.voice === pick.voice;
      context.fillStyle = chosen ? colours.main : colours.ground;
      context.fillRect(band.x, 0, band.width, view.head / 2);
      context.fillStyle = chosen ? colours["on-main"] : colours.ink;
      context.font = "bold 13px system-ui, sans-serif";
      const from = voice.extension ? ` (${voice.extension})` : "";
      context.fillText(`${voice.character}${from}`, band.x + 6, view.head / 4, band.width - 8);
      this.name(band.columns);
      context.fillStyle = colours.ink;
      context.fillRect(band.x, 0, 2, view.head);
    }
    this.name({ number: this.columns.number, wave: this.columns.wave, note: this.columns.note });
    context.fillRect(0, view.head - 1, view.width, 1);
  }

  name(columns) {
    const { context, colours, view } = this;
    const names = { number: "frame", wave: "sound", note: "action", ...NAMES };
    context.fillStyle = colours.ink;
    context.font = "11px system-ui, sans-serif";
    for (const [name, one] of Object.entries(columns)) {
      if (one) context.fillText(names[name], one.x + 4, 0.75 * view.head, one.width - 4);
    }
  }
}

// The place of the first of some spans, in order, that ends after a frame.
function firstAfter(spans, frame) {
  let low = 0;
  let high = spans.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (spans[middle].stop > frame) high = middle;
    else low = middle + 1;
  }
  return low;
}

function heavier(a, b) {
  return a.stress !== b.stress ? a.stress > b.stress : a.strength > b.strength;
}
