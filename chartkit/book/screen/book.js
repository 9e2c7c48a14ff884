"use strict";
(() => {
  const SWIPE_MIN_PX = 50, BACK_SHARE = 0.3, STILL_AFTER_MS = 3000, TWO_PAGES_ASPECT = 1.35, PHONE_PX = 600;
  const $ = (id) => document.getElementById(id);
  const book = JSON.parse($("book").textContent);
  const { pages: sheets, markup } = JSON.parse($("pages").textContent);
  const stage = $("stage");
  let spreads = [], at = 0;

  /** The pages of a song for this screen: a phone has narrow ones, or low ones on its side, in larger type. */
  const isPhone = () => Math.min(innerWidth, innerHeight) < PHONE_PX;
  const pagesOf = (song) => song.screens[!isPhone() ? "tablet" : innerWidth < innerHeight ? "phone" : "phone-side"];

  // ---- what is shown together: a page, or two of one song where the screen is wide
  function spread() {
    const wide = !isPhone() && stage.clientWidth / Math.max(1, stage.clientHeight) > TWO_PAGES_ASPECT, all = [];
    for (const song of book.songs) {
      const { count } = pagesOf(song);
      if (!count) {
        if (song.problem) all.push({ song, pages: [] });
        continue;
      }
      for (let i = 0; i < count; i += wide ? 2 : 1) {
        all.push({ song, count, pages: wide && i + 1 < count ? [i, i + 1] : [i] });
      }
    }
    return all;
  }

  /** A page drawn: its markup has been made short in the file. */
  function drawn(page) {
    const made = document.createElement("template");
    made.innerHTML = sheets[page].replace(/[\uE000-\uF8FF]/g, (letter) => markup[letter] ?? letter);
    return made.content.firstElementChild;
  }

  function text(name, words, kind = "") {
    const one = document.createElement(name);
    if (kind) one.className = kind;
    one.textContent = words;
    return one;
  }

  function show(index) {
    at = Math.max(0, Math.min(spreads.length - 1, index));
    const { song, pages } = spreads[at] ?? {};
    if (!song) {
      stage.replaceChildren(text("p", "You sit out the whole night.", "notice"));
      return;
    }
    const { start, count, jumps } = pagesOf(song);
    stage.replaceChildren(...(pages.length ? pages.map((page) => drawn(start + page)) : [text("p", `${song.number}. ${song.title}: ${song.problem}`, "notice")]));
    stage.classList.toggle("two", pages.length > 1);
    $("order").textContent = `${song.number}. ${song.title}`;
    $("order").setAttribute("aria-label", `Song ${song.number}, ${song.title}: all songs`);
    $("form").replaceChildren(...jumps.map((jump) => {
      const button = text("button", jump.name);
      button.type = "button";
      if (pages.includes(jump.page)) button.setAttribute("aria-current", "true");
      button.addEventListener("click", () => show(spreads.findIndex((one) => one.song === song && one.pages.includes(jump.page))));
      return button;
    }));
    const last = !pages.length || pages.at(-1) === count - 1;
    $("next").replaceChildren(last ? song.next || "the end" : "");
    if (last && song.next_change) $("next").append(text("strong", song.next_change));
    $("place").textContent = count > 1 ? `page ${pages.map((page) => page + 1).join("–")} of ${count}` : "";
    history.replaceState(null, "", `#${song.number}.${(pages[0] ?? 0) + 1}`);
  }

  // ---- turning
  const turn = (step) => show(at + step);
  const KEYS = {
    PageDown: 1, ArrowRight: 1, ArrowDown: 1, " ": 1, Enter: 1,
    PageUp: -1, ArrowLeft: -1, ArrowUp: -1, Backspace: -1,
  };
  addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || $("songs").open) return;
    const onButton = event.target.closest?.("button") && (event.key === "Enter" || event.key === " ");
    if (onButton) return;
    if (event.key in KEYS) turn(event.key === " " && event.shiftKey ? -1 : KEYS[event.key]);
    else if (event.key === "Home") show(0);
    else if (event.key === "End") show(spreads.length - 1);
    else if (event.key === "f") full();
    else if (event.key === "d") shade();
    else if (event.key === "o") list();
    else return;
    event.preventDefault();
  });
  let down = null;
  stage.addEventListener("pointerdown", (event) => { down = event.isPrimary ? { x: event.clientX, y: event.clientY } : null; });
  stage.addEventListener("pointerup", (event) => {
    if (!down || event.button > 0 || visualViewport?.scale > 1.05) return;
    const dx = event.clientX - down.x, dy = event.clientY - down.y;
    down = null;
    if (Math.abs(dx) > SWIPE_MIN_PX && Math.abs(dx) > 2 * Math.abs(dy)) turn(dx < 0 ? 1 : -1);
    else if (Math.abs(dx) < 10 && Math.abs(dy) < 10) turn(event.clientX < innerWidth * BACK_SHARE ? -1 : 1);
  });
  stage.addEventListener("pointercancel", () => { down = null; });

  // ---- all songs
  function list() {
    const dialog = $("songs");
    $("night").textContent = `${book.name}: ${book.player}`;
    $("when").textContent = book.when;
    $("list").replaceChildren(...book.songs.map((song) => {
      const row = document.createElement("li"), button = text("button", "");
      button.type = "button";
      button.append(text("span", `${song.number}. ${song.title}`, song.away ? "away" : ""), text("small", song.away ? "you sit it out" : [song.summary, song.aside].filter(Boolean).join(" · ")));
      button.disabled = !pagesOf(song).count;
      button.addEventListener("click", () => { dialog.close(); show(spreads.findIndex((one) => one.song === song)); stage.focus(); });
      row.append(button);
      return row;
    }));
    dialog.showModal();
  }
  $("songs").addEventListener("click", (event) => { if (event.target === $("songs")) $("songs").close(); });
  $("order").addEventListener("click", list);

  // ---- light and dark, full screen, a pointer and a screen that rest
  const scheme = matchMedia("(prefers-color-scheme: dark)");
  let dark = book.dark || scheme.matches;
  function shade(wanted = !dark) {
    dark = wanted;
    document.documentElement.classList.toggle("dark", dark);
    $("shade").textContent = dark ? "light" : "dark";
  }
  $("shade").addEventListener("click", () => shade());
  scheme.addEventListener("change", () => shade(scheme.matches));
  function full() {
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen?.().catch(() => {});
    stay();
  }
  $("full").addEventListener("click", full);
  $("full").hidden = !document.documentElement.requestFullscreen;
  const stay = () => navigator.wakeLock?.request("screen").catch(() => {});
  addEventListener("pointerup", stay, { once: true });
  let still = 0;
  addEventListener("pointermove", (event) => {
    document.body.classList.remove("still");
    clearTimeout(still);
    if (event.pointerType === "mouse") still = setTimeout(() => document.body.classList.add("still"), STILL_AFTER_MS);
  });

  // ---- the start, and the same place in the song after the screen is turned
  function again() {
    const before = spreads[at];
    spreads = spread();
    const page = before?.pages.length ? Math.floor((before.pages[0] * pagesOf(before.song).count) / before.count) : undefined;
    show(spreads.findIndex((one) => one.song === before?.song && (page === undefined || one.pages.includes(page))));
  }
  shade(dark);
  spreads = spread();
  const [number, page] = location.hash.slice(1).split(".").map(Number);
  const from = spreads.findIndex((one) => one.song.number === number && (!one.pages.length || one.pages.includes(page - 1)));
  show(Math.max(0, from));
  new ResizeObserver(again).observe(stage);
  document.documentElement.dataset.ready = "yes";
})();
