// Sheets issued from the desk, asked for in a box that says which: some at a time, and nothing that was not seen.

import { byId, counted, element, lookAt, sent } from "./cut_parts.js";

const box = byId("issuing");

/**
 * Asks how some sheets are to be issued, and issues them; gives the shots whose sheets are out then.
 *
 * `shots` are rows of the cut, each with its `state` as it was seen, and `stale`; `units` are names to choose from.
 */
export async function issueSheets(shots, units) {
  open(shots, units);
  const given = new Set();
  while (await pressedYes()) {
    const left = shots.filter((shot) => !given.has(shot.shot));
    if (!left.length || (await issue(left, given))) break;
  }
  box.close();
  return given;
}

function open(shots, units) {
  const first = shots.filter((shot) => shot.issue === null);
  const what = shots.length === 1 ? `the sheet of ${shots[0].shot}` : counted(shots.length, "sheet");
  byId("issuing-title").textContent = `Issue ${what}`;
  byId("issuing-shots").replaceChildren(...shots.map(shotOf));
  byId("issuing-units").replaceChildren(...units.map((value) => element("option", { value })));
  byId("issuing-unit").value = byId("issuing-reason").value = "";
  byId("issuing-unit").required = Boolean(first.length);
  byId("issuing-unit-why").textContent = first.length
    ? `${counted(first.length, "shot")} of them never had a sheet, so say for which unit all of these are.`
    : "Left empty, each sheet goes to the unit that has it.";
  byId("issuing-yes").textContent = `Issue ${counted(shots.length, "sheet")}`;
  byId("issuing-progress").textContent = "";
  showProblem("");
  box.showModal();
  byId("issuing-unit").focus();
}

function shotOf(shot) {
  const next = shot.issue === null ? "its first issue" : `after issue ${shot.issue}, unit ${shot.unit}`;
  const same = shot.issue !== null && shot.stale === null ? "; nothing has changed since, so it stays that issue" : "";
  const changed = shot.stale ? `; stale from frame ${shot.stale.from_frame}` : same;
  const beware = shot.beware.map(lookAt);
  const parts = [element("strong", {}, shot.shot), `: ${next}${changed}`];
  return element("li", {}, ...parts, ...(beware.length ? [element("ul", {}, ...beware)] : []));
}

function showProblem(words, theirs = []) {
  const part = byId("issuing-problem");
  part.hidden = !words;
  part.replaceChildren(words, ...theirs.map((shot) => element("span", { className: "theirs" }, theirsOf(shot))));
}

function theirsOf({ shot, issue, unit, date, lines }) {
  const sheet = issue === null ? "no sheet out" : `issue ${issue}, unit ${unit}, ${date}`;
  const heard = lines.map((line) => `${line.take} on ${line.first}–${line.last}`).join(", ");
  return `${shot} is now: ${sheet}; ${heard || "nothing heard"}`;
}

function pressedYes() {
  return new Promise((done) => {
    const ends = new AbortController();
    const say = (yes) => {
      ends.abort();
      done(yes);
    };
    const { signal } = ends;
    const yes = () => byId("issuing-form").reportValidity() && say(true);
    byId("issuing-yes").addEventListener("click", yes, { signal });
    byId("issuing-no").addEventListener("click", () => say(false), { signal });
    box.addEventListener("close", () => say(false), { signal });
    byId("issuing-form").addEventListener(
      "submit",
      (event) => {
        event.preventDefault();
        yes();
      },
      { signal },
    );
  });
}

// Issues all that are left, part by part; false if one part is refused, which the box says then.
async function issue(shots, given) {
  const values = { unit: byId("issuing-unit").value, reason: byId("issuing-reason").value };
  const part = Number(box.dataset.atOnce);
  byId("issuing-yes").disabled = true;
  showProblem("");
  try {
    for (let first = 0; first < shots.length; first += part) {
      const some = shots.slice(first, first + part);
      progress(`Issuing ${first + 1} to ${first + some.length} of ${shots.length} …`);
      const revision = some.map((shot) => shot.state).join(".");
      const told = await sent("/api/issue", revision, { ...values, shots: some.map((shot) => shot.shot) });
      for (const one of told.given) given.add(one.shot);
    }
  } catch (problem) {
    progress(given.size ? `${counted(given.size, "sheet")} issued before that` : "");
    showProblem(problem.message, problem.told?.theirs ?? []);
    return false;
  } finally {
    byId("issuing-yes").disabled = false;
  }
  byId("told").textContent = `${counted(given.size, "sheet")} issued`;
  return true;
}

function progress(words) {
  byId("issuing-progress").textContent = words;
}
