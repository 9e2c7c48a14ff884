// Completion: settings and their values, names of sections, chords of the song, qualities, marks.

import { made } from "./elements.js";
import { ask } from "./server.js";

const MOST_OFFERED = 8;
const CHORD = /^[A-G](?:bb|##|[b#♭♯])?[^\s|,/!~<>()%@":]*(?:\/[A-G][b#]?)?/;

export class Completion {
  #pane; #list; #wanted; #words = null; #offers = []; #chosen = -1;

  /** `pane` is the text pane, `list` the box of what is offered, `wanted` says whether now. */
  constructor(pane, list, wanted) {
    this.#wanted = wanted;
    this.#pane = pane;
    this.#list = list;
    const area = pane.element;
    area.addEventListener("input", (event) => { if (pane.byHand && event.inputType?.startsWith("insert")) this.#offer(); else this.#close(); });
    area.addEventListener("keydown", (event) => this.#key(event));
    area.addEventListener("blur", () => this.#close());
    area.addEventListener("scroll", () => this.#close());
    list.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      const at = [...list.children].indexOf(event.target.closest("li"));
      if (at >= 0) this.#take(at);
    });
  }

  /** Offers what may stand at the caret. */
  open() { return this.#offer(true); }

  async #offer(asked = false) {
    if (!this.#wanted()) return;
    if (!this.#words) {
      const answer = await ask("/api/vocabulary");
      if (!answer.ok) return;
      this.#words = answer.data;
    }
    const inWord = /[\p{L}\p{N}#♭♯]/u.test(this.#pane.text[this.#pane.caret] ?? "");
    const { typed, words } = inWord ? { typed: "", words: [] } : this.#context(asked);
    this.#offers = [...new Set(words)].filter((word) => word.toLowerCase().startsWith(typed.toLowerCase()) && word !== typed)
      .slice(0, MOST_OFFERED).map((word) => ({ word, typed }));
    if (!this.#offers.length) return this.#close();
    this.#show();
  }

  /** What has been typed of a word, and the words that may stand there. */
  #context(asked) {
    const text = this.#pane.text, caret = this.#pane.caret;
    const row = text.slice(text.lastIndexOf("\n", caret - 1) + 1, caret);
    const none = { typed: "", words: [] };
    const heading = row.match(/^\s*==\s*(?:.*\sas\s+)?(.*)$/);
    if (heading) {
      const others = text.slice(0, caret - row.length) + text.slice(caret);
      const own = [...others.matchAll(/^\s*==\s*([^\n]*?)(?:\s+as\s.*|\s+x\d+)?$/gm)].map((one) => one[1]);
      const words = /\sas\s/.test(row) ? own : [...withMusicOf(own), ...own, ...this.#words.sections];
      return { typed: heading[1], words: asked || heading[1] ? [...new Set(words)].filter(Boolean) : words };
    }
    const value = row.match(/^([a-z]+):\s*(.*)$/);
    if (value) return { typed: value[2], words: this.#words.settings[value[1]] ?? [] };
    if (/^[a-z]*$/.test(row) && (row || asked)) return { typed: row, words: Object.keys(this.#words.settings).map((one) => `${one}: `) };
    if (/^\s*(\d+\.?)?:/.test(row)) return none;
    const mark = row.match(/@[\w. -]*$/);
    if (mark) return { typed: mark[0], words: this.#words.marks };
    const word = row.match(/[^\s|,<(]*$/)[0];
    if (!/^[A-G]/.test(word)) return none;
    return { typed: word, words: [...this.#used(text, caret, word), ...this.#qualities(word)] };
  }

  /** Chords that the song has already, in order of appearance. */
  #used(text, caret, word) {
    const rows = (text.slice(0, caret - word.length) + text.slice(caret)).split("\n").filter((row) => row.includes("|") && !/^\s*(\d+\.?)?:/.test(row));
    const chords = rows.flatMap((row) => row.split(/[\s|,<(]+/)).map((one) => one.match(CHORD)?.[0]).filter(Boolean);
    return [...new Set(chords)];
  }

  #qualities(word) {
    const root = word.match(/^[A-G](?:bb|##|[b#♭♯])?/)[0];
    return word.includes("/") ? [] : this.#words.qualities.filter(Boolean).map((quality) => root + quality);
  }

  #show() {
    const { left, top, row } = this.#pane.caretPlace, list = this.#list;
    this.#chosen = -1;
    list.replaceChildren(...this.#offers.map(({ word }, i) => made("li", { id: `offer-${i}`, role: "option", ariaSelected: "false" }, word)));
    list.hidden = false;
    const room = list.parentElement.clientHeight, high = list.offsetHeight;
    list.style.left = `${Math.max(0, Math.min(left, list.parentElement.clientWidth - list.offsetWidth - 4))}px`;
    list.style.top = `${top + high > room ? Math.max(0, top - row - high) : top}px`;
    this.#pane.element.setAttribute("aria-controls", list.id);
  }

  #close() {
    this.#list.hidden = true;
    this.#offers = [];
    this.#pane.element.removeAttribute("aria-activedescendant");
  }

  #key(event) {
    if (event.key === " " && event.ctrlKey) {
      event.preventDefault();
      this.#offer(true);
    }
    if (this.#list.hidden || event.altKey || event.ctrlKey || event.metaKey) return;
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (event.key === "Escape") this.#close();
    else if (event.key === "Tab" && !event.shiftKey) this.#take(Math.max(0, this.#chosen));
    else if (event.key === "Enter" && this.#chosen >= 0) this.#take(this.#chosen);
    else if (step) this.#choose((this.#chosen + step + this.#offers.length) % this.#offers.length);
    else {
      if (["ArrowLeft", "ArrowRight", "Home", "End", "Enter"].includes(event.key)) this.#close();
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  }

  #choose(at) {
    this.#chosen = at;
    [...this.#list.children].forEach((one, i) => { one.ariaSelected = String(i === at); });
    this.#list.children[at].scrollIntoView({ block: "nearest" });
    this.#pane.element.setAttribute("aria-activedescendant", `offer-${at}`);
  }

  #take(at) {
    const { word, typed } = this.#offers[at], caret = this.#pane.caret;
    this.#close();
    this.#pane.type(caret - typed.length, caret, word);
    this.#offer(); // a setting's values, after its name
  }
}

/** What sings new words to music that is there, or plays over it: Verse 3 as Verse 1, Solo as Verse 1. */
function withMusicOf(own) {
  const numbered = own.map((name) => name?.match(/^(.*\S)\s+(\d+)$/)).filter(Boolean), firsts = new Map(), lasts = new Map();
  for (const [name, kind, number] of numbered) {
    if (!firsts.has(kind)) firsts.set(kind, name);
    lasts.set(kind, Math.max(lasts.get(kind) ?? 0, Number(number)));
  }
  const verses = [...firsts].map(([kind, first]) => `${kind} ${lasts.get(kind) + 1} as ${first}`);
  return firsts.size ? [...verses, `Solo as ${[...firsts.values()][0]}`] : [];
}
