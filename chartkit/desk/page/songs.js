// The songs of the folder: found as you type, a new one, the examples for an empty folder.

import { tell } from "./bus.js";
import { act, element, labelled, made, redrawn, whenEntered } from "./elements.js";
import { ask } from "./server.js";

const MOST_SHOWN = 200;
const FIRST_SONGS = 20; // of a folder that has no more, all are in a new set

export class SongsList {
  #dialog; #files = []; #deleted = []; #folder = ""; #search = made("input", { type: "search", placeholder: "title, writer or file", ariaLabel: "Find a song" }); #list = element("ul", "list"); #hush = element("p", "hush");

  constructor(dialog) {
    this.#dialog = dialog;
    this.#search.addEventListener("input", () => this.#fill());
    whenEntered(this.#search, () => this.#list.querySelector("button")?.click());
    this.#search.addEventListener("keydown", (event) => { if (event.key === "ArrowDown") this.#list.querySelector("button")?.focus(); });
    this.#list.addEventListener("keydown", (event) => this.#step(event));
  }

  get charts() { return this.#files.filter((one) => one.kind === "chart"); }
  get sets() { return this.#files.filter((one) => one.kind === "set"); }
  /** The saved songs; a guitar's part is none. */
  get #savedSongs() { return this.charts.filter((one) => one.there && !one.part); }

  /** Reads the folder anew. */
  async read() {
    const answer = await ask("/api/files");
    if (!answer.ok) return tell("trouble", answer.reason);
    this.#files = answer.data.files;
    this.#folder = answer.data.folder;
    this.#deleted = answer.data.deleted;
    if (this.#dialog.open) this.#fill();
  }

  /** Opens the list. */
  open() {
    const empty = !this.#files.length;
    const begin = [
      act("A new song", () => this.#begin()),
      act("Bring in an email, a score or a PDF", () => { this.#dialog.close(); tell("bring-in"); }),
    ];
    if (this.#savedSongs.length) begin.push(act("A new night", () => { this.#dialog.close(); this.beginSet(); }));
    if (!this.charts.length) begin.push(act("Copy the example songs here", () => this.#examples()));
    if (this.#deleted.length) begin.push(act("Deleted songs", () => this.#showDeleted(), ""));
    this.#search.value = "";
    this.#search.hidden = empty;
    this.#shows(empty ? "No songs here yet" : `Songs in the folder “${this.#folder}”`, [this.#search, this.#hush, this.#list], [...begin, act("Close", () => this.#dialog.close(), "")]);
    this.#fill();
    if (!this.#dialog.open) this.#dialog.showModal();
    (empty ? begin[0] : this.#search).focus();
  }

  #shows(title, parts, ends) {
    this.#dialog.replaceChildren(made("h2", { id: "songs-name" }, title), ...parts, made("div", { className: "ends" }, ...ends));
  }

  /** Opens the list, and reads the folder anew while it is looked at. */
  async show() {
    this.open();
    await this.read();
  }

  #fill() {
    const words = this.#search.value.toLowerCase().split(/\s+/).filter(Boolean);
    const matches = [...this.charts, ...this.sets].filter((one) => {
      const all = `${one.title} ${one.writer} ${one.name}`.toLowerCase();
      return words.every((word) => all.includes(word));
    });
    // What the title itself says comes first: a writer's name is in many songs.
    const far = ({ title }) => (words.every((word) => title.toLowerCase().includes(word)) ? 0 : 1);
    matches.sort((a, b) => far(a) - far(b));
    this.#hush.textContent = this.#files.length ? "" : `Songs are kept as files in the folder “${this.#folder}”. Begin with one of these:`;
    if (this.#files.length && !matches.length) this.#hush.textContent = "No song or set has these words in its title, writer or file name.";
    if (matches.length > MOST_SHOWN) this.#hush.textContent = `${matches.length} songs; the first ${MOST_SHOWN} are shown`;
    redrawn(this.#list, () => this.#list.replaceChildren(...matches.slice(0, MOST_SHOWN).map((one) => this.#row(one))));
  }

  #row(one) {
    const button = act("", () => { this.#dialog.close(); tell("open", one.name); }, "", { focus: one.name });
    button.append(element("span", "what", one.title || one.name), element("span", "more", one.kind === "set" ? "a night's set" : [one.part.split(":")[0], one.writer].filter(Boolean).join(" · ")), element("span", "more", [one.title && one.name, one.unsaved && (one.unsaved > 1 ? `${one.unsaved} texts, not saved yet` : "not saved yet")].filter(Boolean).join(" · ")));
    return made("li", {}, button);
  }

  #step(event) {
    const buttons = [...this.#list.querySelectorAll("button")], at = buttons.indexOf(document.activeElement);
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!step) return;
    event.preventDefault();
    (buttons[at + step] ?? (step < 0 ? this.#search : buttons[at])).focus();
  }

  /** What was deleted and is kept. */
  #showDeleted() {
    const list = made("ul", { className: "list" }, ...this.#deleted.map((name) => made("li", {}, act(`take back ${name}`, () => this.#takeBack(name), ""))));
    this.#shows("Deleted songs", [this.#hush, list], [act("Back", () => this.open(), "")]);
    this.#hush.textContent = "They are kept in the folder “.deleted” beside your songs.";
    list.querySelector("button").focus();
  }

  async #takeBack(name) {
    const answer = await ask("/api/take-back", { name });
    if (!answer.ok) return void (this.#hush.textContent = answer.reason);
    await this.read();
    this.#dialog.close();
    tell("open", answer.data.name);
  }

  async #examples() {
    const answer = await ask("/api/examples", {});
    if (!answer.ok) return void (this.#hush.textContent = answer.reason);
    await this.read();
    this.open();
  }

  #begin() {
    const name = made("input", { id: "new-title" });
    this.read(); // the names that are taken
    const go = () => {
      const title = name.value.trim() || "Untitled";
      this.#dialog.close();
      tell("begin", { name: this.free(title), text: `title: ${title.replaceAll("#", "\\#")}\nkey: \nmeter: 4/4\n\n== Verse 1\n| ` });
    };
    whenEntered(name, go);
    this.#shows("A new song", [labelled("Its title ", name)], [act("Begin", go), act("Back", () => this.open(), "")]);
    name.focus();
  }

  /** A set of the folder's charts, to be changed: all of a few, else the first one alone. */
  beginSet() {
    const charts = this.#savedSongs;
    if (!charts.length) return tell("trouble", "A night is made of saved songs: save one first.");
    const songs = charts.slice(0, charts.length > FIRST_SONGS ? 1 : charts.length).map((one) => `[[songs]]\nchart = "${one.name.replace(/["\\]/g, "\\$&")}"\n`);
    const text = `name = "Our night"\n\n[[players]]\nname = "Guitar"\nreads = "both"\ninstrument = "guitar"\n\n${songs.join("\n")}`;
    tell("begin", { name: this.free("night", ".toml"), text });
  }

  /** A name of a file that no other has. */
  free(title, suffix = ".chart") {
    const plain = plainName(title);
    const taken = new Set(this.#files.map((one) => one.name));
    let name = `${plain}${suffix}`;
    for (let i = 2; taken.has(name); i++) name = `${plain}-${i}${suffix}`;
    return name;
  }
}

/** A title as the name of a file. */
export function plainName(title) {
  return title.toLowerCase().normalize("NFKD").replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 60) || "song";
}
