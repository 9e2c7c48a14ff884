// The text pane: a textarea, behind it the same text with its rows told apart and mistakes
// underlined, beside it the numbers of the rows. The text is kept here and nowhere else.

import { tell } from "./bus.js";
import { element } from "./elements.js";
import { difference, follow } from "./places.js";

const SPARE_ROWS = 12; // drawn above and below what is seen
const PROBE_LETTERS = 50;
const PARTS = /("[^"]*")|((?<![^\s|])#.*$)|([|:{}%]+)/g;

export class TextPane {
  #area; #shown; #numbers; #marks = []; #marked = ""; #rows = [""]; #byHand = true;

  constructor(area, shown, numbers) {
    this.#area = area;
    this.#shown = shown;
    this.#numbers = numbers;
    area.addEventListener("input", () => this.#changed());
    area.addEventListener("scroll", () => this.#paint());
    document.addEventListener("selectionchange", () => {
      if (document.activeElement === area) tell("caret", this.caret);
    });
    new ResizeObserver(() => this.#paint()).observe(area);
  }

  get text() { return this.#area.value; }
  get caret() { return this.#area.selectionStart; }
  get element() { return this.#area; }
  /** Whether what is being typed comes from the keys and not from a control. */
  get byHand() { return this.#byHand; }

  /** Another text altogether, such as that of another file; undo does not go back past it. */
  show(text) {
    this.#area.value = text;
    this.#marks = [];
    this.#area.setSelectionRange(0, 0);
    this.#area.scrollTo(0, 0);
    this.#changed();
  }

  /** Types in place of what stands between two units, so that undo takes it back. */
  type(start, end, text) {
    const area = this.#area;
    area.style.visibility = "visible"; // where the page alone is shown, what is hidden takes no focus
    area.focus();
    area.setSelectionRange(start, end);
    const [command, before] = [text ? "insertText" : "delete", this.text];
    this.#byHand = false;
    if (document.activeElement === area) document.execCommand(command, false, text);
    this.#byHand = true;
    if (this.text === before && before.slice(start, end) !== text) {
      area.setRangeText(text, start, end, "end");
      this.#changed();
    }
    area.style.visibility = "";
  }

  /** The whole text typed anew where it differs, the caret kept on its row. */
  replace(text, focus = true) {
    const active = document.activeElement, before = this.text;
    if (before === text) return;
    const { start, end } = difference(before, text);
    const row = before.slice(0, this.caret).split("\n").length - 1;
    this.type(start, before.length - end, text.slice(start, text.length - end));
    if (focus) this.go(this.#startOf(row));
    else active?.focus();
  }

  /** Puts the caret at a unit, or selects up to another, and brings it into sight. */
  go(start, end = start, focus = true) {
    const area = this.#area;
    if (focus) area.focus({ preventScroll: true });
    area.setSelectionRange(start, end);
    const row = this.text.slice(0, start).split("\n").length - 1;
    const height = this.#rowHeight, top = row * height;
    if (top < area.scrollTop || top > area.scrollTop + area.clientHeight - 3 * height) {
      area.scrollTop = Math.max(0, top - area.clientHeight / 3);
    }
    const column = start - this.#startOf(row);
    const left = column * this.letterWidth;
    if (left < area.scrollLeft || left > area.scrollLeft + area.clientWidth - 40) {
      area.scrollLeft = Math.max(0, left - area.clientWidth / 2);
    }
    tell("caret", start);
  }

  /** Underlines mistakes: places in units of the text that was read. */
  mark(mistakes, text) {
    const none = !mistakes.length && !this.#marks.length;
    this.#marks = mistakes;
    this.#marked = text;
    this.#follow();
    if (!none) this.#paint();
  }

  get #rowHeight() { return parseFloat(getComputedStyle(this.#area).lineHeight); }

  /** The width of a letter as it is drawn, in pixels. */
  get letterWidth() {
    const probe = element("span", "", "0".repeat(PROBE_LETTERS));
    this.#shown.append(probe);
    const { width } = probe.getBoundingClientRect();
    probe.remove();
    return width / PROBE_LETTERS;
  }

  /** Where the caret is drawn, in pixels from the pane's corner: its row's foot. */
  get caretPlace() {
    const before = this.text.slice(0, this.caret), row = before.split("\n").length - 1;
    const column = before.length - before.lastIndexOf("\n") - 1;
    return {
      left: column * this.letterWidth - this.#area.scrollLeft,
      top: (row + 1) * this.#rowHeight + 11 - this.#area.scrollTop,
      row: this.#rowHeight,
    };
  }

  #startOf(row) {
    let start = 0;
    while (row-- > 0) {
      const end = this.text.indexOf("\n", start);
      if (end < 0) return start;
      start = end + 1;
    }
    return start;
  }

  #changed() {
    this.#rows = this.text.split("\n");
    this.#follow();
    this.#paint();
    tell("text", this.text);
  }

  #follow() {
    const text = this.text;
    if (this.#marked === text) return;
    this.#marks = this.#marks.map((one) => follow(one, this.#marked, text)).filter(Boolean);
    this.#marked = text;
  }

  /** Only the rows in sight are drawn: a chart may have twenty thousand. */
  #paint() {
    const area = this.#area, height = this.#rowHeight;
    const first = Math.max(0, Math.floor(area.scrollTop / height) - SPARE_ROWS);
    const last = Math.min(this.#rows.length, Math.ceil((area.scrollTop + area.clientHeight) / height) + SPARE_ROWS);
    let start = 0;
    for (let i = 0; i < first; i++) start += this.#rows[i].length + 1;
    const rows = [], numbers = [];
    for (let i = first; i < last; i++) {
      rows.push(this.#row(this.#rows[i], start));
      start += this.#rows[i].length + 1;
      numbers.push(element("div", "", String(i + 1)));
    }
    this.#shown.replaceChildren(...rows);
    this.#numbers.replaceChildren(...numbers);
    const y = first * height - area.scrollTop;
    this.#shown.style.transform = `translate(${-area.scrollLeft}px, ${y}px)`;
    numbers.forEach((one) => { one.style.transform = `translateY(${y}px)`; });
  }

  #row(text, start) {
    const row = element("div", kindOf(text));
    const end = start + text.length;
    const marks = this.#marks.filter((one) => one.start <= end && one.end >= start);
    let at = 0;
    for (const [from, to, kind] of parts(text)) {
      if (from > at) this.#stretch(row, text, at, from, "", start, marks);
      this.#stretch(row, text, from, to, kind, start, marks);
      at = to;
    }
    if (at < text.length || !text.length) this.#stretch(row, text, at, text.length, "", start, marks);
    const beyond = marks.find((one) => one.start >= end && one.start <= end);
    if (beyond) row.append(element("span", `blank ${beyond.severity}`, " "));
    return row;
  }

  /** A stretch of one kind, cut where mistakes begin and end. */
  #stretch(row, text, from, to, kind, start, marks) {
    const cuts = new Set([from, to]);
    for (const one of marks) {
      for (const place of [one.start - start, one.end - start]) if (place > from && place < to) cuts.add(place);
    }
    const places = [...cuts].sort((a, b) => a - b);
    for (let i = 0; i + 1 < places.length; i++) {
      const mark = marks.find((one) => one.start - start <= places[i] && one.end - start >= places[i + 1]);
      const named = [kind, mark?.severity].filter(Boolean).join(" ");
      row.append(named ? element("span", named, text.slice(places[i], places[i + 1])) : text.slice(places[i], places[i + 1]));
    }
  }
}

/** What kind of row it is, by how it begins. */
function kindOf(row) {
  if (/^\s*==/.test(row) || /^\s*\[\[?[\w.]+\]\]?\s*(#.*)?$/.test(row)) return "heading";
  if (/^\s*#/.test(row)) return "comment";
  return /^\s*[A-Za-z][A-Za-z -]*:(?!\|)/.test(row) ? "setting" : "";
}

function* parts(row) {
  if (kindOf(row) === "comment") return;
  const kinds = ["cue", "comment", "sign"];
  for (const match of row.matchAll(PARTS)) {
    const kind = kinds[match.slice(1).findIndex((one) => one !== undefined)];
    if (kind === "cue" && kindOf(row) === "setting") continue;
    if (kind === "sign" && /^\s*(\d+\.?)?:/.test(row) === false && !row.includes("|")) continue;
    yield [match.index, match.index + match[0].length, kind];
  }
}
