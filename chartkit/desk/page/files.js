// The open file: its name and version, what is kept and what is saved, and what to do where the
// file has changed meanwhile.

import { tell } from "./bus.js";
import { act, element, made } from "./elements.js";
import { ask } from "./server.js";

const GONE = [0, 403]; // a desk that has ended, one that was started again and has another key
const LAST_TYPED = "last-typed", LONGEST_LAST = 300_000; // letters
const KEPT_EVERY = 200; // milliseconds from one draft to the next while keys are pressed
const ASKED_AGAIN = 2000; // milliseconds until a desk that has ended is looked for again

export class OpenFile {
  #state; #door; #both; #read; #name = ""; #version = ""; #saved = ""; #kept = null; #timer = 0; #sentAt = -KEPT_EVERY; #sending = 0; #trouble = ""; #refused = ""; #outside = ""; #note = "";
  #others = []; // what was typed into the file in other windows and not saved
  #inherited = null; // the draft of an earlier window that is gone on with
  #saving = null; // the text on its way into the file
  #window = crypto.randomUUID();

  /** `door` leads to what is not saved, or to what can be done with the file; `read` gives the text as it stands. */
  constructor(state, door, both, read) {
    this.#state = state;
    this.#door = door;
    door.addEventListener("click", async () => {
      if (this.#others.length) await this.#readOthers();
      if (this.unsaved || this.#others.length) this.#compare();
      else tell("file-asked", { name: this.#name, version: this.#version });
    });
    this.#both = both;
    this.#read = read;
    addEventListener("beforeunload", (event) => { if (this.unsaved && this.#kept !== read()) event.preventDefault(); });
    addEventListener("pagehide", () => this.#keepNow());
  }

  get name() { return this.#name; }
  /** Whether the file was never saved. */
  get #begun() { return this.#version === "" && this.#saved === ""; }
  get unsaved() { return this.#name !== "" && this.#read() !== this.#saved; }

  /** Opens a file of the folder; what was typed into it and not saved comes back. */
  async open(name) {
    await this.#keepNow();
    const answer = await ask(`/api/file?name=${encodeURIComponent(name)}`);
    if (!answer.ok) return tell("trouble", answer.reason);
    this.#keepNow(); // what was typed meanwhile
    const { text, version } = answer.data, draft = newest(answer.data);
    this.#become(name, text, draft ? draft.version : version);
    this.#others = othersIn(answer.data, draft?.text ?? text);
    if (draft) {
      this.#kept = draft === answer.data.draft ? draft.text : null;
      this.#inherited = { window: draft.window, time: draft.time };
      this.#note = "from last time, not yet saved";
    }
    tell("opened", { name, text: draft ? draft.text : text });
    if (draft && draft.version !== version) this.#show({ text, version });
    this.#write();
  }

  /** A file that is not there yet; `again` where its text stands in the pane already. */
  begin(name, text, again = false) {
    this.#keepNow(); // what was typed into another file
    this.#become(name);
    tell("opened", { name, text, again });
    this.typed();
  }

  /** Another file is open, or none; nothing that was said or kept of the one before is true of it. */
  #become(name, saved = "", version = "") {
    this.#name = name;
    this.#saved = saved;
    this.#version = version;
    this.#kept = this.#inherited = null;
    this.#others = [];
    this.#trouble = this.#refused = this.#outside = this.#note = "";
  }

  /** Something was typed: it is kept beside within a second.  It is sent in the key's own turn,
   * since on a busy machine a timer comes late; while an answer is awaited, the newest text waits. */
  typed() {
    this.#write();
    this.#remember();
    clearTimeout(this.#timer);
    if (this.#sending || this.#saving !== null) return; // what is under way calls again
    if (!this.unsaved) { // what was typed is taken back
      if (this.#kept !== null) this.#undraft(this.#read());
      return;
    }
    const rest = this.#sentAt + KEPT_EVERY - performance.now();
    if (rest > 0) this.#timer = setTimeout(() => this.typed(), rest);
    else this.#keepNow();
  }

  async #keepNow() {
    const text = this.#read(), { name } = this;
    if (!this.unsaved || this.#kept === text) return;
    this.#sentAt = performance.now();
    this.#sending++;
    const answer = await ask("/api/draft", this.#request(text));
    this.#sending--;
    if (name !== this.#name) return this.typed(); // another file has been opened
    this.#kept = answer.ok ? text : null;
    if (answer.ok) this.#inherited = null;
    this.#trouble = answer.ok ? "" : answer.reason;
    this.#note = "";
    this.#write();
    if (this.#read() !== text) this.typed();
    else if (answer.ok) localStorage.removeItem(LAST_TYPED);
    else if (GONE.includes(answer.status)) this.#timer = setTimeout(() => this.typed(), ASKED_AGAIN);
  }

  /** What is typed stays in the browser until its draft is kept: the desk may end before that. */
  #remember() {
    const text = this.#read();
    if (!this.unsaved || text === this.#kept || text.length > LONGEST_LAST) return;
    localStorage.setItem(LAST_TYPED, JSON.stringify({ name: this.#name, text, version: this.#version, window: this.#window, time: Date.now() / 1000, saving: this.#saving }));
  }

  /** Writes the file, if nobody else has meanwhile. */
  async save() {
    if (!this.#name) return;
    const { name } = this, text = this.#read();
    this.#saving = text;
    const answer = await ask("/api/save", this.#request(text));
    this.#saving = null;
    if (name !== this.#name) { // another file has been opened
      if (answer.ok) tell("saved", name);
      else tell("trouble", `${name} is not saved: ${answer.reason}`);
      return this.typed();
    }
    if (answer.status === 409) this.#show(answer.data.stored);
    else this.#answered(answer, text);
    this.typed(); // what came meanwhile
  }

  #answered(answer, text) {
    this.#refused = answer.ok ? "" : answer.reason; // stays when a draft is kept after it
    if (answer.ok) {
      this.#trouble = this.#note = "";
      this.#inherited = this.#kept = null;
      this.#saved = text;
      this.#version = answer.data.version;
      this.#others = this.#others.filter((one) => one.text !== text);
      this.#outside = "";
      if (this.#read() === text) localStorage.removeItem(LAST_TYPED);
      tell("saved", this.#name);
    }
  }

  /** Saves the draft of a file that is not open.  Where the file has changed meanwhile, it is opened, and both are shown. */
  async saveOther(name) {
    const read = await ask(`/api/file?name=${encodeURIComponent(name)}`);
    if (!read.ok) tell("trouble", read.reason);
    if (!read.ok || !read.data.draft) return read.ok;
    const { text, version, window, time } = read.data.draft;
    const answer = await ask("/api/save", { name, text, version, window: this.#window, inherited: { window, time } });
    if (answer.status === 409) this.open(name);
    else if (!answer.ok) tell("trouble", answer.reason);
    return answer.ok;
  }

  /** A file has changed outside: without words of ours its text is shown, else both are. */
  async changedOutside(names) {
    const { name } = this;
    if (!name || !names.includes(name)) return;
    const answer = await ask(`/api/file?name=${encodeURIComponent(name)}`);
    if (name !== this.#name) return; // another file has been opened
    if (answer.ok) this.#others = this.#othersNow(answer.data);
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

  async #readOthers() {
    const { name } = this, answer = await ask(`/api/file?name=${encodeURIComponent(name)}`);
    if (answer.ok && name === this.#name) this.#others = this.#othersNow(answer.data);
    this.#write();
  }

  #othersNow(read) {
    const own = [this.#window, this.#inherited?.window];
    return othersIn(read, this.#read()).filter((one) => !own.includes(one.window));
  }

  #request(text) {
    return { name: this.#name, text, version: this.#version, window: this.#window, inherited: this.#inherited };
  }

  #write() {
    const trouble = this.#refused || this.#trouble;
    const state = this.unsaved ? (this.#kept === this.#read() ? "not saved yet, a copy is kept" : "not saved yet") : "saved";
    const texts = this.#others.length + (this.unsaved ? 1 : 0);
    // The name alone is cut short where there is no room.
    this.#state.replaceChildren(...(this.#name ? [element("span", "name", this.#name), element("span", "", ` · ${trouble || this.#outside || this.#note || state}`)] : []));
    this.#door.hidden = !this.#name;
    this.#door.textContent = this.#others.length ? `${texts} text${texts === 1 ? "" : "s"} not saved` : !this.unsaved ? "rename, delete" : this.#begun ? "throw away …" : "what changed";
    this.#state.className = /not kept|ended|cannot/.test(trouble) ? "wrong" : "";
    document.body.classList.toggle("is-unsaved", this.unsaved);
    document.title = `${this.unsaved ? "• " : ""}${this.#name || "chartkit desk"}`;
  }

  /** What is typed beside what is saved, and what was typed in other windows. */
  #compare() {
    const mine = this.#read(), { unsaved } = this, begun = this.#begun;
    const own = begun ? [side("What you typed; no file has it", mine, mine)] : [side("Yours", mine, this.#saved), side("In the file", this.#saved, mine)];
    const back = () => { this.#undraft(mine); tell("opened", { name: this.#name, text: this.#saved, again: true }); this.#write(); };
    const answers = begun
      ? [["Throw it away", () => { this.#undraft(mine); this.leave(); tell("thrown-away"); }]]
      : [["Save yours", () => this.save()], ["Back to what is saved", back]];
    const others = this.#others.flatMap((one) => [[`Go on with that of ${timeOf(one)}`, () => this.#takeUp(one)], [`Throw that of ${timeOf(one)} away`, () => this.#throwAway(one)]]);
    const texts = [...(unsaved ? own : [side("In the file", mine, mine)]), ...this.#others.map((one) => side(`Typed in another window, ${timeOf(one)}`, one.text, mine))];
    const title = this.#others.length ? "Texts that are not saved" : begun ? "Throw this away?" : "Not saved yet";
    this.#ask(title, texts, [...(unsaved ? answers : []), ...others].map(([words, work]) => act(words, () => { this.#both.close(); work(); })));
  }

  /** Goes on with a text from another window; the one that stands here is then the other one. */
  async #takeUp(one) {
    await this.#keepNow();
    const mine = { text: this.#read(), version: this.#version, time: Date.now() / 1000, window: this.#window, ...this.#inherited };
    this.#others = [...this.#others.filter((other) => other !== one), ...(this.unsaved ? [mine] : [])];
    this.#window = crypto.randomUUID();
    this.#version = one.version;
    this.#inherited = { window: one.window, time: one.time };
    this.#kept = one.text;
    tell("opened", { name: this.#name, text: one.text, again: true });
    this.#write();
  }

  #throwAway(one) {
    ask("/api/undraft", { name: this.#name, text: one.text, version: one.version, window: one.window });
    this.#others = this.#others.filter((other) => other !== one);
    this.#write();
  }

  /** The file is gone: no file is open. */
  leave() {
    this.#become("");
    this.#write();
  }

  #undraft(text) {
    ask("/api/undraft", this.#request(text));
    this.#inherited = this.#kept = null;
    this.#trouble = this.#refused = this.#note = "";
    localStorage.removeItem(LAST_TYPED);
    this.#write();
  }

  /** Both texts side by side, where the file is not what we began from. */
  #show(stored) {
    const mine = this.#read();
    const settle = (version, saved) => { this.#version = version; this.#saved = saved; this.#outside = ""; this.#both.close(); };
    const texts = [side("Yours", mine, stored.text), side(stored.version ? "In the file" : "The file is gone", stored.text, mine)];
    this.#ask("The file has changed meanwhile", texts, [
      act("Save yours over it", () => { settle(stored.version, stored.text); this.save(); }),
      act("Take the file's", () => {
        settle(stored.version, stored.text);
        this.#undraft(mine);
        tell("opened", { name: this.#name, text: stored.text, again: true });
        this.#write();
      }),
      act("Save yours under another name", () => {
        settle(stored.version, stored.text);
        const other = this.#name.replace(/(\.\w+)$/, " (mine)$1");
        this.begin(other, mine);
        this.save();
      }),
    ]);
  }

  /** Shows texts side by side, and what can be done with them. */
  #ask(words, texts, answers) {
    const sides = made("div", { className: texts.length > 1 ? "two" : "one" }, ...texts);
    const ends = made("div", { className: "ends" }, ...answers, act("Go on writing", () => this.#both.close()));
    this.#both.replaceChildren(made("h2", { id: "both-name" }, words), sides, ends);
    if (!this.#both.open) this.#both.showModal();
    for (const one of sides.querySelectorAll("pre")) showFirst(one);
  }
}

/** The words of a file that were typed last and not saved: those of its draft, or those that the
 * desk ended too early to keep. */
function newest({ name, text, version, draft }) {
  let last = null;
  try { last = JSON.parse(localStorage.getItem(LAST_TYPED)); } catch { /* what is no JSON is not ours */ }
  if (!last || last.name !== name || last.text === text) return draft;
  if (last.saving === text) return { ...last, version }; // the desk ended as it had written the file
  if (last.version !== (draft ?? { version }).version) return draft;
  if (draft && last.window !== draft.window && last.time < draft.time) return draft;
  return { ...last, time: Math.max(last.time, draft?.time ?? 0) };
}

/** The texts that were typed into a file and not saved, but for one. */
function othersIn({ draft, others }, text) { return [draft, ...others].filter((one) => one && one.text !== text); }

/** One of two texts, the lines that the other lacks marked. */
function side(name, text, other) {
  const there = new Set(other.split("\n"));
  const lines = text.split("\n").flatMap((line) => [element("span", there.has(line) ? "" : "other", line), "\n"]);
  return made("section", {}, element("strong", "", name), made("pre", { tabIndex: 0 }, ...lines));
}

/** When a text was typed. */
function timeOf({ time }) { return new Date(time * 1000).toLocaleString([], { dateStyle: "short", timeStyle: "short" }); }

/** Scrolls to the first line that the other text lacks. */
function showFirst(lines) {
  const first = lines.querySelector(".other");
  if (first) lines.scrollTop = first.offsetTop - lines.offsetTop - lines.clientHeight / 3;
}
