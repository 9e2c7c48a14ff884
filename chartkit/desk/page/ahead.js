// Pages kept and asked for ahead: while a hand is at the neck, those of the places around it.

import { ask } from "./server.js";

const MOST_KEPT = 40; // pages of a song, the oldest given up first
const LONGEST_KEPT = 100_000; // letters of a text whose pages are kept
const SLOW = 150; // milliseconds a page may take for others to be asked for ahead

export class PagesAhead {
  #kept = new Map(); #newest = 0;

  /** The answer to a wish for pages: at once where it was asked for before. */
  ask(wish) {
    if (wish.text.length > LONGEST_KEPT) return ask("/api/pages", wish);
    const key = JSON.stringify(wish), answer = this.#kept.get(key) ?? ask("/api/pages", wish);
    this.#kept.delete(key);
    this.#kept.set(key, answer);
    if (this.#kept.size > MOST_KEPT) this.#kept.delete(this.#kept.keys().next().value);
    answer.then(({ ok }) => { if (!ok) this.#kept.delete(key); });
    return answer;
  }

  /** Asks for what may be wished next, one after the other, until others are to be prepared. */
  async prepare(wishes) {
    const mine = ++this.#newest;
    for (const wish of wishes) {
      if (mine !== this.#newest || wish.text.length > LONGEST_KEPT) return;
      const start = performance.now();
      await this.ask(wish);
      if (performance.now() - start > SLOW) return;
    }
  }

  /** Nothing more is asked for ahead. */
  stop() { this.#newest++; }
}
