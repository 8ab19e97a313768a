// Fetches the program, shows how far it has come, starts it, and says in plain
// words what went wrong when something does.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const bar = byId("loading-bar");
  const said = byId("loading-text");
  let failed = false;

  // loading shows a stage of the start; share is 0..1, or undefined when unknown.
  globalThis.brinebenchLoading = (text, share) => {
    said.textContent = text;
    if (share === undefined) bar.removeAttribute("value");
    else bar.value = share;
  };
  globalThis.brinebenchLoaded = () => {
    byId("loading").hidden = true;
    document.documentElement.dataset.state = "ready";
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
    document.documentElement.dataset.state = "failed";
  };
  // noPicture says in the drawing's place that it cannot be drawn; the panels work without it.
  globalThis.brinebenchNoPicture = () => {
    const p = document.createElement("p");
    p.id = "no-picture";
    p.textContent = "The drawing needs WebGL, which this browser does not offer (it may be switched off, or the graphics driver blocked). "
      + "The call can be worked without it, from the panels and the strip charts.";
    byId("stage").append(p);
  };
  byId("failure-reload").addEventListener("click", () => location.reload());

  const cautions = byId("cautions");
  byId("cautions-open").addEventListener("click", () => cautions.showModal());

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

  const megabytes = (n) => (n / 1e6).toFixed(1);

  // download reads the program piece by piece; the total is known only when the
  // bytes are not compressed on the way.
  async function download(url) {
    const answer = await fetch(url);
    if (!answer.ok) throw new Error(`${url}: the server answered ${answer.status} ${answer.statusText}`);
    const packed = answer.headers.get("Content-Encoding");
    const total = packed ? 0 : Number(answer.headers.get("Content-Length"));
    const pieces = [];
    let got = 0;
    const reader = answer.body.getReader();
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      pieces.push(value);
      got += value.length;
      const of = total ? ` of ${megabytes(total)}` : "";
      brinebenchLoading(`Fetching the program: ${megabytes(got)}${of} MB`, total ? got / total : undefined);
    }
    const all = new Uint8Array(got);
    let at = 0;
    for (const p of pieces) { all.set(p, at); at += p.length; }
    return all;
  }

  async function start() {
    if (typeof WebAssembly !== "object") {
      return brinebenchFail("This browser is too old", "Brinebench needs WebAssembly. Any browser of the last few years has it.");
    }
    if (typeof Go !== "function") {
      return brinebenchFail("The page is incomplete", "The file wasm_exec.js is missing beside the page. Build the site again.");
    }
    let bytes;
    try {
      bytes = await download("brinebench.wasm");
    } catch (e) {
      return brinebenchFail("The program could not be fetched", "Check the connection and load the page again.", String(e));
    }
    brinebenchLoading("Starting the program");
    listen();
    const go = new Go();
    let made;
    try {
      made = await WebAssembly.instantiate(bytes, go.importObject);
    } catch (e) {
      return brinebenchFail("The program could not be started", "The file brinebench.wasm is damaged, or from another build than the page.", String(e));
    }
    bytes = null;
    try {
      await go.run(made.instance);
    } catch (e) {
      lastWords += "\n" + e;
    }
    brinebenchFail("The program has stopped", "It met a fault of its own. Load the page again to start the call afresh.", lastWords.trim());
  }

  window.addEventListener("error", (e) => {
    if (/Go program has already exited/.test(e.message)) {
      brinebenchFail("The program has stopped", "It met a fault of its own. Load the page again to start the call afresh.", lastWords.trim());
    }
  });
  start();
})();
