// The line at the foot: how many mistakes there are, and the one nearest to the caret, or the first.

import { tell } from "./bus.js";
import { act, element } from "./elements.js";
import { unitOf } from "./places.js";

const TO_READ = 4000; // milliseconds that an answer to what was asked for stands at least

export class MistakesLine {
  #count; #line; #mistakes = []; #shown = null; #caret = 0; #tried = true; #readUntil = 0; #later = 0; #why = "";

  constructor(count, line) {
    this.#count = count;
    this.#line = line;
  }

  /** Whether it was tried which hints mend their mistakes: not while keys are pressed. */
  get tried() { return this.#tried; }

  /** The mistakes of a text; their places become units. What mends one stays known where `tried` is false. */
  show(mistakes, text, tried = true) {
    const before = tried ? [] : this.#mistakes.filter((one) => one.instead);
    this.#tried = tried;
    this.#why = "";
    this.#mistakes = mistakes.map((one) => {
      const place = { ...one, start: unitOf(text, one.start), end: unitOf(text, one.end) };
      const { instead } = one;
      if (instead) place.instead = { ...instead, start: unitOf(text, instead.start), end: unitOf(text, instead.end) };
      else place.instead = moved(before.find((other) => other.message === one.message), place);
      return place;
    });
    this.#write(text);
    return this.#mistakes;
  }

  /** Something else that has to be said in this line, such as what could not be done; `toBeRead` keeps it from the next page's answer. */
  say(words, toBeRead = false) {
    if (toBeRead) this.#readUntil = performance.now() + TO_READ;
    this.#mistakes = [];
    this.#count.textContent = "";
    this.#line.textContent = words;
  }

  /** The caret has moved: its row's mistake is shown. */
  at(caret, text) {
    this.#caret = caret;
    if (this.#mistakes.length) this.#write(text);
  }

  /** What Alt-Enter does: types what the hint says. */
  take(text) {
    this.#readUntil = 0;
    const one = this.#shown;
    if (one?.instead && one.text === text) tell("type", one.instead);
    else if (one) tell("go", one);
  }

  /** The next mistake after the caret; `why` says what waits for it to be mended, until the text is read again. */
  next(why = "") {
    this.#readUntil = 0;
    this.#why = why;
    const one = this.#mistakes.find((m) => m.start > this.#caret) ?? this.#mistakes[0];
    if (one) tell("go", one);
  }

  #write(text) {
    const errors = this.#mistakes.filter((one) => one.severity === "error").length;
    const slips = this.#mistakes.length - errors;
    const counts = [errors && counted(errors, "mistake"), slips && counted(slips, "warning")];
    this.#count.textContent = counts.filter(Boolean).join(", ") || "no mistakes";
    this.#count.className = errors ? "wrong" : "";
    const one = atCaret(this.#mistakes, this.#caret, text);
    this.#shown = one && { ...one, text };
    clearTimeout(this.#later);
    const left = this.#readUntil - performance.now();
    if (left > 0) return void (this.#later = setTimeout(() => this.#write(text), left)); // what was mended meanwhile goes then
    this.#line.replaceChildren(...(one ? [this.#why, ...said(one)] : []));
  }
}

/** The mistake that holds the caret; else the last one before it in its row, the first of its row, or the first of all. */
function atCaret(mistakes, caret, text) {
  const line = text.slice(0, caret).split("\n").length;
  const row = mistakes.filter((one) => one.line === line);
  return row.find((one) => one.start <= caret && caret < one.end)
    ?? row.findLast((one) => one.start <= caret) ?? row[0] ?? mistakes[0] ?? null;
}

/** What mended the same mistake before, at its place now. */
function moved(before, now) {
  if (!before || before.end - before.start !== now.end - now.start) return null;
  const { start, end, text } = before.instead, by = now.start - before.start;
  return { start: start + by, end: end + by, text };
}

function counted(number, noun) {
  return `${number} ${noun}${number === 1 ? "" : "s"}`;
}

/** `line 16: "Bbmm7" is no chord. Did you mean Bbm7?` and the key that writes it. */
function said(one) {
  const words = act(`line ${one.line}: ${one.message}${one.hints[0] ? "." : ""}`, () => tell("go", one), "");
  const hint = one.hints[0] ? [document.createTextNode(` ${one.hints[0][0].toUpperCase()}${one.hints[0].slice(1)} `)] : [];
  if (!one.instead) return [words, ...hint];
  const take = act("", () => tell("type", one.instead), "take");
  take.append(element("kbd", "", "Alt"), " ", element("kbd", "", "Enter"), " writes it");
  return [words, ...hint, take];
}
