//go:build js

package dom

import "syscall/js"

// Errand is a job of the worker (see wasm/worker), which may take long while the page
// stays alive. The zero value is none.
type Errand struct {
	worker        js.Value // undefined when none runs
	heard, failed js.Func
}

// Start sends a job off. hear is given every message of the worker, and fail what
// kept it from starting.
func (e *Errand) Start(job string, recording []byte, hear func(message js.Value), fail func(text string)) {
	e.worker = js.Global().Get("Worker").New("worker.js")
	e.heard = js.FuncOf(func(_ js.Value, args []js.Value) any { hear(args[0].Get("data")); return nil })
	e.failed = js.FuncOf(func(_ js.Value, args []js.Value) any { fail(args[0].Get("message").String()); return nil })
	e.worker.Set("onmessage", e.heard)
	e.worker.Set("onerror", e.failed)
	e.worker.Call("postMessage", map[string]any{"job": job, "recording": Bytes(recording)})
}

// Send hands more to a job that is under way.
func (e *Errand) Send(recording []byte) {
	e.worker.Call("postMessage", map[string]any{"recording": Bytes(recording)})
}

// Bytes returns bytes as the browser has them, a Uint8Array.
func Bytes(b []byte) js.Value {
	bytes := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(bytes, b)
	return bytes
}

// Runs reports whether it is under way.
func (e *Errand) Runs() bool { return !e.worker.IsUndefined() }

// End stops the worker, whether it has answered or not.
func (e *Errand) End() {
	if !e.Runs() {
		return
	}
	e.worker.Set("onmessage", nil) // one may be on its way still
	e.worker.Set("onerror", nil)
	e.worker.Call("terminate")
	e.worker = js.Undefined()
	e.heard.Release()
	e.failed.Release()
}
