// Frames that are shot, as this tablet knows it, and what it has not told yet.
//
// A count says how many frames are shot. It takes the place of the counts that were known here when it was told, and of
// no others; of those that stand, the furthest holds. (The server's rule is the same: trackread/workflow/shooting.py.)
// What is not told yet is kept in localStorage, in order, and is sent until the server has answered for it.

import { keep, kept } from "/static/look.js";

const QUEUE = "trackread-floor-untold";
const AT_ONCE = 200; // counts in one post
const PATIENCE = 8000; // milliseconds that an answer may take
const SOONEST = 1000; // until it is tried again
const LATEST = 15000;

/** 128 bits drawn by chance, as 32 digits. */
function newId() {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (one) => one.toString(16).padStart(2, "0")).join("");
}

/** Where the frames of a shot are told. */
export function framesOf(shot, issue) {
  return `/api/floor/${encodeURIComponent(shot)}/frames${issue ? `?issue=${issue}` : ""}`;
}

export class Counts {
  /** `changed` is called whenever anything here is another; `problem` with words when the server takes something not. */
  constructor(shot, { changed, problem }) {
    this.shot = shot;
    this.issue = 0;
    this.length = 0;
    this.told = {}; // the counts that stand at the server, by their ids
    this.changed = changed;
    this.problem = problem;
    this.sending = null;
    this.again = false;
    this.wait = SOONEST;
    this.memory = null; // the queue itself, where the browser cannot keep it
    this.online = true;
  }

  /**
   * A sheet is shown. The counts that stood when it was asked for may be older than an answer that came meanwhile, so
   * they serve until the server is asked again, and only where nothing is known of this issue.
   */
  show(sheet) {
    if (this.issue !== sheet.issue) this.told = sheet.standing;
    this.issue = sheet.issue;
    this.length = sheet.length;
    this.changed();
  }

  /** All that is not told yet, of all shots, in order. */
  get queue() {
    if (this.memory) return this.memory;
    try {
      return JSON.parse(kept(QUEUE) ?? "[]");
    } catch {
      return [];
    }
  }

  set queue(events) {
    this.memory = keep(QUEUE, JSON.stringify(events)) ? null : events;
  }

  get untold() {
    return this.queue.filter((one) => one.shot === this.shot);
  }

  /** The counts that stand, with those of this tablet. */
  get standing() {
    const untold = this.untold;
    const replaced = new Set(untold.flatMap((one) => one.over));
    const every = [...Object.entries(this.told), ...untold.map((one) => [one.id, one.count])];
    return new Map(every.filter(([id]) => !replaced.has(id)));
  }

  /** How many frames are shot. */
  get done() {
    return Math.min(Math.max(0, ...this.standing.values()), this.length);
  }

  /** Tells that so many frames are shot. */
  tell(count) {
    if (count < 0 || count > this.length || count === this.done) return;
    const event = { id: newId(), shot: this.shot, issue: this.issue, count, over: [...this.standing.keys()] };
    this.queue = [...this.queue, event];
    this.changed();
    this.send();
  }

  /**
   * Sends what is not told yet, and hears what stands; one post at a time, so that no answer is older than another.
   * Says whether all is told.
   */
  send() {
    if (this.sending) {
      this.again = true;
      return this.sending;
    }
    clearTimeout(this.timer);
    this.sending = this.all().finally(() => {
      this.sending = null;
      this.changed();
    });
    return this.sending;
  }

  async all() {
    do {
      this.again = false;
      const others = this.queue.map((one) => one.shot).filter((shot) => shot !== this.shot);
      for (const shot of new Set([this.shot, ...others])) {
        if (!(await this.post(shot))) {
          this.timer = setTimeout(() => this.send(), this.wait);
          this.wait = Math.min(LATEST, this.wait * 2);
          return false;
        }
      }
    } while (this.again || this.untold.length);
    this.wait = SOONEST;
    return true;
  }

  /** Sends what is not told of a shot. */
  async post(shot) {
    const events = this.queue.filter((one) => one.shot === shot).slice(0, AT_ONCE);
    const issue = shot === this.shot ? this.issue : 0;
    const answer = await asked(framesOf(shot, issue), {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ events: events.map(({ id, issue, count, over }) => ({ id, issue, count, over })) }),
    });
    this.online = answer.status !== 0;
    if (answer.status !== 200) {
      if (answer.status) this.problem(answer.value.problem ?? `the server answers ${answer.status}`, answer.status);
      return false;
    }
    const answered = new Set(answer.value.events.map((one) => one.id));
    this.queue = this.queue.filter((one) => !answered.has(one.id));
    for (const one of answer.value.events) if (!one.kept) this.problem(one.problem, 200);
    if (shot === this.shot && issue === this.issue) this.told = answer.value.standing;
    this.changed();
    return true;
  }
}

/** What the server answers: its status, 0 if it cannot be reached, and its values. */
export async function asked(address, options = {}) {
  const gives = new AbortController();
  const timer = setTimeout(() => gives.abort(), PATIENCE);
  try {
    const answer = await fetch(address, { ...options, signal: gives.signal, credentials: "same-origin" });
    return { status: answer.status, value: await answer.json() };
  } catch {
    return { status: 0, value: {} };
  } finally {
    clearTimeout(timer);
  }
}
