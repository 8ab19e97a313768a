//go:build js

package panel

import "syscall/js"

// store, stored and drop use the browser's storage, which may be full, and which a
// private window may refuse: they report whether it did as it was told.

// storage is the browser's. Where it is closed, reading the name throws, and only
// what a call throws is a panic in Go; a plain Get would end the program.
func storage() js.Value {
	return js.Global().Get("Reflect").Call("get", js.Global(), "localStorage")
}

func store(key, text string) (done bool) {
	defer func() { _ = recover() }()
	storage().Call("setItem", key, text)
	return true
}

func stored(key string) (text string, done bool) {
	defer func() { _ = recover() }()
	if v := storage().Call("getItem", key); !v.IsNull() {
		text = v.String()
	}
	return text, true
}

func drop(key string) {
	defer func() { _ = recover() }()
	storage().Call("removeItem", key)
}
