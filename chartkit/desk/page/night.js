// The night: the open set file as songs in order, tonight's keys, everybody's plan, the books.
// What is changed here is typed into the set file in the text pane; nothing is kept here.

import { Books } from "./books.js";
import { tell } from "./bus.js";
import { act, element, labelled, made, whenEntered, whenGiven } from "./elements.js";
import { Players } from "./players.js";
import { ask, Newest } from "./server.js";

const [EDGE, ROLL, ROLL_EVERY] = [40, 12, 30]; // CSS pixels from an edge, CSS pixels a step, milliseconds

export class NightPane {
  #pane; #set; #charts; #save; #books; #night = null; #shown = ""; #drawn = ""; #dragging = false; #said = element("p", "hush said");
  #places = { songs: [], players: [] }; #of = ""; #last = Promise.resolve();
  #newest = new Newest(() => this.#ask());
  #players = new Players((change, said) => this.#edit(change, said));

  /** `set` gives the name and text of the set file, `charts` the charts of the folder, `save` saves what was typed into one. */
  constructor(pane, set, charts, save) {
    this.#save = save;
    this.#pane = pane;
    this.#set = set;
    this.#charts = charts;
    this.#said.role = "status";
    this.#books = new Books(set);
  }

  /** Works the night out anew. */
  request() { return this.#newest.request(); }

  async #ask() {
    const { name, text } = this.#set();
    if (name !== this.#shown) {
      this.#drawn = "";
      this.#pane.replaceChildren(element("p", "hush", "Reading the set …"));
    }
    const answer = await ask("/api/night", { name, text });
    if (name !== this.#set().name) return;
    if (text !== this.#set().text) return void this.request(); // changed meanwhile: what is drawn must be what stands there
    if (!answer.ok) return tell("trouble", answer.reason);
    const broken = answer.data.night?.songs.filter((song) => song.broken).length ?? 0;
    tell("set-mistakes", { mistakes: answer.data.mistakes, text, broken });
    if (answer.data.night) this.#show(answer.data.night, name, text);
    else if (name !== this.#shown) this.#pane.replaceChildren(element("p", "hush", "The set file has mistakes; the night is shown when they are corrected."));
  }

  // ---- drawing
  #show(night, name, text) {
    if (this.#dragging) return;
    this.#of = text;
    this.#places = { songs: [...night.songs.keys()], players: [...night.players.keys()] };
    const unsaved = this.#charts().filter((one) => one.unsaved && !one.part), drawn = JSON.stringify([name, night, unsaved]);
    if (drawn === this.#drawn) return; // the same night stays as it stands
    this.#drawn = drawn;
    const focused = document.activeElement?.dataset?.focus, row = this.#pane.contains(document.activeElement) ? document.activeElement.closest("tr")?.rowIndex ?? 0 : 0;
    if (name !== this.#shown) this.#books.clear();
    this.#shown = name;
    this.#night = night;
    tell("night-shown", night.name);
    const minutes = Math.round(night.songs.reduce((sum, song) => sum + song.seconds, 0) / 60);
    const long = element("p", "hush", `${night.songs.length} song${night.songs.length === 1 ? "" : "s"}${minutes ? `, ${minutes} min of music` : ""}`);
    const problems = night.messages.length ? [made("pre", { className: "problems", tabIndex: 0 }, night.messages.join("\n"))] : [];
    const top = made("div", { className: "top" }, this.#about(night), this.#books.ends());
    const legend = night.players.some((player) => player.steps) ? [readingOf(night)] : [];
    this.#pane.replaceChildren(top, long, ...this.#notSaved(unsaved, night), this.#books.made, ...problems, this.#table(night), ...legend, this.#said, this.#adding(), ...this.#players.drawn(night));
    if (focused) this.#pane.querySelector(`[data-focus="${CSS.escape(focused)}"]`)?.focus();
    else if (row > 0) (this.#pane.querySelectorAll(".handle")[row - 1] ?? this.#pane.querySelector(".handle"))?.focus(); // a second Enter takes nothing out
  }

  /** The night's name, day and place, to be typed over. */
  #about(night) {
    const fields = [["name", night.name, "", "Name of the night"], ["date", night.when, "a day …", "Day"], ["place", night.place, "a place …", "Place"]];
    const [name, ...rest] = fields.map(([setting, value, placeholder, label]) => {
      const typed = made("input", { value, placeholder, size: Math.max(8, value.length), focus: `about ${setting}`, ariaLabel: label });
      typed.addEventListener("change", () => {
        if (setting === "name" && !typed.value.trim()) typed.value = value;
        else this.#edit({ change: "set", setting, value: typed.value.trim() }, `${label.toLowerCase()}: ${typed.value.trim() || "none"}`);
      });
      return typed;
    });
    return made("div", { className: "about" }, made("h2", {}, name), made("p", { className: "when" }, ...rest));
  }

  #table(night) {
    const planned = night.players.filter((player) => player.steps);
    const heads = ["no.", "song", "key", ...planned.map((player) => player.name), "tonight"].map((words) => made("th", { scope: "col" }, words));
    const rows = night.songs.map((song, i) => this.#row(song, i, planned));
    return made("table", {}, made("thead", {}, made("tr", {}, ...heads, element("td"))), made("tbody", {}, ...rows));
  }

  #row(song, i, planned) {
    const cells = [this.#handle(song, i), this.#title(song), this.#key(song, i), ...planned.map((player) => setting(player.steps[i], player.steps.slice(0, i).findLast(Boolean))), this.#aside(song, i), this.#out(song, i)];
    const names = ["", "", "key", ...planned.map((player) => player.name), "", ""]; // shown where columns have no room
    return made("tr", { className: song.straight ? "straight" : "" }, ...cells.map((content, at) => {
      const cell = made("td", {}, ...[content].flat());
      cell.dataset.name = names[at];
      return cell;
    }));
  }

  /** The number is the handle: it is dragged, or moved by arrow keys. */
  #handle(song, i) {
    const before = this.#night.songs.slice(0, i).filter((one) => one.chart === song.chart).length;
    const handle = made("button", { type: "button", className: "handle", ariaLabel: `Song ${i + 1}, ${song.title}: arrow keys move it`, title: "drag, or arrow keys", focus: `handle ${song.chart} ${before}` }, i + 1);
    handle.addEventListener("keydown", (event) => {
      const to = { ArrowUp: i - 1, ArrowDown: i + 1, Home: 0, End: this.#night.songs.length - 1 }[event.key];
      if (event.key === "Delete") this.#edit({ change: "remove", at: i }, `${song.title} is taken out`);
      else if (to !== undefined) this.#move(i, to);
      else return;
      event.preventDefault();
    });
    handle.addEventListener("pointerdown", (event) => this.#grasp(event, i, handle));
    return handle;
  }

  #title(song) {
    return act(song.title, () => tell("open", song.chart), song.broken ? "broken" : "", { title: song.broken ? "its chart has mistakes" : song.chart });
  }

  #key(song, i) {
    const own = made("option", { value: "" }, song.given ? "as written" : short(song.key) || "–");
    const now = song.given ? [made("option", { value: song.given, selected: true }, short(song.key))] : [];
    const others = song.keys.filter(([, words]) => words !== song.key).map(([value, words]) => made("option", { value }, short(words)));
    const select = made("select", { ariaLabel: `Key of ${song.title} tonight`, focus: `key ${i}`, className: song.moved ? "moved" : "" }, ...now, own, ...others);
    select.addEventListener("change", () => this.#edit({ change: "song", at: i, setting: "key", value: select.value }, `${song.title} in another key`));
    return select;
  }

  #aside(song, i) {
    const parts = [song.note, song.count_in && `count-in: ${song.count_in}`, song.straight && "straight into the next", song.interval && "then the INTERVAL"];
    // It grows with what is typed, and is one line all the same: Enter ends it.
    const words = made("textarea", { className: "aside", rows: 1, value: song.note, placeholder: "a note …", focus: `note ${i}`, ariaLabel: `Note for ${song.title}` });
    whenEntered(words, () => words.dispatchEvent(new Event("change")));
    words.addEventListener("change", () => this.#edit({ change: "song", at: i, setting: "note", value: words.value.trim() }, "note changed"));
    const rest = parts.slice(1).filter(Boolean).join(", ");
    return rest ? [words, element("small", "", rest)] : [words];
  }

  #out(song, i) {
    return act("take out", () => this.#edit({ change: "remove", at: i }, `${song.title} is taken out`), "take-out", { ariaLabel: `Take ${song.title} out` });
  }

  /** Songs that the books cannot have, or not as they are now: the night reads files. */
  #notSaved(unsaved, night) {
    const set = new Set(night.songs.map((song) => song.chart)), folder = this.#set().name.replace(/[^/]*$/, "");
    const kinds = [
      ["Not saved yet, so not in tonight's books: ", "save and add", unsaved.filter((one) => !one.there && one.name.startsWith(folder))],
      ["Changed and not saved; the books have the saved version:  ", "save", unsaved.filter((one) => one.there && set.has(one.name.slice(folder.length)))],
    ];
    return kinds.filter(([, , songs]) => songs.length).map(([words, what, songs]) => {
      const line = element("p", "unsaved", words);
      songs.forEach((one) => {
        const title = one.title || one.name, door = act(title, () => tell("open", one.name), "", { focus: `unsaved ${one.name}` });
        line.append(door, " ", act(what, () => this.#saveSong(one, title, folder), "act", { ariaLabel: `${what}: ${title}`, focus: `save ${one.name}` }), " ");
      });
      return line;
    });
  }

  /** Saves a song that is not saved; one that has no file yet goes to the end of the night. */
  async #saveSong(one, title, folder) {
    if (!await this.#save(one.name)) return;
    const chart = one.name.slice(folder.length), there = this.#night.songs.some((song) => song.chart === chart);
    if (!there) return this.#edit({ change: "add", value: chart }, `${title} is saved and added at the end`);
    this.#said.textContent = `${title} is saved`;
    this.request();
  }

  #adding() {
    const there = new Set(this.#night.songs.map((song) => song.chart));
    const folder = this.#set().name.replace(/[^/]*$/, "");
    const charts = this.#charts().filter((chart) => chart.there && !chart.part && chart.name.startsWith(folder) && !there.has(chart.name.slice(folder.length)));
    const called = new Map(charts.flatMap((chart) => [[chart.name.slice(folder.length), chart], [chart.title, chart]]).filter(([name]) => name).map(([name, chart]) => [name.toLowerCase(), chart]));
    const titles = made("datalist", { id: "titles" }, ...charts.map((chart) => made("option", { value: chart.title || chart.name.slice(folder.length) })));
    const typed = made("input", { size: 24, placeholder: charts.length ? "its title" : "every song here is in it", focus: "add" });
    typed.setAttribute("list", titles.id);
    whenGiven(typed, () => {
      const wanted = typed.value.trim(), chart = called.get(wanted.toLowerCase());
      if (chart) this.#edit({ change: "add", value: chart.name.slice(folder.length) }, `${chart.title || chart.name} is added at the end`);
      else if (wanted) this.#said.textContent = `No other song of the folder is called “${wanted}”.`;
    });
    return made("p", { className: "ends" }, labelled("add a song ", typed), titles);
  }

  // ---- changing
  #move(from, to) {
    if (to >= 0 && to < this.#night.songs.length) this.#edit({ change: "move", at: from, by: to - from }, this.#night.songs[from].title);
  }

  /** Changes come one after another. Each means a song or player as drawn, wherever the changes before it have put them. */
  #edit(change, said) {
    const places = this.#places, run = () => this.#change(change, said, places);
    this.#last = this.#last.then(run, run);
    return this.#last;
  }

  async #change(change, said, places) {
    const { name, text } = this.#set();
    if (text !== this.#of) {
      this.#said.textContent = "The set file has just changed: do that again.";
      return this.request();
    }
    const [request, what] = asItStands(change, said, places);
    if (!request) return;
    const answer = await ask("/api/set-edit", { name, text, ...request });
    if (!answer.ok) {
      this.#drawn = ""; // what was chosen and refused is not what stands in the set
      this.request();
      return tell("trouble", answer.reason);
    }
    if (this.#set().text !== text) return;
    new Set([places, this.#places]).forEach((one) => keepPlaces(one, request));
    tell("type-all", answer.data.text);
    this.#of = this.#set().text;
    this.#said.textContent = answer.data.said ?? what;
  }

  #grasp(event, from, handle) {
    if (event.button !== 0) return;
    event.preventDefault();
    handle.focus();
    handle.setPointerCapture(event.pointerId);
    const rows = [...this.#pane.querySelectorAll("tbody tr")];
    const mark = (y) => {
      const to = rows.findIndex((row) => y < row.getBoundingClientRect().bottom);
      const at = to < 0 ? rows.length - 1 : to;
      rows.forEach((row, i) => row.classList.toggle(at < from ? "above" : "below", i === at && at !== from));
      rows.forEach((row) => row.classList.remove(at < from ? "below" : "above"));
      return at;
    };
    rows[from].classList.add("moving");
    this.#dragging = true;
    let to = from, y = event.clientY;
    const move = (e) => { y = e.clientY; to = mark(y); };
    // Near the pane's edge the songs move on under the hand.
    const rolling = setInterval(() => {
      const { top, bottom } = this.#pane.getBoundingClientRect();
      const step = y < top + EDGE ? -ROLL : y > bottom - EDGE ? ROLL : 0;
      if (!step) return;
      this.#pane.scrollTop += step;
      to = mark(y);
    }, ROLL_EVERY);
    const end = (e) => {
      clearInterval(rolling);
      handle.removeEventListener("pointermove", move);
      rows.forEach((row) => row.classList.remove("moving", "above", "below"));
      this.#dragging = false;
      if (e.type === "pointerup" && to !== from) this.#move(from, to);
      else this.request();
    };
    handle.addEventListener("pointermove", move);
    handle.addEventListener("pointerup", end, { once: true });
    handle.addEventListener("pointercancel", end, { once: true });
  }
}

/** A change of what is drawn as one of the set file as it stands, and what is said of it; null where there is nothing to change. */
function asItStands({ at, by, ...change }, said, places) {
  if (at === undefined) return [change, said];
  const list = listOf(change.change, places), here = list.indexOf(at);
  if (here < 0) return [null, ""];
  if (change.change !== "move") return [{ ...change, at: here }, said];
  const to = Math.min(Math.max(here + by, 0), list.length - 1), order = [...list.keys()];
  order.splice(to, 0, ...order.splice(here, 1));
  return [to === here ? null : { change: "order", order }, `${said} is song ${to + 1} now`];
}

/** Keeps where everything drawn stands after a change. */
function keepPlaces(places, { change, at, order }) {
  const list = listOf(change, places);
  if (order) places.songs = order.map((i) => places.songs[i]);
  else if (change.startsWith("remove")) list.splice(at, 1);
  else if (change.startsWith("add")) list.push(-1); // not drawn yet
}

function listOf(change, places) { return change.endsWith("player") ? places.players : places.songs; }

/** A key in short: A♭, F♯m. */
function short(key) { return key.replace(" minor", "m").replace(/ .*/, ""); }

/** How the settings of the plan are read. */
function readingOf(night) {
  const shown = night.players.flatMap((player) => player.steps ?? []).filter(Boolean).map((step) => step.short);
  const rest = [shown.includes("–") && "– no capo", shown.some((one) => one.startsWith("d")) && "d2 tuned down 2"].filter(Boolean);
  const black = element("span", "badge changed", "3"), same = element("span", "badge", "3");
  return made("p", { className: "legend" }, black, " to change before the song ", same, ` as it was; the number is the capo's fret${rest.length ? `, ${rest.join(", ")}` : ""}.`);
}

/** A guitarist's setting for a song, after the one before it: black where something changes. */
function setting(step, before) {
  if (!step) return element("span", "away", "out");
  const badge = element("span", step.changed ? "badge changed" : "badge", step.short);
  badge.title = [step.setting, step.guitar, step.changes || "nothing to change"].filter(Boolean).join(". ");
  const parts = [badge, element("span", "unseen", `, ${step.setting}. ${step.changes || "nothing to change"}`)];
  return step.guitar && step.guitar !== before?.guitar ? [...parts, element("small", "", step.guitar)] : parts;
}
