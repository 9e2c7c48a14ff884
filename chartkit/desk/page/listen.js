// Listening: the song as it is fingered, from any section, at any speed; it follows the capo.

import { tell } from "./bus.js";
import { act, element, labelled, made } from "./elements.js";
import { Player } from "./player.js";
import { ask, Newest } from "./server.js";

const [SLOWEST, FASTEST, STEP] = [50, 120, 5]; // per cent of the chart's tempo

export class ListenStrip {
  #request; #song = null; #asked = ""; #bar = -1; #player = new Player((at) => this.#moved(at)); #newest = new Newest(() => this.#ask());
  #play = act("Play", () => this.#toggle()); #from = element("select"); #speed = made("input", { type: "range", min: SLOWEST, max: FASTEST, step: STEP, value: 100 }); #click = made("input", { type: "checkbox", checked: true });
  #where = element("span", "hush"); #hush = element("p", "hush"); #percent = element("output", "", "100%");

  /** `request` gives what the page shows: text, capo, key, second guitar. */
  constructor(strip, request) {
    this.#request = request;
    this.#hush.role = "status";
    this.#speed.addEventListener("input", () => { this.#percent.textContent = `${this.#speed.value}%`; });
    for (const control of [this.#speed, this.#click]) control.addEventListener("change", () => this.#again());
    this.#from.addEventListener("change", () => { if (this.#player.plays) this.#start(); });
    const line = made("p", { className: "ends" }, this.#play, labelled("from ", this.#from), labelled("speed ", this.#speed, this.#percent), labelled("count in and click ", this.#click), this.#where);
    strip.append(line, this.#hush);
  }

  /** Asks for the song as it is now; what plays goes on with it from where it is. */
  fill() { return this.#newest.request(); }

  async #ask() {
    const { choices, look, ...request } = this.#request(), asked = JSON.stringify(request);
    if (asked === this.#asked) return;
    const answer = await ask("/api/listen", { ...request });
    this.#asked = answer.ok ? asked : "";
    this.#song = answer.ok ? answer.data : null;
    this.#play.disabled = !answer.ok;
    const long = answer.ok && this.#song.cut_short ? "Only the first part of this long song is played.  " : "";
    this.#hush.textContent = answer.ok ? `${long}Plays the strings of the shapes in the chart's rhythm, and marks the bar that sounds on the page. Move the capo to hear the difference.` : answer.reason;
    if (!answer.ok) return this.#player.stop();
    const chosen = this.#from.selectedIndex;
    this.#from.replaceChildren(...this.#song.sections.map(([name], i) => made("option", { value: i }, named(name, i, this.#song.sections))));
    this.#from.selectedIndex = Math.max(0, Math.min(chosen, this.#song.sections.length - 1));
    this.#again();
  }

  /** What plays follows what the page shows. */
  follow() { return this.#player.plays ? this.fill() : undefined; }

  stop() { this.#player.stop(); }

  async #toggle() {
    if (this.#player.plays) return this.#player.stop();
    await this.fill();
    if (this.#song) this.#start();
  }

  #start() {
    this.#play.textContent = "Stop";
    this.#player.play(this.#song, this.#song.sections[this.#from.value]?.[1] ?? 0, { ...this.#how, counted: this.#click.checked });
  }

  #again() { if (this.#player.plays) this.#player.play(this.#song, this.#player.at, this.#how); }

  get #how() { return { speed: this.#speed.value / 100, click: this.#click.checked }; }

  #moved(at) {
    this.#play.textContent = at === null ? "Play" : "Stop";
    const bar = at === null ? -1 : this.#song.bars.findLastIndex(([start]) => start <= at + 0.02);
    if (bar !== this.#bar) tell("bar-sounds", this.#song.places[bar] ?? null);
    this.#bar = bar;
    const section = at === null ? null : this.#song.sections.findLast(([, start]) => start <= at + 0.05);
    this.#where.textContent = section ? `${section[0]} · ${clock(at)} of ${clock(this.#song.end)}` : "";
  }
}

/** A section that comes more than once is counted: Chorus (2). */
function named(name, at, sections) {
  const before = sections.slice(0, at).filter(([one]) => one === name).length;
  return before ? `${name} (${before + 1})` : name;
}

function clock(seconds) { return `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`; }
