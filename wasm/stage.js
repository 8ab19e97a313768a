// Puts Ebitengine's canvas into the element #stage of an ordinary page. Load it
// before the Go program. Ebitengine appends its canvas to the body, sizes it
// from the body, re-reads that on a window resize only, takes clientX/Y for
// canvas coordinates, takes the focus and swallows every key; each of that is
// mended here.
"use strict";

(() => {
  const stage = () => document.getElementById("stage");
  // The canvas is a whole number of device px large, and lies on whole ones, wherever the
  // page puts the stage: else the browser would scale it in every frame, which blurs
  // letters and takes several times as long.
  const size = {}; // of the canvas, CSS px
  let picture;     // the canvas
  const measured = () => {
    const ratio = devicePixelRatio, r = stage().getBoundingClientRect();
    const short = (at) => Math.ceil(at * ratio - 0.01) / ratio - at; // of the next device px
    const whole = (length) => {
      let px = Math.max(0, Math.floor(length * ratio + 0.01));
      while (px / ratio * ratio !== px) px--; // Ebitengine multiplies, and rounds down here and up there
      return px / ratio;
    };
    const x = short(r.left + scrollX), y = short(r.top + scrollY);
    size.clientWidth = whole(r.width - x);
    size.clientHeight = whole(r.height - y);
    if (!picture) return;
    Object.assign(picture.style, {
      width: `${size.clientWidth}px`, height: `${size.clientHeight}px`, marginLeft: `${x}px`, marginTop: `${y}px`,
    });
  };
  // The body's size is what Ebitengine asks for, in every frame: it is told the canvas's,
  // without the page being laid out for that.
  const lend = (name) => Object.defineProperty(document.body, name, { configurable: true, get: () => size[name] });

  // The picture is opaque and its edges are soft as they are: to smooth them again would
  // take four times the work of each px.
  const getContext = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (kind, how) {
    if (kind !== "webgl2") return getContext.call(this, kind, how);
    const gl = getContext.call(this, kind, { ...how, alpha: false, antialias: false });
    if (gl && bySoftware(gl)) watch(gl);
    return gl;
  };

  // Where the processor draws in place of a graphics card, it is still drawing a frame
  // when the next is asked for, and would interrupt its callback time and again: that is
  // put off until the drawing is done, for a few turns at most. Other callbacks are not.
  let slow; // the canvas's context, if the processor draws
  const bySoftware = (gl) => {
    const names = gl.getExtension("WEBGL_debug_renderer_info");
    return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(gl.getParameter(names?.UNMASKED_RENDERER_WEBGL ?? gl.RENDERER));
  };
  const watch = (gl) => {
    const flush = gl.flush; // ends a frame
    gl.flush = () => { drew = true; flush.call(gl); };
    [slow, done] = [gl, null];
  };
  const mostTurns = 6;
  const painters = new WeakSet(); // callbacks that draw
  let drew = false;               // a callback has, that is
  let done = null, turns = 0;     // a fence behind the last frame's drawing; how often the next was put off
  const drawing = () => done && !slow.isContextLost() && slow.getSyncParameter(done, slow.SYNC_STATUS) !== slow.SIGNALED;
  const ask = requestAnimationFrame;
  globalThis.requestAnimationFrame = (f) => ask(function turn(time) {
    if (painters.has(f) && drawing() && turns++ < mostTurns) return ask(turn);
    drew = false;
    f(time);
    if (!drew) return;
    painters.add(f);
    slow.deleteSync(done);
    done = slow.fenceSync(slow.SYNC_GPU_COMMANDS_COMPLETE, 0);
    slow.flush();
    turns = 0;
  });
  // Ebitengine asks for game pads in every frame. Nothing here is steered with one.
  navigator.getGamepads = () => [];

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
  // Not by the attribute, which the page's policy forbids: a browser may then drop what is
  // set, and would find it changed again and again.
  const keepStyle = (el) => {
    const before = el.style.cssText;
    return () => { if (el.style.cssText !== before) el.style.cssText = before; };
  };

  const adopt = (canvas) => {
    canvas.setAttribute("role", "img");
    canvas.dataset.sayLabel = "drawing";
    canvas.setAttribute("aria-label", brinebenchWord("drawing"));
    canvas.removeAttribute("tabindex"); // named buttons of the page select the parts,
    canvas.focus = () => {};            // so the picture needs no key and takes none
    canvas.style.touchAction = "pan-x pan-y";
    stage().append(canvas);
    picture = canvas;
    measured();
    listen(canvas);
    // It was sized before the stage had its size, and nothing else may change that.
    setTimeout(() => window.dispatchEvent(new Event("resize")));
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
    enlarge(canvas);
    // A wheel over the picture scrolls the page, a finger pans it; a tap arrives
    // as the mouse events that the browser makes of it.
    for (const type of ["wheel", "touchstart", "touchmove", "touchend"]) {
      stage().addEventListener(type, (e) => e.stopPropagation(), capture);
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

  // lens hands what is to be seen of the picture to the program.
  const lens = (...what) => {
    const enlarged = globalThis.brinebenchLens?.(...what) ?? false;
    stage().parentElement.toggleAttribute("data-enlarged", enlarged);
    return enlarged;
  };

  // Two fingers, or a wheel with Ctrl (which is what a pinch on a touch pad sends),
  // enlarge the picture and move it; two taps at one place enlarge it, or show all
  // of it again. One finger and a plain wheel stay the page's.
  const enlarge = (canvas) => {
    const taken = { capture: true, passive: false };
    const at = (x, y) => { const r = canvas.getBoundingClientRect(); return [x - r.left, y - r.top]; };
    let before = null; // middle and spread of two fingers
    let tap = { time: -9999, x: 0, y: 0 }; // where and when the last one ended
    let again = false;                     // what is going on is the second of two
    const pair = (e) => {
      const [a, b] = e.touches;
      return {
        x: (a.clientX + b.clientX) / 2, y: (a.clientY + b.clientY) / 2,
        spread: Math.max(10, Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY)),
      };
    };
    stage().addEventListener("touchstart", (e) => {
      before = e.touches.length === 2 ? pair(e) : null;
      const f = e.touches[0];
      again = !before && e.timeStamp - tap.time < 350 && Math.hypot(f.clientX - tap.x, f.clientY - tap.y) < 30;
      if (before) e.preventDefault();
    }, taken);
    stage().addEventListener("touchmove", (e) => {
      if (!before || e.touches.length !== 2) return;
      e.preventDefault();
      const now = pair(e);
      lens("pan", now.x - before.x, now.y - before.y);
      lens("zoom", now.spread / before.spread, ...at(now.x, now.y));
      before = now;
      tap.time = -9999;
    }, taken);
    stage().addEventListener("touchend", (e) => {
      const f = e.changedTouches[0];
      if (before || e.touches.length > 0) { before = null; return; }
      if (again) lens(...(lens("pan", 0, 0) ? ["whole"] : ["zoom", 2.2, ...at(f.clientX, f.clientY)]));
      tap = { time: again ? -9999 : e.timeStamp, x: f.clientX, y: f.clientY };
    }, taken);
    stage().addEventListener("touchcancel", () => { before = null; tap.time = -9999; }, taken);
    stage().addEventListener("wheel", (e) => {
      if (!e.ctrlKey) return;
      e.preventDefault();
      lens("zoom", Math.exp(-e.deltaY * 0.01), ...at(e.clientX, e.clientY));
    }, taken);
  };

  // The buttons beside the key do the same.
  document.addEventListener("click", (e) => {
    const button = e.target.closest?.("[data-zoom]");
    if (!button) return;
    const how = { in: ["zoom", 1.5], out: ["zoom", 1 / 1.5], whole: ["whole"] }[button.dataset.zoom];
    if (!lens(...how)) document.querySelector("[data-zoom=in]").focus({ preventScroll: true }); // "whole" is gone
  });

  const start = () => {
    measured();
    lend("clientWidth");
    lend("clientHeight");
    const html = document.documentElement, body = document.body;
    const keep = [keepStyle(html), keepStyle(body)];
    const tidy = () => { for (const k of keep) k(); };
    new MutationObserver(tidy).observe(html, { attributes: true, attributeFilter: ["style"] });
    new MutationObserver((changes) => {
      tidy();
      for (const c of changes) {
        for (const n of c.addedNodes) if (n.nodeName === "CANVAS" && n.parentNode === body) adopt(n);
      }
    }).observe(body, { childList: true, attributes: true, attributeFilter: ["style"] });
    new ResizeObserver(() => { measured(); window.dispatchEvent(new Event("resize")); }).observe(stage());
  };
  if (document.body && stage()) start(); else document.addEventListener("DOMContentLoaded", start);
})();
