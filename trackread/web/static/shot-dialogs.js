// What the page of a shot asks and tells in a box of its own: which mouth, and a clash over mouths.

import { rangeWords } from "./shot-pick.js";
import { whenSaid } from "./when.js";

const TYPING = 1000; // milliseconds within which a second figure belongs to the first

const byId = (id) => document.getElementById(id);

function element(name, text, ...inside) {
  const made = document.createElement(name);
  if (text) made.textContent = text;
  made.append(...inside);
  return made;
}

// Asks which mouth a character wears on some frames: its name, "" for what the plan chooses, null for as it is.
export function askMouth(voice, frames, clock) {
  const box = byId("mouths");
  byId("mouths-title").textContent = `${voice.character} wears, ${rangeWords(clock, ...frames)}`;
  const worn = voice.mouths.find((one) => one.first <= frames[0] && frames[0] < one.stop);
  const choices = voice.mouth_names.map((name, k) => choice(voice.kit, name, k + 1, name === worn?.mouth));
  byId("mouths-all").replaceChildren(...choices);
  byId("mouths-plan").hidden = !voice.pins.some((pin) => pin.first < frames[1] && frames[0] < pin.stop);
  box.returnValue = "";
  box.showModal();
  (choices.find((one) => one.getAttribute("aria-pressed") === "true") ?? choices[0])?.focus();
  return new Promise((done) => {
    box.addEventListener("close", () => done(answered(box.returnValue, voice)), { once: true });
  });
}

// What a box was closed with: `mouth 3` is the third.
function answered(value, voice) {
  if (value === "plan") return "";
  const number = /^mouth (\d+)$/.exec(value);
  return number ? voice.mouth_names[number[1] - 1] : null;
}

function choice(kit, name, number, worn) {
  const source = `/api/kits/${encodeURIComponent(kit)}/mouths/${encodeURIComponent(name)}`;
  const picture = Object.assign(document.createElement("img"), { src: source, alt: "", width: 72, height: 72 });
  const button = element("button", "", picture, element("span", `${number} ${name}`));
  button.value = `mouth ${number}`;
  button.setAttribute("aria-pressed", String(worn));
  return button;
}

// Arrows go from mouth to mouth, figures to the mouth of that number.
export function listenToMouths() {
  let typed = { text: "", time: -Infinity };
  byId("mouths").addEventListener("keydown", (event) => {
    const all = [...byId("mouths-all").children];
    const here = all.indexOf(document.activeElement);
    if (/^[0-9]$/.test(event.key)) {
      const more = event.timeStamp - typed.time < TYPING ? typed.text + event.key : event.key;
      typed = { text: all[more - 1] ? more : event.key, time: event.timeStamp };
      all[typed.text - 1]?.focus();
    } else if (here < 0 || !event.key.startsWith("Arrow")) return;
    else {
      const first = all[0].offsetTop;
      const row = Math.max(all.filter((one) => one.offsetTop === first).length, 1);
      const by = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: row, ArrowUp: -row }[event.key];
      all[here + by]?.focus();
    }
    event.preventDefault();
  });
}

function tell(title, body) {
  const box = byId("tell");
  byId("tell-title").textContent = title;
  byId("tell-body").replaceChildren(...body);
  byId("tell-yes").textContent = "Go on";
  box.showModal();
  box.scrollTop = 0; // the button that has the focus may lie below
}

// Both versions of mouths that two have set at once.
export function tellMouthClash({ yours, theirs, problem }) {
  const list = element("ul", "", ...theirs.map((one) => element("li", `${one.by}, ${whenSaid(one.time)}: ${one.words}`)));
  tell("Somebody else has changed this shot", [
    element("p", problem),
    element("h3", "Theirs, which is kept"),
    theirs.length ? list : element("p", "The cut is another."),
    element("h3", "Yours, which is not written yet"),
    element("p", yours.words),
    element("p", "You see the shot as it stands now. Set the mouth again if it still is right."),
  ]);
}
