// One shot of the cut: its sheet page by page, what would change on it, what is placed in it, its issues.

import { issueSheets } from "./cut_issue.js";
import { addressOf, asked, byId, causeOf, counted, element } from "./cut_parts.js";
import { lookAt, markOf, settled, showProblem, span } from "./cut_parts.js";
import { bindPlacing, showPlaced } from "./cut_place.js";
import { listen } from "./live.js";

const NOW = ""; // of the choice of sheets: as it would be printed now
const SETTLE = 800; // milliseconds after the last of many things that happen
const MOST = 12; // sentences that are told at once

const place = byId("shot");
const name = place.dataset.shot;
const mayWrite = place.hasAttribute("data-may-write");
const API = addressOf("/api/cut/shots/", name);
let shot = null;
let pages = ""; // which pages are shown

async function load() {
  let told;
  try {
    told = await asked(API);
  } catch (problem) {
    showProblem(problem.message);
    return;
  }
  shot = told;
  showProblem("");
  facts();
  sheets();
  state();
  heard();
  issues();
  showPlaced(shot, { mayWrite });
  await showPages();
}

function facts() {
  const scene = shot.scene ? `scene ${shot.scene}, ` : "";
  const under = shot.under ? `, ${shot.under} of them under the next` : "";
  const film = `${span(shot.first, shot.last)} of the film, from ${shot.time}`;
  byId("facts").textContent = `${scene}${counted(shot.frames, "frame")}${under}; ${film}`;
  for (const [id, words] of [["before", "Shot before: "], ["after", "Next shot: "]]) {
    byId(id).hidden = !shot[id];
    byId(id).href = addressOf("/desk/cut/", shot[id]);
    byId(id).lastElementChild.textContent = words + shot[id];
  }
}

function sheets() {
  const choice = byId("which");
  const kept = choice.value;
  const named = ({ issue, date, current }) => `issue ${issue}, ${date}, ${current ? "which is out" : "replaced"}`;
  const each = shot.issues.map((one) => new Option(named(one), one.issue));
  choice.replaceChildren(new Option("as it would be printed now", NOW), ...each);
  if ([...choice.options].some((one) => one.value === kept)) choice.value = kept;
}

async function showPages() {
  const issue = byId("which").value;
  const asks = issue === NOW ? "" : `?issue=${issue}`;
  byId("print").href = `${API}/sheet${asks}`;
  try {
    const { pages: count, revision } = await asked(`${API}/pages${asks}`);
    if (byId("which").value !== issue || pages === revision) return;
    pages = revision;
    const words = issue === NOW ? "as it would be printed now" : `issue ${issue}`;
    byId("pages").replaceChildren(...Array.from({ length: count }, (_, k) => pageOf(k + 1, count, words, asks)));
  } catch (problem) {
    pages = "";
    byId("pages").replaceChildren(element("p", { className: "problem" }, problem.message));
  }
}

function pageOf(number, count, words, asks) {
  // Another address whenever the sheet is another, or a browser would show the picture that it has on the page.
  const mark = `${asks ? "&" : "?"}seen=${encodeURIComponent(pages)}`;
  const alt = `Page ${number} of ${count} of the sheet of ${name}, ${words}`;
  const picture = element("img", { alt, loading: number > 2 ? "lazy" : "eager" });
  picture.src = `${API}/pages/${number}${asks}${mark}`;
  return element("figure", {}, picture, element("figcaption", {}, `Page ${number} of ${count}`));
}

function state() {
  const { stale } = shot;
  const parts = [element("p", {}, markOf(shot, stale))];
  if (shot.issue !== null) {
    const done = `${shot.done} of ${counted(shot.frames, "frame")} shot`;
    parts.push(element("p", {}, `Unit ${shot.unit}, issue ${shot.issue} of ${shot.date}, ${shot.code}; ${done}.`));
  }
  if (stale) {
    parts.push(element("p", {}, element("strong", {}, "What would change: "), `${stale.done_words}.`));
    parts.push(listOf(stale.rows.slice(0, MOST)));
    const more = stale.rows.slice(MOST);
    if (more.length) parts.push(element("details", {}, element("summary", {}, `${more.length} more`), listOf(more)));
    parts.push(element("p", {}, element("strong", {}, "By: "), `${stale.causes.map(causeOf).join("; ")}.`));
    parts.push(element("p", {}, element("strong", {}, "Cost: "), `${stale.cost_words}.`));
  } else if (shot.issue !== null) {
    parts.push(element("p", {}, "It would be printed as it is."));
  }
  byId("state").replaceChildren(...parts);
}

const listOf = (rows) => element("ul", {}, ...rows.map((row) => element("li", {}, row)));

function heard() {
  const lines = shot.lines.map((line) => {
    const words = line.words ? `“${line.words}”` : "no longer in the script";
    const frames = element("span", { className: "where" }, `frames ${span(line.first, line.last)}`);
    const take = element("a", { href: addressOf("/desk/take/", line.take) }, line.take);
    const said = [element("b", {}, line.character), ` ${words} `, mayWrite ? take : line.take];
    return element("li", {}, frames, element("span", {}, ...said));
  });
  byId("heard").replaceChildren(...(lines.length ? lines : [element("li", {}, "Nothing.")]));
  byId("beware").replaceChildren(...shot.beware.map(lookAt));
}

function issues() {
  const each = shot.issues.map((one) => {
    const why = one.reason ? `: ${one.reason}` : "";
    const told = `, ${one.date}, unit ${one.unit}, ${one.code}, by ${one.by}${why}`;
    return element("li", {}, element("strong", {}, `Issue ${one.issue}`), told);
  });
  byId("issues").replaceChildren(...(each.length ? each : [element("li", {}, "None yet.")]));
}

async function issueIt() {
  await issueSheets([{ ...shot, state: shot.revision }], shot.unit ? [shot.unit] : []);
  await load();
}

byId("which").addEventListener("change", () => showPages());
if (mayWrite) {
  byId("issue").addEventListener("click", issueIt);
  bindPlacing(() => shot, load);
}
await load();
place.dataset.ready = "";
const again = settled(load, SETTLE);
const ours = ({ shot: which }) => which === name && again();
const heardHere = ({ name: take }) => shot?.lines.some((line) => line.take === take) && again();
let came = 0;
listen(
  { issued: ours, stale: ours, holds: ours, done: ours, cut: again, take: heardHere },
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
