// How the page looks: every option of the page, by its own help.

import { tell } from "./bus.js";
import { element, made } from "./elements.js";
import { ask } from "./server.js";

const LOOK = "look"; // remembered in this browser: it is no part of the chart
const FIRST = ["paper", "show", "form", "size", "large", "diagrams"];
const WORDS = { // for those who have not read the command's help
  show: "shows", form: "repeated sections", large: "large print", upper: "line on top", strong: "bold line", reads: "for an instrument in",
  notes: "note names", minor: "minor as", major: "major seventh as", half_diminished: "half-diminished as", dark: "dark page",
};
const SUCH_AS = { reads: "such as B flat", size: "such as 1.2" };

const LONG_HELP = "Point at an option to read what it does. These choices stay in this browser; the chart's text does not change.";

export class LookStrip {
  #strip; #values; #help = element("p", "hush");

  constructor(strip) {
    this.#strip = strip;
    try {
      this.#values = JSON.parse(localStorage.getItem(LOOK)) ?? {};
    } catch {
      this.#values = {};
    }
  }

  /** The options that are not as the program has them. */
  get requested() { return this.#values; }

  /** The strip, built once from the server's table of options. */
  async fill() {
    if (this.#strip.children.length) return;
    const answer = await ask("/api/look");
    if (!answer.ok) return;
    const place = (name) => (FIRST.includes(name) ? FIRST.indexOf(name) : FIRST.length);
    const options = answer.data.sort((a, b) => place(a.name) - place(b.name));
    this.#help.id = "look-help";
    this.#help.textContent = LONG_HELP;
    this.#strip.append(...options.map((option) => this.#option(option)), this.#help);
  }

  #option(option) {
    const control = this.#control(option), label = made("label", { className: "option" }, `${words(option.name)} `, control);
    control.setAttribute("aria-describedby", "look-help");
    for (const near of ["focusin", "pointerenter"]) label.addEventListener(near, () => { this.#help.textContent = said(option); });
    control.addEventListener("change", () => {
      const value = control.type === "checkbox" ? control.checked : control.value.trim();
      if (value === option.default || value === "") delete this.#values[option.name];
      else this.#values[option.name] = value;
      localStorage.setItem(LOOK, JSON.stringify(this.#values));
      tell("view");
    });
    return label;
  }

  #control(option) {
    const now = this.#values[option.name] ?? option.default;
    if (option.choices.length) {
      const select = made("select", {}, ...option.choices.map((choice) => element("option", "", choice)));
      select.value = now;
      return select;
    }
    if (typeof option.default === "boolean") return made("input", { type: "checkbox", checked: now });
    return made("input", { value: now ?? "", size: 11, placeholder: SUCH_AS[option.name] ?? option.placeholder.toLowerCase() });
  }
}

/** What an option does, after its name. */
function said({ name, help }) {
  const called = words(name);
  return help.toLowerCase().startsWith(called) ? help : `${called}: ${help}`;
}

/** A name of an option as words. */
function words(name) { return WORDS[name] ?? name.replaceAll("_", " "); }
