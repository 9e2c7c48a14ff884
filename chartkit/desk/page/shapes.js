// The shapes of the song as diagrams; a click offers other ways to play one.

import { tell } from "./bus.js";
import { act, element, parsed, redrawn } from "./elements.js";
import { ask, Newest } from "./server.js";

export class ShapesStrip {
  #request; #row = element("div", "shapes"); #others = element("div", "shapes others"); #hush = element("p", "hush"); #unused = element("p", "hush ends"); #chord = ""; #newest = new Newest(() => this.#ask());

  /** `request` gives what the page shows: text, capo, key. */
  constructor(strip, request) {
    this.#request = request;
    Object.assign(this.#row, { role: "group", ariaLabel: "Shapes of the song" });
    Object.assign(this.#others, { role: "group", ariaLabel: "Other ways" });
    strip.append(this.#row, this.#hush, this.#others, this.#unused);
  }

  /** Asks for the shapes anew. */
  fill() { return this.#newest.request(); }

  async #ask() {
    const answer = await ask("/api/shapes", this.#request());
    if (!answer.ok) { this.#hush.textContent = answer.reason; this.#row.replaceChildren(); return; }
    redrawn(this.#row, () => this.#row.replaceChildren(...answer.data.shapes.map((shape) => this.#shape(shape))));
    const unused = answer.data.unused.map((own) => act(`take out ${own}`, () => tell("keep-shape", own.split(" ")[0]), ""));
    redrawn(this.#unused, () => this.#unused.replaceChildren(...(unused.length ? ["Your own shapes of chords that are not fingered with this capo in this key:", ...unused] : [])), () => this.#row.querySelector("button"));
    const still = answer.data.shapes.find((one) => one.chord === this.#chord);
    if (still) this.#offer(still); else this.#close();
  }

  #close() {
    this.#chord = "";
    this.#others.replaceChildren();
    this.#hush.textContent = "A click on a shape offers other ways to play it.";
  }

  #shape(shape) {
    const button = drawn(shape, () => (this.#chord === shape.chord ? this.#close() : this.#offer(shape)));
    button.append(element("small", "", shape.own ? "yours" : `${Math.max(1, Math.round(shape.share * 100))}% of the time`));
    button.dataset.chord = button.dataset.focus = shape.chord;
    button.ariaPressed = "false";
    return button;
  }

  async #offer(shape) {
    this.#chord = shape.chord;
    for (const one of this.#row.children) one.setAttribute("aria-pressed", String(one.dataset.chord === shape.chord));
    const answer = await ask("/api/grips", { ...this.#request(), chord: shape.chord });
    if (this.#chord !== shape.chord) return; // another one was clicked meanwhile
    if (!answer.ok) { this.#hush.textContent = answer.reason; return; }
    const others = answer.data.grips.filter((grip) => grip.frets !== shape.frets);
    this.#hush.textContent = others.length ? `Other ways to play ${shape.name}, the easiest first. The one you choose is written into the chart, as a line that begins with “shape:”.`
      : `There is no other way to play ${shape.name} here that a hand would choose.`;
    const ways = others.map((grip) => drawn(grip, () => tell("keep-shape", `${grip.chord} ${grip.frets}`)));
    if (shape.own) ways.push(act("as chartkit plays it", () => tell("keep-shape", shape.chord), ""));
    redrawn(this.#others, () => this.#others.replaceChildren(...ways), () => this.#row.querySelector('[aria-pressed="true"]'));
  }
}

/** A button with a diagram. */
function drawn(shape, work) {
  const button = act("", work, "shape", { ariaLabel: `${shape.name}, ${(shape.frets.includes("-") ? shape.frets.split("-") : [...shape.frets]).join(" ")}` });
  button.append(parsed(shape.diagram));
  return button;
}
