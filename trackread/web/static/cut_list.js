// The cut down the page: found, filtered, walked through by keys, ticked and issued; kept as things happen.

import { issueSheets } from "./cut_issue.js";
import { addressOf, asked, byId, causeOf, counted, element, sent, settled, showProblem } from "./cut_parts.js";
import { Row } from "./cut_rows.js";
import { listen, say } from "./live.js";

const FIRST = 30; // rows: more than any screen shows
const SLICE = 150; // rows that are made at once after that: some milliseconds
const SETTLE = 1500; // milliseconds after the last of many things that happen

const list = byId("shots");
const mayWrite = list.hasAttribute("data-may-write");
const rows = new Map(); // in the order of the film
let number = 0; // of the cut
let stale = null; // by shot, null while it is not known
let unsure = new Set(); // the shots whose sheets are still to be compared
let compares = 0;
let at = decodeURIComponent(location.hash.slice(1)); // the shot that the keys are on
let arriving = Boolean(at); // by an address that names a shot
let loads = 0;

const shown = () => [...rows.values()].filter((row) => !row.item.hidden);
const ticked = () => [...rows.values()].filter((row) => row.tick?.checked);

async function load() {
  const mine = ++loads;
  try {
    const told = await asked("/api/cut");
    if (mine === loads) await draw(told, mine);
  } catch (problem) {
    list.dataset.ready = "";
    showProblem(problem.message);
  }
}

// Rows that have not changed stay, with their ticks.
async function draw(told, mine) {
  number = told.number;
  showProblem("");
  sum(told);
  units(told.units);
  const before = new Map(rows);
  const shots = told.shots.map((shot) => ({ ...shot, first_number: told.first_number }));
  const names = [...before.keys()];
  if (names.length && names.length === shots.length && names.every((name, place) => name === shots[place].shot)) {
    for (const shot of shots) exchange(before.get(shot.shot), rowOf(shot, before));
  } else {
    await fill(shots, before, mine);
  }
  if (mine === loads) tell();
}

function exchange(known, row) {
  rows.set(row.shot.shot, row);
  if (known === row) return;
  const focused = document.activeElement === known.link;
  known.item.replaceWith(row.item);
  if (focused) row.link.focus();
}

// What is on the first screen is there at once, the rest slice by slice, so that the page can be used meanwhile.
async function fill(shots, before, mine) {
  list.replaceChildren();
  rows.clear();
  let first = 0;
  while (first < shots.length && mine === loads) {
    const some = shots.slice(first, first ? first + SLICE : FIRST).map((shot) => rowOf(shot, before));
    for (const row of some) rows.set(row.shot.shot, row);
    some.forEach(filter);
    list.append(...some.map((row) => row.item));
    if (!first && !arriving && !before.has(at)) walk(some[0], { focus: false });
    if (arriving && rows.has(at)) {
      arriving = false;
      walk(rows.get(at));
    }
    list.dataset.ready = "";
    first += some.length;
    await new Promise((done) => setTimeout(done));
  }
}

function rowOf(shot, before) {
  const known = before.get(shot.shot);
  const told = JSON.stringify(shot);
  if (known?.told === told) return known;
  const row = new Row(shot, mayWrite);
  compare(row);
  if (known?.tick?.checked) row.tick.checked = true;
  row.link.tabIndex = shot.shot === at ? 0 : -1;
  return row;
}

function sum(told) {
  const frames = told.shots.length ? told.shots.at(-1).last - told.first_number + 1 : 0;
  const film = `${counted(told.shots.length, "shot")}, ${counted(frames, "frame")} at ${told.rate}`;
  byId("sum").textContent = `${film}, cut ${told.number}`;
}

// The sheets are compared some at a time: what is known is shown while the rest is asked for again.
async function loadStale() {
  const mine = ++compares;
  let waiting;
  do {
    let told;
    try {
      told = await asked("/api/stale");
    } catch (problem) {
      byId("news").textContent = problem.message;
      return;
    }
    if (mine !== compares) return;
    waiting = new Set(told.waiting);
    const found = told.sheets.filter((one) => !one.gone).map((one) => [one.shot, one]);
    stale = new Map(found);
    unsure = waiting;
    for (const row of rows.values()) compare(row);
    news(told);
    tell();
  } while (waiting.size);
}

function compare(row) {
  const name = row.shot.shot;
  const its = stale?.get(name) ?? (stale && !unsure.has(name) ? null : undefined);
  if (JSON.stringify(its) !== JSON.stringify(row.stale)) row.setStale(its);
}

function news(told) {
  const out = told.current + told.sheets.length + told.waiting.length;
  const left = told.waiting.length ? ` ${told.waiting.length} still to be compared …` : "";
  const some = `${told.sheets.length} of ${counted(out, "sheet")} stale or gone. Together: ${told.cost_words}.`;
  const none = out ? `${counted(out, "sheet")} out${left ? "." : ", and all of them hold."}` : "No sheet is out yet.";
  byId("news").textContent = (told.sheets.length ? some : none) + left;
  const gone = told.sheets.filter((one) => one.gone);
  byId("gone").replaceChildren(...gone.map(goneOf));
  byId("causes").hidden = !told.causes.length;
  byId("causes").querySelector("ul").replaceChildren(...told.causes.map(sheetsOf));
}

function goneOf(one) {
  const head = element("strong", {}, `Call back ${one.shot}`);
  return element("li", {}, head, `, issue ${one.issue}, unit ${one.unit}: ${one.cost_words}`);
}

function sheetsOf(cause) {
  const cost = `${counted(cause.shoot_again, "frame")} to shoot again, ${cause.days.toFixed(1)} animator-days`;
  const links = cause.shots.flatMap((name) => [" ", element("a", { href: addressOf("/desk/cut/", name) }, name)]);
  const told = `: ${counted(cause.shots.length, "sheet")}, ${cost}.`;
  return element("li", {}, element("strong", {}, causeOf(cause)), told, ...links);
}

function units(names) {
  const choice = byId("unit");
  const kept = choice.value;
  choice.replaceChildren(new Option("all", ""), ...names.map((name) => new Option(name, name)));
  choice.value = names.includes(kept) ? kept : "";
  choice.dataset.units = JSON.stringify(names);
}

function filter(row) {
  const { shot } = row;
  const words = byId("find").value.toLowerCase().split(/\s+/);
  const show = byId("show").value;
  const unit = byId("unit").value;
  const meant = show === "stale" ? Boolean(row.stale) : show === "none" ? shot.issue === null : true;
  row.item.hidden = !(meant && (!unit || shot.unit === unit) && words.every((word) => row.text.includes(word)));
}

function tell() {
  for (const row of rows.values()) filter(row);
  const some = shown();
  const filtered = some.length !== rows.size;
  byId("shown").textContent = filtered ? `${some.length} of ${counted(rows.size, "shot")} shown` : "";
  if (!some.some((row) => row.shot.shot === at)) walk(some[0], { focus: false });
  tellTicks();
}

function tellTicks() {
  if (!mayWrite) return;
  const some = ticked();
  const hidden = some.filter((row) => row.item.hidden).length;
  const words = some.length ? `${counted(some.length, "shot")} ticked` : "Nothing is ticked";
  byId("ticked").textContent = hidden ? `${words}, ${hidden} of them not shown` : words;
  byId("untick").disabled = byId("issue").disabled = !some.length;
  byId("tick-stale").disabled = !shown().some((row) => row.stale);
  byId("tick-none").disabled = !shown().some((row) => row.shot.issue === null);
}

// The shot that the keys are on is the one that Tab comes to.
function walk(row, { focus = true } = {}) {
  const before = rows.get(at);
  if (before) before.link.tabIndex = -1;
  at = row?.shot.shot ?? "";
  if (!row) return;
  row.link.tabIndex = 0;
  if (!focus) return;
  row.link.focus();
  history.replaceState(null, "", `#${encodeURIComponent(at)}`); // who comes back from a shot comes back to it
}

function pressed(event) {
  if (event.altKey || event.ctrlKey || event.metaKey || !event.target.classList.contains("code")) return;
  const some = shown();
  const place = some.findIndex((row) => row.link === event.target);
  const to = { ArrowDown: place + 1, ArrowUp: place - 1, Home: 0, End: some.length - 1 }[event.key];
  if (to !== undefined) {
    event.preventDefault();
    if (some[to]) walk(some[to]);
  } else if (event.key === " " && mayWrite) {
    event.preventDefault();
    some[place].tick.checked = !some[place].tick.checked;
    say(`${some[place].shot.shot} ${some[place].tick.checked ? "is ticked" : "is not ticked any more"}`);
    tellTicks();
  }
}

function tickAll(isMeant) {
  for (const row of shown()) if (isMeant(row)) row.tick.checked = true;
  tellTicks();
}

async function issueTicked() {
  const some = ticked().map((row) => ({ ...row.shot, stale: row.stale }));
  const given = await issueSheets(some, JSON.parse(byId("unit").dataset.units ?? "[]"));
  for (const name of given) if (rows.get(name)) rows.get(name).tick.checked = false;
  await load();
  await loadStale();
}

async function add(event) {
  event.preventDefault();
  const values = { do: "add", shot: byId("add-code").value, length: byId("add-length").value };
  try {
    const made = await sent("/api/cut", number, values);
    byId("add").reset();
    await load();
    say(`${made.words}: it is cut ${made.number} now`);
  } catch (problem) {
    showProblem(problem.message);
  }
}

function bind() {
  byId("find").addEventListener("input", tell);
  byId("filter").addEventListener("change", tell);
  byId("filter").addEventListener("submit", (event) => event.preventDefault());
  list.addEventListener("keydown", pressed);
  list.addEventListener("focusin", ({ target }) => {
    const name = target.classList.contains("code") ? target.textContent : "";
    if (name && name !== at) walk(rows.get(name), { focus: false });
  });
  if (!mayWrite) return;
  list.addEventListener("change", tellTicks);
  byId("tick-stale").addEventListener("click", () => tickAll((row) => row.stale));
  byId("tick-none").addEventListener("click", () => tickAll((row) => row.shot.issue === null));
  byId("untick").addEventListener("click", () => {
    for (const row of ticked()) row.tick.checked = false;
    tellTicks();
  });
  byId("issue").addEventListener("click", issueTicked);
  byId("add").addEventListener("submit", add);
}

bind();
await load();
await loadStale();
const again = settled(() => load().then(loadStale), SETTLE);
const compareAgain = settled(loadStale, SETTLE);
let came = 0;
listen(
  {
    issued: again,
    stale: compareAgain,
    holds: compareAgain,
    cut: again,
    done: ({ shot, done }) => rows.get(shot)?.setDone(done),
  },
  {
    came: () => {
      byId("line").hidden = true;
      if (came++) again();
    },
    went: () => {
      byId("line").hidden = false;
    },
  },
);
