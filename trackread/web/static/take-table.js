// The words of a take as text beside the canvas, for whoever does not see it: a row a word, with a button to select it.

const DEGREES = ["weak", "half", "strong"];
const AT_ONCE = 100; // rows that are written before the page is drawn again: a long take has thousands

export class WordsTable {
  constructor(body, model, pick, clock) {
    Object.assign(this, { body, model, pick, clock });
    body.addEventListener("click", (event) => {
      const row = event.target.closest("button")?.closest("tr");
      if (row) this.onSelect(Number(row.dataset.word));
    });
  }

  draw() {
    const { words } = this.model.take;
    while (this.body.rows.length > words.length) this.body.lastElementChild.remove();
    this.syllable = 0;
    this.drawFrom(0);
  }

  drawFrom(first) {
    clearTimeout(this.rest);
    const { take } = this.model;
    const stop = Math.min(first + AT_ONCE, take.words.length);
    for (let index = first; index < stop; index += 1) {
      const row = this.body.rows[index] ?? this.newRow(index);
      this.cells(take, take.words[index]).forEach((text, k) => {
        const cell = k ? row.cells[k] : row.cells[0].firstChild;
        if (cell.textContent !== text) cell.textContent = text;
      });
    }
    if (stop < take.words.length) this.rest = setTimeout(() => this.drawFrom(stop));
    else this.mark();
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
    const its = this.syllablesOf(take, word);
    const doubt = word.doubt >= take.worth ? `${word.doubt.toFixed(2)} ${word.reasons.join(", ")}` : "";
    const stress = its.map((one) => DEGREES[one.stress]).join(", ");
    return [word.text, first === last ? `${first}` : `${first}–${last}`, sounds.join(" "), stress, `${doubt}${word.pinned ? " pinned" : ""}`.trim()];
  }

  // The syllables of a word, which are asked for in the order of words.
  syllablesOf({ syllables }, word) {
    const its = [];
    while (this.syllable < syllables.length && syllables[this.syllable].first < word.first) this.syllable += 1;
    while (this.syllable < syllables.length && syllables[this.syllable].stop <= word.stop) {
      its.push(syllables[this.syllable]);
      this.syllable += 1;
    }
    return its;
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
