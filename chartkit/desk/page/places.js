// The server counts characters, the browser UTF-16 units: they differ after signs such as 𝄫.

const PAIR = /[\ud800-\udbff][\udc00-\udfff]/;

/** The unit at which a character begins. */
export function unitOf(text, character) {
  if (!PAIR.test(text)) return character;
  let unit = 0;
  for (const one of text) {
    if (character-- <= 0) break;
    unit += one.length;
  }
  return unit;
}

/** How many characters stand before a unit. */
export function characterOf(text, unit) {
  return PAIR.test(text) ? [...text.slice(0, unit)].length : unit;
}

/** How many units at the start and at the end two texts have in common. */
export function difference(before, after) {
  const most = Math.min(before.length, after.length);
  let start = 0, end = 0;
  while (start < most && before[start] === after[start]) start++;
  while (end < most - start && before[before.length - 1 - end] === after[after.length - 1 - end]) end++;
  return { start, end };
}

/** A place moved as the text around it was: null where just that place was changed. */
export function follow(place, before, after) {
  if (before === after) return place;
  const { start, end } = difference(before, after);
  if (place.end <= start) return place;
  const shift = after.length - before.length;
  if (place.start >= before.length - end) return { ...place, start: place.start + shift, end: place.end + shift };
  return null;
}
