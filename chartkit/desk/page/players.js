// The players of the night: their names, what they play and read, their paper and print; typed over, chosen, added, taken out.

import { act, choice, element, labelled, made } from "./elements.js";

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
      const own = this.#ownOf(player, i, change);
      const out = act("take out", () => this.#edit({ change: "remove-player", at: i }, `${player.name} is taken out`), "", { ariaLabel: `Take ${player.name} out` });
      const what = made("dd", {}, pair("reads ", reads), pair("plays ", plays), pair("paper ", paper), pair("print ", size), ...own, out);
      if (player.steps) what.append(element("small", "", `${player.changes}. ${player.saving}`));
      list.append(this.#name(player, i), what);
    });
    return list;
  }

  /** What only a singer or a guitarist beside another one has. */
  #ownOf(player, i, change) {
    const controls = [];
    if (player.sings || player.range) {
      const range = made("input", { value: player.range, size: 9, placeholder: "such as A3-E5", focus: `range ${i}`, ariaLabel: `Lowest and highest comfortable note of ${player.name}` });
      range.addEventListener("change", () => change("range", range.value.trim(), range.value.trim() ? "has this range now" : "has no range"));
      controls.push(pair("sings ", range));
      if (player.range) controls.push(act("keys for this voice", () => this.#edit({ change: "sing-player", at: i }, ""), "", { ariaLabel: `Keys for the voice of ${player.name}`, title: "Puts each song that gets easier to sing into another key", focus: `sing ${i}` }), " ");
    }
    if (player.besides.length) {
      const beside = choice(`What ${player.name} plays beside the others`, `beside ${i}`, player.besides, player.beside, (value) => change("beside", value, value.startsWith("part") ? `plays a ${value}` : `keeps clear of ${value || "the first guitar"}`), "as planned", (one) => (one.startsWith("part") ? `a ${one}` : `clear of ${one}`));
      controls.push(pair("beside ", beside));
    }
    return controls;
  }

  /** A player's name, to be typed over. */
  #name(player, i) {
    const typed = made("input", { value: player.name, size: Math.max(6, player.name.length), focus: `name ${i}`, ariaLabel: `Name of player ${i + 1}` });
    typed.addEventListener("change", () => {
      const wanted = typed.value.trim();
      if (wanted) this.#edit({ change: "player", at: i, setting: "name", value: wanted }, `${player.name} is ${wanted} now`);
      else typed.value = player.name;
    });
    return made("dt", {}, typed);
  }

  #addingPlayer() {
    const name = made("input", { size: 14, placeholder: "name", focus: "add player" });
    name.addEventListener("change", () => { if (name.value.trim()) this.#edit({ change: "add-player", value: name.value.trim() }, `${name.value.trim()} plays tonight`); });
    return made("p", { className: "ends" }, labelled("add a player ", name));
  }
}

/** A word and its control, which stay together. */
function pair(word, control) { return made("span", { className: "pair" }, word, control, " "); }
