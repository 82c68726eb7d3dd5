// The words of the chosen character as text beside the canvas, for whoever does not see it: where each stands in the
// shot, what is said, and what is worn. A button selects the word.

export class ShotTable {
  constructor(body, { model, pick, clock }) {
    Object.assign(this, { body, model, pick, clock });
    body.addEventListener("click", (event) => {
      const row = event.target.closest("button")?.closest("tr");
      if (row) this.onSelect(this.shown[row.sectionRowIndex]);
    });
  }

  // Only while it is looked at: others would wait for it.
  get isOpen() {
    return this.body.closest("details").open;
  }

  draw() {
    if (!this.isOpen) return;
    const { model, pick } = this;
    this.shown = pick.its ? model.rowsOf(pick.its, "word") : [];
    const made = this.shown.map((one) => {
      const [text, ...cells] = this.cells(one);
      const row = document.createElement("tr");
      const head = Object.assign(document.createElement("th"), { scope: "row" });
      head.append(Object.assign(document.createElement("button"), { type: "button", textContent: text }));
      row.append(head, ...cells.map((cell) => Object.assign(document.createElement("td"), { textContent: cell })));
      return row;
    });
    this.body.replaceChildren(...made);
    this.mark();
  }

  cells({ placed, indices, first, stop }) {
    const { clock, pick, model } = this;
    const parts = indices.map((k) => placed.parts("word")[k]);
    const sounds = [];
    for (let k = parts[0].first; k < parts.at(-1).stop; k += 1) sounds.push(placed.saidAs(k));
    const worn = pick.its.mouths.filter((one) => one.first < stop && first < one.stop);
    const doubted = parts.filter((part) => part.doubt >= model.shot.worth);
    return [
      placed.textOf("word", indices),
      stop - first === 1 ? `${clock.number(first)}` : `${clock.number(first)}–${clock.number(stop - 1)}`,
      sounds.filter(Boolean).join(" "),
      [...new Set(worn.map((one) => `${one.mouth}${one.pinned ? " (set)" : ""}`))].join(", "),
      doubted.map((part) => `${part.doubt.toFixed(2)} ${part.reasons.join(", ")}`).join("; "),
    ];
  }

  // Marks the row of the selected word.
  mark() {
    if (!this.isOpen || !this.shown) return;
    const { pick } = this;
    this.body.querySelector("tr[aria-current]")?.removeAttribute("aria-current");
    const at = this.shown.findIndex((one) => one.placed === pick.placed && pick.level === "word" && one.indices.includes(pick.index));
    const row = this.body.rows[at];
    if (!row) return;
    row.setAttribute("aria-current", "true");
    const box = row.closest(".words").parentElement;
    if (row.offsetTop < box.scrollTop || row.offsetTop + row.offsetHeight > box.scrollTop + box.clientHeight) {
      box.scrollTop = row.offsetTop - 80;
    }
  }
}
