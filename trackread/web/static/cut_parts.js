// What the pages of the cut share: parts made and filled, questions asked of the server, counts with their nouns.

import { whenSaid } from "./when.js";

export const byId = (id) => document.getElementById(id);

export function element(name, values = {}, ...inside) {
  const made = Object.assign(document.createElement(name), values);
  made.append(...inside);
  return made;
}

/** What the server refused: its words, its status, and all that it told. */
export class Refused extends Error {
  constructor(status, told) {
    super(told.problem ?? "the server cannot be reached");
    this.status = status;
    this.told = told;
  }
}

/** What the server tells, with its ETag as `revision`; who is no longer signed in is led to where that is done. */
export async function asked(path, { method = "GET", revision = null, values = null } = {}) {
  const headers = { Accept: "application/json" };
  if (revision !== null) headers["If-Match"] = `"${revision}"`;
  const answer = await fetch(path, { method, headers, body: values && JSON.stringify(values) }).catch(() => null);
  if (!answer) throw new Refused(0, {});
  if (answer.status === 401) location.assign(`/sign-in?next=${encodeURIComponent(location.pathname)}`);
  const told = await answer.json();
  if (!answer.ok) throw new Refused(answer.status, told);
  return { ...told, revision: answer.headers.get("ETag")?.replaceAll('"', "") ?? "" };
}

export const sent = (path, revision, values) => asked(path, { method: "POST", revision, values });

/** An address with a shot's code in it, which may have any signs. */
export const addressOf = (before, shot, after = "") => `${before}${encodeURIComponent(shot)}${after}`;

export function counted(count, one, many = `${one}s`) {
  return `${count.toLocaleString("en")} ${count === 1 ? one : many}`;
}

export const span = (first, last) => (first === last ? String(first) : `${first}–${last}`);

export function showProblem(words) {
  byId("problem").textContent = words;
  byId("problem").hidden = !words;
}

/** What somebody must look at before a sheet is issued. */
export const lookAt = (words) => element("li", { className: "look" }, element("b", {}, "Look: "), words);

/** A cause in words, with its time where somebody wrote it down. */
export const causeOf = ({ what, time }) => (time ? `${what}, ${whenSaid(time)}` : what);

/** Does something a while after it was last asked for, however often that is. */
export function settled(does, wait) {
  let timer = 0;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(does, wait);
  };
}

/** A shape and words for how a sheet stands: each kind has a shape of its own, so that it is seen without colours. */
export function markOf(shot, stale, { comparing = false } = {}) {
  const [kind, head, words] = standing(shot, stale, comparing);
  const shape = element("span", { className: `shape ${kind}` });
  shape.setAttribute("aria-hidden", "true");
  const text = element("span", {}, element("strong", {}, head), words ? ` ${words}` : "");
  return element("span", { className: `mark ${kind}` }, shape, text);
}

function standing(shot, stale, comparing) {
  if (shot.issue === null) return ["none", "No sheet yet", ""];
  if (!stale && comparing) return ["asked", `Issue ${shot.issue}`, "is being compared"];
  if (!stale) return ["holds", `Issue ${shot.issue} holds`, ""];
  const { shoot_again: again, shot_in_vain: vain } = stale.cost;
  return ["stale", "STALE", `from frame ${stale.from_frame}: ${counted(again, "frame")} again, ${vain} in vain`];
}
