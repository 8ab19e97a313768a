// Fetches the program, shows how far it has come, starts it, and says in plain
// words what went wrong when something does. The fetching begins while the page
// is still being read, as does that of a still picture of the unit, which stands in
// for the drawing until then; the rest waits for the page.
"use strict";
(() => {
  const html = document.documentElement;
  const { program, place } = html.dataset;
  const byId = (id) => document.getElementById(id);
  const page = new Promise((done) => {
    if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", done); else done();
  });
  let failed = false;

  // What a person is told: words.js has it, once it has been read.
  const word = (id, ...args) => globalThis.brinebenchWord?.(id, ...args) ?? "";

  // loading shows a stage of the start; share is 0..1, or undefined when unknown.
  // The line that is read aloud changes with the stage and each quarter only.
  let aloud = "";
  globalThis.brinebenchLoading = (text, share) => {
    const bar = byId("loading-bar");
    byId("loading-text").textContent = text;
    if (share === undefined) bar.removeAttribute("value"); else bar.value = share;
    const quarter = share === undefined ? "" : `${Math.floor(share * 4) * 25} %`;
    const stage = text.replace(/:.*/, "");
    if (aloud !== stage + quarter) {
      aloud = stage + quarter;
      byId("loading-aloud").textContent = `${stage} ${quarter}`;
    }
  };
  // The unit is drawn, and cannot be worked yet: what is still to come is shown below it.
  globalThis.brinebenchDrew = () => {
    globalThis.brinebenchDrawn = true;
    if (!html.dataset.state) html.dataset.state = "drawn";
  };
  globalThis.brinebenchLoaded = () => {
    byId("loading").hidden = true;
    html.dataset.state = "ready";
  };

  // fail replaces the picture by a message; the first failure is the one that is told.
  globalThis.brinebenchFail = (title, text, details) => {
    if (failed) return;
    failed = true;
    byId("loading").hidden = true;
    byId("failure-title").textContent = title;
    byId("failure-text").textContent = text;
    byId("failure-details").textContent = details || "";
    byId("failure-more").hidden = !details;
    byId("failure").hidden = false;
    html.dataset.state = "failed";
  };
  const fail = (id, text, details) => brinebenchFail(word(id), word(text), details && String(details));
  // noPicture says in the drawing's place that it cannot be drawn; the panels work without it.
  globalThis.brinebenchNoPicture = () => {
    const p = document.createElement("p");
    p.id = "no-picture";
    p.textContent = word("no-picture");
    byId("stage").append(p);
  };

  // What the program writes on its way out (a panic) is kept for the message.
  let lastWords = "";
  function listen() {
    const write = globalThis.fs.writeSync;
    const decoder = new TextDecoder();
    globalThis.fs.writeSync = (fd, bytes) => {
      lastWords = (lastWords + decoder.decode(bytes)).slice(-6000);
      return write.call(globalThis.fs, fd, bytes);
    };
  }

  const megabytes = (n) => (n / 1e6).toLocaleString(html.lang, { minimumFractionDigits: 1, maximumFractionDigits: 1 });

  // The bytes to come. What the server names is the packed size, where it packs:
  // then the build's own list counts, which stands beside the program.
  async function bytesToCome(answer) {
    const plain = !answer.headers.get("Content-Encoding") && Number(answer.headers.get("Content-Length"));
    if (plain) return plain;
    try {
      const list = await fetch("sizes.json");
      return list.ok ? (await list.json())[program] : 0;
    } catch { return 0; }
  }

  // counted passes the answer on, under the right type whatever the server named,
  // and shows how much has come. way tells afterwards how it went.
  function counted(answer, way) {
    const reader = answer.body.getReader();
    const show = () => {
      if (!globalThis.brinebenchWord) return; // the page, or its words, are still to come
      const known = way.total >= way.got;
      brinebenchLoading(word(known ? "fetching-of" : "fetching", megabytes(way.got), megabytes(way.total)),
        known ? way.got / way.total : undefined);
    };
    bytesToCome(answer).then((n) => { way.total = n || 0; if (!way.done) show(); });
    let shown = 0;
    const passed = new ReadableStream({
      async pull(to) {
        try {
          const { done, value } = await reader.read();
          if (done) { way.done = true; return to.close(); }
          way.got += value.length;
          const now = performance.now();
          if (now - shown > 50) { shown = now; show(); }
          to.enqueue(value);
        } catch (e) {
          way.broken = e;
          to.error(e);
        }
      },
    });
    return new Response(passed, { headers: { "Content-Type": "application/wasm" } });
  }

  // compiled fetches the program and compiles it as it comes.
  async function compiled(way) {
    const answer = await fetch(program);
    way.status = answer.status;
    if (!answer.ok) throw new Error(`${program}: the server answered ${answer.status} ${answer.statusText}`);
    const stream = counted(answer, way);
    if (WebAssembly.compileStreaming) return WebAssembly.compileStreaming(stream);
    return WebAssembly.compile(await stream.arrayBuffer());
  }

  const outOfMemory = (e) => e instanceof RangeError || /out of memory|could not allocate/i.test(String(e) + lastWords);

  // explain tells why the program has not come to run.
  function explain(e, way) {
    if (outOfMemory(e)) return fail("memory", "memory-text", e);
    if (way.broken || way.total > way.got && way.status === 200) return fail("cut", "cut-text", way.broken ?? e);
    if (way.status === 404) return fail("fetch", "missing-text", e);
    if (way.status !== 200) return fail("fetch", "fetch-text", e);
    fail("damaged", "damaged-text", e);
  }

  // painted waits until the page has been painted with the still picture on it, or cannot
  // be soon: what comes next keeps the browser from it.
  let still = Promise.resolve(); // until that has come
  const after = (ms) => new Promise((done) => { setTimeout(done, ms); });
  const painted = () => Promise.race([still.then(() => new Promise(requestAnimationFrame)).then(() => after(0)), after(2000)]);

  async function start() {
    const way = { got: 0, total: 0, status: 0, done: false, broken: undefined };
    const able = typeof WebAssembly === "object";
    const coming = able ? compiled(way) : undefined;
    coming?.catch(() => {}); // told below
    await page;
    byId("failure-reload").addEventListener("click", () => location.reload());
    byId("cautions-open").addEventListener("click", () => byId("cautions").showModal());
    if (!able) return fail("old", "old-text");
    if (typeof Go !== "function") return fail("pieces", "pieces-text");
    await painted();
    // The first look at graphics and storage takes the browser a while, which passes meanwhile.
    globalThis.brinebenchWebGL?.(); // a page without a drawing has none
    try { localStorage.getItem(""); } catch { /* closed: the program does without */ }
    listen();
    const go = new Go();
    go.env = { GOGC: "off" }; // until the first picture
    let instance;
    try {
      const module = await coming;
      brinebenchLoading(word("starting"));
      instance = await WebAssembly.instantiate(module, go.importObject);
    } catch (e) {
      return explain(e, way);
    }
    try {
      await go.run(instance);
    } catch (e) {
      lastWords += "\n" + e;
    }
    stopped();
  }

  const stopped = () => outOfMemory("") ? fail("memory", "memory-text", lastWords.trim()) : fail("stopped", "stopped-text", lastWords.trim());
  window.addEventListener("error", (e) => {
    if (/Go program has already exited/.test(e.message)) stopped();
  });
  start();

  // dressed gives the page the theme that was chosen, or the system's, before any of
  // it is painted. The system's own colours go before what was chosen.
  function dressed() {
    const asked = (query) => matchMedia(query).matches;
    let kept;
    try { kept = localStorage.getItem("brinebench-theme"); } catch { /* closed */ }
    const dark = asked("(forced-colors: active)") || !kept ? asked("(prefers-color-scheme: dark)") : kept === "dark";
    html.dataset.theme = dark ? "dark" : "light";
  }

  // pictured fetches the still picture of the place, in the layout that the drawing
  // is likely to have. A link to the bench may put other units there.
  function pictured() {
    if (program !== "brinebench.wasm" || place === "bench" && location.hash) return;
    const tall = matchMedia("(max-width: 37.4375em) and (orientation: portrait), (min-width: 56.25em) and (max-aspect-ratio: 6/5)").matches;
    const file = `${place}-${tall ? "tall" : "wide"}-${html.dataset.theme}.png`;
    const picture = Object.assign(new Image(), { fetchPriority: "high", src: file });
    still = picture.decode().catch(() => {}); // the page does without
    html.style.setProperty("--still", `url("${file}")`);
  }
  dressed();
  pictured();
})();
