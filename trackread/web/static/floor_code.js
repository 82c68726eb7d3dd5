// Whether a sheet in somebody's hand is the current one: by its code, or by a photograph of it.

import { asked } from "/static/floor_counts.js";

const LARGEST = 2400; // pixels along the longer side: enough for a code across a room
const QUALITY = 0.85;

/** A photograph small enough for a studio network. */
async function smaller(file) {
  const picture = await createImageBitmap(file);
  const share = Math.min(1, LARGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * share);
  canvas.height = Math.round(picture.height * share);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((made) => canvas.toBlob(made, "image/jpeg", QUALITY));
}

function paragraph(text, kind = "") {
  return Object.assign(document.createElement("p"), { textContent: text, className: kind });
}

/** What is told of a sheet. */
function told(one) {
  const name = `${one.shot}, issue ${one.issue} of ${one.date}`;
  if (one.current && !one.stale) return [paragraph(`CURRENT: ${name} is the one to shoot from.`, "current")];
  if (one.current) {
    const from = `it changes from frame ${one.stale.from_frame} on, and no new sheet is out yet: ask the office.`;
    return [paragraph(`CURRENT, BUT: ${name}: ${from}`, "old")];
  }
  const by = one.replaced_by;
  const list = document.createElement("ul");
  list.append(...one.differs.map((row) => Object.assign(document.createElement("li"), { textContent: row })));
  return [paragraph(`STALE: ${name} was replaced by issue ${by.issue} of ${by.date} (${by.code}).`, "old"), list];
}

/** Makes a form look up codes. */
export function lookUp(form) {
  const found = form.querySelector("#found");
  const show = async (asking) => {
    found.replaceChildren(paragraph("Looking…"));
    const { status, value } = await asking;
    if (status === 0) found.replaceChildren(paragraph("There is no network: codes are looked up at the office."));
    else if (status !== 200) found.replaceChildren(paragraph(value.problem, "old"));
    else found.replaceChildren(...value.sheets.flatMap(told));
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    show(asked(`/api/which?code=${encodeURIComponent(form.typed.value)}`));
  });
  form.querySelector("#photo").addEventListener("change", async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    const body = await smaller(file).catch(() => file);
    show(asked("/api/which", { method: "POST", body }));
    event.target.value = "";
  });
}
