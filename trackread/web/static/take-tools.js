// What the pages of a take and of a shot have around the canvas: buttons with their keys, keys pressed, what is amiss.

import { pressed, shown } from "./keys.js";

const byId = (id) => document.getElementById(id);

// A button for each action that has a label; `keys` are those of every action.
export function drawTools(labels, { actions, keys, run }) {
  const made = Object.entries(labels).map(([name, label]) => {
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: label, id: `do-${name}` });
    button.title = `${actions[name][0]} (${keys[name].map(shown).join(", ")})`;
    button.setAttribute("aria-keyshortcuts", keys[name].map((key) => (key === " " ? "Space" : key)).join(" "));
    button.addEventListener("click", () => run(name));
    return button;
  });
  byId("tools").replaceChildren(...made);
}

// Has an action run when its key is pressed, but not where somebody writes, or a button is meant.
export function listenToKeys(names, { keys, run }) {
  document.addEventListener("keydown", (event) => {
    if (document.querySelector("dialog[open]")) return;
    const { target, key } = event;
    if (target.matches("input:not([type=range]), select, textarea")) return;
    if (target.matches("button, summary, a") && (key === " " || key === "Enter")) return;
    if (target.matches("input[type=range]") && key.startsWith("Arrow")) return;
    const name = names.find((action) => pressed(event, keys[action]));
    if (!name) return;
    event.preventDefault();
    run(name);
  });
}

// How many places there are to hear, and what is amiss.
export function tellHowItIs(left, amiss) {
  byId("left").textContent = left ? `${left} ${left === 1 ? "place" : "places"} to hear` : "No doubt is left";
  const told = amiss.filter(Boolean).map((textContent) => Object.assign(document.createElement("p"), { className: "problem", textContent }));
  byId("amiss").replaceChildren(...told);
}
