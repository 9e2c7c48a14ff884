// Handing out: the files that the commands write, and the printer.

import { tell } from "./bus.js";
import { act, choice, element, made } from "./elements.js";
import { sent } from "./server.js";

const AS_SEEN = "With the capo and key that you see. A file goes to your downloads.";
const READERS = { "": "as you see it", both: "for a guitar: shapes over sounding chords", sounding: "for piano and bass: sounding chords", words: "for a singer: the words" };
const KEPT = 60_000; // milliseconds until the browser has surely taken a file

export class HandoutStrip {
  #request; #name; #show = ""; #say = element("p", "hush");

  /** `request` gives what the page shows, `name` the open file. */
  constructor(strip, request, name) {
    this.#request = request;
    this.#name = name;
    this.#say.role = "status";
    this.#say.textContent = AS_SEEN;
    const file = (form, words) => act(words, () => this.#save(form));
    const readers = choice("Who reads the PDF", "readers", Object.keys(READERS), "", (show) => { this.#show = show; }, READERS[""], (one) => READERS[one]);
    strip.append(made("p", { className: "ends" },
      file("pdf", "PDF"), readers, act("print", () => print()), file("text", "text for an email"), act("copy that text", () => this.#copy()),
      file("musicxml", "MusicXML"), file("midi", "MIDI"), act("copy as another song", () => tell("copy-asked")),
    ), this.#say);
  }

  async #file(form) {
    const request = this.#request(), look = this.#show && form === "pdf" ? { ...request.look, show: this.#show } : request.look;
    const { response, refused } = await sent("/api/out", { ...request, look, form, name: this.#name() || "song.chart" });
    if (refused) {
      this.#say.textContent = refused.reason;
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
    const link = made("a", { href: URL.createObjectURL(file.blob), download: file.name });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), KEPT);
    this.#say.textContent = `${file.name} is among your downloads. ${this.#say.textContent}`;
  }

  async #copy() {
    const file = await this.#file("text");
    if (!file) return;
    await navigator.clipboard.writeText(await file.blob.text());
    this.#say.textContent = `Copied: paste it into an email. ${this.#say.textContent}`;
  }
}
