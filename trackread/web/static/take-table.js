// The words of a take as text beside the canvas, for whoever does not see it: a row a word, with a button to select it.

const DEGREES = ["weak", "half", "strong"];

export class WordsTable {
  constructor(body, model, pick, clock) {
    Object.assign(this, { body, model, pick, clock });
    body.addEventListener("click", (event) => {
      const row = event.target.closest("button")?.closest("tr");
      if (row) this.onSelect(Number(row.dataset.word));
    });
  }

  draw() {
    const { take } = this.model;
    const texts = take.words.map((word, index) => this.cells(take, word, index));
    const rows = [...this.body.rows];
    while (rows.length > texts.length) rows.pop().remove();
    texts.forEach((cells, index) => {
      const row = rows[index] ?? this.newRow(index);
      cells.forEach((text, k) => {
        const cell = k ? row.cells[k] : row.cells[0].firstChild;
        if (cell.textContent !== text) cell.textContent = text;
      });
    });
    this.mark();
  }

  newRow(index) {
    const row = this.body.insertRow();
    row.dataset.word = index;
    const head = document.createElement("th");
    head.scope = "row";
    head.append(Object.assign(document.createElement("button"), { type: "button" }));
    row.append(head);
    for (let k = 0; k < 4; k += 1) row.insertCell();
    return row;
  }

  cells(take, word) {
    const { clock } = this;
    const first = clock.number(clock.frameAt(take.cuts[word.first]));
    const last = clock.number(clock.frameAt(take.cuts[word.stop] - 1));
    const sounds = take.phones.slice(word.first, word.stop).map((phone) => phone.said).filter(Boolean);
    const its = take.syllables.filter((one) => word.first <= one.first && one.stop <= word.stop);
    const doubt = word.doubt >= take.worth ? `${word.doubt.toFixed(2)} ${word.reasons.join(", ")}` : "";
    const stress = its.map((one) => DEGREES[one.stress]).join(", ");
    return [word.text, first === last ? `${first}` : `${first}–${last}`, sounds.join(" "), stress, `${doubt}${word.pinned ? " pinned" : ""}`.trim()];
  }

  // Marks the row of the selected word.
  mark() {
    const word = this.pick.word;
    this.body.querySelector("tr[aria-current]")?.removeAttribute("aria-current");
    const row = this.body.rows[word];
    if (!row) return;
    row.setAttribute("aria-current", "true");
    const box = row.closest(".words").parentElement;
    const { offsetTop, offsetHeight } = row;
    if (offsetTop < box.scrollTop || offsetTop + offsetHeight > box.scrollTop + box.clientHeight) box.scrollTop = offsetTop - 80;
  }
}
