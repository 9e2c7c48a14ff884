// A saved file gets another name, or is deleted and taken back.

import { tell } from "./bus.js";
import { act, element, labelled, made, whenEntered } from "./elements.js";
import { ask } from "./server.js";

export class FileMoves {
  #dialog; #nameOf; #file = null; #say = made("p", { className: "hush", role: "status" });

  /** `nameOf` makes a file's name of a title, without its ending. */
  constructor(dialog, nameOf) {
    this.#dialog = dialog;
    this.#nameOf = nameOf;
  }

  /** Asks what is to be done with a file: its name, its version, and the title that it has. */
  async open({ name, version, title }) {
    this.#file = { name, version };
    const answer = await ask("/api/sets-with", { name });
    const sets = answer.ok ? answer.data.sets : [];
    const [, folder, stem, ending] = /^(.*\/)?(.*)(\.\w+)$/.exec(name);
    const typed = made("input", { id: "new-name", size: 30, value: (title && this.#nameOf(title)) || stem });
    const rename = () => this.#do("/api/rename", { to: `${folder ?? ""}${typed.value.trim()}${ending}` }, ({ to }) => tell("open", to));
    whenEntered(typed, rename);
    const named = sets.length ? ` It is a song of ${sets.join(" and ")}: the new name is written there too; deleted, the song would be missing there.` : "";
    this.#say.textContent = "";
    this.#dialog.replaceChildren(
      made("h2", { id: "both-name" }, name),
      made("p", {}, labelled("the file’s name ", typed), ending),
      element("p", "hush", `The title on the page is the row “title:” of the chart.${named}`),
      this.#say,
      made("div", { className: "ends" },
        act("Rename it", rename),
        act("Delete it", () => this.#do("/api/delete", {}, () => tell("deleted"))),
        act("Leave it as it is", () => this.#dialog.close(), "")),
      element("p", "hush", "What is deleted is kept: the list of songs gives it back."),
    );
    this.#dialog.showModal();
    typed.select();
  }

  async #do(path, more, done) {
    const request = { ...this.#file, ...more }, answer = await ask(path, request);
    if (!answer.ok) return void (this.#say.textContent = answer.reason);
    this.#dialog.close();
    done(request);
  }
}
