// The books of the night: made on demand with their progress, each opened by a link.

import { act } from "./files.js";
import { Answer } from "./server.js";
import { element } from "./text.js";

const SCREENS = "books-for-screens"; // remembered in this browser

export class Books {
  #set; #made = element("div", "made");

  /** `set` gives the name and text of the set file. */
  constructor(set) {
    this.#set = set;
    this.#made.setAttribute("role", "status");
  }

  /** Where the books stand once they are made. */
  get made() { return this.#made; }

  /** Another night is shown, whose books are not made yet. */
  clear() { this.#made.replaceChildren(); }

  /** The button that makes them. */
  ends() {
    const ends = element("p", "ends");
    const label = element("label", "", " for screens too"), screens = element("input");
    screens.type = "checkbox";
    screens.checked = localStorage.getItem(SCREENS) === "yes";
    screens.dataset.focus = "screens";
    screens.addEventListener("change", () => localStorage.setItem(SCREENS, screens.checked ? "yes" : ""));
    label.prepend(screens);
    const make = act("Make the books", () => this.#make(screens.checked));
    make.dataset.focus = "make";
    ends.append(label, make);
    return ends;
  }

  async #make(screen) {
    const bar = element("progress"), words = element("span", "hush", "reading the set …"), set = this.#set();
    this.#made.replaceChildren(bar, " ", words);
    try {
      const body = JSON.stringify({ ...set, screen });
      const response = await fetch("/api/books", { method: "POST", headers: { "Content-Type": "application/json" }, body });
      if (!response.ok) throw new Answer(response.status, await response.json());
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

  #done(made) {
    const list = element("ul", "list"), stems = new Map();
    for (const file of made.files) stems.set(file.replace(/\.\w+$/, ""), [...(stems.get(file.replace(/\.\w+$/, "")) ?? []), file]);
    for (const files of stems.values()) {
      const row = element("li");
      for (const file of files.sort().reverse()) row.append(bookLink(`${made.folder}/${file}`, file), " ");
      list.append(row);
    }
    const screens = made.files.some((file) => file.endsWith(".html")) ? " Print the .pdf; an .html is the same book to keep on a tablet or a phone, where it opens without a network." : "";
    const same = made.unchanged ? `, ${made.unchanged} as they were` : "";
    this.#made.replaceChildren(element("p", "", `${made.files.length} files in the folder ${made.folder}${same}.${screens}`), list, ...made.messages.map((line) => element("p", "hush", line)));
  }
}

/** A link to a book that was made. */
function bookLink(path, file) {
  const link = element("a", "", file);
  link.href = `/api/made?name=${encodeURIComponent(path)}`;
  link.target = "_blank";
  return link;
}

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
