// Chooses the language of the page and puts its words on it: the one asked for in
// the address, else the one chosen last time, else the browser's.
"use strict";
(() => {
  const words = globalThis.brinebenchWords;
  const english = "en";
  const marked = (attribute) => document.querySelectorAll(`[${attribute}]`);

  // What the page holds is English, and kept for when it is chosen again.
  for (const e of marked("data-say")) words[english][e.dataset.say] = e.textContent;
  for (const e of marked("data-say-label")) words[english][e.dataset.sayLabel] = e.getAttribute("aria-label");

  let spoken = english;

  // Spanish has a decimal comma, and a point where the browser is at home in most of America.
  const [, region] = /-([a-z]{2}|\d{3})\b/i.exec(navigator.language) ?? []; // not every browser's is well formed
  const pointed = new Intl.NumberFormat(region ? `es-${region}` : "es").format(1.5).includes(".");
  const written = (text) => (spoken === "es" && pointed ? text.replace(/(\d),(\d)/g, "$1.$2") : text);

  // brinebenchWord is a text of the page, with the arguments in the places {1}, {2} …
  globalThis.brinebenchWord = (id, ...args) =>
    args.reduce((text, a, i) => text.replace(`{${i + 1}}`, a), written(words[spoken][id]));

  globalThis.brinebenchSpeak = (language) => {
    spoken = language;
    document.documentElement.lang = language;
    for (const e of marked("data-say")) e.textContent = brinebenchWord(e.dataset.say);
    for (const e of marked("data-say-label")) e.setAttribute("aria-label", brinebenchWord(e.dataset.sayLabel));
    for (const e of marked("data-speak")) e.setAttribute("aria-pressed", String(e.dataset.speak === language));
  };

  const key = "brinebench-lang";
  const kept = () => { try { return localStorage.getItem(key); } catch { return null; } };
  const keep = (language) => { try { localStorage.setItem(key, language); } catch { /* lasts as long as the page */ } };
  const known = (tag) => Object.keys(words).find((l) => tag && tag.toLowerCase().split("-")[0] === l);

  const asked = known(new URLSearchParams(location.search).get("lang"));
  if (asked) keep(asked);
  brinebenchSpeak(asked ?? known(kept()) ?? navigator.languages.map(known).find((l) => l) ?? english);
})();
