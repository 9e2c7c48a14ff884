// The open file: its name and version, what is kept and what is saved, and what to do where the
// file has changed meanwhile.

import { tell } from "./bus.js";
import { ask } from "./server.js";
import { element } from "./text.js";

const KEPT_EVERY = 200; // milliseconds at most between what is typed and its draft

export class OpenFile {
  #state; #both; #read; #name = ""; #version = ""; #saved = ""; #kept = null; #timer = 0; #trouble = ""; #refused = ""; #outside = "";
  #window = crypto.randomUUID();

  /** `read` gives the text as it stands. */
  constructor(state, both, read) {
    this.#state = state;
    this.#both = both;
    this.#read = read;
    addEventListener("beforeunload", (event) => { if (this.unsaved && this.#kept !== read()) event.preventDefault(); });
    addEventListener("pagehide", () => this.#keepNow());
  }

  get name() { return this.#name; }
  get unsaved() { return this.#name !== "" && this.#read() !== this.#saved; }

  /** Opens a file of the folder; what was typed into it and not saved comes back. */
  async open(name) {
    await this.#keepNow();
    const answer = await ask(`/api/file?name=${encodeURIComponent(name)}`);
    if (!answer.ok) return tell("trouble", answer.reason);
    const { text, version, draft } = answer.data;
    this.#name = name;
    this.#saved = text;
    this.#version = draft ? draft.version : version;
    this.#kept = draft ? draft.text : null;
    this.#outside = this.#refused = "";
    this.#trouble = draft ? "what you had typed is here, not yet saved" : "";
    tell("opened", { name, text: draft ? draft.text : text });
    if (draft && draft.version !== version) this.#show({ text, version });
    this.#write();
  }

  /** A file that is not there yet; `again` where its text stands in the pane already. */
  begin(name, text, again = false) {
    this.#keepNow(); // what was typed into another file
    this.#name = name;
    this.#version = "";
    this.#saved = "";
    this.#trouble = this.#refused = this.#outside = "";
    tell("opened", { name, text, again });
    this.typed();
  }

  /** Something was typed: it is kept beside within a second. */
  typed() {
    this.#write();
    if (!this.unsaved || this.#timer) return;
    this.#timer = setTimeout(() => { this.#timer = 0; this.#keepNow(); }, KEPT_EVERY);
  }

  async #keepNow() {
    const text = this.#read();
    if (!this.unsaved || this.#kept === text) return;
    const { name } = this, answer = await ask("/api/draft", this.#wish(text));
    if (name !== this.#name) return; // another file has been opened
    this.#kept = answer.ok ? text : null;
    this.#trouble = answer.ok ? "" : answer.reason;
    this.#write();
    if (this.#read() !== text) this.typed();
  }

  /** Writes the file, if nobody else has meanwhile. */
  async save() {
    if (!this.#name) return;
    const text = this.#read();
    const answer = await ask("/api/save", this.#wish(text));
    if (answer.status === 409) return this.#show(answer.data.stored);
    this.#refused = answer.ok ? "" : answer.reason; // stays when a draft is kept after it
    if (answer.ok) {
      this.#trouble = "";
      this.#saved = text;
      this.#version = answer.data.version;
      this.#outside = "";
      tell("saved", this.#name);
    }
    this.#write();
  }

  /** A file has changed outside: without words of ours its text is shown, else both are. */
  async changedOutside(names) {
    if (!this.#name || !names.includes(this.#name)) return;
    const answer = await ask(`/api/file?name=${encodeURIComponent(this.#name)}`);
    if (answer.status === 422 || answer.data?.version === "") {
      this.#outside = "the file is gone; saving writes it again";
      this.#version = "";
      this.#saved = "";
    } else if (answer.ok && answer.data.version !== this.#version) {
      if (!this.unsaved || answer.data.text === this.#read()) {
        this.#saved = answer.data.text;
        this.#version = answer.data.version;
        if (this.#read() !== this.#saved) tell("opened", { name: this.#name, text: this.#saved, again: true });
      } else {
        this.#outside = "the file has changed meanwhile; saving shows both";
      }
    }
    this.#write();
  }

  #wish(text) {
    return { name: this.#name, text, version: this.#version, window: this.#window };
  }

  #write() {
    const trouble = this.#refused || this.#trouble;
    const state = this.unsaved ? (this.#kept === this.#read() ? "not saved yet, a copy is kept" : "not saved yet") : "saved";
    this.#state.textContent = this.#name ? [this.#name, trouble || this.#outside || state].join(" · ") : "";
    this.#state.className = /not kept|ended|cannot/.test(trouble) ? "wrong" : "";
    document.body.classList.toggle("is-unsaved", this.unsaved);
    document.title = `${this.unsaved ? "• " : ""}${this.#name || "chartkit desk"}`;
  }

  /** Both texts side by side, where the file is not what we began from. */
  #show(stored) {
    const mine = this.#read();
    const title = element("h2", "", "The file has changed meanwhile");
    title.id = "both-name";
    const two = element("div", "two");
    two.append(side("Yours", mine, stored.text), side(stored.version ? "In the file" : "The file is gone", stored.text, mine));
    const ends = element("div", "ends");
    const settle = (version, saved) => { this.#version = version; this.#saved = saved; this.#outside = ""; this.#both.close(); };
    ends.append(
      act("Save yours over it", () => { settle(stored.version, stored.text); this.save(); }),
      act("Take the file's", () => {
        settle(stored.version, stored.text);
        ask("/api/undraft", this.#wish(mine));
        tell("opened", { name: this.#name, text: stored.text, again: true });
        this.#write();
      }),
      act("Save yours under another name", () => {
        settle(stored.version, stored.text);
        const other = this.#name.replace(/(\.\w+)$/, " (mine)$1");
        this.begin(other, mine);
        this.save();
      }),
      act("Go on writing", () => this.#both.close()),
    );
    this.#both.replaceChildren(title, two, ends);
    if (!this.#both.open) this.#both.showModal();
    for (const one of two.querySelectorAll("pre")) showFirst(one);
  }
}

/** One of two texts, the lines that the other lacks marked. */
function side(name, text, other) {
  const part = element("section");
  part.append(element("strong", "", name));
  const there = new Set(other.split("\n"));
  const lines = element("pre");
  lines.tabIndex = 0;
  for (const line of text.split("\n")) {
    lines.append(element("span", there.has(line) ? "" : "other", line), "\n");
  }
  part.append(lines);
  return part;
}

/** Scrolls to the first line that the other text lacks. */
function showFirst(lines) {
  const first = lines.querySelector(".other");
  if (first) lines.scrollTop = first.offsetTop - lines.offsetTop - lines.clientHeight / 3;
}

/** A button that does something. */
export function act(words, work, kind = "act") {
  const button = element("button", kind, words);
  button.type = "button";
  button.addEventListener("click", work);
  return button;
}
