// Dark or paper white, as this tablet was set last.

const KEPT = "trackread-floor-look";
const OTHER = { dark: "paper", paper: "dark" };
const WORDS = { dark: "Dark", paper: "Paper white" };

/** Shows the page as it was set last, and lets a button change it. */
export function look(button) {
  const show = (name) => {
    document.documentElement.dataset.look = name;
    button.textContent = WORDS[OTHER[name]];
  };
  show(kept(KEPT) === "paper" ? "paper" : "dark");
  button.addEventListener("click", () => {
    const name = OTHER[document.documentElement.dataset.look];
    show(name);
    keep(KEPT, name);
  });
}

/** What this tablet keeps under a name, null if nothing, or if the browser keeps nothing. */
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
