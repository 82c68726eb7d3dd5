// What the page of a take asks and tells in a box of its own: a text, the keys, a clash, the care that ears want.

import { shown } from "./keys.js";
import { whenSaid } from "./when.js";

const CARE = "trackread-ears"; // in localStorage, once somebody has read it

const byId = (id) => document.getElementById(id);

function element(name, text, ...inside) {
  const made = document.createElement(name);
  if (text) made.textContent = text;
  made.append(...inside);
  return made;
}

// Asks for a text; null if it is left as it was. `choices` are offered as one types.
export function ask(title, { why = "", label = "To", text = "", choices = [] } = {}) {
  const box = byId("ask");
  byId("ask-title").textContent = title;
  byId("ask-why").textContent = why;
  byId("ask-label").firstChild.textContent = `${label} `;
  const field = byId("ask-text");
  field.value = text;
  byId("ask-list").replaceChildren(...choices.map((value) => Object.assign(document.createElement("option"), { value })));
  box.returnValue = "no";
  box.showModal();
  field.select();
  return closed(box).then((value) => (value === "yes" ? field.value : null));
}

function tell(title, body, yes = "Go on") {
  const box = byId("tell");
  byId("tell-title").textContent = title;
  byId("tell-body").replaceChildren(...body);
  byId("tell-yes").textContent = yes;
  box.returnValue = "no";
  box.showModal();
  box.scrollTop = 0; // the button that has the focus may lie below
  return closed(box).then((value) => value === "yes");
}

function closed(box) {
  return new Promise((done) => box.addEventListener("close", () => done(box.returnValue), { once: true }));
}

// Every action of a page with its keys, as they are now, and what else there is to say.
export function tellKeys(actions, keys, more = "") {
  const rows = Object.entries(actions).map(([name, [label]]) => {
    const its = (keys[name] ?? []).flatMap((key, k) => (k ? [" or ", element("kbd", shown(key))] : [element("kbd", shown(key))]));
    return element("tr", "", element("td", "", ...its), element("td", label), element("td", name));
  });
  const heads = element("tr", "", ...["Key", "What it does", "Name"].map((text) => element("th", text)));
  const table = element("table", "", element("thead", "", heads), element("tbody", "", ...rows));
  const why = element("p", `A production may have other keys in desk-keys.toml, by these names.${more}`);
  return tell("Keys", [why, table]);
}

// Both versions of a take that two have changed at once.
export function tellClash({ yours, theirs, problem }) {
  const list = element("ul", "", ...theirs.map((one) => element("li", `${one.by}, ${whenSaid(one.time)}: ${one.words}`)));
  return tell("Somebody else has changed this take", [
    element("p", problem),
    element("h3", "Theirs, which is kept"),
    theirs.length ? list : element("p", "The take was read again."),
    element("h3", "Yours, which is not written yet"),
    element("p", yours.words),
    element("p", "You see the take as it stands now. Make your change again if it still is right."),
  ]);
}

// At the first sound ever: how to begin with headphones. True once it has been read.
export async function careOfEars() {
  if (localStorage.getItem(CARE)) return true;
  const read = await tell(
    "Before you listen",
    [
      element("p", "Turn the level of your headphones or speakers down, play something, and turn it up slowly."),
      element("p", "A single frame can be loud and a loop wearies: listen no louder than you need, and rest your ears each hour."),
    ],
    "I have turned it down",
  );
  if (read) localStorage.setItem(CARE, "read");
  return read;
}
