// The desk put together: which pane hears what.

import { AdviceStrip } from "./advice.js";
import { PagesAhead } from "./ahead.js";
import { hear, tell } from "./bus.js";
import { Completion } from "./complete.js";
import { OpenFile } from "./files.js";
import { HandoutStrip } from "./handout.js";
import { IncomingDialog } from "./incoming.js";
import { KeysStrip } from "./keys.js";
import { ListenStrip } from "./listen.js";
import { LookStrip } from "./look.js";
import { MistakesLine } from "./mistakes.js";
import { FileMoves } from "./moves.js";
import { NeckPane } from "./neck.js";
import { NightPane } from "./night.js";
import { unitOf } from "./places.js";
import { Answer, ask, Newest } from "./server.js";
import { SecondStrip } from "./second.js";
import { ShapesStrip } from "./shapes.js";
import { SheetPane } from "./sheet.js";
import { plainName, SongsList } from "./songs.js";
import { Strips } from "./strips.js";
import { TextPane } from "./text.js";

const [LAST_SONG, LAST_SET] = ["last-song", "last-set"];
const LONGEST_TITLE = 300; // letters of a title in the head
const REST = 250; // milliseconds without a key, after which advice is asked for
const $ = (id) => document.getElementById(id), phone = matchMedia("(max-width: 600px)"), onItsSide = matchMedia("(max-height: 480px) and (pointer: coarse)");

const text = new TextPane($("text"), $("shown"), $("numbers"));
const sheet = new SheetPane($("pages"));
const mistakes = new MistakesLine($("count"), $("mistakes"));
const file = new OpenFile($("state"), $("unsaved-door"), $("both"), () => text.text);
const songs = new SongsList($("songs"));
const moves = new FileMoves($("both"), plainName);
const neck = new NeckPane($("neck"));
const why = new AdviceStrip($("why"));
const keys = new KeysStrip($("keys"), () => text.text, (range) => write("range", range));
const look = new LookStrip($("look"));
const shapes = new ShapesStrip($("shapes"), requested);
const incoming = new IncomingDialog($("incoming"));
const second = new SecondStrip($("second"), requested);
const listen = new ListenStrip($("listening"), requested);
const strips = new Strips($("strips"));
strips.add($("why-door"), $("why"));
strips.add($("key-door"), $("keys"), () => keys.fill());
strips.add($("shapes-door"), $("shapes"), () => shapes.fill());
new HandoutStrip($("out"), requested, () => file.name);
strips.add($("out-door"), $("out"));
strips.add($("second-door"), $("second"), () => second.fill());
strips.add($("listen-door"), $("listening"), () => listen.fill());
strips.add($("look-door"), $("look"), () => look.fill());
const night = new NightPane($("night"), () => ({ name: file.name, text: text.text }), () => songs.charts, saveOther);
const completion = new Completion(text, $("offers"), () => !isSet());

/** Whether the open file is a set: the night then stands where pages stand. */
function isSet() { return file.name.endsWith(".toml"); }

/** What the page is to show: the text, and what is moved beside it. */
function requested() {
  return { text: text.text, capo: neck.requested, second: second.requested, key: keys.requested, look: look.requested };
}

/** What the page shows: on a phone the page is as narrow, or as low; what is handed out stays on its paper. */
function seen() {
  const request = requested(), paper = phone.matches ? "phone" : "phone-side";
  return !(phone.matches || onItsSide.matches) || request.look.paper ? request : { ...request, look: { ...request.look, paper, large: undefined, size: undefined } };
}
for (const screen of [phone, onItsSide]) screen.addEventListener("change", () => tell("view"));

// ---- the page follows the text
// While keys are pressed the page keeps its size and form; when the hands rest they are chosen anew.
let choices = null, settled = true, fresh = true, shownAt = -REST;
const ahead = new PagesAhead();
const pages = new Newest(async () => {
  const { name } = file;
  if (!name || isSet()) return;
  const request = { ...seen(), choices: settled ? null : choices };
  const answer = await ahead.ask(request);
  if (name !== file.name) return; // another file has been opened
  if (!answer.ok) {
    if (fresh) nothingShown();
    return mistakes.say(answer.reason);
  }
  fresh = false;
  const { data } = answer;
  choices = data.choices;
  sheet.show(data.pages, request.text, data.settings);
  text.mark(mistakes.show(data.mistakes, request.text, request.choices === null), request.text);
  if (!data.mistakes.length && data.missing.length) mistakes.say(`no font here has ${data.missing.join(" ")}`);
  $("title").textContent = data.title.slice(0, LONGEST_TITLE);
  $("key-door").textContent = data.key_given ? data.key : "key";
  $("second-door").hidden = data.part;
  neck.follow(data.capo_written);
  shownAt = performance.now();
});

/** No page could be made of a song just opened: that of the song before must not stand beside its text. */
function nothingShown() {
  sheet.show([], "", {});
  $("title").textContent = file.name || "Songs";
  $("key-door").textContent = "key";
}

// ---- advice follows when the hands rest
const advice = new Newest(async () => {
  if (isSet()) return night.request();
  settled = true;
  await pages.request();
  const follows = listen.follow(), { name } = file;
  const answer = await ask("/api/neck", { ...requested(), short_capos: why.shortCapos });
  if (name !== file.name) return;
  if (answer.ok) { neck.show(answer.data); why.show(answer.data); }
  await follows;
  if (strips.isOpen("shapes-door")) await shapes.fill();
  if (strips.isOpen("key-door")) await keys.fill();
  if (strips.isOpen("second-door")) await second.fill();
});
let resting = 0;
/** Advice is asked for when the hands rest and the page has stood for a while: where pages are slow,
 * the next key does not wait for it. */
function adviseSoon() {
  clearTimeout(resting);
  resting = setTimeout(() => {
    if (pages.resting && performance.now() - shownAt >= REST) advice.request();
    else adviseSoon();
  }, REST);
}

hear("text", () => {
  // Words typed where no file is open begin one, so that nothing is lost.
  if (!file.name && text.text) file.begin(songs.free("Untitled"), text.text, true);
  ahead.stop();
  file.typed();
  settled = false;
  pages.request();
  adviseSoon();
});
hear("neck-touched", (capos) => ahead.prepare(capos.map((capo) => ({ ...seen(), capo, choices }))));
hear("advice-asked", () => advice.request());
hear("capo-asked", (capo) => neck.move(capo));
hear("view", () => { settled = false; pages.request(); adviseSoon(); });

// ---- what a control writes into the chart
/** What the server makes of the text as it stands; no answer where the text has changed meanwhile, so that nothing typed is lost. */
async function askOfText(path, more = {}) {
  const before = text.text, answer = await ask(path, { text: before, ...more });
  return before === text.text ? answer : new Answer(409, { reason: "the chart has just changed", hint: "do that again" });
}

/** Gives a setting a value; what is wrong with it, or nothing. */
async function write(name, value) {
  const before = text.text, answer = await askOfText("/api/setting", { name, value });
  if (!answer.ok) return answer.reason;
  const { start, end, text: typed } = answer.data, active = document.activeElement;
  text.type(unitOf(before, start), unitOf(before, end), typed);
  active.focus(); // the hand goes on where it was
  return "";
}
const writeOrSay = async (name, value) => {
  const wrong = await write(name, value);
  if (wrong) mistakes.say(wrong, true);
};
hear("keep-capo", async (capo) => { await writeOrSay("capo", String(capo)); neck.back(); pages.request(); });
hear("keep-shape", (shape) => writeOrSay("shape", shape));
// A key brings its own capo along: the old one would put other shapes under it.
hear("key-chosen", (capo) => { neck.back(capo); tell("view"); });
hear("keep-key", async (key) => {
  const answer = await askOfText("/api/transpose", { key, capo: neck.requested });
  if (!answer.ok) return mistakes.say(answer.reason, true);
  keys.back();
  neck.back();
  text.replace(answer.data.text);
});
hear("caret", (caret) => {
  // A page that is on its way marks its own place when it comes.
  if (pages.resting) sheet.mark(caret);
  else sheet.note(caret);
  mistakes.at(caret, text.text);
});
hear("go", ({ start, end }) => { side("text"); text.go(start, end); });
hear("type", ({ start, end, text: typed }) => text.type(start, end, typed));
let sounding = false;
hear("bar-sounds", (place) => {
  if (place && !sounding) side("page"); // a narrow window shows one side at a time
  sounding = place !== null;
  sheet.sound(place);
});
hear("trouble", (words) => mistakes.say(words, true));

// ---- the night
hear("set-mistakes", ({ mistakes: ofSet, text: read, broken }) => {
  text.mark(mistakes.show(ofSet, read), read);
  if (broken && !ofSet.length) mistakes.say(`No mistakes in the set file, but ${broken === 1 ? "one of its charts has some" : `${broken} of its charts have some`}: see under the title.`);
});
hear("night-shown", (name) => { if (isSet()) $("title").textContent = name; });
hear("type-all", (changed) => text.replace(changed, false));
$("night-door").addEventListener("click", async () => {
  await songs.read();
  const set = songs.sets.find((one) => one.name === localStorage.getItem(LAST_SET)) ?? songs.sets[0];
  if (isSet()) file.open(localStorage.getItem(LAST_SONG) ?? songs.charts[0]?.name);
  else if (set) file.open(set.name);
  else songs.beginSet();
});

/** What belongs to a song alone is put away while a set or nothing is open, and the other way round. */
function showKind() {
  document.body.classList.toggle("is-set", isSet());
  $("night").hidden = !isSet();
  $("pages").hidden = isSet();
  for (const id of ["key-door", "shapes-door", "second-door", "listen-door", "look-door", "out-door", "tidy"]) $(id).hidden = isSet() || !file.name;
  $("save").hidden = !file.name;
  $("night-door").textContent = isSet() ? "back to the song" : "the night";
  $("to-page").textContent = isSet() ? "night" : "page";
  if (isSet()) {
    strips.close();
    $("neck").hidden = true;
    $("title").textContent = songs.sets.find((one) => one.name === file.name)?.title || file.name;
    side("page");
    songs.read().then(() => night.request()); // it says what is not saved
  }
}

// ---- files
hear("open", (name) => file.open(name));
hear("begin", ({ name, text: typed }) => { file.begin(name, typed); text.go(typed.indexOf("key: ") + 5); completion.open(); });
hear("opened", ({ name, text: read, again }) => {
  if (!again) { listen.stop(); neck.wait(); why.wait(); keys.back(); second.back(); choices = null; fresh = true; sheet.toTop(); mistakes.say(""); }
  if (again) text.replace(read); else text.show(read);
  history.replaceState(null, "", `#${encodeURIComponent(name)}`);
  localStorage.setItem(isSet() ? LAST_SET : LAST_SONG, name);
  showKind();
  if (!again) text.element.focus();
});
hear("saved", () => songs.read());

/** Saves what was typed into a song that is not open; whether it is saved now. */
async function saveOther(name) {
  const done = await file.saveOther(name);
  await songs.read();
  return done;
}
hear("file-asked", (asked) => moves.open({ ...asked, title: isSet() ? "" : text.text.match(/^title:\s*(.+?)\s*(#.*)?$/m)?.[1] }));
hear("deleted", () => { file.leave(); tell("thrown-away"); });
hear("thrown-away", async () => {
  await songs.read();
  if (songs.charts.length) return file.open(songs.charts[0].name);
  text.show("");
  showKind();
  nothingShown();
  neck.show({ places: [] });
  strips.close();
  songs.open();
});

async function tidy() {
  const answer = await askOfText("/api/tidy");
  if (!answer.ok) mistakes.say(answer.reason, true);
  else if (answer.data.text === null) mistakes.next("Tidying waits until this is corrected: ");
  else text.replace(answer.data.text);
}

for (const door of ["title", "songs-door"]) $(door).addEventListener("click", () => songs.show());
hear("begin-named", async ({ title, text: made, then = null }) => {
  await songs.read();
  strips.close();
  file.begin(songs.free(title), made);
  if (then) await file.save();
  text.element.focus();
  then?.();
});

/** The song as the page shows it, in its key of now, as another song. */
hear("copy-asked", async () => {
  const key = keys.requested, title = $("title").textContent;
  const answer = key === null ? null : await ask("/api/transpose", { text: text.text, key, capo: neck.requested });
  if (answer && !answer.ok) return mistakes.say(answer.reason);
  tell("begin-named", { title: key === null ? title : `${title} in ${key}`, text: answer ? answer.data.text : text.text });
});

const bringIn = () => { strips.close(); incoming.open(); };
$("bring-in").addEventListener("click", bringIn);
hear("bring-in", bringIn);
$("save").addEventListener("click", () => file.save());
$("tidy").addEventListener("click", tidy);

/** Types what the hint of a mistake says, once it is known whether that mends it. */
async function takeHint() {
  if (!mistakes.tried && !isSet()) {
    settled = true;
    await pages.request();
  }
  mistakes.take(text.text);
}

addEventListener("keydown", (event) => {
  if (event.altKey && event.key === "Enter") takeHint();
  else if (event.key === "F8") mistakes.next();
  else if ((event.ctrlKey || event.metaKey) && event.key === "s") file.save();
  else if ((event.ctrlKey || event.metaKey) && event.key === "o") songs.show();
  else return;
  event.preventDefault();
});

// ---- one side at a time where the window is narrow
function side(name) {
  document.body.classList.toggle("side-text", name === "text");
  document.body.classList.toggle("side-page", name === "page");
  $("to-text").ariaPressed = String(name === "text");
  $("to-page").ariaPressed = String(name === "page");
}
$("to-text").addEventListener("click", () => { side("text"); roll(); });
$("to-page").addEventListener("click", () => { side("page"); roll(); });
side("text");

// ---- a low window, such as a phone's over its keys: it rolls to what is typed or looked at
const low = matchMedia("(max-height: 600px)");
function roll() { if (low.matches) document.querySelector("main").scrollIntoView(); }
text.element.addEventListener("pointerup", roll);
text.element.addEventListener("input", roll);
addEventListener("resize", () => {
  if (!low.matches || document.activeElement !== text.element) return;
  roll();
  text.go(text.caret);
});

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
const first = wanted.find((name) => [...songs.charts, ...songs.sets].some((one) => one.name === name)) ?? songs.charts[0]?.name;
showKind();
if (first) await file.open(first);
else songs.open();
document.documentElement.dataset.ready = "yes";

