// When something happened, as people write it to one another everywhere: ISO 8601, by the clock of who reads it.

/** A moment as `2026-11-26 11:40`, whatever language the browser has. */
export function whenSaid(time) {
  const moment = new Date(time);
  const two = (number) => String(number).padStart(2, "0");
  const day = [moment.getFullYear(), two(moment.getMonth() + 1), two(moment.getDate())].join("-");
  return `${day} ${two(moment.getHours())}:${two(moment.getMinutes())}`;
}
