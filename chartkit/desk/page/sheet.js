// The page pane: the song's pages as they are, a click leads to the text, the caret's chord is
// marked.

import { tell } from "./bus.js";
import { DrawnPage } from "./drawn.js";
import { stroke } from "./elements.js";
import { characterOf, unitOf } from "./places.js";

const ROOM = 1.5; // points around what is marked

export class SheetPane {
  #pane; #drawn = []; #text = ""; #caret = -1; #settings = {}; #sounds = null;

  constructor(pane) {
    this.#pane = pane;
    pane.addEventListener("click", (event) => this.#clicked(event));
    pane.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && this.#marked) tell("go", this.#placeOf(this.#marked));
    });
  }

  /** Shows pages, each as the list of its elements. */
  show(pages, text, settings) {
    this.#text = text;
    this.#settings = settings;
    pages.forEach((elements, i) => {
      if (this.#drawn[i]) this.#drawn[i].follow(elements);
      else {
        this.#drawn.push(new DrawnPage(elements));
        this.#pane.append(this.#drawn[i].sheet);
      }
    });
    for (const page of this.#drawn.splice(pages.length)) page.sheet.remove();
    this.mark(this.#caret, false);
    this.sound(this.#sounds, false);
  }

  /** Another song is opened, to be read from its head. */
  toTop() { this.#pane.scrollTo(0, 0); }

  /** Marks the bar that sounds: from where to where it stands in the text, and the section played; null for none. */
  sound(place, scroll = true) {
    this.#sounds = place;
    for (const old of this.#pane.querySelectorAll("rect.sounds")) old.remove();
    if (!place) return;
    const texts = this.#barAt(place);
    if (!texts.length) return;
    const sheet = texts[0].parentNode, box = around(texts.filter((one) => one.parentNode === sheet).map((one) => one.getBBox()));
    sheet.insertBefore(rectangle(box, "sounds"), sheet.querySelector("text"));
    if (scroll) bringIntoSight(texts[0], this.#pane);
  }

  /** The chords of a bar under the heading of its section, else wherever the bar stands. */
  #barAt([start, end, section]) {
    const chords = [];
    let under = false;
    for (const one of this.#pane.querySelectorAll("text[data-at]")) {
      const [from, to] = one.dataset.at.split(" ").map(Number);
      if (one.dataset.role === "heading") under = from === section;
      else if (from >= start && to <= end && ["shape", "sounding"].includes(one.dataset.role)) chords.push({ one, under });
    }
    const own = chords.filter((chord) => chord.under);
    return (own.length ? own : chords).map((chord) => chord.one);
  }

  /** Remembers the caret for the page that comes next. */
  note(caret) { this.#caret = caret; }

  /** Marks what was typed at a unit of the text, and brings it into sight if asked. */
  mark(caret, scroll = true) {
    this.#caret = caret;
    for (const old of this.#pane.querySelectorAll("rect.here")) old.remove();
    if (caret < 0) return;
    const at = characterOf(this.#text, caret);
    let first = null;
    for (const one of this.#pane.querySelectorAll("text[data-at]")) {
      const [start, end] = one.dataset.at.split(" ").map(Number);
      if (start <= at && at <= end && (at < end || !this.#touching(at, end))) {
        first ??= one;
        one.parentNode.insertBefore(rectangle(one.getBBox()), one.parentNode.querySelector("text"));
      }
    }
    if (first && scroll) bringIntoSight(first, this.#pane);
  }

  /** Whether another text begins just where one ends. */
  #touching(at, end) {
    return at === end && this.#pane.querySelector(`text[data-at^="${end} "]`) !== null;
  }

  get #marked() {
    const rect = this.#pane.querySelector("rect.here");
    return rect && [...this.#pane.querySelectorAll("text[data-at]")].find((one) => contains(one, this.#text, this.#caret));
  }

  #placeOf(text) {
    const [start, end] = text.dataset.at.split(" ").map(Number);
    return { start: unitOf(this.#text, start), end: unitOf(this.#text, end) };
  }

  #clicked(event) {
    if (!getSelection().isCollapsed) return; // words are being selected
    const text = event.target.closest?.("text");
    if (!text) return;
    if (text.dataset.at) {
      const { start, end } = this.#placeOf(text);
      tell("go", { start, end });
      return;
    }
    const setting = { title: "title", writer: "writer", keys: "key", capo: "capo", note: "note", band: "tempo" }[text.dataset.role];
    const place = this.#settings[setting];
    if (place) tell("go", { start: unitOf(this.#text, place[0]), end: unitOf(this.#text, place[1]) });
  }
}

function contains(one, text, caret) {
  const at = characterOf(text, caret), [start, end] = one.dataset.at.split(" ").map(Number);
  return start <= at && at <= end;
}

/** The box around boxes. */
function around(boxes) {
  const left = Math.min(...boxes.map((one) => one.x)), top = Math.min(...boxes.map((one) => one.y));
  const right = Math.max(...boxes.map((one) => one.x + one.width)), foot = Math.max(...boxes.map((one) => one.y + one.height));
  return { x: left, y: top, width: right - left, height: foot - top };
}

function rectangle({ x, y, width, height }, kind = "here") {
  return stroke("rect", kind, { x: x - ROOM, y, width: width + 2 * ROOM, height, rx: 1.5 });
}

function bringIntoSight(one, pane) {
  const box = one.getBoundingClientRect(), frame = pane.getBoundingClientRect();
  if (box.top < frame.top || box.bottom > frame.bottom) {
    pane.scrollTop += box.top - frame.top - frame.height / 3;
  }
}
