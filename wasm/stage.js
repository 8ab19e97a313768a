// Puts Ebitengine's canvas into the element #stage of an ordinary page. Load it
// before the Go program. Ebitengine appends its canvas to the body, sizes it
// from the body, re-reads that on a window resize only, takes clientX/Y for
// canvas coordinates, takes the focus and swallows every key; each of that is
// mended here.
"use strict";

(() => {
  const stage = () => document.getElementById("stage");
  // The body's size is what Ebitengine asks for: it is told the stage's.
  const lend = (name) => Object.defineProperty(document.body, name, {
    configurable: true,
    get() { return stage()[name]; },
  });

  // brinebenchWebGL tells whether the canvas can work here.
  let works;
  globalThis.brinebenchWebGL = () => {
    if (works !== undefined) return works;
    try {
      const gl = document.createElement("canvas").getContext("webgl2");
      works = Boolean(gl);
      gl?.getExtension("WEBGL_lose_context")?.loseContext();
    } catch { works = false; }
    return works;
  };

  // The page keeps its own style: what Ebitengine writes on html and body is taken back.
  const keepStyle = (el, before) => {
    if (el.getAttribute("style") === before) return;
    if (before === null) el.removeAttribute("style"); else el.setAttribute("style", before);
  };

  const adopt = (canvas) => {
    canvas.setAttribute("role", "img");
    canvas.dataset.sayLabel = "drawing";
    canvas.setAttribute("aria-label", brinebenchWord("drawing"));
    canvas.removeAttribute("tabindex"); // named buttons of the page select the parts,
    canvas.focus = () => {};            // so the picture needs no key and takes none
    canvas.style.touchAction = "pan-x pan-y";
    stage().append(canvas);
    listen(canvas);
  };

  const listen = (canvas) => {
    const capture = { capture: true, passive: true };
    // Mouse: coordinates from the canvas's corner.
    const shift = (e) => {
      const r = canvas.getBoundingClientRect();
      const x = e.clientX - r.left, y = e.clientY - r.top;
      Object.defineProperty(e, "clientX", { value: x, configurable: true });
      Object.defineProperty(e, "clientY", { value: y, configurable: true });
    };
    for (const type of ["mousedown", "mouseup", "mousemove"]) {
      canvas.addEventListener(type, shift, capture);
    }
    // A wheel over the picture scrolls the page, a finger pans it; a tap arrives
    // as the mouse events that the browser makes of it.
    for (const type of ["wheel", "touchstart", "touchmove", "touchend"]) {
      window.addEventListener(type, (e) => { if (e.target === canvas) e.stopPropagation(); }, capture);
    }
    // A button let go outside has been let go for the canvas too.
    window.addEventListener("mouseup", (e) => {
      if (e.target === canvas) return;
      const up = new MouseEvent("mouseup", { button: e.button, clientX: e.clientX, clientY: e.clientY, bubbles: false });
      canvas.dispatchEvent(up);
    }, capture);
    // When the pointer leaves, nothing is under it any more.
    canvas.addEventListener("mouseleave", () => {
      const r = canvas.getBoundingClientRect();
      canvas.dispatchEvent(new MouseEvent("mousemove", { clientX: r.left - 9, clientY: r.top - 9, bubbles: false }));
    });
  };

  const start = () => {
    lend("clientWidth");
    lend("clientHeight");
    const html = document.documentElement, body = document.body;
    const before = [html.getAttribute("style"), body.getAttribute("style")];
    const tidy = () => { keepStyle(html, before[0]); keepStyle(body, before[1]); };
    new MutationObserver(tidy).observe(html, { attributes: true, attributeFilter: ["style"] });
    new MutationObserver((changes) => {
      tidy();
      for (const c of changes) {
        for (const n of c.addedNodes) if (n.nodeName === "CANVAS" && n.parentNode === body) adopt(n);
      }
    }).observe(body, { childList: true, attributes: true, attributeFilter: ["style"] });
    new ResizeObserver(() => window.dispatchEvent(new Event("resize"))).observe(stage());
  };
  if (document.body && stage()) start(); else document.addEventListener("DOMContentLoaded", start);
})();
