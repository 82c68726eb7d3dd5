// The list of takes: lines in the order of the script, scene by scene, each with its takes, circles and doubts left. A take
// can be heard from here, and those of a line weighed against each other.

import { ACTIONS as SHARED, OF_LIST, keysFor, pressed } from "./keys.js";
import { listen } from "./live.js";
import { careOfEars, tellKeys } from "./take-dialogs.js";
import { Output, TakeSound } from "./take-sound.js";
import { Weighing } from "./weigh.js";

const OTHERWISE = {
  "step-on": "The next take",
  "step-back": "The take before",
  "play-take": "Hear the take",
  play: "Play or stop, of takes that are weighed",
  stop: "Stop",
  loop: "The word again and again, of takes that are weighed",
  next: "The next word, of takes that are weighed",
  previous: "The word before",
  circle: "Circle the take, or no longer",
  "next-doubt": "The place most worth hearing in all takes",
  help: "These keys",
};
const ACTIONS = { ...Object.fromEntries(Object.entries(OTHERWISE).map(([name, label]) => [name, [label, SHARED[name][1]]])), ...OF_LIST };

const byId = (id) => document.getElementById(id);
const [lines, left, worst, find] = ["lines", "left", "worst", "find"].map(byId);
const output = new Output();
let told = { lines: [], left: 0 };
let next = "";
let heard = null; // the take that is heard, by itself
export let weighing = null;

function element(name, values = {}, ...inside) {
  const made = Object.assign(document.createElement(name), values);
  made.append(...inside);
  return made;
}

async function fetched(path) {
  const answer = await fetch(path);
  const value = await answer.json();
  if (!answer.ok) throw new Error(value.problem);
  return value;
}

function isWanted(line) {
  const text = `${line.line} ${line.scene} ${line.character} ${line.text}`.toLowerCase();
  return find.value.toLowerCase().split(/\s+/).every((word) => text.includes(word));
}

function takeItem(take) {
  const href = `/desk/take/${take.name}`;
  const doubts = take.doubts ? `${take.doubts} to hear` : "no doubt left";
  const count = element("span", { className: "count" }, take.read ? String(take.doubts) : "–");
  count.setAttribute("aria-hidden", "true");
  const link = element("a", { href, id: `open-${take.name}`, className: take.read ? "" : "unread" }, take.name, count);
  link.setAttribute("aria-label", `${take.name}, ${take.read ? doubts : "not read"}`);
  if (take.stand_in) link.append("stand-in");
  if (take.whole !== "whole") link.append(take.whole);
  const isHeard = heard?.name === take.name;
  const play = element("button", { type: "button", id: `hear-${take.name}`, onclick: () => hear(take.name) }, isHeard ? "■" : "▸");
  play.setAttribute("aria-label", `${isHeard ? "Stop" : "Hear"} ${take.name}`);
  const circle = element("button", { type: "button", id: `circle-${take.name}`, onclick: () => circled(take) }, take.circled ? "◉" : "○");
  circle.setAttribute("aria-pressed", String(take.circled));
  circle.setAttribute("aria-label", `Circle ${take.name}`);
  return element("li", { id: take.name, className: "take-item" }, link, play, circle);
}

function lineSection(line) {
  const heading = element("h3", {}, element("b", {}, `${line.line} ${line.character}`), " ", line.text);
  const section = element("section", { className: "line", id: line.line }, heading, element("ul", {}, ...line.takes.map(takeItem)));
  if (line.takes.length < 2) return section;
  const isOpen = weighing?.line === line.line;
  const button = element("button", { type: "button", id: `weigh-${line.line}`, className: "weighs", onclick: () => weigh(line.line) }, "Weigh");
  button.setAttribute("aria-expanded", String(isOpen));
  button.setAttribute("aria-label", `Weigh the takes of ${line.line} against each other`);
  section.append(button);
  if (isOpen) section.append(weighing.box);
  return section;
}

// Everything anew, with the focus where it was.
function draw() {
  const focused = document.activeElement;
  const shown = told.lines.filter(isWanted);
  const parts = [];
  let scene = null;
  for (const line of shown) {
    if (line.scene !== scene) {
      scene = line.scene;
      parts.push(element("h2", { className: "scene" }, scene ? `Scene ${scene}` : "No scene"));
    }
    parts.push(lineSection(line));
  }
  if (!shown.length) parts.push(element("p", {}, told.lines.length ? "No line is like that." : "There is no take yet."));
  lines.replaceChildren(...parts);
  if (focused !== document.activeElement) (focused.isConnected ? focused : byId(focused.id))?.focus();
}

async function load() {
  try {
    told = await fetched("/api/takes");
    const doubts = await fetched("/api/doubts");
    next = doubts.places.length ? `/desk/take/${doubts.places[0].take}#word-${doubts.places[0].word}` : "";
  } catch (problem) {
    left.textContent = problem.message;
    return;
  }
  left.textContent = told.left ? `${told.left} ${told.left === 1 ? "place" : "places"} to hear` : "No doubt is left";
  worst.disabled = !next;
  draw();
}

const takeNamed = (name) => told.lines.flatMap((line) => line.takes).find((take) => take.name === name);

async function circled(take) {
  const body = JSON.stringify({ on: !take.circled });
  const answer = await fetch(`/api/takes/${take.name}/circle`, { method: "POST", body });
  const value = await answer.json();
  if (!answer.ok) left.textContent = value.problem;
  for (const one of [takeNamed(take.name), weighing?.takes.find((other) => other.name === take.name)]) {
    if (one && answer.ok) one.circled = value.circled;
  }
  weighing?.mark();
  draw();
}

// Hears a take as it is fetched, or stops it.
async function hear(name) {
  const before = heard;
  before?.sound.stop();
  if (before?.name === name || !(await careOfEars())) return;
  weighing?.stop();
  const sound = new TakeSound(`/api/takes/${name}/sound`, output);
  heard = { name, sound };
  sound.stream();
  sound.addEventListener("change", () => {
    if (heard?.sound === sound) heard = null;
    draw();
  });
  draw();
}

// Opens the takes of a line to be weighed, in the place of those that were, or closes them.
async function weigh(line) {
  const before = weighing;
  heard?.sound.stop();
  before?.close();
  weighing = null;
  if (before?.line !== line) {
    const opened = new Weighing(line, { output, circle: circled, keys: keys.of });
    await opened.open();
    weighing = opened;
  }
  draw();
  (weighing?.box ?? byId(`weigh-${line}`))?.focus();
}

// The take on which the focus is, else the first that is seen.
const here = () => document.activeElement.closest(".take-item") ?? document.querySelector(".take-item");

function step(by) {
  const items = [...document.querySelectorAll(".take-item")];
  const at = items.indexOf(document.activeElement.closest(".take-item"));
  items[at < 0 ? 0 : Math.min(Math.max(at + by, 0), items.length - 1)]?.querySelector("a").focus();
}

function run(name) {
  const actions = {
    "step-on": () => step(1),
    "step-back": () => step(-1),
    "play-take": () => here() && hear(here().id),
    stop: () => heard?.sound.stop(),
    circle: () => here() && circled(takeNamed(here().id)),
    weigh: () => weighing ? weigh(weighing.line) : byId(`weigh-${here()?.closest(".line").id}`)?.click(),
    "next-doubt": () => next && location.assign(next),
    help: () => tellKeys(ACTIONS, keys.of),
  };
  const isWeighed = weighing && !document.activeElement.closest(".take-item");
  if (!(isWeighed && weighing.run(name))) actions[name]?.();
}

function onKey(event) {
  const { target } = event;
  if (document.querySelector("dialog[open]") || target.matches("input:not([type=range], [type=checkbox]), select")) return;
  if (target.matches("button, a, summary, input") && (event.key === " " || event.key === "Enter")) return;
  if (target.matches("input[type=range]") && event.key.startsWith("Arrow")) return;
  const name = Object.keys(ACTIONS).find((action) => pressed(event, keys.of[action]));
  if (!name) return;
  event.preventDefault();
  run(name);
}

find.addEventListener("input", draw);
worst.addEventListener("click", () => location.assign(next));
byId("help").addEventListener("click", () => run("help"));
byId("level").addEventListener("input", ({ target }) => output.setLevel(target.value / 100));
const keys = await keysFor(ACTIONS);
document.addEventListener("keydown", onKey);
listen({ take: load });
await load();
