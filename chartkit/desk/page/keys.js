// The keys: pick one, and for a singer see how each would be sung and where the capo would go.

import { tell } from "./bus.js";
import { act, element, labelled, made, redrawn, whenGiven } from "./elements.js";
import { ask, Newest } from "./server.js";

const VOICE = "voice"; // remembered from song to song

export class KeysStrip {
  #strip; #read; #chosen = null; #row = element("div", "keys"); #hush = element("p", "hush");
  #voice = made("input", { id: "voice", size: 20, placeholder: "such as alto, or A3-E5", value: localStorage.getItem(VOICE) ?? "" });
  #range = made("input", { id: "sung-range", size: 14, placeholder: "such as A3-C5" });
  #ends = element("p", "ends"); #here = ""; #newest = new Newest(() => this.#ask());

  /** `read` gives the text, `sing` writes how low and how high the song goes into it. */
  constructor(strip, read, sing) {
    this.#strip = strip;
    this.#read = read;
    this.#voice.setAttribute("list", "voices");
    whenGiven(this.#voice, () => { localStorage.setItem(VOICE, this.#voice.value.trim()); this.fill(); });
    const head = made("p", { className: "asks" }, labelled("for the voice ", this.#voice), made("datalist", { id: "voices" }), labelled("sung from ", this.#range));
    strip.append(head, this.#row, this.#hush, this.#ends);
    Object.assign(this.#row, { role: "group", ariaLabel: "Keys" });
    // Where the chart does not say how low and how high its song goes, it is asked here.
    this.#range.addEventListener("change", async () => {
      const wrong = await sing(this.#range.value.trim());
      this.#range.ariaInvalid = String(wrong !== "");
      if (wrong) this.#hush.textContent = `Not written into the chart: ${wrong}.`;
      else this.fill();
    });
  }

  /** The key to sound in; null is the chart's own. */
  get requested() { return this.#chosen; }

  back() { this.#chosen = null; this.#range.ariaInvalid = "false"; }

  /** Asks for the keys anew. */
  fill() { return this.#newest.request(); }

  async #ask() {
    const answer = await ask("/api/keys", { text: this.#read(), voice: this.#voice.value.trim() });
    if (!answer.ok) { this.#hush.textContent = answer.reason; return; }
    const { keys, voices, sung, here } = answer.data;
    if (document.activeElement !== this.#range && this.#range.ariaInvalid !== "true") this.#range.value = signed(sung ?? "");
    this.#here = here;
    const names = this.#strip.querySelector("datalist");
    names.replaceChildren(...Object.keys(voices).map((value) => made("option", { value })));
    redrawn(this.#row, () => this.#row.replaceChildren(...keys.map((key) => this.#key(key))));
    this.#hush.textContent = this.#explanation(keys, voices, sung);
    this.#write();
  }

  #explanation(keys, voices, sung) {
    if (!keys.length) return "There are no chords in this chart yet.";
    if (!sung) return "Give the lowest and the highest note that is sung in this key, such as A3-C5 (C4 is middle C), and whose voice it is for: then each key shows how well it can be sung. The chart keeps the two notes as “range:”.";
    if (!this.#voice.value.trim()) return `In this key the song goes from ${signed(sung).replace("–", " to ")}. Say whose voice it is for, and each key shows how well it can be sung.`;
    const named = voices[this.#voice.value.trim().toLowerCase()];
    const far = keys.every((key) => key.load === null) ? "The song's range is wider than this voice: no key fits it. " : "";
    const star = keys.some((key) => key.unbeaten) ? "A key with * cannot be made easier for the voice without being harder for the guitar, or the other way round. " : "";
    const guess = named ? `${signed(named)} is a rough guess (usual choral ranges, from memory): your singer's own range, such as A3-E5, is better. ` : "";
    return `${star}${far}${guess}The line under a key is the load on the voice: the shorter, the easier to sing. If singing hurts, stop; a teacher or doctor can help.`;
  }

  #key(key) {
    const button = act("", () => this.#choose(key), "key");
    const steps = key.semitones === 0 ? "as written" : `${key.semitones > 0 ? "+" : "−"}${Math.abs(key.semitones)}`;
    button.append(element("strong", "", `${key.name.replace(/ .*/, "")}${key.unbeaten ? " *" : ""}`), element("small", "", steps));
    if ("load" in key) {
      const bar = element("i", key.load === null ? "load far" : "load"), full = element("b");
      full.style.width = `${Math.min(100, Math.round((key.load ?? 1) * 100))}%`;
      bar.append(full);
      button.append(bar, element("small", "", key.load === null ? "too far" : `sung ${signed(key.sung)}`));
      button.title = key.load === null ? `${signed(key.sung)} is out of this voice's reach`
        : `load ${key.load.toFixed(2)}; ${room(key.below, "below")}, ${room(key.above, "above")}`;
    }
    button.append(element("small", "", `${key.place.replace("tuned down ", "down ")}, ${key.shapes}`));
    button.dataset.key = button.dataset.focus = key.key;
    button.dataset.name = key.name;
    return button;
  }

  #choose(key) {
    const own = key.name === this.#here;
    this.#chosen = own ? null : key.key;
    this.#write();
    tell("key-chosen", own ? null : key.capo);
  }

  #write() {
    for (const button of this.#row.children) {
      const on = this.#chosen === null ? button.dataset.name === this.#here : button.dataset.key === this.#chosen;
      button.setAttribute("aria-pressed", String(on));
    }
    const chosen = () => this.#row.querySelector('[aria-pressed="true"]');
    redrawn(this.#ends, () => this.#ends.replaceChildren(...(this.#chosen === null ? [] : [
      act("Write the chart in this key", () => tell("keep-key", this.#chosen)),
      act("back", () => { this.back(); this.#write(); tell("key-chosen", null); }, ""),
    ])), chosen);
  }
}

/** A range with true signs: A♭3–F5. */
function signed(range) {
  return range.replace(/(?<=[A-G])b/g, "♭").replace(/(?<=[A-G])#/g, "♯").replace("-", "–");
}

function room(halfSteps, where) {
  const steps = `${Math.abs(halfSteps)} half step${Math.abs(halfSteps) === 1 ? "" : "s"}`;
  return halfSteps < 0 ? `${steps} past the comfortable range ${where}` : `${steps} of room ${where}`;
}
