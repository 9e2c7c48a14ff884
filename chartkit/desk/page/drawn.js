// A page as it is drawn, of which only those elements are made anew that changed: most of a page
// stays while somebody types, and what stays needs no new layout in the browser.

import { parsed } from "./elements.js";

const PLACE = / data-at="[^"]*"/; // moves with every letter typed before it
const END = "</svg>";

export class DrawnPage {
  #opening; #parts; // of each element: its markup, the same without its place, the node

  constructor([opening, ...elements]) {
    this.sheet = parsed([opening, ...elements, END].join(""));
    this.#opening = opening;
    this.#parts = [...this.sheet.children].map((node, i) => ({ markup: elements[i], bare: bare(elements[i]), node }));
  }

  /** Draws the page as it is now. */
  follow([opening, ...elements]) {
    if (opening !== this.#opening) this.#open(opening);
    const parts = elements.map((markup) => ({ markup, bare: bare(markup), node: null }));
    this.#keep(parts);
    const made = parts.filter((one) => one.node === null);
    const drawn = made.length ? [...parsed([opening, ...made.map((one) => one.markup), END].join("")).children] : [];
    made.forEach((one, i) => { one.node = drawn[i]; });
    for (let i = parts.length - 1, next = null; i >= 0; next = parts[i--].node) {
      if (parts[i].node.parentNode !== this.sheet) this.sheet.insertBefore(parts[i].node, next);
    }
    this.#parts = parts;
  }

  /** Gives every part that stands already its node; what is left over goes. */
  #keep(parts) {
    const before = new Map(this.#parts.map((one, i) => [one.bare, i]));
    let last = -1;
    for (const part of parts) {
      const at = before.get(part.bare) ?? -1;
      if (at <= last) continue;
      const { markup, node } = this.#parts[at];
      if (markup !== part.markup) move(node, part.markup);
      part.node = node;
      last = at;
    }
    const kept = new Set(parts.map((one) => one.node));
    for (const { node } of this.#parts) if (!kept.has(node)) node.remove();
  }

  #open(opening) {
    for (const { name, value } of parsed(opening + END).attributes) this.sheet.setAttribute(name, value);
    this.#opening = opening;
  }
}

function move(node, markup) {
  const place = PLACE.exec(markup);
  if (place) node.setAttribute("data-at", place[0].split('"')[1]);
  else node.removeAttribute("data-at");
}

function bare(markup) { return markup.replace(PLACE, ""); }
