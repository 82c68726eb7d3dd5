// Draws a take, as far as it is seen: a row a frame, time running down, as on the printed sheet. Shape, weight and
// hatching say what colour says, too.

import { upper } from "./take-pick.js";
import { drawSound } from "./take-wave.js";

const TEXT = 12; // pixels that a row of letters needs
const SECONDS = [1, 2, 5, 10, 30, 60, 300]; // between two rules, from further away
const TONES = { rise: "╱", fall: "╲", peak: "∧", level: "—" };
const NAMES = { number: "frame", wave: "sound, pitch", spectrum: "pitch, 0 to 8 kHz", word: "word", syllable: "syllable", sound: "said", stress: "beat", mouth: "mouth", note: "notes" };
const COLOURS = ["ink", "quiet", "edge", "raised", "ground", "main", "on-main", "alarm", "focus"];

export class Painter {
  constructor(canvas, { view, model, pick, peaks, mouths, spectrum }) {
    Object.assign(this, { canvas, view, model, pick, peaks, mouths, spectrum });
    this.context = canvas.getContext("2d", { alpha: false });
    this.heard = null; // the sample that is heard now
    this.waiting = false;
    this.readColours();
    // Between dark and paper white.
    const look = new MutationObserver(() => {
      this.readColours();
      this.drawSoon();
    });
    look.observe(document.documentElement, { attributeFilter: ["data-look"] });
  }

  readColours() {
    const style = getComputedStyle(document.documentElement);
    this.colours = Object.fromEntries(COLOURS.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]));
    this.hatching = null;
  }

  resize() {
    const { clientWidth, clientHeight } = this.canvas;
    const ratio = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(clientWidth * ratio);
    this.canvas.height = Math.round(clientHeight * ratio);
    this.ratio = ratio;
    this.view.resize(clientWidth, clientHeight);
    this.drawSoon();
  }

  drawSoon() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.draw();
    });
  }

  draw() {
    const { context, view, colours } = this;
    context.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
    context.fillStyle = colours.raised;
    context.fillRect(0, 0, view.width, view.height);
    context.font = "13px system-ui, sans-serif";
    context.textBaseline = "middle";
    this.columns = view.columns();
    this.drawRows();
    drawSound(this);
    this.drawWords();
    this.drawSyllables();
    this.drawSounds();
    this.drawMouths();
    this.drawRemarks();
    this.drawMarks();
    this.drawNames();
  }

  drawNames() {
    const { context, colours, view } = this;
    context.fillStyle = colours.ground;
    context.fillRect(0, 0, view.width, view.head);
    context.fillStyle = colours.ink;
    context.fillRect(0, view.head - 1, view.width, 1);
    context.font = "bold 12px system-ui, sans-serif";
    for (const [name, { x, width }] of Object.entries(this.columns)) context.fillText(this.named(name), x + 4, view.head / 2, width - 4);
  }

  named(column) {
    return column === "wave" && this.columns.spectrum ? "sound" : NAMES[column];
  }

  // The rules of frames, heavier at each half second and second, and their numbers; fewer from further away.
  drawRows() {
    const { context, view, colours, columns } = this;
    const { clock } = view;
    const row = clock.firstOf(1) / view.perPixel;
    const second = Math.max(1, Math.round(clock.num / clock.den));
    const half = Math.ceil(second / 2);
    const every = row >= 4 ? 1 : half * row >= 2 * TEXT ? half : second * (SECONDS.find((n) => n * second * row >= 2 * TEXT) ?? 600);
    const first = Math.floor(clock.frameAt(Math.max(Math.floor(view.top), 0)) / every) * every;
    context.textAlign = "right";
    for (let frame = first; frame <= clock.frames; frame += every) {
      const y = view.y(clock.firstOf(frame));
      if (y > view.height) break;
      const heavy = frame % second === 0 ? 2 : frame % half === 0 ? 1 : 0.5;
      context.fillStyle = heavy === 2 ? colours.ink : colours.edge;
      context.globalAlpha = heavy === 0.5 ? 0.45 : 1;
      context.fillRect(0, y - heavy / 2, view.width, heavy);
      context.globalAlpha = 1;
      if (frame === clock.frames || (every === 1 && row < TEXT && frame % half)) continue;
      context.fillStyle = colours.ink;
      context.fillText(String(clock.number(frame)), columns.number.x + columns.number.width - 8, y + Math.max(row, TEXT + 2) / 2);
    }
    context.textAlign = "left";
  }

  // The parts, in order, that are seen: each with its place, and where it begins and ends on the page. Of those that lie
  // on one line of pixels only the first is, unless another matters.
  *seen(parts, matters) {
    const { view } = this;
    const { cuts } = this.model.take;
    let low = 0;
    let high = parts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (cuts[parts[middle].stop] > view.top) high = middle;
      else low = middle + 1;
    }
    let line = -Infinity;
    for (let k = low; k < parts.length; k += 1) {
      const y = view.y(cuts[parts[k].first]);
      if (y > view.height) return;
      const bottom = view.y(cuts[parts[k].stop]);
      if (bottom < line && !matters(parts[k], k)) continue;
      line = Math.floor(bottom) + 1;
      yield [parts[k], k, y, bottom];
    }
  }

  drawWords() {
    const { context, colours, columns, pick } = this;
    const { take } = this.model;
    const { x, width } = columns.word;
    const matters = (word, k) => word.doubt >= take.worth || pick.has("word", k);
    for (const [word, k, y, bottom] of this.seen(take.words, matters)) {
      const selected = pick.has("word", k);
      this.box(x, y, width, bottom, selected);
      if (word.doubt >= take.worth) this.hatch(x + 2, y, 9, bottom, selected);
      if (word.pinned) {
        context.fillStyle = colours.ink;
        context.fillRect(x, y - 2, width, 4);
      }
      this.text(word.text, x + 15, y, bottom, width - 17, selected, word.doubt >= take.worth ? "bold" : "");
    }
  }

  drawSyllables() {
    const { columns, pick } = this;
    const { take } = this.model;
    const mains = new Set(take.phrases.map((phrase) => phrase.main));
    for (const [one, k, y, bottom] of this.seen(take.syllables, (_, number) => pick.has("syllable", number))) {
      const selected = pick.has("syllable", k);
      if (columns.syllable) {
        this.box(columns.syllable.x, y, columns.syllable.width, bottom, selected);
        this.text(one.text, columns.syllable.x + 4, y, bottom, columns.syllable.width - 6, selected);
      }
      this.beat(one, mains.has(k), y, bottom);
    }
  }

  // Strong is a full bar, half a narrow one, weak a dot; the main beat of a phrase has a ring. A line says how pitch goes.
  beat(one, main, y, bottom) {
    const { context, colours, columns } = this;
    const { x, width } = columns.stress;
    const tall = bottom - y;
    if (tall < 2) return;
    context.fillStyle = colours.ink;
    const wide = [4, width * 0.28, width * 0.55][one.stress];
    context.fillRect(x + 4, one.stress ? y + 1 : (y + bottom) / 2 - 2, wide, one.stress ? Math.max(tall - 2, 1) : 4);
    if (tall < TEXT) return;
    if (main) {
      context.strokeStyle = colours.ink;
      context.lineWidth = 2;
      context.strokeRect(x + 2, y + 0.5, width * 0.55 + 4, tall - 1);
    }
    context.fillText(TONES[one.tone] ?? "", x + width * 0.72, (y + bottom) / 2);
  }

  drawSounds() {
    const { columns, pick, view } = this;
    const { cuts, phones } = this.model.take;
    const { x, width } = columns.sound;
    let line = -Infinity;
    for (let k = Math.max(upper(cuts, view.top) - 1, 0); k < phones.length; k += 1) {
      const y = view.y(cuts[k]);
      if (y > view.height) return;
      const bottom = view.y(cuts[k + 1]);
      const selected = pick.has("sound", k);
      if (bottom < line && !selected) continue;
      line = Math.floor(bottom) + 1;
      this.box(x, y, width, bottom, selected);
      this.text(phones[k].said, x + 4, y, bottom, width - 6, selected);
    }
  }

  drawMouths() {
    const { columns, view } = this;
    if (!columns.mouth) return;
    const { clock } = view;
    const frames = [view.top, view.bottom].map((sample) => clock.frameAt(Math.max(Math.floor(sample), 0)));
    for (const one of this.mouths.seen(frames[0], Math.min(frames[1] + 1, clock.frames))) {
      const y = view.y(clock.firstOf(one.first));
      const bottom = view.y(clock.firstOf(one.stop));
      if (bottom < 0 || y > view.height) continue;
      this.box(columns.mouth.x, y, columns.mouth.width, bottom, false);
      this.text(one.mouth, columns.mouth.x + 4, y, bottom, columns.mouth.width - 6, false);
    }
  }

  // What is no word, what is not as the line has it, and what people wrote; on a narrow page over the sound.
  drawRemarks() {
    const { columns, view } = this;
    const { take } = this.model;
    const { x, width } = columns.note ?? columns.wave;
    const clock = view.clock;
    const told = [
      ...take.events.map((one) => [one.start, `(${one.kind})`]),
      ...take.departures.map((one) => [clock.firstOf(one.frame), one.written ? `script: ${one.written}` : one.kind]),
      ...take.notes.map((one) => [one.sample, `✎ ${one.text}`]),
    ];
    for (const [sample, text] of told) {
      const y = view.y(sample);
      if (y > -20 && y < view.height) this.text(text, x + 4, y, y + 16, width - 6, false, "italic");
    }
  }

  // Where the editor stands, the edge that is selected, and what is heard now.
  drawMarks() {
    const { context, colours, view, pick } = this;
    const [first, stop] = view.clock.span(pick.frame);
    context.strokeStyle = colours.focus;
    context.lineWidth = 2;
    context.strokeRect(1, view.y(first), view.width - 2, Math.max(view.y(stop) - view.y(first), 2));
    if (pick.edge !== null) {
      const y = view.y(this.model.take.cuts[pick.edge]);
      context.fillStyle = colours.focus;
      context.fillRect(this.columns.wave.x, y - 2, view.width, 4);
      context.fillRect(this.columns.wave.x, y - 7, 14, 14);
    }
    if (this.heard !== null) {
      context.fillStyle = colours.alarm;
      context.fillRect(0, view.y(this.heard) - 1, view.width, 2);
    }
  }

  box(x, y, width, bottom, selected) {
    const { context, colours } = this;
    if (selected) {
      context.fillStyle = colours.main;
      context.fillRect(x, y, width, Math.max(bottom - y, 2));
    }
    context.fillStyle = colours.ink;
    if (bottom - y >= 3 || selected) {
      context.fillRect(x, y - 0.5, width, 1);
      context.fillRect(x, bottom - 0.5, width, 1);
    }
    context.fillRect(x, y, 1, Math.max(bottom - y, 1));
  }

  text(text, x, y, bottom, width, selected, weight = "") {
    if (!text || bottom - y < TEXT) return;
    const { context, colours, view } = this;
    context.font = `${weight} 13px system-ui, sans-serif`;
    context.fillStyle = selected ? colours["on-main"] : colours.ink;
    // What is longer than the page is named where it is seen.
    const middle = Math.min(Math.max(y + TEXT / 2 + 2, view.head + 9), bottom - TEXT / 2);
    if (middle < view.height + TEXT) context.fillText(text, x, bottom - y < 2 * TEXT ? (y + bottom) / 2 : middle, width);
  }

  hatch(x, y, width, bottom, selected) {
    const { context, colours } = this;
    this.hatching ??= [colours.alarm, colours["on-main"]].map((colour) => hatched(context, colour));
    context.fillStyle = this.hatching[Number(selected)];
    context.fillRect(x, y + 1, width, Math.max(bottom - y - 2, 1));
  }
}

function hatched(context, colour) {
  const tile = document.createElement("canvas");
  tile.width = tile.height = 6;
  const pen = tile.getContext("2d");
  pen.strokeStyle = colour;
  pen.lineWidth = 2;
  for (const from of [-6, 0, 6]) {
    pen.moveTo(from, 6);
    pen.lineTo(from + 6, 0);
  }
  pen.stroke();
  return context.createPattern(tile, "repeat");
}
