// All places for the capo in the adviser's order, each with its reason; what helps in this song.

import { tell } from "./bus.js";
import { act, element, made, redrawn } from "./elements.js";

const LOW = "Strings tuned down buzz more, and more than two half steps down they are slack; ask a qualified repairer about the neck.";
const HANDS = "If a shape hurts, stop; a teacher or doctor can help.";

export class AdviceStrip {
  #verdict = element("p", "verdict"); #places = element("ol", "ranked"); #caution = element("p", "hush"); #short = made("input", { type: "checkbox" }); #asks = made("label", { className: "hush" }, this.#short, " short capos too, over some of the strings");

  constructor(strip) {
    this.#short.addEventListener("change", () => tell("advice-asked"));
    strip.append(this.#verdict, this.#places, this.#asks, this.#caution);
  }

  /** Whether short capos are asked for. */
  get shortCapos() { return this.#short.checked; }

  /** Another song is opened, which nothing has been said of yet. */
  wait() { for (const one of [this.#verdict, this.#places, this.#caution]) one.replaceChildren(); }

  /** Shows what the adviser says; a place that it did not rank is left out. */
  show({ places, verdict, has_short_capos: known }) {
    this.#asks.hidden = !known;
    const ranked = places.filter((one) => one.rank !== null && one.rank !== undefined).sort((a, b) => a.rank - b.rank);
    this.#verdict.textContent = verdict;
    redrawn(this.#places, () => this.#places.replaceChildren(...ranked.map((one) => row(one))));
    this.#caution.textContent = `${ranked.some((one) => one.capo < 0) ? `${LOW} ` : ""}${HANDS}`;
  }
}

/** A place: its name moves the capo there. */
function row(one) {
  const go = act(one.heading, () => tell("capo-asked", one.id), "", { focus: one.id });
  return made("li", {}, go, element("small", "", one.because));
}
