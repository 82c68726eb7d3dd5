// The table of all shots, kept as it happens.

import { listen, say } from "/static/live.js";
import { whenSaid } from "/static/when.js";

const body = document.getElementById("shots");
const rows = new Map();

function cell(row, text, number = false) {
  const made = row.insertCell();
  made.textContent = text;
  if (number) made.className = "number";
  return made;
}

function add(shot) {
  const row = body.insertRow();
  const head = document.createElement("th");
  head.scope = "row";
  head.textContent = shot.shot;
  row.append(head);
  const done = cell(row, "", true);
  cell(row, shot.scene);
  const cells = {
    done,
    unit: cell(row, ""),
    issue: cell(row, "", true),
    time: cell(row, ""),
    sheet: cell(row, ""),
  };
  const known = { ...shot, cells };
  rows.set(shot.shot, known);
  show(known);
}

function show({ cells, unit, issue, done, of, time, by, stale }) {
  cells.unit.textContent = unit;
  cells.issue.textContent = issue ?? "–";
  cells.done.textContent = `${done} of ${of}`;
  cells.time.textContent = time ? `${whenSaid(time)}, ${by}` : "";
  cells.sheet.textContent = issue === null ? "none yet" : stale ? "STALE" : "";
}

function sum() {
  let done = 0;
  let of = 0;
  for (const one of rows.values()) {
    done += one.done;
    of += one.of;
  }
  document.getElementById("sum").textContent = `${done} of ${of} frames, ${rows.size} shots`;
}

function change(name, values) {
  const known = rows.get(name);
  if (!known) {
    load();
    return;
  }
  Object.assign(known, values);
  show(known);
  sum();
}

let asked = 0;

async function load() {
  const mine = ++asked;
  const answer = await fetch("/api/office", { headers: { Accept: "application/json" } });
  const told = await answer.json();
  if (mine !== asked) return;
  if (answer.status === 401) {
    location.assign("/sign-in?next=/office");
    return;
  }
  if (!answer.ok) {
    say(told.problem);
    return;
  }
  body.replaceChildren();
  rows.clear();
  told.shots.forEach(add);
  sum();
}

listen(
  {
    done: ({ shot, done, of, by }) => change(shot, { done, of, by, time: Date.now() }),
    issued: ({ shot, issue, unit }) => change(shot, { issue, unit, stale: false }),
    stale: ({ shot }) => change(shot, { stale: true }),
    holds: ({ shot }) => change(shot, { stale: false }),
  },
  {
    came: () => {
      document.getElementById("line").hidden = true;
      load();
    },
    went: () => {
      document.getElementById("line").hidden = false;
    },
  },
);
