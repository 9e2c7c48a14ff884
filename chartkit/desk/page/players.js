// The players of the night: their names, what they play and read, their paper and print; typed over, chosen, added, taken out.

import { act } from "./files.js";
import { element } from "./text.js";

export class Players {
  #edit;

  /** `edit` makes a change to the set file and says what was done. */
  constructor(edit) { this.#edit = edit; }

  /** The list of the players, and the field for another one. */
  drawn(night) { return [this.#people(night), this.#addingPlayer()]; }

  #people(night) {
    const list = element("dl", "people");
    night.players.forEach((player, i) => {
      const change = (setting, value, said) => this.#edit({ change: "player", at: i, setting, value }, `${player.name} ${said}`);
      const reads = choice(`What ${player.name} reads`, `reads ${i}`, night.reads, player.reads, (value) => change("reads", value, `reads ${value}`));
      const instruments = [...new Set(["", ...night.instruments, player.instrument])];
      const plays = choice(`What ${player.name} plays`, `plays ${i}`, instruments, player.instrument, (value) => change("instrument", value, `plays ${value || "nothing named"}`));
      const paper = choice(`Paper of ${player.name}`, `paper ${i}`, night.papers, player.paper, (value) => change("paper", value, `has ${value} paper`));
      const sizes = [...new Set([...night.sizes, player.size])];
      const size = choice(`Print size of ${player.name}`, `size ${i}`, sizes, player.size, (value) => change("size", value, `has ${value || "the usual"} print`), "usual");
      const out = act("take out", () => this.#edit({ change: "remove-player", at: i }, `${player.name} is taken out`), "");
      out.setAttribute("aria-label", `Take ${player.name} out`);
      const what = element("dd");
      what.append(pair("reads ", reads), pair("plays ", plays), pair("paper ", paper), pair("print ", size), out);
      if (player.steps) what.append(element("small", "", `${player.changes}. ${player.saving}`));
      list.append(this.#name(player, i), what);
    });
    return list;
  }

  /** A player's name, to be typed over. */
  #name(player, i) {
    const name = element("dt"), typed = element("input");
    typed.type = "text";
    typed.value = player.name;
    typed.size = Math.max(6, player.name.length);
    typed.dataset.focus = `name ${i}`;
    typed.setAttribute("aria-label", `Name of player ${i + 1}`);
    typed.addEventListener("change", () => {
      const wanted = typed.value.trim();
      if (wanted) this.#edit({ change: "player", at: i, setting: "name", value: wanted }, `${player.name} is ${wanted} now`);
      else typed.value = player.name;
    });
    name.append(typed);
    return name;
  }

  #addingPlayer() {
    const label = element("label", "", "add a player "), name = element("input");
    name.type = "text";
    name.size = 14;
    name.placeholder = "name";
    name.dataset.focus = "add player";
    name.addEventListener("change", () => { if (name.value.trim()) this.#edit({ change: "add-player", value: name.value.trim() }, `${name.value.trim()} plays tonight`); });
    label.append(name);
    const line = element("p", "ends");
    line.append(label);
    return line;
  }
}

/** A word and its control, which stay together. */
function pair(word, control) {
  const both = element("span", "pair", word);
  both.append(control, " ");
  return both;
}

/** A choice among words, with words for none. */
function choice(label, focus, words, now, chosen, none = "–") {
  const select = element("select");
  select.setAttribute("aria-label", label);
  select.dataset.focus = focus;
  select.append(...words.map((one) => Object.assign(element("option", "", one || none), { value: one })));
  select.value = now;
  select.addEventListener("change", () => chosen(select.value));
  return select;
}
