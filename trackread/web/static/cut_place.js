// What is placed in a shot by hand: lines and takes found and placed, taken away; the shot trimmed, or taken out.

import { asked, byId, counted, element, sent, settled, showProblem, span } from "./cut_parts.js";
import { say } from "./live.js";
import { whenSaid } from "./when.js";

const TYPING = 250; // milliseconds after the last key

let current = () => null;
let changed = async () => {};

/** What is placed in the shot, each thing that was placed by hand with a way to take it out. */
export function showPlaced(shot, { mayWrite }) {
  const each = shot.placed.map((one) => {
    const parts = [element("b", {}, one.what), ` on frames ${span(one.first, one.last)}, ${one.by}`];
    if (one.by_hand && mayWrite) {
      const take = element("button", { type: "button", onclick: () => takeAway(one) }, "Take it out");
      take.setAttribute("aria-label", `Take it out: ${one.what}, from frame ${one.first}`);
      parts.push(take);
    }
    return element("li", {}, element("span", {}, ...parts.slice(0, 2)), ...parts.slice(2));
  });
  byId("placed").replaceChildren(...(each.length ? each : [element("li", {}, "Nothing yet.")]));
  if (!mayWrite) return;
  byId("by-hand").hidden = !shot.by_hand;
  const at = byId("place-at");
  at.min = shot.first_number;
  at.max = shot.first_number + shot.frames - 1;
  if (!at.value) at.value = shot.first_number;
}

/** Binds the forms; `shot` gives the shot as it was seen last, `load` shows it anew. */
export function bindPlacing(shot, load) {
  current = shot;
  changed = load;
  byId("place-find").addEventListener("input", settled(find, TYPING));
  byId("place-find").addEventListener("focus", () => byId("place-lines").children.length || find());
  byId("place").addEventListener("submit", (event) => {
    event.preventDefault();
    write({ do: "place", what: byId("place-what").value, at: Number(byId("place-at").value) });
  });
  byId("trim").addEventListener("submit", (event) => {
    event.preventDefault();
    write({ do: "trim", head: Number(byId("trim-head").value), tail: Number(byId("trim-tail").value) }).then(
      (made) => made && byId("trim").reset(),
    );
  });
  byId("remove").addEventListener("click", () => byId("removing").showModal());
  byId("removing").addEventListener("close", () => byId("removing").returnValue === "yes" && remove());
}

async function find() {
  const words = byId("place-find").value;
  let lines;
  try {
    ({ lines } = await asked(`/api/cut/choices?${new URLSearchParams({ find: words, shot: current().shot })}`));
  } catch (problem) {
    byId("place-told").textContent = problem.message;
    return;
  }
  if (byId("place-find").value !== words) return;
  const of = words.trim() ? "" : " of this scene that play nowhere yet";
  byId("place-told").textContent = `${counted(lines.length, "line")}${of}`;
  byId("place-lines").replaceChildren(...lines.map(lineOf));
}

// A line, of which the circled take is heard, and each of its takes, which stays itself.
function lineOf(line) {
  const whole = choice(line.line, `line ${line.line}`, ", by its circled take");
  const takes = line.takes.map(({ name, circled }) =>
    circled ? choice(name, `take ${name} ◉`, ", circled") : choice(name, `take ${name}`),
  );
  const words = element("span", {}, element("b", {}, line.character), ` “${line.words}”`);
  return element("li", {}, words, element("span", { className: "row" }, whole, ...takes));
}

function choice(what, text, more = "") {
  const made = element("button", { type: "button", onclick: () => choose(what) }, text);
  made.setAttribute("aria-label", text.replace(" ◉", "") + more);
  return made;
}

function choose(what) {
  byId("place-what").value = what;
  byId("place-at").focus();
  byId("place-at").select();
}

const takeAway = (one) => write({ do: "take away", what: one.what, at: one.first });

async function remove() {
  if (await write({ do: "remove" }, { show: false })) location.assign("/desk/cut");
}

// Writes on the cut that is seen; where it is another by now, both versions are told and the shot is shown as it is.
async function write(values, { show = true } = {}) {
  const shot = current();
  try {
    const made = await sent("/api/cut", shot.number, { ...values, shot: shot.shot });
    if (show) await changed();
    say([`${made.words}: it is cut ${made.number} now`, ...made.remarks].join(". "));
    return made;
  } catch (problem) {
    if (problem.status === 412) await changed();
    showProblem(problem.status === 412 ? clash(problem.told) : problem.message);
    return null;
  }
}

function clash({ yours, theirs }) {
  const when = (one) => whenSaid(one.time);
  const made = theirs.map((one) => `cut ${one.number} by ${one.by}, ${when(one)}: ${one.words}`).join("; ");
  const told = `Somebody has changed the cut meanwhile (${made}). Yours is not made yet: ${yours.words}.`;
  return `${told} You see the shot as it is now; do it again if it still is right.`;
}
