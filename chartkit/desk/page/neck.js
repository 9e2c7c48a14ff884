// The neck: the control for the capo, true to scale, and what every place on it would mean.

import { tell } from "./bus.js";
import { act, element, made, redrawn, stroke } from "./elements.js";

const [HEAD_SHARE, NARROW_HEAD, NARROW] = [0.15, 0.21, 500]; // of the width, left of the nut: where the guitar is tuned down; and on a board of so few CSS pixels
const LAST_FRET = 12;
const SHOWN_DOWN = 3; // half steps, unless the song asks for more
const INTO_SPACE = 0.3; // how far behind its fret a capo sits, in parts of the space before it
const DOTS = [3, 5, 7, 9];
const CAPO_BEYOND = 7; // CSS pixels that a capo stands out at either side of the strings
const [STRING_GAP, BOARD_TOP] = [11, 8]; // CSS pixels

export class NeckPane {
  #section; #board = element("div", "board"); #drawn = element("div"); #knob = element("div", "capo"); #say = element("div");
  #places = []; #strings = 6; #best = null; #own = null; #moved = null; #drag = null; #narrow = false; #labels = new Map();

  constructor(section) {
    this.#section = section;
    const reason = element("div", "reason");
    reason.append(...section.children, this.#say); // the door to all places stands beside the reason
    section.append(this.#board, reason);
    this.#board.append(this.#drawn, this.#knob); // the knob stays where it is, so that it keeps the focus
    const knob = Object.assign(this.#knob, { tabIndex: 0, role: "slider", ariaLabel: "Capo", ariaOrientation: "horizontal" });
    knob.addEventListener("keydown", (event) => this.#key(event));
    knob.addEventListener("focus", () => this.#touched());
    this.#board.addEventListener("pointerenter", () => this.#touched());
    this.#board.addEventListener("pointerdown", (event) => this.#grasp(event));
    this.#board.addEventListener("pointermove", (event) => { if (this.#drag !== null) this.#to(this.#nearest(event.clientX)); });
    new ResizeObserver(([{ contentRect: { width } }]) => { // the head is wider on a narrow board
      if (!width || this.#narrow === width < NARROW) return;
      this.#narrow = width < NARROW;
      if (this.#places.length) this.#draw();
    }).observe(this.#board);
    for (const end of ["pointerup", "pointercancel"]) this.#board.addEventListener(end, () => { this.#drag = null; });
  }

  /** Where the capo was moved to and not yet kept, a number or a short capo as a chart writes it; null where it is as the chart says. */
  get requested() { return this.#moved; }

  /** Shows the places that the adviser looked at; `own` is the chart's capo. */
  show({ places, strings, best }) {
    this.#places = places;
    this.#best = best;
    this.#section.hidden = !places.length;
    this.#section.classList.remove("waiting");
    if (!places.length) return;
    this.#strings = strings;
    this.#draw();
  }

  /** Another song is opened: what was said of the last one is hidden until this one is looked at. */
  wait() {
    this.#section.classList.add("waiting");
    this.#moved = this.#own = null;
  }

  /** The chart's own capo, which the neck follows until it is moved by hand. */
  follow(capo) {
    if (this.#moved === null && this.#own !== capo) {
      this.#own = capo;
      if (this.#places.length) this.#draw();
    }
  }

  /** As the chart has it again, or at another place where one is named. */
  back(id = null) {
    this.#moved = id === this.#own ? null : id;
    this.#write();
  }

  get #at() { return this.#moved ?? this.#own ?? 0; }

  get #shown() {
    const lowest = Math.min(-SHOWN_DOWN, fretOf(this.#at), fretOf(this.#own));
    return this.#places.filter((one) => one.capo >= lowest && !one.beside);
  }

  #place(id) { return this.#places.find((one) => one.id === id); }

  // ---- drawing, in percents of the width
  get #head() { return this.#narrow ? NARROW_HEAD : HEAD_SHARE; }

  #fret(number) {
    const along = (1 - 2 ** (-number / 12)) / (1 - 2 ** (-LAST_FRET / 12));
    return 100 * (this.#head + (1 - this.#head - 0.005) * along);
  }

  #x(capo) {
    if (capo > 0) return this.#fret(capo) - INTO_SPACE * (this.#fret(capo) - this.#fret(capo - 1));
    const down = Math.max(SHOWN_DOWN, ...this.#shown.map((one) => -one.capo));
    return capo === 0 ? this.#fret(0) : 100 * this.#head * (1 - (-capo + 0.35) / (down + 0.75));
  }

  #draw() {
    const height = BOARD_TOP * 2 + STRING_GAP * (this.#strings - 1);
    const board = stroke("svg", "", { "aria-hidden": "true" });
    board.style.height = `${height}px`;
    const add = (...given) => board.append(stroke(...given));
    const nut = this.#fret(0), end = this.#fret(LAST_FRET);
    add("rect", "wood", { x: `${nut}%`, y: 0, width: `${end - nut}%`, height });
    for (let fret = 1; fret <= LAST_FRET; fret++) add("line", "fret", { x1: `${this.#fret(fret)}%`, x2: `${this.#fret(fret)}%`, y1: 0, y2: height });
    for (const dot of DOTS) add("circle", "dot", { cx: `${(this.#fret(dot - 1) + this.#fret(dot)) / 2}%`, cy: height / 2, r: 3.5 });
    add("line", "nut", { x1: `${nut}%`, x2: `${nut}%`, y1: 0, y2: height });
    for (let i = 0; i < this.#strings; i++) {
      const y = BOARD_TOP + i * STRING_GAP, thick = 1 + 0.28 * i;
      add("line", "string silent", { x1: `${nut}%`, x2: `${end}%`, y1: y, y2: y, "stroke-width": thick });
      add("line", "string ringing", { x1: `${nut}%`, x2: `${end}%`, y1: y, y2: y, "stroke-width": thick });
    }
    this.#labels.clear();
    const labels = this.#shown.map((one) => this.#label(one, height));
    const down = element("span", "down", "tuned down");
    down.style.left = `${this.#x(-2)}%`;
    const legend = element("p", "legend", "fret, key of the shapes there, and as a line how much of the song lies on open shapes");
    legend.style.top = `${height + 57}px`;
    this.#drawn.replaceChildren(board, down, ...labels, legend);
    this.#board.style.height = `${height + 73}px`; // labels, bars and what they are
    this.#write();
  }

  #label(one, height) {
    const label = element("span", one.good ? "place good" : "place");
    label.ariaHidden = "true";
    label.style.left = `${this.#x(one.capo)}%`;
    label.style.top = `${height + 19}px`;
    const fret = element("em", "", one.capo < 0 ? `−${-one.capo}` : String(one.capo));
    label.append(fret, element("span", "", one.shapes.replace(/ .*/, "")), openness(one)); // a mode has no room
    label.title = `${one.heading}: ${one.because}`;
    this.#labels.set(one.capo, label);
    return label;
  }

  // ---- what it is now
  #write() {
    const place = this.#place(this.#at), knob = this.#knob;
    if (!place) return;
    const at = place.capo, nut = this.#fret(0), covered = place.strings_covered;
    this.#board.querySelectorAll(".ringing").forEach((string, i) => {
      const under = at > 0 && (!covered.length || covered.includes(i + 1));
      string.setAttribute("x1", `${under ? this.#x(at) : nut}%`);
    });
    for (const [capo, label] of this.#labels) label.classList.toggle("at", capo === at);
    if (!this.#labels.has(at)) return this.#draw();
    knob.style.left = `${this.#x(at)}%`;
    this.#cover(place.strings_covered);
    knob.textContent = at < 0 ? `−${-at}` : String(at);
    knob.classList.toggle("off", at === 0);
    Object.assign(knob, { ariaValueMin: this.#shown[0].capo, ariaValueMax: this.#shown.at(-1).capo, ariaValueNow: at, ariaValueText: `${place.heading}: ${place.because}` });
    const ends = element("p", "ends");
    if (this.#moved !== null && this.#moved !== this.#own) {
      const own = this.#place(this.#own);
      ends.append(act("Keep in the chart", () => tell("keep-capo", this.#moved)), act(`back to ${own?.name ?? "the chart's"}`, () => { this.back(); tell("view"); }, ""));
    } else if (this.#best !== null && this.#best !== place.id) {
      const best = this.#place(this.#best);
      ends.append(act(`${best.name} is best`, () => this.#to(this.#best), ""));
    }
    const words = made("p", {}, openness(place), place.because);
    redrawn(this.#say, () => this.#say.replaceChildren(element("strong", "", place.heading), words, ends), () => this.#knob);
  }

  /** The knob lies over the strings that the capo covers, counted from 1 at the top; none named is all. */
  #cover(strings) {
    const first = strings.length ? strings[0] : 1, last = strings.length ? strings.at(-1) : this.#strings;
    this.#knob.style.top = `${BOARD_TOP + (first - 1) * STRING_GAP - (strings.length ? STRING_GAP / 2 - CAPO_BEYOND : BOARD_TOP)}px`;
    this.#knob.style.height = strings.length ? `${(last - first + 1) * STRING_GAP}px` : `${BOARD_TOP * 2 + STRING_GAP * (this.#strings - 1) + 2 * CAPO_BEYOND}px`;
  }

  // ---- moving it
  /** Moves it to a place, as a hand would. */
  move(capo) { this.#to(capo); }

  /** A hand is at the neck: tells the other places, the nearest first, as `requested` names them. */
  #touched() {
    const away = (id) => Math.abs(fretOf(id) - fretOf(this.#at));
    const others = this.#shown.map((one) => one.id).filter((id) => id !== this.#at);
    tell("neck-touched", others.sort((a, b) => away(a) - away(b)).map((capo) => (capo === this.#own ? null : capo)));
  }

  #to(id) {
    if (id === this.#at || !this.#place(id)) return;
    this.#moved = id === this.#own ? null : id;
    this.#write();
    tell("view");
  }

  #nearest(clientX) {
    const box = this.#board.getBoundingClientRect(), along = ((clientX - box.left) / box.width) * 100;
    const far = (one) => Math.abs(this.#x(one.capo) - along);
    return this.#shown.reduce((best, one) => (far(one) < far(best) ? one : best)).id;
  }

  #grasp(event) {
    if (event.button !== 0) return;
    event.preventDefault();
    this.#board.setPointerCapture(event.pointerId);
    this.#drag = event.pointerId;
    this.#knob.focus();
    this.#to(this.#nearest(event.clientX));
  }

  #key(event) {
    const shown = this.#shown.map((one) => one.id), at = this.#shown.findIndex((one) => one.capo === fretOf(this.#at));
    const next = {
      ArrowRight: shown[at + 1], ArrowUp: shown[at + 1], ArrowLeft: shown[at - 1], ArrowDown: shown[at - 1],
      Home: 0, End: shown.at(-1), PageUp: shown[Math.min(at + 3, shown.length - 1)], PageDown: shown[Math.max(at - 3, 0)],
    }[event.key];
    if (event.key === "Enter" && this.#moved !== null) tell("keep-capo", this.#moved);
    else if (event.key === "Escape" && this.#moved !== null) { this.back(); tell("view"); }
    else if (next !== undefined) this.#to(next);
    else if (!(event.key in { ArrowRight: 1, ArrowLeft: 1, ArrowUp: 1, ArrowDown: 1 })) return;
    event.preventDefault();
  }
}

/** The fret of a place, with a minus the half steps that the guitar is tuned down. */
function fretOf(id) { return parseInt(id ?? 0, 10); }

/** The time on open shapes as a bar. */
function openness(place) {
  const share = `${Math.round(place.open * 100)}%`, full = element("b");
  full.style.width = share;
  return made("i", { title: `${share} of the time on open shapes` }, full);
}
