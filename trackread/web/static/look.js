// Dark or paper white, as this browser was set last; a page that was never set is as it comes. On every page.

const KEPT = "trackread-look";
const OTHER = { dark: "paper", paper: "dark" };
const WORDS = { dark: "Dark", paper: "Paper white" };

/** What this browser keeps under a name, null if nothing, or if it keeps nothing. */
export function kept(name) {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}

/** Keeps a text, and says whether that was possible: a browser may have no room. */
export function keep(name, text) {
  try {
    localStorage.setItem(name, text);
    return true;
  } catch {
    return false;
  }
}

const page = document.documentElement;
const button = document.getElementById("look");

function show(name) {
  page.dataset.look = name;
  if (button) button.textContent = WORDS[OTHER[name]];
}

const last = kept(KEPT);
show(last in OTHER ? last : page.dataset.look);
button?.addEventListener("click", () => {
  const name = OTHER[page.dataset.look];
  show(name);
  keep(KEPT, name);
});
