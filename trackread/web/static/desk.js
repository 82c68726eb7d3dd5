// The list of takes: lines in the order of the script, scene by scene, each with its takes, circles and doubts left.

import { keysFor, pressed } from "./keys.js";
import { listen } from "./live.js";

const lines = document.getElementById("lines");
const left = document.getElementById("left");
const worst = document.getElementById("worst");
const find = document.getElementById("find");
let told = { lines: [], left: 0 };
let next = "";

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
  const link = element("a", { href, className: take.read ? "" : "unread" }, take.name, count);
  link.setAttribute("aria-label", `${take.name}, ${take.read ? doubts : "not read"}`);
  if (take.stand_in) link.append("stand-in");
  if (take.whole !== "whole") link.append(take.whole);
  const circle = element("button", { type: "button", onclick: () => circled(take) }, take.circled ? "◉" : "○");
  circle.setAttribute("aria-pressed", String(take.circled));
  circle.setAttribute("aria-label", `Circle ${take.name}`);
  return element("li", { id: take.name }, link, circle);
}

function draw() {
  const shown = told.lines.filter(isWanted);
  const parts = [];
  let scene = null;
  for (const line of shown) {
    if (line.scene !== scene) {
      scene = line.scene;
      parts.push(element("h2", { className: "scene" }, scene ? `Scene ${scene}` : "No scene"));
    }
    const heading = element("h3", {}, element("b", {}, `${line.line} ${line.character}`), " ", line.text);
    parts.push(element("section", { className: "line" }, heading, element("ul", {}, ...line.takes.map(takeItem))));
  }
  if (!shown.length) parts.push(element("p", {}, told.lines.length ? "No line is like that." : "There is no take yet."));
  lines.replaceChildren(...parts);
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

async function circled(take) {
  const body = JSON.stringify({ on: !take.circled });
  const answer = await fetch(`/api/takes/${take.name}/circle`, { method: "POST", body });
  const value = await answer.json();
  if (answer.ok) take.circled = value.circled;
  else left.textContent = value.problem;
  draw();
  document.querySelector(`#${take.name} button`).focus();
}

find.addEventListener("input", draw);
worst.addEventListener("click", () => location.assign(next));
const keys = await keysFor();
document.addEventListener("keydown", (event) => {
  if (event.target instanceof HTMLInputElement) return;
  if (pressed(event, keys.of["next-doubt"]) && next) {
    event.preventDefault();
    location.assign(next);
  }
});
listen({ take: load });
await load();
