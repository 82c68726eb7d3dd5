// A row of the cut: one shot, its lines and its sheet. Time runs down in the strip at its left, as on the sheet.

import { addressOf, counted, element, lookAt, markOf, span } from "./cut_parts.js";

const OF_LINE = 32; // letters of a line's words: enough to know it again
const OF_CAUSE = 60;

const short = (words, most) => (words.length > most ? `${words.slice(0, most - 1).trimEnd()}…` : words);

/** The row of a shot. `stale` is set by `setStale`; undefined while the sheets are still being compared. */
export class Row {
  constructor(shot, mayWrite) {
    this.shot = shot;
    this.told = JSON.stringify(shot);
    this.stale = undefined;
    this.link = element("a", { href: addressOf("/desk/cut/", shot.shot), className: "code", tabIndex: -1 }, shot.shot);
    this.tick = mayWrite ? tickOf(shot.shot) : null;
    this.mark = element("div", { className: "state" });
    this.strip = element("div", { className: "strip" });
    this.strip.setAttribute("aria-hidden", "true");
    this.sheet = element("div", { className: "sheet-of" });
    const lines = element("ul", { className: "lines" }, ...shot.lines.map(lineOf), ...shot.beware.map(lookAt));
    const scene = shot.scene ? element("span", {}, `scene ${shot.scene}`) : "";
    const parts = [this.strip, element("div", { className: "name" }, this.link, scene), filmOf(shot), lines];
    this.item = element("li", { className: "shot" }, ...parts, this.sheet, this.mark);
    if (this.tick) this.item.prepend(element("label", { className: "tick" }, this.tick));
    const lined = shot.lines.map((one) => `${one.line} ${one.take} ${one.character} ${one.words}`).join(" ");
    this.text = `${shot.shot} scene ${shot.scene} ${lined}`.toLowerCase();
    this.show();
  }

  setStale(stale) {
    this.stale = stale;
    this.show();
  }

  setDone(done) {
    this.shot.done = done;
    this.show();
  }

  show() {
    const { shot, stale } = this;
    this.mark.replaceChildren(markOf(shot, stale, { comparing: stale === undefined }));
    const why = (stale?.causes ?? []).map((cause) => short(cause.what, OF_CAUSE));
    if (why.length) this.mark.append(element("span", { className: "why" }, `by ${why.join("; ")}`));
    this.sheet.replaceChildren(...sheetOf(shot));
    this.strip.replaceChildren(...stripOf(shot, stale));
  }
}

function tickOf(name) {
  const tick = element("input", { type: "checkbox", tabIndex: -1 });
  tick.setAttribute("aria-label", `Tick ${name}`);
  return tick;
}

function filmOf(shot) {
  const under = shot.under ? element("span", {}, `${shot.under} under the next`) : "";
  const frames = element("span", {}, `film ${span(shot.first, shot.last)}`);
  return element("div", { className: "film" }, element("strong", {}, counted(shot.frames, "frame")), frames, under);
}

function lineOf(line) {
  const words = line.words ? `“${short(line.words, OF_LINE)}”` : "no longer in the script";
  const where = element("span", { className: "where" }, `${span(line.first, line.last)}`);
  where.setAttribute("aria-label", `frames ${line.first} to ${line.last}`);
  where.setAttribute("role", "img");
  const take = element("span", { className: "take" }, line.take);
  return element("li", {}, where, element("span", {}, element("b", {}, line.character), ` ${words} `, take));
}

function sheetOf(shot) {
  if (shot.issue === null) return [];
  const parts = [element("strong", {}, `Unit ${shot.unit}`), element("span", {}, `issue ${shot.issue}, ${shot.date}`)];
  const done = shot.done === shot.frames ? "all shot" : `${shot.done} of ${shot.frames} shot`;
  return [...parts, element("span", {}, done)];
}

// The shot as a strip: hatched as far as it is shot, a bar for each line, a wedge where the sheet is stale.
function stripOf(shot, stale) {
  const part = (frame) => `${(100 * Math.min(Math.max(frame, 0), shot.frames)) / shot.frames}%`;
  const shown = element("i", { className: "is-shot" });
  shown.style.height = part(shot.done);
  const voices = [...new Set(shot.lines.map((line) => line.character))];
  const number = shot.first_number;
  const bars = shot.lines.map((line) => {
    const bar = element("i", { className: "bar" });
    bar.style.top = part(line.first - number);
    bar.style.height = part(line.last - line.first + 1);
    bar.style.left = `${30 + (60 * voices.indexOf(line.character)) / voices.length}%`;
    bar.style.width = `${Math.max(60 / voices.length - 4, 6)}%`;
    return bar;
  });
  if (!stale) return [shown, ...bars];
  const wedge = element("i", { className: "wedge" });
  wedge.style.top = part(stale.from_frame - number);
  return [shown, ...bars, wedge];
}
