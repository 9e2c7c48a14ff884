// Handing out: the files that the commands write, and the printer.

import { tell } from "./bus.js";
import { act } from "./files.js";
import { Answer } from "./server.js";
import { element } from "./text.js";

const FORMS = [["pdf", "PDF"], ["musicxml", "MusicXML"], ["text", "text for a mail"], ["midi", "MIDI"]];
const KEPT = 60_000; // milliseconds until the browser has surely taken a file

export class HandoutStrip {
  #wish; #name; #say = element("p", "hush");

  /** `wish` gives what the page shows, `name` the open file. */
  constructor(strip, wish, name) {
    this.#wish = wish;
    this.#name = name;
    this.#say.setAttribute("role", "status");
    const ends = element("p", "ends");
    for (const [form, words] of FORMS) ends.append(act(words, () => this.#save(form)));
    ends.append(act("copy as text", () => this.#copy()), act("print", () => print()), act("copy as another song", () => tell("copy-asked")));
    strip.append(ends, this.#say);
  }

  async #file(form) {
    const body = JSON.stringify({ ...this.#wish(), form, name: this.#name() || "song.chart" });
    const response = await fetch("/api/out", { method: "POST", headers: { "Content-Type": "application/json" }, body });
    if (!response.ok) {
      this.#say.textContent = new Answer(response.status, await response.json()).reason;
      return null;
    }
    const lost = decodeURIComponent(response.headers.get("x-not-carried") ?? "");
    this.#say.textContent = lost ? `Not carried: ${lost}.` : "";
    const named = response.headers.get("content-disposition") ?? "";
    return { blob: await response.blob(), name: decodeURIComponent(named.split("''")[1] ?? "song") };
  }

  async #save(form) {
    const file = await this.#file(form);
    if (!file) return;
    const link = element("a");
    link.href = URL.createObjectURL(file.blob);
    link.download = file.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), KEPT);
    this.#say.textContent = `${file.name} is among your downloads. ${this.#say.textContent}`;
  }

  async #copy() {
    const file = await this.#file("text");
    if (!file) return;
    await navigator.clipboard.writeText(await file.blob.text());
    this.#say.textContent = `Copied: paste it into a mail. ${this.#say.textContent}`;
  }
}
