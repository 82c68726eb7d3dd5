// What the server tells as it happens (/api/live), for any page; and how a page stands with the server.

const SOONEST = 500; // milliseconds until the first try to come back
const LATEST = 10000;
const SILENCE = 40000; // the server says something each 15 s, so by then the line is dead

/**
 * Listens for as long as the page is open, and comes back when the line breaks.
 *
 * `heard` has a function for each kind of event ("done", "issued", "take", "stale", "holds"), called with its values. `came` is
 * called each time the line is open: what happened while it was not is to be asked for then. `went` is called when it
 * breaks. Gives a function that ends it.
 */
export function listen(heard, { came = () => {}, went = () => {} } = {}) {
  let source = null;
  let wait = SOONEST;
  let timer = 0;
  let watch = 0;
  let ended = false;

  const alive = () => {
    clearTimeout(watch);
    watch = setTimeout(lost, SILENCE);
  };
  const lost = () => {
    if (ended) return;
    source?.close();
    clearTimeout(watch);
    clearTimeout(timer);
    went();
    timer = setTimeout(open, wait);
    wait = Math.min(LATEST, wait * 2);
  };
  const open = () => {
    source = new EventSource("/api/live");
    alive();
    source.onopen = () => {
      wait = SOONEST;
      alive();
      came();
    };
    source.onerror = lost;
    source.addEventListener("here", alive);
    for (const [kind, tell] of Object.entries(heard)) {
      source.addEventListener(kind, (event) => {
        alive();
        tell(JSON.parse(event.data));
      });
    }
  };
  const again = () => {
    if (!ended && source?.readyState === EventSource.CLOSED) {
      clearTimeout(timer);
      open();
    }
  };
  addEventListener("online", again);
  open();
  return () => {
    ended = true;
    removeEventListener("online", again);
    clearTimeout(timer);
    clearTimeout(watch);
    source?.close();
  };
}

/** Says something to whoever sees or hears the page, in the row that base.html has for it. */
export function say(words) {
  document.getElementById("told").textContent = words;
}
