// What is seen when the sheet that is shown is no longer the one to shoot from.

const DOUBTS = {
  gone: () => "This shot is no longer in the cut: ask the office before you go on.",
  changed: ({ from }) =>
    `Something has changed from frame ${from} on, and no new sheet is out yet: ask the office before you shoot that.`,
  unknown: () => "Nobody can tell at the moment whether this sheet still holds: ask the office.",
};

const byId = (id) => document.getElementById(id);

function rowsOf(told) {
  return told.map((row) => Object.assign(document.createElement("li"), { textContent: row }));
}

/** Says across the page that an issue is replaced, from which frame, and by what; `stale` null says that it is not. */
export function showStale(issue, stale) {
  const replaced = stale?.why === "replaced";
  document.body.classList.toggle("is-stale", replaced);
  byId("stale").hidden = !replaced;
  byId("doubt").hidden = !stale || replaced;
  if (replaced) {
    const from = stale.from === null || stale.from === undefined ? "" : ` from frame ${stale.from} on`;
    const unit = stale.by.unit && stale.moved ? ` of unit ${stale.by.unit}` : "";
    setText(byId("stale-why"), `Issue ${issue} is replaced by issue ${stale.by.issue}${unit}${from}.`);
    byId("stale-told").replaceChildren(...rowsOf(stale.told));
    byId("take").hidden = Boolean(stale.moved);
    byId("take").textContent = `Take the new sheet, issue ${stale.by.issue}`;
  } else if (stale) {
    const list = Object.assign(document.createElement("ul"), { tabIndex: 0, ariaLabel: "What has changed" });
    list.append(...rowsOf(stale.told));
    byId("doubt").replaceChildren(Object.assign(document.createElement("p"), { textContent: DOUBTS[stale.why](stale) }), list);
  }
}

/** Sets a text only if it is another, since a text that is set is read out again. */
export function setText(part, text) {
  if (part.textContent !== text) part.textContent = text;
}

/** What the current issue says otherwise than the one before. */
export function showChanged(sheet) {
  const { changed } = sheet;
  const rows = changed ? rowsOf(changed.told) : [];
  if (!rows.length) rows.push(...rowsOf([changed ? "Nothing that is animated." : "It is the first issue of the shot."]));
  byId("changed").replaceChildren(...rows);
}
