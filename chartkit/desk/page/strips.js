// Strips: what the doors in the head open, one at a time, under the neck.

export class Strips {
  #place; #doors = new Map(); #open = "";

  /** `place` is where strips stand. */
  constructor(place) {
    this.#place = place;
    addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || event.defaultPrevented || !this.#open || document.querySelector("dialog[open]")) return;
      if (place.contains(document.activeElement)) this.#doors.get(this.#open).door.focus();
      this.close();
    });
  }

  /** A door that opens a strip; `entered` is called each time it opens. */
  add(door, strip, entered = () => {}) {
    this.#doors.set(door.id, { door, strip, entered });
    this.#place.append(strip);
    strip.hidden = true;
    door.ariaExpanded = "false";
    door.setAttribute("aria-controls", strip.id);
    door.addEventListener("click", () => (this.#open === door.id ? this.close() : this.open(door.id)));
  }

  isOpen(id) { return this.#open === id; }

  open(id) {
    this.close();
    const { door, strip, entered } = this.#doors.get(id);
    this.#open = id;
    strip.hidden = false;
    door.ariaExpanded = "true";
    Promise.resolve(entered()).then(() => strip.scrollIntoView({ block: "nearest" })); // a low window rolls
  }

  close() {
    const before = this.#doors.get(this.#open);
    this.#open = "";
    if (!before) return;
    before.strip.hidden = true;
    before.door.ariaExpanded = "false";
  }
}
