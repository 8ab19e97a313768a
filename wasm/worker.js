// The page's worker: fetches the engine, hands it a recording and a job, and
// passes its progress, answer or failure on to the page.
"use strict";
importScripts("wasm_exec.js");

// What the judge writes on its way out (a panic) belongs to the message.
let lastWords = "";
const write = globalThis.fs.writeSync;
const decoder = new TextDecoder();
globalThis.fs.writeSync = (fd, bytes) => {
  lastWords = (lastWords + decoder.decode(bytes)).slice(-2000);
  return write.call(globalThis.fs, fd, bytes);
};

// More may come for a job than it was begun with. What comes before the job listens waits.
let begun = false, hear;
const early = [];
globalThis.brinebenchListen = (f) => { hear = f; early.splice(0).forEach(hear); };

onmessage = async (message) => {
  const { recording, job } = message.data;
  if (begun) return hear ? hear(recording) : early.push(recording);
  begun = true;
  try {
    const answer = await fetch("worker.wasm");
    if (!answer.ok) throw new Error(`worker.wasm: the server answered ${answer.status} ${answer.statusText}`);
    const go = new Go();
    const rightly = new Response(answer.body, { headers: { "Content-Type": "application/wasm" } }); // whatever the server called it
    const made = await WebAssembly.instantiateStreaming(rightly, go.importObject);
    globalThis.brinebenchRecording = recording;
    globalThis.brinebenchJob = job;
    await go.run(made.instance);
    postMessage({ error: "The worker stopped without an answer. " + lastWords.trim() });
  } catch (e) {
    postMessage({ error: String(e) });
  }
};
