// Pages kept and asked for ahead: while a hand is at the neck, those of the places around it.

import { ask } from "./server.js";

const MOST_KEPT = 40; // pages of a song, the oldest given up first
const LONGEST_KEPT = 100_000; // letters of a text whose pages are kept
const SLOW = 150; // milliseconds a page may take for others to be asked for ahead

export class PagesAhead {
  #kept = new Map(); #newest = 0;

  /** The answer to a request for pages: at once where it was asked for before. */
  ask(request) {
    if (request.text.length > LONGEST_KEPT) return ask("/api/pages", request);
    const key = JSON.stringify(request), answer = this.#kept.get(key) ?? ask("/api/pages", request);
    this.#kept.delete(key);
    this.#kept.set(key, answer);
    if (this.#kept.size > MOST_KEPT) this.#kept.delete(this.#kept.keys().next().value);
    answer.then(({ ok }) => { if (!ok) this.#kept.delete(key); });
    return answer;
  }

  /** Asks for what may be requested next, one after the other, until others are to be prepared. */
  async prepare(requests) {
    const mine = ++this.#newest;
    for (const request of requests) {
      if (mine !== this.#newest || request.text.length > LONGEST_KEPT) return;
      const start = performance.now();
      await this.ask(request);
      if (performance.now() - start > SLOW) return;
    }
  }

  /** Nothing more is asked for ahead. */
  stop() { this.#newest++; }
}
