// The page beside the puppet: one shot's sheet, frame by frame, with what is told to the office.

import { lookUp } from "/static/floor_code.js";
import { Counts } from "/static/floor_counts.js";
import { Mouths, Rows, nextBeat, sheetOf, wordOn } from "/static/floor_rows.js";
import { RATE, Sound, firstSample } from "/static/floor_sound.js";
import { setText, showChanged, showStale } from "/static/floor_stale.js";
import { listen } from "/static/live.js";
import { keep, kept } from "/static/look.js";

const byId = (id) => document.getElementById(id);
const SHOT = byId("shot").dataset.shot;
const SHEETS = "trackread-floor-sheet-"; // before the name of a shot, the sheet that was shown of it last
const MOST_SHEETS = 6;
const EARS = "trackread-floor-ears";
const LOUDNESS = "trackread-floor-loudness";

const mouths = new Mouths();
const rows = new Rows(mouths);
const sound = new Sound();
const counts = new Counts(SHOT, { changed: drawn, problem: refused });
let sheet = null;
let looking = null; // the frame that is looked at, null for the one being shot
let problem = "";
let connected = true;
let asking = Promise.resolve(); // until what was asked for last has come

/** The frame being shot; the last one once all are. */
const being = () => Math.min(counts.done, sheet.length - 1);
const at = () => looking ?? being();

function drawn() {
  if (!sheet) return;
  const { done } = counts;
  rows.show(sheet, at(), done);
  const number = (frame) => frame + sheet.first_number;
  byId("done").disabled = done >= sheet.length;
  setText(byId("done"), done < sheet.length ? `Frame ${number(done)} done` : "All frames done");
  byId("undo").disabled = done === 0;
  setText(byId("undo"), done ? `Undo ${number(done - 1)}` : "Undo");
  byId("back").hidden = looking === null || looking === being();
  byId("beat").disabled = nextBeat(sheet, at()) === null;
  byId("hear-word").disabled = !sound.buffer || wordOn(sheet, at()) === null;
  for (const id of ["hear-frame", "hear-second"]) byId(id).disabled = !sound.buffer;
  networkTold();
}

/** What is not told yet, and whether there is a network. */
function networkTold() {
  const untold = counts.untold.length;
  const away = !counts.online || !connected;
  const words = [];
  if (problem) words.push(problem);
  if (untold) words.push(`${untold} not told yet`);
  if (away) words.push("no network");
  byId("network").classList.toggle("away", away || untold > 0 || Boolean(problem));
  setText(byId("network"), words.join(", ") || "all told");
}

function refused(words, status) {
  problem = status === 401 ? "sign in again: what you tell is kept until then" : words;
  networkTold();
}

/** Shows a sheet and keeps it on this tablet. */
function shown(next) {
  const another = sheet?.issue !== next.issue;
  sheet = next;
  if (another) looking = null;
  setText(byId("issue"), `issue ${sheet.issue} of ${sheet.date}, ${sheet.code}${sheet.scene ? `, scene ${sheet.scene}` : ""}`);
  byId("to").min = sheet.first_number;
  byId("to").max = sheet.first_number + sheet.length - 1;
  for (const id of ["sheet", "tools"]) byId(id).hidden = false;
  byId("wait").hidden = true;
  showStale(sheet.issue, sheet.stale && { ...sheet.stale, moved: sheet.stale.by && sheet.stale.by.unit !== sheet.unit });
  showChanged(sheet);
  if (another) fetched();
}

/** Fetches what the sheet needs to be heard and seen without a network. */
async function fetched() {
  mouths.load(sheet).then(drawn);
  setText(byId("sound-state"), "The sound is being fetched…");
  const { issue } = sheet;
  const why = await sound.load(`/api/floor/${encodeURIComponent(SHOT)}/sound?issue=${issue}`);
  if (sheet.issue === issue) setText(byId("sound-state"), why && `No sound: ${why}`);
  drawn();
}

function remember() {
  const names = JSON.parse(kept(`${SHEETS}list`) ?? "[]").filter((name) => name !== SHOT);
  for (const name of names.splice(0, Math.max(0, names.length - MOST_SHEETS + 1))) localStorage.removeItem(SHEETS + name);
  keep(`${SHEETS}list`, JSON.stringify([...names, SHOT]));
  keep(SHEETS + SHOT, JSON.stringify(sheet));
}

function remembered() {
  try {
    return JSON.parse(kept(SHEETS + SHOT));
  } catch {
    return null;
  }
}

/**
 * Asks for an issue, null for the newest; says whether it came. One is asked for after the other, each by what the page
 * shows then: an answer that was long on the way would else put an old sheet in the place of a new one.
 */
function renew(issueNow) {
  const came = asking.then(() => renewed(issueNow()));
  asking = came.catch(() => {});
  return came;
}

async function renewed(issue) {
  if (counts.untold.length && !(await counts.send()) && sheet && issue === null) return false;
  const { status, value } = await sheetOf(SHOT, issue);
  if (status === 200) {
    problem = "";
    shown(value);
    counts.show(value);
    counts.send();
    remember();
    return true;
  }
  if (status && status !== 401 && issue) return renewed(null);
  if (status) refused(value.problem, status);
  if (!sheet) setText(byId("wait"), value.problem ?? "There is no network: the sheet is fetched as soon as there is.");
  return false;
}

async function begin() {
  const last = remembered();
  if (last) {
    shown(last);
    counts.show(last);
  }
  await renew(() => last?.issue ?? null);
}

function tell(step) {
  if (!sheet) return;
  looking = null;
  counts.tell(counts.done + step);
}

function lookAt(frame) {
  if (!sheet) return;
  looking = Math.min(Math.max(frame, 0), sheet.length - 1);
  if (looking === being()) looking = null;
  drawn();
}

/** Plays, after the caution about ears if it is the first time on this tablet. */
function hear(play) {
  if (kept(EARS)) return play();
  byId("ears-done").onclick = () => {
    keep(EARS, "told");
    byId("ears").close();
    play();
  };
  return byId("ears").showModal();
}

const samples = (first, stop) => [firstSample(first, sheet.per_second), firstSample(stop, sheet.per_second)];
const hearFrame = () => sheet && hear(() => sound.play(...samples(at(), at() + 1)));
const hearWord = () => sheet && hear(() => sound.play(...samples(...(wordOn(sheet, at()) ?? [at(), at() + 1]))));
const hearSecond = () =>
  sheet &&
  hear(() => {
    const [, stop] = samples(at(), at() + 1);
    sound.play(stop - RATE, stop);
  });

const PRESSED = {
  done: () => tell(1),
  undo: () => tell(-1),
  "hear-frame": hearFrame,
  "hear-word": hearWord,
  "hear-second": hearSecond,
  up: () => lookAt(at() - 1),
  down: () => lookAt(at() + 1),
  beat: () => lookAt(nextBeat(sheet, at()) ?? at()),
  back: () => lookAt(being()),
  take: () => renew(() => null),
  "ears-not": () => byId("ears").close(),
};
const KEYS = {
  " ": PRESSED.done,
  Backspace: PRESSED.undo,
  ArrowDown: PRESSED.down,
  ArrowUp: PRESSED.up,
  ArrowRight: hearFrame,
  ArrowLeft: hearSecond,
  Home: PRESSED.back,
};

for (const [id, act] of Object.entries(PRESSED)) {
  byId(id).addEventListener("click", (event) => {
    act();
    // After a finger the space key is frame done again, and not the button that was touched last.
    if (event.detail && id !== "done") byId(id).blur();
  });
}
addEventListener("keydown", (event) => {
  const { key, target } = event;
  if (event.repeat || event.ctrlKey || event.altKey || event.metaKey || byId("ears").open) return;
  if (target.closest("input, select, textarea") || !(key in KEYS) || !sheet) return;
  if (key === " " && target.closest("button, a, summary")) return;
  event.preventDefault();
  KEYS[key]();
});
byId("go").addEventListener("submit", (event) => {
  event.preventDefault();
  if (sheet) lookAt(Number(byId("to").value) - sheet.first_number);
});
byId("loudness").value = kept(LOUDNESS) ?? byId("loudness").value;
sound.loudness = byId("loudness").value / 100;
byId("loudness").addEventListener("input", (event) => {
  sound.loudness = event.target.value / 100;
  keep(LOUDNESS, event.target.value);
});

lookUp(byId("code"));
begin();

const ours = (act) => (event) => event.shot === SHOT && sheet && act(event);
const again = () => renew(() => sheet.issue);
listen(
  {
    issued: ours((event) => {
      if (event.issue <= sheet.issue) return;
      const moved = event.unit !== undefined && event.unit !== sheet.unit;
      showStale(sheet.issue, { why: "replaced", by: event, told: [], moved });
      again();
    }),
    stale: ours(again),
    holds: ours(again),
    done: ours(() => counts.send()),
  },
  {
    came: () => {
      connected = true;
      if (sheet) again();
      if (sheet && !sound.buffer) fetched();
      networkTold();
    },
    went: () => {
      connected = false;
      networkTold();
    },
  },
);
addEventListener("online", () => counts.send());
