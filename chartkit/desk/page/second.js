// The second guitar: places for its capo that have room beside the first, and parts of its own.

import { tell } from "./bus.js";
import { act, element, made } from "./elements.js";
import { ask, Newest } from "./server.js";

export class SecondStrip {
  #request; #capo = null; #places = element("div", "beside"); #parts = element("div", "beside"); #picture = element("div", "registers"); #hush = element("p", "hush"); #newest = new Newest(() => this.#ask());

  /** `request` gives what the page shows. */
  constructor(strip, request) {
    this.#request = request;
    this.#hush.role = "status";
    strip.append(this.#hush, this.#places, this.#parts, this.#picture);
  }

  /** The second guitar's capo, whose shapes the page shows as a line of their own. */
  get requested() { return this.#capo; }

  /** Another song is opened: the second guitar has no place, and nothing is said of the last song. */
  back() {
    this.#capo = null;
    for (const one of [this.#places, this.#parts, this.#picture]) one.replaceChildren();
  }

  /** Asks for places and parts anew. */
  fill() { return this.#newest.request(); }

  async #ask() {
    if (!this.#places.children.length) this.#hush.textContent = "Looking for room …";
    const { choices, look, ...request } = this.#request();
    const answer = await ask("/api/second", request);
    if (!answer.ok) { this.back(); this.#hush.textContent = answer.reason; return; }
    const { first, places, parts } = answer.data;
    this.#hush.textContent = `Beside a guitar with ${first}: where there is room for another.`;
    this.#places.replaceChildren(...places.map((place) => this.#place(place)));
    this.#parts.replaceChildren(...parts.map((part) => this.#part(part)));
    this.#picture.innerHTML = answer.data.picture; // made by the server, every word in it escaped
  }

  #place(place) {
    const button = act("", () => {
      this.#capo = this.#capo === place.capo ? null : place.capo;
      for (const one of this.#places.children) one.setAttribute("aria-pressed", String(one === button && this.#capo !== null));
      tell("view");
      this.fill();
    }, "");
    button.append(element("strong", "", `${place.name}, ${place.shapes} shapes`), element("small", "", place.reason));
    button.setAttribute("aria-pressed", String(this.#capo === place.capo));
    return button;
  }

  #part(part) {
    const write = () => tell("begin-named", { title: `${part.text.match(/^title: (.*)$/m)?.[1] ?? ""} second guitar`, text: part.text });
    return made("div", { title: part.sections.join("\n") }, element("strong", "", `a part of its own, ${part.register}`), element("small", "", part.reason), act("Write it as a chart", write));
  }
}
