// The unit's shots, kept current while the page is open.

import { lookUp } from "/static/floor_code.js";
import { asked } from "/static/floor_counts.js";
import { listen } from "/static/live.js";

const list = document.getElementById("shots");
const none = document.getElementById("none");
const tellsUnit = list.dataset.units === "yes";

function item(one) {
  const link = document.createElement("a");
  link.href = `/floor/${encodeURIComponent(one.shot)}`;
  const name = document.createElement("strong");
  name.textContent = one.shot;
  const texts = [`issue ${one.issue}${tellsUnit ? `, unit ${one.unit}` : ""}`, `${one.done} of ${one.frames} frames shot`];
  link.append(name, ...texts.map((text) => Object.assign(document.createElement("span"), { textContent: text })));
  const row = document.createElement("li");
  row.append(link);
  return row;
}

async function renew() {
  const { status, value } = await asked("/api/floor");
  if (status !== 200) return;
  const focused = document.activeElement?.closest?.("#shots a")?.getAttribute("href");
  list.replaceChildren(...value.shots.map(item));
  none.hidden = value.shots.length > 0;
  if (focused) [...list.querySelectorAll("a")].find((one) => one.getAttribute("href") === focused)?.focus();
}

lookUp(document.getElementById("code"));
listen({ issued: renew, done: renew }, { came: renew });
