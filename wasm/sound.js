// The unit's sounds, made of noise and a hum: off until they are asked for, and never
// needed. The program says how loud each is; nothing is loaded, nothing is recorded.
"use strict";
(() => {
  const key = "brinebench-sound";
  const level = { motor: 0, drain: 0, draw: 0 };
  let on = false, context, gains;

  const noise = (ctx) => {
    const buffer = ctx.createBuffer(1, 2 * ctx.sampleRate, ctx.sampleRate), data = buffer.getChannelData(0);
    let seed = 1;
    for (let i = 0; i < data.length; i++) {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      data[i] = seed / 2147483648 - 1;
    }
    const source = ctx.createBufferSource();
    source.buffer = buffer;
    source.loop = true;
    source.start();
    return source;
  };

  // voice leads a source through a filter to the loudspeaker.
  const voice = (ctx, source, type, hertz, q) => {
    const filter = ctx.createBiquadFilter(), gain = ctx.createGain();
    filter.type = type;
    filter.frequency.value = hertz;
    filter.Q.value = q;
    gain.gain.value = 0;
    source.connect(filter).connect(gain).connect(ctx.destination);
    return gain;
  };

  const begin = () => {
    context = new AudioContext();
    const hiss = noise(context), hum = context.createOscillator();
    hum.type = "sawtooth";
    hum.frequency.value = 60;
    hum.start();
    gains = {
      motor: voice(context, hum, "lowpass", 260, 1),
      drain: voice(context, hiss, "bandpass", 900, 0.6),
      draw: voice(context, hiss, "bandpass", 320, 6),
    };
  };

  const loudest = { motor: 0.05, drain: 0.12, draw: 0.25 };
  const play = () => {
    if (!on) {
      context?.suspend();
      return;
    }
    if (!context) begin();
    context.resume();
    for (const k of Object.keys(level)) gains[k].gain.setTargetAtTime(loudest[k] * level[k], context.currentTime, 0.1);
  };

  globalThis.brinebenchSound = (motor, drain, draw) => {
    Object.assign(level, { motor, drain, draw });
    play();
  };

  const show = () => {
    for (const b of document.querySelectorAll("[data-sound]")) b.setAttribute("aria-pressed", String(on));
  };
  const keep = () => { try { localStorage.setItem(key, on ? "on" : ""); } catch { /* lasts as long as the page */ } };
  document.addEventListener("click", (e) => {
    if (!e.target.closest?.("[data-sound]")) return;
    on = !on;
    keep();
    show();
    play();
  });
  // A browser lets a page sound only once it has been clicked: what was on last time
  // comes back with the first press.
  const kept = () => { try { return localStorage.getItem(key) === "on"; } catch { return false; } };
  if (kept()) document.addEventListener("pointerdown", (e) => {
    if (!on && !e.target.closest?.("[data-sound]")) { on = true; show(); play(); }
  }, { once: true });
})();
