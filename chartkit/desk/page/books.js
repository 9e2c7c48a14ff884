// The books of the night: made on demand with their progress, each opened by a link.

import { act, element, made } from "./elements.js";
import { Answer, sent } from "./server.js";

const SCREENS = "books-for-screens"; // remembered in this browser

export class Books {
  #set; #made = made("div", { className: "made", role: "status" });

  /** `set` gives the name and text of the set file. */
  constructor(set) {
    this.#set = set;
  }

  /** Where the books stand once they are made. */
  get made() { return this.#made; }

  /** Another night is shown, whose books are not made yet. */
  clear() { this.#made.replaceChildren(); }

  /** The button that makes them. */
  ends() {
    const screens = made("input", { type: "checkbox", checked: localStorage.getItem(SCREENS) === "yes", focus: "screens" });
    screens.addEventListener("change", () => localStorage.setItem(SCREENS, screens.checked ? "yes" : ""));
    const make = act("Make the books", () => this.#make(screens.checked), "act", { focus: "make" });
    return made("p", { className: "ends" }, made("label", {}, screens, " for screens too"), make);
  }

  async #make(screen) {
    const bar = element("progress"), words = element("span", "hush", "reading the set …"), set = this.#set();
    this.#made.replaceChildren(bar, " ", words);
    const { response, refused } = await sent("/api/books", { ...set, screen });
    try {
      if (refused) throw refused;
      for await (const line of linesOf(response.body)) {
        if (line.reason) throw new Answer(422, line);
        if (line.made) this.#done(line.made);
        else {
          Object.assign(bar, { max: line.of || 1, value: line.at });
          words.textContent = `${line.doing} ${line.at} of ${line.of}`;
        }
      }
    } catch (reason) {
      this.#made.replaceChildren(element("p", "", reason instanceof Answer ? reason.reason : new Answer(0, null).reason));
    }
  }

  #done({ files, folder, unchanged, messages }) {
    const stem = (file) => file.replace(/\.\w+$/, ""), stems = [...new Set(files.map(stem))];
    const books = (one) => files.filter((file) => stem(file) === one).sort().reverse().flatMap((file) => [bookLink(`${folder}/${file}`, file), " "]);
    const list = made("ul", { className: "list" }, ...stems.map((one) => made("li", {}, ...books(one))));
    const screens = files.some((file) => file.endsWith(".html")) ? " Print the .pdf. Put the .html on a tablet or a phone: there it opens without a network." : "";
    const same = unchanged ? `, ${unchanged} as they were` : "";
    this.#made.replaceChildren(element("p", "", `${files.length} files in the folder “${folder}”${same}.${screens}`), list, ...messages.map((line) => element("p", "hush", line)));
  }
}

/** A link to a book that was made. */
function bookLink(path, file) { return made("a", { href: `/api/made?name=${encodeURIComponent(path)}`, target: "_blank" }, file); }

/** Each line of a stream of JSON lines. */
async function* linesOf(body) {
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    rest += value ?? "";
    const lines = rest.split("\n");
    rest = lines.pop();
    for (const line of lines) yield JSON.parse(line);
    if (done) return;
  }
}
