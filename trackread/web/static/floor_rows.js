// The rows of a sheet as they are seen on the floor: the frame being shot large, those before and after it smaller.

import { asked } from "/static/floor_counts.js";

const BEFORE = 2; // rows that are shown before the large one, and after it
const AFTER = 5;

function made(tag, className, text) {
  const found = document.createElement(tag);
  if (className) found.className = className;
  if (text !== undefined) found.textContent = text;
  return found;
}

/** A text that is held on a frame; one that began before is told so. */
function heldText([text, starts]) {
  return starts ? text : `${text} …`;
}

/** How strongly the voice leans on a frame, in words; "" for nothing to time a gesture off. */
export function beatOn(row) {
  if (!row.stress?.[1] || row.stress[0] === "weak") return "";
  return row.main ? "main beat" : `${row.stress[0]} beat`;
}

/** The next frame after `frame` on which a strong or main beat lands, null if there is none. */
export function nextBeat(sheet, frame) {
  const lands = (row) => row.voices.some((one) => one.main || beatOn(one) === "strong beat");
  const found = sheet.rows.findIndex((row, place) => place > frame && lands(row));
  return found < 0 ? null : found;
}

/** The frames on which the words last that are said on a frame, [first, stop]; null if nobody says any. */
export function wordOn(sheet, frame) {
  const spans = sheet.voices.map((_, voice) => spanOn(sheet, voice, frame)).filter(Boolean);
  if (!spans.length) return null;
  return [Math.min(...spans.map(([first]) => first)), Math.max(...spans.map(([, stop]) => stop))];
}

function spanOn(sheet, voice, frame) {
  const on = (place) => sheet.rows[place]?.voices[voice].word;
  const word = on(frame);
  if (!word) return null;
  let first = frame;
  while (!on(first)[1] && on(first - 1)?.[0] === word[0]) first -= 1;
  let stop = frame + 1;
  while (on(stop)?.[0] === word[0] && !on(stop)[1]) stop += 1;
  return [first, stop];
}

/** The pictures of all mouths, kept in memory so that they are there without a network. */
export class Mouths {
  constructor() {
    this.pictures = new Map();
  }

  /** Fetches the pictures that a sheet needs and that are not here yet. */
  async load(sheet) {
    const wanted = sheet.voices.flatMap((voice) => voice.mouths.map((mouth) => [voice.character, mouth]));
    await Promise.all(wanted.map(([character, mouth]) => this.fetch(sheet, character, mouth)));
  }

  async fetch(sheet, character, mouth) {
    const key = `${sheet.issue} ${character} ${mouth}`;
    if (this.pictures.get(key)?.complete) return;
    const address = [sheet.shot, "mouth", character, mouth].map(encodeURIComponent).join("/");
    const picture = new Image();
    picture.alt = "";
    picture.src = `/api/floor/${address}?issue=${sheet.issue}`;
    await picture.decode().then(
      () => this.pictures.set(key, picture),
      () => {}, // its name stands beside it
    );
  }

  picture(sheet, character, mouth) {
    return this.pictures.get(`${sheet.issue} ${character} ${mouth}`) ?? null;
  }
}

export class Rows {
  constructor(mouths) {
    this.mouths = mouths;
    this.parts = Object.fromEntries(
      ["before", "after", "number", "where", "voices", "beside", "spoken", "now"].map((id) => [id, document.getElementById(id)]),
    );
  }

  /** Shows frame `at` of a sheet, of which `done` frames are shot. */
  show(sheet, at, done) {
    this.sheet = sheet;
    const row = sheet.rows[at];
    const { parts } = this;
    parts.number.textContent = at + sheet.first_number;
    parts.where.textContent = this.where(at, done);
    parts.now.classList.toggle("elsewhere", at !== Math.min(done, sheet.length - 1));
    parts.now.classList.toggle("marked", this.isMarked(at));
    parts.voices.replaceChildren(...sheet.voices.map((voice, place) => this.voice(voice, row.voices[place])));
    parts.beside.replaceChildren(...this.beside(row));
    const before = Array.from({ length: BEFORE }, (_, k) => at - BEFORE + k).filter((frame) => frame >= 0);
    const after = Array.from({ length: AFTER }, (_, k) => at + 1 + k).filter((frame) => frame < sheet.length);
    parts.before.replaceChildren(...before.map((frame) => this.small(frame, done)));
    parts.after.replaceChildren(...after.map((frame) => this.small(frame, done)));
    parts.spoken.textContent = this.spoken(at, done);
  }

  /** Which frame it is, beside its number. */
  where(at, done) {
    const { length, base, first_number: first } = this.sheet;
    const clock = `${Math.floor(at / base)}+${String(at % base).padStart(2, "0")}`;
    const changed = this.isMarked(at) ? ", changed in this issue" : "";
    if (done >= length) return `All ${length} frames are shot. ${clock}${changed}`;
    const being = at === done ? "being shot" : `${at < done ? "shot" : "not shot yet"}; ${done + first} is being shot`;
    return `${being}, of ${length}, ${clock}${changed}`;
  }

  isMarked(frame) {
    return this.sheet.marked.some(([first, stop]) => first <= frame && frame < stop);
  }

  /** What a voice has on the large row; one that has nothing takes little room. */
  voice(voice, row) {
    const part = made("article", Object.keys(row).some((name) => name !== "mouth") ? "voice" : "voice silent");
    part.append(made("h3", "", voice.extension ? `${voice.character} (${voice.extension})` : voice.character));
    if (row.word) part.append(made("p", "said", heldText(row.word)));
    if (row.sound) part.append(made("p", "sound", row.sound[0]));
    if (row.mouth) part.append(this.mouth(voice, row.mouth[0]));
    if (beatOn(row)) part.append(made("p", row.main ? "beat main" : "beat", beatOn(row)));
    for (const name of ["event", "manner", "departure"]) {
      if (row[name]) part.append(made("p", "aside", heldText(row[name])));
    }
    return part;
  }

  mouth(voice, name) {
    const figure = made("figure", "mouth");
    const picture = this.mouths.picture(this.sheet, voice.character, name);
    if (picture) figure.append(picture);
    figure.append(made("figcaption", "", name));
    return figure;
  }

  beside(row) {
    const found = [];
    for (const [name, text] of [["Action", row.action], ["Camera", row.camera], ["Positions", row.positions]]) {
      if (!text) continue;
      const pair = made("div");
      pair.append(made("dt", "", name), made("dd", "", heldText(text)));
      found.push(pair);
    }
    return found;
  }

  /** A small row: number, then each voice's word, sound and mouth, then what else happens. */
  small(frame, done) {
    const row = this.sheet.rows[frame];
    const state = frame < done ? "shot" : frame === done ? "being" : "";
    const line = made("li", `${state} ${this.isMarked(frame) ? "marked" : ""}`.trim());
    line.append(made("span", "count", frame + this.sheet.first_number));
    row.voices.forEach((voice) => {
      if (!Object.keys(voice).length) return;
      const cell = made("span", "cell");
      if (voice.word) cell.append(made("b", voice.word[1] ? "" : "goes-on", heldText(voice.word)));
      if (voice.sound) cell.append(made("span", "", voice.sound[0]));
      if (voice.mouth?.[1]) cell.append(made("i", "", voice.mouth[0]));
      if (beatOn(voice)) cell.append(made("span", "beat", beatOn(voice)));
      if (cell.childNodes.length) line.append(cell);
    });
    for (const text of [row.action, row.camera]) if (text?.[1]) line.append(made("span", "cell", text[0]));
    if (frame < done) line.append(made("span", "unseen", "shot"));
    return line;
  }

  /** The large row in words, for who hears the page. */
  spoken(at, done) {
    const { voices, rows } = this.sheet;
    const parts = [`Frame ${at + this.sheet.first_number}, ${this.where(at, done)}`];
    voices.forEach((voice, place) => {
      const row = rows[at].voices[place];
      const texts = [row.word && `word ${heldText(row.word)}`, row.sound && `sound ${row.sound[0]}`];
      texts.push(row.mouth && `mouth ${row.mouth[0]}`, beatOn(row));
      const told = texts.filter(Boolean).join(", ");
      if (told) parts.push(`${voice.character}: ${told}`);
    });
    for (const [name, text] of [["action", rows[at].action], ["camera", rows[at].camera]]) {
      if (text) parts.push(`${name} ${text[0]}`);
    }
    return `${parts.join(". ")}.`;
  }
}

/** A sheet from the server: an issue by its number, or the newest for null. */
export function sheetOf(shot, issue) {
  return asked(`/api/floor/${encodeURIComponent(shot)}${issue ? `?issue=${issue}` : ""}`);
}
