// Bringing in: a file dropped or a text pasted, its chart, and what was found, line to line.

import { tell } from "./bus.js";
import { act, element, made } from "./elements.js";
import { ask } from "./server.js";

const PASTED = "What you pasted"; // in place of a file's name
const LONG = 80; // letters; what is longer is no row of a song, but a letter's
const SPACED = /\S {2,}\S/; // chords that stand over their words

export class IncomingDialog {
  #dialog; #content = null; #name = ""; #chart = made("textarea", { ariaLabel: "The chart it makes", wrap: "off", spellcheck: false }); #original = element("div", "lines"); #open = 0; #left = element("span");
  #waiting = []; #several = 0; // files brought in together are read one after the other

  constructor(dialog) {
    this.#dialog = dialog;
    this.#chart.addEventListener("pointerdown", () => { this.#chart.inputMode = "text"; });
    addEventListener("dragover", (event) => { if (event.dataTransfer?.types.includes("Files")) event.preventDefault(); });
    addEventListener("drop", (event) => {
      const files = [...event.dataTransfer?.files ?? []];
      if (!files.length) return;
      event.preventDefault();
      this.take(files);
    });
  }

  /** Asks for a file or a text. */
  open() {
    const text = made("textarea", { className: "pasted", ariaLabel: "A song pasted", placeholder: "Paste a song here as it came: chords over words, an email, …" });
    const input = made("input", { type: "file", multiple: true, ariaLabel: "A file: a score, a PDF, a saved email, a text" });
    input.addEventListener("change", () => { if (input.files.length) this.take([...input.files]); });
    const ends = made("div", { className: "ends" },
      act("Read it", () => {
        [this.#waiting, this.#several] = [[], 1];
        if (text.value.trim()) this.#read(new Blob([text.value]), PASTED);
      }),
      act("Close", () => this.#dialog.close(), ""),
    );
    this.#show("Bring in a song", element("p", "hush", "Drop files anywhere on the desk, choose some, or paste what you were sent: a score (MusicXML), a PDF, a saved email, a text."), input, text, ends);
    text.focus();
  }

  /** Reads files that were dropped or chosen, one after the other. */
  take(files) {
    [this.#waiting, this.#several] = [files, files.length];
    return this.#next();
  }

  #next() {
    const file = this.#waiting.shift();
    return file ? this.#read(file, file.name) : this.#dialog.close();
  }

  /** Which of several this is, such as ` (2 of 5)`. */
  get #which() { return this.#several > 1 ? ` (${this.#several - this.#waiting.length} of ${this.#several})` : ""; }

  /** What goes on to the next of several. */
  get #skip() { return this.#several > 1 ? [act(this.#waiting.length ? "Skip it" : "Leave it out", () => this.#next(), "")] : []; }

  async #read(content, name, part = "") {
    this.#content = content;
    this.#name = name;
    this.#show("Reading …", element("p", "hush", name));
    const answer = await ask(`/api/incoming?part=${encodeURIComponent(part)}`, content);
    if (answer.ok) return this.#judge(answer.data);
    const words = element("p", "", answer.reason), ends = element("div", "ends");
    const input = made("input", { placeholder: "a part of the score", ariaLabel: "A part of the score" });
    if (/part/.test(answer.reason)) ends.append(input, act("Read that part", () => this.#read(content, name, input.value.trim())));
    ends.append(...this.#skip, act("Back", () => this.open(), ""), act("Close", () => this.#dialog.close(), ""));
    this.#show(`${name}${this.#which} could not be read`, words, ends);
  }

  /** Original, findings and chart side by side. */
  #judge({ chart, format, original, findings }) {
    this.#chart.value = chart;
    const open = findings.filter((one) => one.kind !== "sure"), sure = findings.filter((one) => one.kind === "sure");
    this.#open = open.length;
    const column = (words, part) => made("section", {}, element("strong", "", words), part);
    const allRight = act("all of it looks right", () => { for (const one of this.#dialog.querySelectorAll(".findings li.open .right")) one.click(); }, "");
    const columns = made("div", { className: "judge" },
      column(`As it came (${format})`, this.#shown(original)),
      column("What was found", made("ol", { className: "findings" }, ...[...open, ...sure].map((one) => this.#finding(one)))), // what has to be looked at comes first
      column("The chart made from it; you can type here", this.#chart),
    );
    const ends = element("div", "ends");
    const use = this.#waiting.length ? act("Save this chart, then the next", () => this.#takeIn(true)) : act("Use this chart", () => this.#takeIn(this.#several > 1));
    ends.append(use, this.#left, ...(this.#open ? [allRight] : []), ...this.#skip, ...(this.#several > 1 ? [] : [act("Bring in another", () => this.open(), "")]), act("Close", () => this.#dialog.close(), ""));
    this.#count();
    this.#show(`${this.#name}${this.#which}`, columns, ends);
    this.#dialog.querySelector(".findings button")?.focus();
  }

  #shown(original) {
    if (original !== null) {
      const lines = original.split(/\r\n?|\n/).map((line, i, all) => {
        const row = element("div", isProse(line, all[i - 1] ?? "") ? "prose" : "", line || " ");
        row.dataset.line = i + 1;
        return row;
      });
      this.#original.replaceChildren(...lines);
      this.#original.tabIndex = 0;
      return this.#original;
    }
    if (this.#content.type !== "application/pdf") return element("p", "hush", "A score has no lines to show; places are given as measures.");
    return made("iframe", { title: "The PDF as it came", src: URL.createObjectURL(this.#content) });
  }

  #finding(one) {
    const row = element("li", one.kind === "sure" ? "sure" : "open");
    const go = act("", () => this.#point(one), "");
    go.append(element("small", "", [one.place && (one.line && !one.page ? `line ${one.line}` : one.place), KINDS[one.kind]].filter(Boolean).join(", ")), element("span", "", one.message));
    row.append(go);
    if (one.kind !== "sure") {
      const right = act("looks right", (event) => {
        const open = row.classList.toggle("open");
        event.currentTarget.ariaPressed = String(!open);
        this.#open += open ? 1 : -1;
        this.#count();
      }, "right", { ariaLabel: `looks right: ${one.message}` });
      row.append(right);
    }
    return row;
  }

  #count() {
    this.#left.className = "hush";
    this.#left.textContent = this.#open > 0 ? `${this.#open} to look at` : "nothing left to look at";
  }

  /** Shows a finding's line in the original and the row that came of it in the chart. */
  #point(one) {
    for (const row of this.#original.querySelectorAll(".at")) row.classList.remove("at");
    const line = one.line && !one.page && this.#original.querySelector(`[data-line="${one.line}"]`);
    if (!line) return;
    line.classList.add("at");
    const lines = this.#original;
    lines.scrollTop = line.offsetTop - lines.offsetTop - (lines.clientHeight - line.offsetHeight) / 2;
    if (one.kind === "left-out" && !one.chart) return; // it became no row
    const row = one.chart ? rowAt(this.#chart.value, one.chart.line) : nearestRow(line.textContent, this.#chart.value);
    if (!row) return;
    this.#chart.inputMode = "none"; // a phone shows its keys when the chart itself is touched
    this.#chart.focus({ preventScroll: true });
    this.#chart.setSelectionRange(row.start, row.end);
    const height = parseFloat(getComputedStyle(this.#chart).lineHeight);
    this.#chart.scrollTop = Math.max(0, (row.number - 4) * height);
  }

  /** A new song of the chart; of several each is saved at once. */
  #takeIn(save) {
    const text = this.#chart.value, title = text.match(/^title:\s*(.+?)\s*(#.*)?$/m)?.[1];
    if (!save) this.#dialog.close();
    tell("begin-named", { title: title ?? (this.#name === PASTED ? "song" : this.#name.replace(/\.\w+$/, "")), text, then: save ? () => this.#next() : null });
  }

  #show(title, ...parts) {
    this.#dialog.replaceChildren(made("h2", { id: "incoming-name" }, title), ...parts);
    if (!this.#dialog.open) this.#dialog.showModal();
  }
}

/** Whether a line is too long for a song's and not set in columns: it is broken where the pane ends. */
function isProse(line, above) { return line.length > LONG && !SPACED.test(line) && !SPACED.test(above); }

const KINDS = { sure: "sure", guess: "guessed", "left-out": "left out" };

/** The row of that number, from 1. */
function rowAt(text, number) {
  const rows = text.split("\n"), start = rows.slice(0, number - 1).join("\n").length + (number > 1);
  return { number: number - 1, start, end: start + (rows[number - 1] ?? "").length };
}

/** The row of a chart that holds most of a line's words. */
function nearestRow(line, text) {
  const wanted = words(line);
  let best = null, start = 0;
  text.split("\n").forEach((row, i) => {
    const there = words(row), shared = wanted.filter((word) => there.includes(word)).length;
    if (shared && shared > (best?.shared ?? 0)) best = { shared, start, end: start + row.length, number: i };
    start += row.length + 1;
  });
  return best;
}

function words(line) {
  return line.toLowerCase().replaceAll("- / ", "").replaceAll("- ", "").match(/[\p{L}\p{N}#♭♯]+/gu) ?? [];
}
