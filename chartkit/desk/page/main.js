// The desk put together: which pane hears what.

import { hear, tell } from "./bus.js";
import { Completion } from "./complete.js";
import { OpenFile } from "./files.js";
import { MistakesLine } from "./mistakes.js";
import { ask, Newest } from "./server.js";
import { SheetPane } from "./sheet.js";
import { SongsList } from "./songs.js";
import { TextPane } from "./text.js";

const LAST_SONG = "last-song";
const $ = (id) => document.getElementById(id);

const text = new TextPane($("text"), $("shown"), $("numbers"));
const sheet = new SheetPane($("pages"));
const mistakes = new MistakesLine($("count"), $("mistakes"));
const file = new OpenFile($("state"), $("both"), () => text.text);
const songs = new SongsList($("songs"));
new Completion(text, $("offers"));

// ---- the page follows the text
const pages = new Newest(async () => {
  if (!file.name) return;
  const wished = text.text;
  const answer = await ask("/api/pages", { text: wished });
  if (!answer.ok) return mistakes.say(answer.reason);
  const { data } = answer;
  sheet.show(data.pages, wished, data.settings);
  text.mark(mistakes.show(data.mistakes, wished), wished);
  $("title").textContent = data.title;
  tell("rendered", { text: wished, ...data });
});

hear("text", () => { file.typed(); pages.wish(); });
hear("caret", (caret) => { sheet.mark(caret); mistakes.at(caret, text.text); });
hear("go", ({ start, end }) => { side("text"); text.go(start, end); });
hear("type", ({ start, end, text: typed }) => text.type(start, end, typed));
hear("trouble", (words) => mistakes.say(words));

// ---- files
hear("open", (name) => file.open(name));
hear("begin", ({ name, text: typed }) => { file.begin(name, typed); text.go(typed.indexOf("key: ") + 5); });
hear("opened", ({ name, text: read, again }) => {
  if (again) text.replace(read); else text.show(read);
  history.replaceState(null, "", `#${encodeURIComponent(name)}`);
  localStorage.setItem(LAST_SONG, name);
  if (!again) text.element.focus();
});
hear("saved", () => songs.read());

async function tidy() {
  const answer = await ask("/api/tidy", { text: text.text });
  if (!answer.ok) mistakes.say(answer.reason);
  else if (answer.data.text === null) mistakes.next();
  else text.replace(answer.data.text);
}

$("title").addEventListener("click", () => songs.open());
$("save").addEventListener("click", () => file.save());
$("tidy").addEventListener("click", tidy);

addEventListener("keydown", (event) => {
  if (event.altKey && event.key === "Enter") mistakes.take(text.text);
  else if (event.key === "F8") mistakes.next();
  else if ((event.ctrlKey || event.metaKey) && event.key === "s") file.save();
  else if ((event.ctrlKey || event.metaKey) && event.key === "o") songs.open();
  else return;
  event.preventDefault();
});

// ---- one side at a time where the window is narrow
function side(name) {
  document.body.classList.toggle("side-text", name === "text");
  document.body.classList.toggle("side-page", name === "page");
  $("to-text").setAttribute("aria-pressed", String(name === "text"));
  $("to-page").setAttribute("aria-pressed", String(name === "page"));
}
$("to-text").addEventListener("click", () => side("text"));
$("to-page").addEventListener("click", () => side("page"));
side("text");

// ---- light and dark
const dark = matchMedia("(prefers-color-scheme: dark)");
const shade = () => document.documentElement.classList.toggle("dark", dark.matches);
dark.addEventListener("change", shade);
shade();

// ---- what changes outside
new EventSource("/api/changes").addEventListener("message", (event) => {
  file.changedOutside(JSON.parse(event.data));
  songs.read();
});

// ---- the start
await songs.read();
const wanted = [decodeURIComponent(location.hash.slice(1)), localStorage.getItem(LAST_SONG)];
const first = wanted.find((name) => songs.charts.some((one) => one.name === name)) ?? songs.charts[0]?.name;
if (first) await file.open(first);
else songs.open();
document.documentElement.dataset.ready = "yes";

